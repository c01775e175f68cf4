// The window opened on an order of the house, in a folder of its own, for tests that type, save and kill.
#pragma once

#include <gtest/gtest.h>

#include <QApplication>
#include <QElapsedTimer>
#include <QSettings>
#include <QTemporaryDir>
#include <filesystem>

#include "ui/views/desk.h"

namespace pommel::ui {

class Opened : public ::testing::Test {
 protected:
  /// A house whose orders may be written: the catalog's designs and shop, one order.
  void SetUp() override {
    namespace fs = std::filesystem;
    ASSERT_TRUE(folder_.isValid());
    const fs::path source = POMMEL_SOURCE_DIR, here = folder_.path().toStdString();
    fs::create_directories(here / "catalog/orders");
    fs::create_directory_symlink(source / "catalog/designs", here / "catalog/designs");
    fs::create_directory_symlink(source / "catalog/shop", here / "catalog/shop");
    fs::create_directory_symlink(source / "templates", here / "templates");
    fs::copy_file(source / "catalog/orders/harvest-table.yaml", order());
    QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope, folder_.filePath("settings"));
    desk_ = std::make_unique<Desk>(fs::path(), here / "unsaved");
    const auto opened = desk_->open(order());
    ASSERT_TRUE(opened.ok()) << render(opened.reasons());
  }

  std::filesystem::path order() const { return std::filesystem::path(folder_.path().toStdString()) / "catalog/orders/harvest-table.yaml"; }
  std::filesystem::path inside(const char* name) const { return std::filesystem::path(folder_.path().toStdString()) / name; }
  OrderWindow& window() { return *desk_->window(); }
  SheetModel& model() { return window().model(); }

  /// Copies of unsaved changes; what says that a session holds one is no copy.
  std::vector<std::string> copies() const {
    auto names = files_->list(inside("unsaved"));
    std::erase_if(names, [](const std::string& name) { return name.starts_with('.'); });
    return names;
  }
  void wait_for_copy() {
    wait([this] { return !copies().empty(); });
  }
  /// The session ends as a kill ends it: nothing is asked, nothing is forgotten.
  void kill_session() { desk_.reset(); }

  template <class Until>
  void wait(Until until) {
    QElapsedTimer timer;
    timer.start();
    while (!until() && timer.elapsed() < 180'000) QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents | QEventLoop::AllEvents, 50);
    ASSERT_TRUE(until());
  }
  void settle() {
    wait([this] { return window().settled(); });
  }
  /// Until the piece and its frame are there: long before time, price and check.
  void wait_for_piece(std::size_t column = family::kOrder) {
    wait([this, column] { return window().state_of(column).made && !window().state_of(column).stale; });
  }

  QModelIndex at(const std::string& name, int column = SheetModel::kOrderValue) { return model().index(model().row_of(name), column); }
  QString shown(const std::string& name, int column = SheetModel::kOrderValue) { return model().data(at(name, column), Qt::DisplayRole).toString(); }
  bool type(const std::string& name, const char* text, int column = SheetModel::kOrderValue) { return model().setData(at(name, column), QString::fromUtf8(text), Qt::EditRole); }

  QTemporaryDir folder_;
  std::unique_ptr<FileSystem> files_ = real_files();
  std::unique_ptr<Desk> desk_;
};

}  // namespace pommel::ui
