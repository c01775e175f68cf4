// Saving, the job folder, what an ended session left, and what is dropped on the window.
#include <QCloseEvent>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QFileDialog>
#include <QLabel>
#include <QMessageBox>
#include <QMimeData>
#include <QStatusBar>

#include "ui/views/design_saver.h"
#include "ui/views/in_words.h"
#include "ui/views/order_editor.h"
#include "ui/views/order_window.h"
#include "ui/views/telling_bar.h"

namespace pommel::ui {

// An order cannot hold a design: one that the catalog does not have as it is shown goes there first.
bool OrderWindow::save(const std::filesystem::path& path) {
  if (book_.design_changed() && !ask_for_design_first()) return false;
  const auto order = book_.order_text();
  const auto done = order.ok() ? file_.save(*order, path) : Result<Done>(order.failure());
  if (!done.ok()) {
    QMessageBox::warning(this, tr("Not saved"), lines_of(done.reasons()).join("\n\n"));
    return false;
  }
  setWindowModified(false);
  statusBar()->showMessage(tr("saved as %1").arg(text(path.generic_string())), 5000);
  return true;
}

// A text that cannot be written down is told where it is saved; nothing is kept of it.
Draft OrderWindow::draft() const {
  const auto order = book_.order_text();
  return {order.ok() ? *order : book_.sizes().order, book_.design_changed() ? book_.sizes().design : std::string()};
}

bool OrderWindow::ask_for_design() {
  DesignSaver saver(book_, file_.files(), shown_column_, this);
  if (saver.exec() != QDialog::Accepted) return false;
  statusBar()->showMessage(tr("the design is in the catalog, and the order stands on it; save the order, too"), 8000);
  return true;
}

bool OrderWindow::ask_for_design_first() {
  const auto answer = QMessageBox::question(this, tr("Save the design first?"), tr("The design as it is shown is not in the catalog, and an order has none of its own. So the design is saved first: as a new one, or as the next revision."), QMessageBox::Ok | QMessageBox::Cancel);
  return answer == QMessageBox::Ok && ask_for_design();
}

void OrderWindow::edit_order() { OrderEditor(book_, file_.files(), this).exec(); }

// The shop's figures decide what follows: they are read again at once.
void OrderWindow::fill_in(ShopForm* form) {
  const std::unique_ptr<ShopForm> own(form);
  if (form->exec() != QDialog::Accepted) return;
  if (const auto read = book_.read_shop_again(); !read.ok()) QMessageBox::warning(this, tr("The shop was not read again"), lines_of(read.reasons()).join("\n\n"));
}

void OrderWindow::ask_where_to_save() {
  const QString path = QFileDialog::getSaveFileName(this, tr("Save the order"), text(file_.path().generic_string()), tr("orders (*.yaml)"));
  if (!path.isEmpty()) save(path.toStdString());
}

void OrderWindow::keep_copy() {
  if (const auto kept = file_.keep(draft()); !kept.ok()) statusBar()->showMessage(tr("no copy of the unsaved changes could be kept: %1").arg(lines_of(kept.reasons()).join(u' ')), 8000);
}

bool OrderWindow::offer_left_behind() {
  const auto held = file_.hold_copy();
  const bool elsewhere = !held.ok() && held.reasons().front().id == "files.held";
  const auto damaged = file_.set_damaged_apart();
  notice_->setVisible(damaged || elsewhere);
  if (damaged) notice_says_->setText(tr("Unsaved changes of the last session cannot be read. What is left of them is kept as %1").arg(text(damaged->generic_string())));
  if (elsewhere) notice_says_->setText(tr("This order is open in another session, so no copy of unsaved changes is kept here: %1").arg(lines_of(held.reasons()).join(u' ')));
  const bool there = file_.left_behind().has_value();
  left_behind_->setVisible(there);
  return there;
}

void OrderWindow::offer_left_readings() {
  auto* show = new QPushButton(tr("Show them"));
  auto* later = new QPushButton(tr("Later"));
  auto* bar = telling_bar(new QLabel(tr("The last session ended with readings of a turning that were not saved.")), {show, later});
  for (QPushButton* button : {show, later}) connect(button, &QPushButton::clicked, bar, &QWidget::deleteLater);
  connect(show, &QPushButton::clicked, this, &OrderWindow::match_wanted);
  static_cast<QVBoxLayout*>(centralWidget()->layout())->insertWidget(1, bar);
  bar->show();
}

QString OrderWindow::notice() const { return notice_->isHidden() ? QString() : notice_says_->text(); }

void OrderWindow::take_left_behind() {
  left_behind_->hide();
  const auto left = file_.left_behind();
  if (!left) return;
  if (const auto done = book_.take_over(tr("changes of the last session"), left->order, left->design); !done.ok())
    QMessageBox::warning(this, tr("Not taken"), lines_of(done.reasons()).join("\n\n"));
}

void OrderWindow::ask_for_folder() {
  if (maker_.busy()) return;
  const QString proposed = text((file_.path().parent_path() / (file_.path().stem().string() + "-job")).generic_string());
  const QString path = QFileDialog::getSaveFileName(this, tr("Make the job folder"), proposed, {}, nullptr, QFileDialog::DontConfirmOverwrite);
  if (path.isEmpty()) return;
  const bool there = std::filesystem::exists(path.toStdString());
  if (there && QMessageBox::question(this, tr("Replace the job folder?"), tr("'%1' is there already. Shall the new job folder take its place?").arg(path)) != QMessageBox::Yes) return;
  make_folder(path.toStdString(), there);
}

void OrderWindow::make_folder(const std::filesystem::path& into, bool replace) {
  if (maker_.busy()) return;
  stop_making_->show();
  doing_->setText(tr("making the job folder …"));
  maker_.make(book_.order_of(shown_column_), into, replace);
}

void OrderWindow::show_recent(const QStringList& paths) {
  recent_->clear();
  for (const QString& path : paths) connect(recent_->addAction(path), &QAction::triggered, this, [this, path] { emit reopen_wanted(path); });
  recent_->setEnabled(!paths.isEmpty());
}

void OrderWindow::dragEnterEvent(QDragEnterEvent* event) {
  const QList<QUrl> urls = event->mimeData()->urls();
  if (urls.size() == 1 && urls.front().isLocalFile()) event->acceptProposedAction();
}

void OrderWindow::dropEvent(QDropEvent* event) {
  const QString path = event->mimeData()->urls().front().toLocalFile();
  event->acceptProposedAction();
  // after the drop has ended: the window may close
  QTimer::singleShot(0, this, [this, path] { emit reopen_wanted(path); });
}

void OrderWindow::closeEvent(QCloseEvent* event) {
  if (isWindowModified()) {
    const auto answer = QMessageBox::question(this, tr("Save the order?"), tr("The order has changes that are not saved."), QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel);
    if (answer == QMessageBox::Cancel || (answer == QMessageBox::Save && !save(file_.path()))) return event->ignore();
  }
  keep_soon_.stop();
  if (!left_behind_->isVisible()) file_.forget();
  event->accept();
}

}  // namespace pommel::ui
