#include "ui/views/follows_view.h"

#include <QHeaderView>
#include <QPainter>
#include <QScrollArea>
#include <QVBoxLayout>

#include "paper/canvas.h"
#include "ui/views/in_words.h"

namespace pommel::ui {
namespace {

QTableWidget* table(const QStringList& heads, const QString& name) {
  auto* out = new QTableWidget(0, static_cast<int>(heads.size()));
  out->setHorizontalHeaderLabels(heads);
  out->setAccessibleName(name);
  out->setEditTriggers(QAbstractItemView::NoEditTriggers);
  out->setTabKeyNavigation(false);
  out->verticalHeader()->hide();
  out->setWordWrap(true);
  out->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
  out->horizontalHeader()->setSectionResizeMode(0, QHeaderView::Stretch);
  return out;
}

void add_row(QTableWidget& into, const QStringList& cells, bool bold = false) {
  const int row = into.rowCount();
  into.setRowCount(row + 1);
  for (int column = 0; column < cells.size(); ++column) {
    auto* item = new QTableWidgetItem(cells[column]);
    if (column > 0 && (column + 1 == cells.size() || into.columnCount() > 3)) item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
    if (bold) {
      QFont font = item->font();
      font.setBold(true);
      item->setFont(font);
    }
    into.setItem(row, column, item);
  }
}

}  // namespace

// --- plan

PlanPicture::PlanPicture(QWidget* parent) : QWidget(parent) { setAccessibleName(tr("the cutting plan, drawn")); }

void PlanPicture::show_plan(const QByteArray& svg) {
  if (svg == svg_) return;
  svg_ = svg;
  drawing_.load(svg_);
  take_height();
  update();
}

void PlanPicture::take_height() {
  const QSize size = drawing_.defaultSize();
  setMinimumHeight(svg_.isEmpty() || size.width() <= 0 ? 0 : std::min(width() * size.height() / size.width(), 4 * size.height()));
}

void PlanPicture::resizeEvent(QResizeEvent*) { take_height(); }

void PlanPicture::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.fillRect(rect(), paper::tone::paper);
  if (svg_.isEmpty()) return;
  QSizeF size = drawing_.defaultSize();
  size.scale(QSizeF(rect().size()), Qt::KeepAspectRatio);
  drawing_.render(&painter, QRectF(QPointF(0, 0), size));
}

// --- view

FollowsView::FollowsView(QWidget* parent) : QTabWidget(parent) {
  setAccessibleName(tr("what follows, to be read"));
  told_ = new QPlainTextEdit;
  told_->setReadOnly(true);
  told_->setTabChangesFocus(true);
  told_->setAccessibleName(tr("what is different from the catalogue, and the cut check"));
  addTab(told_, tr("&What is different"));

  cut_list_ = table({tr("piece"), tr("of them"), tr("rough"), tr("finished"), tr("stock")}, tr("cut list"));
  bought_ = new QLabel;
  bought_->setWordWrap(true);
  bought_->setMargin(4);
  bought_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
  plan_ = new PlanPicture;
  auto* wood = new QWidget;
  auto* down = new QVBoxLayout(wood);
  down->setContentsMargins(0, 0, 0, 0);
  down->addWidget(cut_list_);
  down->addWidget(bought_);
  down->addWidget(plan_);
  down->addStretch(1);
  auto* scroll = new QScrollArea;
  scroll->setWidget(wood);
  scroll->setWidgetResizable(true);
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setAccessibleName(tr("the wood"));
  addTab(scroll, tr("The w&ood"));

  price_ = table({tr("what"), tr("how it was reckoned"), tr("amount")}, tr("the price, line by line"));
  price_->horizontalHeader()->setSectionResizeMode(0, QHeaderView::ResizeToContents);
  price_->horizontalHeader()->setSectionResizeMode(1, QHeaderView::Stretch);
  addTab(price_, tr("The &price"));
}

void FollowsView::show_differences(const QString& text) {
  if (told_->toPlainText() != text) told_->setPlainText(text);
}

void FollowsView::show_column(std::shared_ptr<const job::Column> column, const LengthFormat& lengths) {
  if (column == column_ && lengths.unit == lengths_.unit) return;
  column_ = std::move(column);
  lengths_ = lengths;
  cut_list_->setRowCount(0);
  price_->clearSpans();
  price_->setRowCount(0);
  bought_->clear();
  if (!column_) {
    bought_->setText(tr("being worked out …"));
    add_row(*price_, {tr("being worked out …"), {}, {}});
    return plan_->show_plan({});
  }
  fill_wood();
  fill_price();
}

void FollowsView::fill_wood() {
  const auto size = [this](double a, double b, double c) {
    return text(format_length(a, lengths_, false) + " x " + format_length(b, lengths_, false) + " x " + format_length(c, lengths_));
  };
  for (const stock::CutRow& row : column_->cuts.rows)
    add_row(*cut_list_, {text(row.piece), QString::number(row.quantity), size(row.rough_thickness, row.rough_width, row.rough_length),
                         size(row.finished_thickness, row.finished_width, row.finished_length), text(row.stock_label)});
  cut_list_->resizeRowsToContents();
  int tall = cut_list_->horizontalHeader()->sizeHint().height() + 2 * cut_list_->frameWidth() + 2;
  for (int row = 0; row < cut_list_->rowCount(); ++row) tall += cut_list_->rowHeight(row);
  cut_list_->setMinimumHeight(tall);
  QStringList says;
  for (const stock::CuttingPlan& plan : column_->cuts.plans) says << text(stock::said_of(plan));
  bought_->setText(says.join(u'\n'));
  plan_->show_plan(QByteArray::fromStdString(stock::plan_svg(column_->cuts.plans, lengths_)));
}

void FollowsView::fill_price() {
  const quote::Quote& quote = column_->quote;
  const auto amount = [&](const Money& money) { return text(format_money(money)) + ' ' + text(quote.currency); };
  if (!quote.confirmed) {
    add_row(*price_, {tr("Example: the shop's rates are not confirmed."), {}, {}}, true);
    price_->setSpan(0, 0, 1, 3);
  }
  for (const quote::Line& line : quote.lines) add_row(*price_, {text(line.text), text(line.basis), amount(line.amount)});
  add_row(*price_, {tr("cost"), {}, amount(quote.cost)}, true);
  add_row(*price_, {tr("profit"), text(quote.profit_words), amount(quote.profit)});
  add_row(*price_, {tr("price"), quote.minimum_applied ? tr("the shop's minimum") : QString(), amount(quote.price)}, true);
  add_row(*price_, {tr("tax"), text(quote.tax_words), amount(quote.tax)});
  add_row(*price_, {tr("total"), {}, amount(quote.total)}, true);
  add_row(*price_, {tr("deposit"), text(quote.deposit_words), amount(quote.deposit)});
  price_->resizeRowsToContents();
}

}  // namespace pommel::ui
