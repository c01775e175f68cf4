#include "ui/views/design_chooser.h"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QPainter>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "paper/canvas.h"
#include "ui/views/hint.h"
#include "ui/views/in_words.h"

namespace pommel::ui {
namespace {

constexpr QSize kPicture(150, 210);
constexpr int kId = Qt::UserRole, kFound = Qt::UserRole + 1, kUnfit = Qt::UserRole + 2, kAbout = Qt::UserRole + 3;

// The design's pieces standing on one floor, as large as they fit.
QPixmap picture_of(const family::Made& made) {
  QPixmap out(kPicture);
  out.fill(paper::tone::paper);
  QPainter painter(&out);
  painter.setRenderHint(QPainter::Antialiasing);
  double longest = 1, wide = 0;
  for (const family::MadePiece& piece : made.pieces) longest = std::max(longest, piece.part.length), wide += 2.4 * shape::reach(piece.part);
  const double scale = std::min((kPicture.height() - 16) / longest, (kPicture.width() - 16) / wide), floor = kPicture.height() - 8;
  double left = (kPicture.width() - scale * wide) / 2;
  for (const family::MadePiece& piece : made.pieces) {
    const double half = 1.2 * scale * shape::reach(piece.part);
    paper::paint_leg(painter, paper::leg_view(piece.part, 0), QTransform(0, scale, -scale, 0, left + half, floor - scale * piece.part.length), paper::Voice::full, 1);
    left += 2 * half;
  }
  return out;
}

// Why a design would not do; nothing: it would.
std::optional<QString> why_not(const job::CatalogTrials& trials, const std::string& id, const std::vector<job::Condition>& wished) {
  std::vector<std::pair<std::string, sheet::Entry>> asked;
  for (const job::Condition& one : wished)
    if (one.comparison == "=") asked.emplace_back(one.name, sheet::Entry{one.size, {}, {}});
  const job::Trial trial = trials.run(id, asked);
  if (!trial.does()) return trial.problems.empty() ? QString() : lines_of(trial.problems).front();
  for (const job::Condition& one : wished) {
    if (one.comparison == "=") continue;
    const auto holds = job::holds(one, trial);
    if (!holds.ok()) return lines_of(holds.reasons()).front();
    if (!*holds || !**holds) return text(one.name + " " + job::shown(trial, one.name));
  }
  return std::nullopt;
}

}  // namespace

DesignChooser::DesignChooser(const FileSystem& files, const job::Loaded& loaded, QWidget* parent, For wanted) : QDialog(parent), files_(files), loaded_(loaded) {
  const bool a_new_order = wanted == For::new_order;
  setWindowTitle(a_new_order ? tr("New order from a design") : tr("Another design for this order"));
  words_ = new QLineEdit;
  show_hint(*words_, tr("find a design by its name, period or piece: vase, Shaker, bed"));
  words_->setAccessibleName(tr("find a design"));
  measures_ = new QLineEdit;
  show_hint(*measures_, tr("and by what it must be: table_height = 30 in; thinnest_diameter >= 28 mm"));
  measures_->setAccessibleName(tr("find a design by its measures"));
  connect(measures_, &QLineEdit::editingFinished, this, &DesignChooser::find_by_measures);
  told_ = new QLabel;
  told_->setWordWrap(true);
  designs_ = new QListWidget;
  designs_->setAccessibleName(tr("designs of the house"));
  designs_->setViewMode(QListView::IconMode);
  designs_->setResizeMode(QListView::Adjust);
  designs_->setMovement(QListView::Static);
  designs_->setIconSize(kPicture);
  designs_->setSpacing(8);
  designs_->setWordWrap(true);
  designs_->setGridSize(kPicture + QSize(30, 56));
  auto* about = new QLabel;
  about->setWordWrap(true);
  about->setMinimumHeight(3 * about->fontMetrics().height());
  about->setAlignment(Qt::AlignTop);
  connect(designs_, &QListWidget::currentItemChanged, about, [about](const QListWidgetItem* item) { about->setText(item ? item->toolTip() : QString()); });
  auto* form = papers();
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel);
  buttons->button(QDialogButtonBox::Ok)->setText(a_new_order ? tr("Begin the order") : tr("Take this design"));
  connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(designs_, &QListWidget::itemDoubleClicked, this, &QDialog::accept);
  connect(words_, &QLineEdit::textChanged, this, &DesignChooser::find);
  const auto hold = [this, buttons] {
    buttons->button(QDialogButtonBox::Ok)->setEnabled(designs_->currentItem() && !designs_->currentItem()->isHidden() && !name_->text().trimmed().isEmpty() && !number_->text().trimmed().isEmpty());
  };
  for (QLineEdit* one : {name_, number_, words_}) connect(one, &QLineEdit::textChanged, this, hold);
  connect(designs_, &QListWidget::currentItemChanged, this, hold);
  auto* down = new QVBoxLayout(this);
  down->addWidget(words_);
  down->addWidget(measures_);
  down->addWidget(told_);
  down->addWidget(designs_, 1);
  down->addWidget(about);
  down->addLayout(form);
  for (int row = 0; row < form->rowCount(); ++row) form->setRowVisible(row, a_new_order);
  down->addWidget(buttons);
  resize(980, 720);
  fill(files);
  if (designs_->count() > 0) designs_->setCurrentRow(0);
  if (!a_new_order) point_at(loaded.order->design);
  hold();
}

