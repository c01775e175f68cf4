#include "ui/views/outline_palette.h"

#include <QCoreApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QPainter>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "family/names.h"
#include "paper/canvas.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

constexpr QSize kPicture(74, 62);
constexpr double kDiameter = 40, kBeside = 12;  // mm of the turning that a shape is drawn on, and how much of it stands beside it

// The skin of the built outline, upper half, as points (x, r).
QPolygonF skin_of(const shape::BuiltOutline& built, double flats) {
  QPolygonF line;
  for (const shape::Piece& piece : built.outline.pieces) {
    constexpr int kSteps = 16;
    for (int i = 0; i <= kSteps; ++i) {
      const double x = piece.x0 + (piece.x1 - piece.x0) * i / kSteps;
      line << QPointF(x, std::min(piece.value(x), flats / 2));
    }
  }
  return line;
}

// Drawn from the same lines and arcs that the piece is turned to.
QPixmap picture_of(const PaletteShape& shape) {
  shape::ElementSpec before, behind;
  before.kind = behind.kind = shape::ElementKind::cylinder;
  before.length = behind.length = kBeside;
  before.start = kDiameter;
  behind.step = true;
  auto specs = shape.specs(kDiameter);
  double length = 2 * kBeside;
  for (const shape::ElementSpec& one : specs) length += one.length.value_or(0);
  behind.start = specs.back().end.value_or(kDiameter);
  for (shape::ElementSpec& one : specs) one.step = one.kind == shape::ElementKind::torus;
  specs.insert(specs.begin(), before);
  specs.push_back(behind);
  // a ball says how long it is by its sphere
  if (specs[1].kind == shape::ElementKind::ball) length += std::sqrt(*specs[1].greatest * *specs[1].greatest - kDiameter * kDiameter);
  QPixmap out(kPicture);
  out.fill(paper::tone::paper);
  constexpr double kFlats = 1.3 * kDiameter;
  const auto built = shape::build_outline(specs, length, shape::StockSection::square(kFlats));
  if (!built.ok()) return out;  // the test of the palette would fail
  QPainter painter(&out);
  painter.setRenderHint(QPainter::Antialiasing);
  const double scale = std::min((kPicture.width() - 6) / length, (kPicture.height() - 6) / (1.5 * kDiameter));
  QPolygonF outline;
  const QPolygonF upper = skin_of(*built, kFlats);
  const double left = (kPicture.width() - scale * length) / 2, middle = kPicture.height() / 2.0;
  for (const QPointF& point : upper) outline << QPointF(left + scale * point.x(), middle - scale * point.y());
  for (auto point = upper.rbegin(); point != upper.rend(); ++point) outline << QPointF(left + scale * point->x(), middle + scale * point->y());
  painter.setPen(QPen(paper::tone::ink, 1.2));
  painter.setBrush(paper::tone::wood_lit);
  painter.drawPolygon(outline);
  return out;
}

}  // namespace

OutlinePalette::OutlinePalette(OrderBook& book, QWidget* parent) : QWidget(parent), book_(book) {
  shapes_ = new QListWidget;
  shapes_->setAccessibleName(tr("elements that can be added"));
  shapes_->setViewMode(QListView::IconMode);
  shapes_->setIconSize(kPicture);
  shapes_->setMovement(QListView::Static);
  shapes_->setResizeMode(QListView::Adjust);
  shapes_->setWrapping(true);
  for (const PaletteShape& shape : palette_shapes()) new QListWidgetItem(picture_of(shape), QCoreApplication::translate("palette", shape.name), shapes_);
  shapes_->setCurrentRow(1);
  const auto chosen = [this]() -> const PaletteShape& { return palette_shapes()[static_cast<std::size_t>(std::max(0, shapes_->currentRow()))]; };
  auto* ways = new QVBoxLayout;
  ways->addWidget(add_button("before", tr("Put it before, towards the head"), [this, chosen] { return add_element(book_, *at_, false, chosen(), diameter_); }));
  ways->addWidget(add_button("behind", tr("Put it behind, towards the foot"), [this, chosen] { return add_element(book_, *at_, true, chosen(), diameter_); }));
  ways->addSpacing(6);
  ways->addWidget(add_button("headwards", tr("Move the element towards the head"), [this] { return move_element(book_, *at_, false); }));
  ways->addWidget(add_button("footwards", tr("Move the element towards the foot"), [this] { return move_element(book_, *at_, true); }));
  ways->addWidget(add_button("out", tr("Take the element out"), [this] { return take_out_element(book_, *at_); }));
  ways->addStretch(1);
  connect(shapes_, &QListWidget::itemActivated, &button("behind"), &QPushButton::click);
  sizes_ = new QTableWidget(0, 2);
  sizes_->setAccessibleName(tr("sizes of the element, as written"));
  sizes_->setHorizontalHeaderLabels({tr("size"), tr("as written")});
  sizes_->horizontalHeader()->setStretchLastSection(true);
  sizes_->verticalHeader()->hide();
  sizes_->setTabKeyNavigation(false);
  sizes_->setMinimumWidth(40 * fontMetrics().averageCharWidth());
  connect(sizes_, &QTableWidget::cellChanged, this, [this](int row) { take_size(row); });
  told_ = new QLabel;
  told_->setWordWrap(true);
  auto* across = new QHBoxLayout;
  across->addWidget(shapes_, 3);
  across->addLayout(ways);
  across->addWidget(sizes_, 2);
  auto* down = new QVBoxLayout(this);
  down->setContentsMargins(4, 2, 4, 2);
  down->addWidget(told_);
  down->addLayout(across, 1);
  setMinimumHeight(190);
}

