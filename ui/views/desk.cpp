#include "ui/views/desk.h"

#include <QFileDialog>
#include <QMessageBox>
#include <QSettings>
#include <QTimer>
#include <cstdlib>

#include "base/saving.h"
#include "family/save_order.h"
#include "ui/models/bench_copy.h"
#include "ui/views/design_chooser.h"

namespace pommel::ui {
namespace {

constexpr int kRemembered = 8;
constexpr auto kRecent = "recent", kGeometry = "window";

}  // namespace

Desk::Desk(std::filesystem::path installed, std::filesystem::path unsaved, QObject* parent)
    : QObject(parent), files_(real_files()), installed_(std::move(installed)), unsaved_(std::move(unsaved)) {}

Desk::~Desk() {
  if (window_) QSettings().setValue(kGeometry, window_->saveGeometry());
}

std::filesystem::path Desk::unsaved_folder() {
  const char* const state = std::getenv("XDG_STATE_HOME");
  const char* const home = std::getenv("HOME");
  const std::filesystem::path base = state && *state ? std::filesystem::path(state) : std::filesystem::path(home ? home : ".") / ".local" / "state";
  return base / "pommel" / "unsaved";
}

Result<Done> Desk::open(const std::filesystem::path& order) {
  const auto house = job::find_house(*files_, order, {}, installed_);
  if (!house.ok()) return house.failure();
  Sink sink;
  auto loaded = job::load(*files_, *house, order, sink);
  if (sink.has_errors() || !loaded) return Failure(sink.all());
  if (!loaded->order) return fail("ui.no-order", "'" + order.generic_string() + "' is a design, not an order", "begin an order of it: Order, New from a design");
  auto sheet = family::make_sheet(loaded->family, loaded->design, &*loaded->order, loaded->shop, {}, sink);
  if (sink.has_errors()) return Failure(job::with_lines(loaded->texts, sink.all()));
  const auto text = files_->read(order);
  if (!text.ok()) return text.failure();
  auto sources = job::sources_of(*files_, *loaded, order);
  if (!sources.ok()) return sources.failure();
  auto window = std::make_unique<OrderWindow>(std::move(*loaded), std::move(sheet), std::move(sources).value(), OrderFile(*files_, order, *text, unsaved_));
  if (window_) QSettings().setValue(kGeometry, window_->saveGeometry());
  window->restoreGeometry(QSettings().value(kGeometry).toByteArray());
  wire(*window);
  remember(order);
  leaving_ = std::move(window_);
  if (leaving_) {
    leaving_->let_go_of_copy();
    leaving_->hide();
  }
  QTimer::singleShot(0, this, [this] { leaving_.reset(); });
  window_ = std::move(window);
  window_->show_recent(QSettings().value(kRecent).toStringList());
  window_->offer_left_behind();
  if (!match_ && BenchCopy::any_left(*files_, unsaved_)) window_->offer_left_readings();
  window_->show();
  return Done{};
}

void Desk::wire(OrderWindow& window) {
  connect(&window, &OrderWindow::open_wanted, this, &Desk::ask_to_open);
  connect(&window, &OrderWindow::new_wanted, this, &Desk::ask_for_design);
  connect(&window, &OrderWindow::match_wanted, this, [this] { match(); });
  connect(&window, &OrderWindow::reopen_wanted, this, [this](const QString& path) {
    if (may_be_matched(path.toStdString())) return static_cast<void>(match().open(path.toStdString()));
    if (!window_ || window_->close()) open_or_say(path.toStdString());
  });
}

void Desk::open_or_say(const std::filesystem::path& order) {
  const auto opened = open(order);
  if (opened.ok()) return;
  if (window_) window_->show();  // it was closed to make room
  QMessageBox::warning(window_.get(), tr("Not opened"), QString::fromStdString(render(opened.reasons())));
}

void Desk::ask_to_open() {
  const QString from = window_ ? QString::fromStdString(window_->file_path().parent_path().generic_string()) : QString();
  const QString path = QFileDialog::getOpenFileName(window_.get(), tr("Open an order"), from, tr("orders (*.yaml)"));
  if (!path.isEmpty() && (!window_ || window_->close())) open_or_say(path.toStdString());
}

void Desk::ask_for_design() {
  const job::Loaded& loaded = window_->book().loaded();
  DesignChooser chooser(*files_, loaded, window_.get());
  if (chooser.exec() != QDialog::Accepted) return;
  const family::NewOrder order = chooser.order();
  const std::filesystem::path folder = window_->file_path().parent_path();
  const QString path = QFileDialog::getSaveFileName(window_.get(), tr("Where the new order is kept"), QString::fromStdString((folder / (order.design + "-order.yaml")).generic_string()), tr("orders (*.yaml)"), nullptr, QFileDialog::DontConfirmOverwrite);
  if (path.isEmpty() || !window_->close()) return;
  if (const auto begun = begin_order(order, path.toStdString()); !begun.ok()) {
    window_->show();
    QMessageBox::warning(window_.get(), tr("No new order"), QString::fromStdString(render(begun.reasons())));
  }
}

Result<Done> Desk::begin_order(const family::NewOrder& order, const std::filesystem::path& file) {
  if (const auto written = save_new(*files_, file, family::new_order_text(order)); !written.ok()) return written;
  return open(file);
}

MatchWindow& Desk::match() {
  if (!match_) {
    const job::Loaded& loaded = window_->book().loaded();
    match_ = std::make_unique<MatchWindow>(*files_, loaded.house, loaded.order->lengths.unit, unsaved_);
    match_->offer_left_behind();
    connect(match_.get(), &MatchWindow::kept, this, &Desk::open_matched);
  }
  match_->show();
  match_->raise();
  match_->activateWindow();
  return *match_;
}

// An order that wants the design as it is, beside the one that is open and on its machine: the sheet of the design.
void Desk::open_matched(const std::string& design) {
  const family::Order& now = *window_->book().loaded().order;
  family::NewOrder order;
  order.name = order.number = order.design = design;
  order.machine = now.machine, order.cutter = now.cutter;
  order.unit = now.lengths.unit;
  const std::filesystem::path folder = window_->file_path().parent_path();
  std::filesystem::path file = folder / (design + "-order.yaml");
  for (int next = 2; files_->exists(file); ++next) file = folder / (design + "-order-" + std::to_string(next) + ".yaml");
  if (!window_->close()) return;
  if (const auto begun = begin_order(order, file); !begun.ok()) {
    window_->show();
    QMessageBox::warning(window_.get(), tr("No new order"), QString::fromStdString(render(begun.reasons())));
  }
}

void Desk::remember(const std::filesystem::path& order) {
  const QString path = QString::fromStdString(std::filesystem::absolute(order).generic_string());
  QStringList recent = QSettings().value(kRecent).toStringList();
  recent.removeAll(path);
  recent.prepend(path);
  QSettings().setValue(kRecent, recent.mid(0, kRemembered));
}

}  // namespace pommel::ui
