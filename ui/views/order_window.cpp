#include "ui/views/order_window.h"

#include <QHeaderView>
#include <QVBoxLayout>

namespace pommel::ui {

OrderWindow::OrderWindow(const job::Loaded& loaded, sheet::Sheet sheet, QWidget* parent)
    : QMainWindow(parent), model_(new SheetModel(std::move(sheet), this)), follower_(new Follower(loaded, this)), strip_(new LegStrip), grid_(new QTableView), foot_(new QLabel) {
  setWindowTitle(tr("%1, order %2 — Pommel").arg(QString::fromStdString(loaded.order->name), QString::fromStdString(loaded.order->number)));
  grid_->setModel(model_);
  grid_->setAccessibleName(tr("measures and what follows"));
  grid_->setEditTriggers(QAbstractItemView::AnyKeyPressed | QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed);
  grid_->horizontalHeader()->setStretchLastSection(true);
  grid_->verticalHeader()->hide();
  grid_->verticalHeader()->setDefaultSectionSize(24);
  grid_->setAlternatingRowColors(true);
  grid_->resizeColumnsToContents();
  for (int column : {SheetModel::kCatalogueValue, SheetModel::kOrderValue}) grid_->setColumnWidth(column, std::max(170, grid_->columnWidth(column)));
  grid_->setCurrentIndex(model_->index(std::max(0, model_->row_of("table_height")), SheetModel::kOrderValue));
  foot_->setWordWrap(true);
  foot_->setMargin(8);
  foot_->setMinimumHeight(64);
  foot_->setAlignment(Qt::AlignLeft | Qt::AlignTop);
  foot_->setTextInteractionFlags(Qt::TextSelectableByMouse);

  auto* middle = new QWidget;
  auto* layout = new QVBoxLayout(middle);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(0);
  layout->addWidget(strip_, 2);
  layout->addWidget(grid_, 3);
  layout->addWidget(foot_);
  setCentralWidget(middle);
  resize(1180, 860);

  connect(model_, &SheetModel::edited, this, [this] { ask({family::kOrder}); });
  connect(follower_, &Follower::followed, this, [this](const std::shared_ptr<const Followed>& answer) { take(*answer); });
  ask({family::kCatalogue, family::kOrder});
}

void OrderWindow::ask(std::vector<std::size_t> columns) {
  const QStringList problems = model_->problems();
  if (!model_->sheet().sound(family::kOrder)) {
    waiting_ = 0;
    strip_->show_order(std::nullopt);
    say(problems, {});
    emit followed_up();
    return;
  }
  waiting_ = columns.size();
  say({}, tr("working out what follows …"));
  follower_->follow(model_->sheet(), std::move(columns));
}

void OrderWindow::take(const Followed& answer) {
  if (waiting_ > 0) --waiting_;
  if (answer.result) model_->set_outcomes(answer.column, answer.result->outcomes);
  if (answer.column == family::kOrder) strip_->show_order(answer.leg);
  else if (answer.leg) strip_->show_catalogue(*answer.leg);
  QStringList problems;
  for (const Diagnostic& reason : answer.reasons) problems << QString::fromStdString(reason.message + (reason.remedy.empty() ? "" : ": " + reason.remedy));
  if (waiting_ > 0) return;
  say(problems + model_->problems(), tr("Type another size over one of this order's; an empty cell takes the catalogue's again. "
                                        "'pommel make' writes the job folder with the checked program."));
  emit followed_up();
}

void OrderWindow::say(const QStringList& problems, const QString& otherwise) {
  foot_->setText(problems.isEmpty() ? otherwise : problems.join("\n"));
  foot_->setStyleSheet(problems.isEmpty() ? QString() : QStringLiteral("QLabel { color: #a02020; }"));
}

}  // namespace pommel::ui