QFormLayout* DesignChooser::papers() {
  name_ = new QLineEdit(tr("New order"));
  number_ = new QLineEdit(QStringLiteral("1"));
  client_ = new QLineEdit;
  auto* form = new QFormLayout;
  form->addRow(tr("what is ordered"), name_);
  form->addRow(tr("number"), number_);
  form->addRow(tr("client"), client_);
  return form;
}

void DesignChooser::point_at(const std::string& design) {
  for (int i = 0; i < designs_->count(); ++i)
    if (designs_->item(i)->data(kId).toString().toStdString() == design) designs_->setCurrentRow(i);
}

void DesignChooser::fill(const FileSystem& files) {
  for (const std::string& id : designs::design_names(files, loaded_.house)) {
    Sink sink;
    const auto entry = designs::find_design(files, loaded_.house, id, {}, sink);
    if (!entry || sink.has_errors()) continue;  // `pommel check` says what is wrong with it
    const auto sheet = family::make_sheet(entry->family, entry->design, nullptr, loaded_.shop, {}, sink);
    const auto made = family::make(entry->family, entry->design, sheet, family::kCatalogue, loaded_.shop, {});
    auto* item = new QListWidgetItem(QString::fromStdString(entry->design.name), designs_);
    if (made.ok()) item->setIcon(picture_of(*made));
    item->setData(kId, QString::fromStdString(id));
    item->setData(kFound, QString::fromStdString(id + " " + entry->design.name + " " + entry->design.about + " " + entry->family.name + " " + entry->family.stands_in));
    item->setData(kAbout, QString::fromStdString(entry->design.about));
    item->setToolTip(item->data(kAbout).toString());
  }
}

void DesignChooser::find(const QString& words) {
  const QStringList wanted = words.split(u' ', Qt::SkipEmptyParts);
  QListWidgetItem* first = nullptr;
  for (int i = 0; i < designs_->count(); ++i) {
    QListWidgetItem* item = designs_->item(i);
    const QString said = item->data(kFound).toString();
    item->setHidden(!item->data(kUnfit).toString().isEmpty() || !std::all_of(wanted.begin(), wanted.end(), [&](const QString& word) { return said.contains(word, Qt::CaseInsensitive); }));
    if (!item->isHidden() && !first) first = item;
  }
  if (first && (!designs_->currentItem() || designs_->currentItem()->isHidden())) designs_->setCurrentItem(first);
}

// A design's data are not touched by whoever tries it: this runs in the worker.
void DesignChooser::find_by_measures() {
  if (measures_->text() == asked_) return;
  asked_ = measures_->text();
  const auto told = [this](const std::vector<Diagnostic>& reasons) { told_->setText(QStringLiteral("✗ ") + lines_of(reasons).join(u' ')); };
  std::vector<job::Condition> wished;
  for (const QString& one : asked_.split(u';', Qt::SkipEmptyParts)) {
    if (one.trimmed().isEmpty()) continue;
    const auto condition = job::read_condition(one.trimmed().toStdString());
    if (!condition.ok()) return told(condition.reasons());
    wished.push_back(*condition);
  }
  if (!wished.empty() && !trials_) {
    auto trials = job::CatalogTrials::open(files_, loaded_.house);
    if (!trials.ok()) return told(trials.reasons());
    trials_ = std::make_shared<const job::CatalogTrials>(std::move(trials).value());
  }
  std::vector<std::string> ids;
  for (int i = 0; i < designs_->count(); ++i) ids.push_back(designs_->item(i)->data(kId).toString().toStdString());
  busy_ = true;
  told_->setText(tr("trying the designs …"));
  worker_.ask([this, ids, wished, trials = trials_](std::stop_token stop) -> NewestWork::Answer {
    std::vector<std::optional<QString>> why(ids.size());
    for (std::size_t i = 0; i < ids.size() && !wished.empty() && !stop.stop_requested(); ++i) why[i] = why_not(*trials, ids[i], wished);
    return [this, why, any = !wished.empty()] { take(why, any); };
  });
}

void DesignChooser::take(const std::vector<std::optional<QString>>& why_not, bool wished) {
  busy_ = false;
  int fit = 0;
  for (int i = 0; i < designs_->count(); ++i) {
    const auto& why = why_not[static_cast<std::size_t>(i)];
    designs_->item(i)->setData(kUnfit, why ? tr("would not do: %1").arg(*why) : QString());
    fit += why ? 0 : 1;
  }
  told_->setText(wished ? tr("%1 of %2 designs would do.").arg(fit).arg(designs_->count()) : QString());
  find(words_->text());
}

std::string DesignChooser::design() const { return designs_->currentItem()->data(kId).toString().toStdString(); }

family::NewOrder DesignChooser::order() const {
  family::NewOrder order;
  order.name = name_->text().trimmed().toStdString();
  order.number = number_->text().trimmed().toStdString();
  order.client = client_->text().trimmed().toStdString();
  order.design = design();
  order.machine = loaded_.order->machine;
  order.cutter = loaded_.order->cutter;
  order.unit = loaded_.order->lengths.unit;
  return order;
}

}  // namespace pommel::ui
