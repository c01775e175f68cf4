// The window as its user meets it: what is typed, and what is shown when it has been worked out.
#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QApplication>
#include <QElapsedTimer>
#include <QImage>

#include "ui/views/order_window.h"

namespace pommel::ui {
namespace {

class Window : public ::testing::Test {
 protected:
  void SetUp() override {
    files_ = real_files();
    const std::filesystem::path order = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/orders/harvest-table.yaml";
    const auto house = job::find_house(*files_, order, {}, {});
    ASSERT_TRUE(house.ok());
    Sink sink;
    auto loaded = job::load(*files_, *house, order, sink);
    ASSERT_TRUE(loaded) << render(sink.all());
    loaded_ = std::move(*loaded);
    auto sheet = family::make_sheet(loaded_.family, loaded_.design, &*loaded_.order, loaded_.shop, {}, sink);
    ASSERT_FALSE(sink.has_errors()) << render(sink.all());
    window_ = std::make_unique<OrderWindow>(loaded_, std::move(sheet));
    window_->show();
    wait();
  }

  void wait() {
    QElapsedTimer timer;
    timer.start();
    while (!window_->settled() && timer.elapsed() < 120'000) QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents, 50);
    ASSERT_TRUE(window_->settled());
  }

  QModelIndex at(const std::string& name, int column = SheetModel::kOrderValue) { return window_->model().index(window_->model().row_of(name), column); }
  QString shown(const std::string& name) { return window_->model().data(at(name), Qt::DisplayRole).toString(); }
  bool type(const std::string& name, const char* text) { return window_->model().setData(at(name), QString::fromUtf8(text), Qt::EditRole); }

  std::unique_ptr<FileSystem> files_;
  job::Loaded loaded_;
  std::unique_ptr<OrderWindow> window_;
};

TEST_F(Window, ShowsTheDemoOrderWithWhatFollows) {
  EXPECT_EQ(shown("table_height"), "31 1/4\"");
  EXPECT_TRUE(shown("price").endsWith("USD")) << shown("price").toStdString();
  EXPECT_FALSE(window_->grab().toImage().isNull());
}

TEST_F(Window, ATallerTableIsALongerLegAndBlank) {
  const QString blank = shown("blank_length"), price = shown("price");
  ASSERT_TRUE(type("table_height", "33 1/4 in"));
  EXPECT_EQ(shown("price"), "…");  // the old price is no longer true
  wait();
  EXPECT_EQ(shown("leg_length"), "32 3/8\"");
  EXPECT_NE(shown("blank_length"), blank);
  EXPECT_NE(shown("price"), price);
}

TEST_F(Window, AWrongSizeIsToldAndAnEmptyOneTakesTheCatalogues) {
  ASSERT_TRUE(type("table_height", "31 cats"));
  EXPECT_FALSE(window_->model().problems().isEmpty());
  EXPECT_EQ(shown("table_height"), "31 cats");
  ASSERT_TRUE(type("table_height", ""));
  EXPECT_TRUE(window_->model().problems().isEmpty()) << window_->model().problems().join("\n").toStdString();
  EXPECT_EQ(shown("table_height"), "29 1/8\"");
  wait();
}

TEST_F(Window, TheCatalogueAndWhatFollowsCannotBeTypedOver) {
  EXPECT_FALSE(window_->model().setData(at("table_height", SheetModel::kCatalogueValue), "1 m", Qt::EditRole));
  EXPECT_FALSE(window_->model().setData(at("price"), "1", Qt::EditRole));
}

TEST_F(Window, TheModelKeepsItsWord) {
  QAbstractItemModelTester tester(&window_->model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
  ASSERT_TRUE(type("square", "55 mm"));
  wait();
  EXPECT_EQ(shown("square"), "2 5/32\"");
}

}  // namespace
}  // namespace pommel::ui

int main(int argc, char** argv) {
  ::testing::InitGoogleTest(&argc, argv);
  QApplication app(argc, argv);
  return RUN_ALL_TESTS();
}
