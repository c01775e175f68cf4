#include "ui/views/program_view.h"

#include <QFontDatabase>
#include <QFontInfo>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QPushButton>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace pommel::ui {
namespace {

QString text(std::string_view bytes) { return QString::fromUtf8(bytes.data(), static_cast<qsizetype>(bytes.size())); }

}  // namespace

void LinesModel::show(std::shared_ptr<const job::Programs> programs) {
  beginResetModel();
  programs_ = std::move(programs);
  lines_.clear();
  before_.clear();
  for (std::size_t file = 0; programs_ && file < programs_->size(); ++file) {
    before_.push_back(static_cast<int>(lines_.size()));
    std::vector<std::string_view> lines = split((*programs_)[file].text, '\n');
    if (file + 1 < programs_->size() && !lines.empty() && lines.back().empty()) lines.pop_back();  // the next file's lines follow at once
    lines_.insert(lines_.end(), lines.begin(), lines.end());
  }
  endResetModel();
}

QVariant LinesModel::data(const QModelIndex& at, int role) const {
  if (role != Qt::DisplayRole) return {};
  return QStringLiteral("%1  %2").arg(number(at.row()), 7).arg(text(lines_[static_cast<std::size_t>(at.row())]));
}

QString LinesModel::number(int row) const {
  if (before_.size() < 2) return QString::number(row + 1);
  const auto after = std::upper_bound(before_.begin(), before_.end(), row);
  return QStringLiteral("%1/%2").arg(after - before_.begin()).arg(row - *std::prev(after) + 1);
}

ProgramView::ProgramView(LengthAxis& axis, QWidget* parent) : QWidget(parent, Qt::Window), axis_(axis), lines_(new LinesModel(this)) {
  verdict_ = new QLabel;
  verdict_->setWordWrap(true);
  verdict_->setTextInteractionFlags(Qt::TextBrowserInteraction | Qt::LinksAccessibleByKeyboard);
  connect(verdict_, &QLabel::linkActivated, this, [this](const QString& to) { go_to_line(to.toInt()); });
  passes_ = new QTableWidget(0, 4);
  passes_->setAccessibleName(tr("passes"));
  passes_->setHorizontalHeaderLabels({tr("pass"), tr("cutter"), tr("from line"), tr("minutes")});
  passes_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  passes_->setSelectionBehavior(QAbstractItemView::SelectRows);
  passes_->verticalHeader()->hide();
  passes_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
  passes_->horizontalHeader()->setSectionResizeMode(0, QHeaderView::Stretch);
  passes_->setTabKeyNavigation(false);
  text_ = new QListView;
  text_->setAccessibleName(tr("the program's text"));
  text_->setModel(lines_);
  text_->setUniformItemSizes(true);
  QFont fixed = QFontDatabase::systemFont(QFontDatabase::FixedFont);
  fixed.setPixelSize(std::max(QFontInfo(fixed).pixelSize(), QFontInfo(font()).pixelSize()));  // the desktop's does not grow with the window's letters
  text_->setFont(fixed);
  told_ = new QLabel;
  told_->setWordWrap(true);
  auto* back = new QPushButton(tr("&Next line at the hairline"));
  connect(back, &QPushButton::clicked, this, &ProgramView::find_hairline);
  connect(text_->selectionModel(), &QItemSelectionModel::currentChanged, this, &ProgramView::tell_line);
  connect(passes_, &QTableWidget::currentCellChanged, this, [this](int row) {
    if (row >= 0) go_to_line(places_.passes[static_cast<std::size_t>(row)].first_line);
  });
  auto* halves = new QSplitter(Qt::Horizontal);
  halves->addWidget(passes_);
  halves->addWidget(text_);
  halves->setSizes({520, 460});
  auto* foot = new QHBoxLayout;
  foot->addWidget(told_, 1);
  foot->addWidget(back);
  auto* down = new QVBoxLayout(this);
  down->addWidget(verdict_);
  down->addWidget(halves, 1);
  down->addLayout(foot);
  resize(980, 560);
}

void ProgramView::show_program(std::shared_ptr<const job::Programs> programs, const shop::Machine& machine, const QString& piece, const LengthFormat& lengths) {
  lengths_ = lengths;
  setWindowTitle(tr("the program of the %1").arg(piece));
  if (programs == programs_) return;
  programs_ = std::move(programs);
  places_ = {};
  if (programs_)
    if (auto places = job::line_places(job::texts_of(*programs_), machine); places.ok()) places_ = std::move(places).value();
  lines_->show(programs_);
  // the model was reset: its selection is another
  fill_passes();
  verdict_->setText(verdict());
  told_->clear();
}

// Each fault names its pass and leads to its line, and with it to its place on the piece.
QString ProgramView::verdict() const {
  if (!programs_) return tr("There is no program yet: it is still worked out, or the measures make no piece.");
  const proof::Proof& proof = programs_->front().proof;
  if (proof.passed()) return tr("The cut check found this text sound.");
  QStringList out{tr("✗ The cut check found faults; this program is not given out:").toHtmlEscaped()};
  for (const proof::Finding& finding : proof.findings) {
    if (finding.severity != Severity::error) continue;
    const QString words = tr("line %1, %2: %3").arg(finding.line).arg(text(finding.stage), text(finding.message)).toHtmlEscaped();
    out << (finding.line > 0 ? QStringLiteral("<a href=\"%1\">%2</a>").arg(job::lines_before(*programs_, finding.file) + finding.line).arg(words) : words);
  }
  return out.join(QStringLiteral("<br>"));
}

void ProgramView::fill_passes() {
  const QSignalBlocker quiet(passes_);
  passes_->setRowCount(static_cast<int>(places_.passes.size()));
  for (int row = 0; row < passes_->rowCount(); ++row) {
    const job::Pass& pass = places_.passes[static_cast<std::size_t>(row)];
    const QStringList cells{text(pass.name), text(pass.cutter), lines_->number(pass.first_line - 1), QString::number(pass.minutes, 'f', 1)};
    for (int column = 0; column < cells.size(); ++column) {
      auto* item = new QTableWidgetItem(cells[column]);
      if (column > 1) item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
      passes_->setItem(row, column, item);
    }
  }
}

void ProgramView::go_to_line(int line) {
  const QModelIndex at = lines_->index(line - 1);
  text_->setCurrentIndex(at);
  text_->scrollTo(at, QAbstractItemView::PositionAtCenter);
}

bool ProgramView::find_hairline() {
  const int found = axis_.hair() ? job::line_at(places_, *axis_.hair(), line()) : 0;
  if (found == 0) {
    told_->setText(tr("No line passes the hairline."));
    return false;
  }
  go_to_line(found);
  return true;
}

void ProgramView::tell_line() {
  const job::LinePlace* place = job::place_of(places_, line());
  if (!place) return told_->setText(tr("Line %1: nothing has moved yet.").arg(lines_->number(line() - 1)));
  const auto said = [&](double mm) { return text(format_length(mm, lengths_)); };
  told_->setText(tr("Line %1: %2 from the head, tip %3 above the axis, wood at %4° under it, %5. Pass: %6")
                     .arg(lines_->number(line() - 1))
                     .arg(said(place->x), said(place->height))
                     .arg(place->degrees - 360 * std::floor(place->degrees / 360), 0, 'f', 1)
                     .arg(place->rapid ? tr("at rapid") : tr("cutting"), text(places_.passes[place->pass].name)));
  if (axis_.hair() != place->x) axis_.set_hair(place->x);
  emit line_chosen(line());
}

}  // namespace pommel::ui