QPushButton* OutlinePalette::add_button(const char* name, const QString& words, std::function<Result<Done>()> change) {
  auto* button = new QPushButton(words);
  button->setObjectName(name);
  button->setParent(this);
  connect(button, &QPushButton::clicked, this, [this, change = std::move(change)] { run(change); });
  buttons_.push_back(button);
  return button;
}

// Buttons are off where there is no element to work on.
void OutlinePalette::run(const std::function<Result<Done>()>& change) {
  if (!at_) return;
  const auto done = change();
  if (!done.ok()) told_->setText(QStringLiteral("✗ ") + lines_of(done.reasons()).join(QStringLiteral(" · ")));
}

void OutlinePalette::show_element(const std::optional<ElementAt>& at, double diameter, const QString& name, const QString& why_not) {
  at_ = at;
  diameter_ = diameter;
  for (QPushButton* button : buttons_) button->setEnabled(at.has_value());
  const QString told = at ? tr("At the hairline: %1. It belongs to the design; save it there when it is good.").arg(name) : why_not;
  if (told != name_) told_->setText(told);  // what was told of a change stays until another element is looked at
  name_ = told;
  fill_sizes();
}

void OutlinePalette::fill_sizes() {
  const QSignalBlocker quiet(sizes_);
  size_names_.clear();
  std::vector<std::string> values;
  if (at_) {
    const family::ElementText& element = family::outline_of(book_.loaded().family, book_.loaded().design, at_->piece)[at_->index];
    for (const char* size : {"name", "length", "share", "start", "end", "greatest", "least"}) {
      const auto now = element.sizes.find(size);
      size_names_.emplace_back(size);
      values.push_back(now != element.sizes.end() ? now->second.text : size == std::string("name") ? element.label : std::string());
    }
  }
  const auto shown = [this](int row) { return sizes_->item(row, 1)->text().toStdString(); };
  bool same = sizes_->rowCount() == static_cast<int>(values.size());
  for (int row = 0; same && row < sizes_->rowCount(); ++row) same = shown(row) == values[static_cast<std::size_t>(row)];
  if (same) return;  // a cell that is being typed in is left alone
  sizes_->setRowCount(static_cast<int>(values.size()));
  for (int row = 0; row < sizes_->rowCount(); ++row) {
    auto* size = new QTableWidgetItem(text(size_names_[static_cast<std::size_t>(row)]));
    size->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable);
    sizes_->setItem(row, 0, size);
    sizes_->setItem(row, 1, new QTableWidgetItem(text(values[static_cast<std::size_t>(row)])));
  }
}

void OutlinePalette::take_size(int row) {
  const std::string size = size_names_[static_cast<std::size_t>(row)], value = sizes_->item(row, 1)->text().trimmed().toStdString();
  run([&] { return write_size(book_, *at_, size, value); });
  // what cannot stand goes back to what is written; after the editor has closed
  QMetaObject::invokeMethod(this, &OutlinePalette::fill_sizes, Qt::QueuedConnection);
}

}  // namespace pommel::ui
