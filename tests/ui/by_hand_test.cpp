// What hands do: keys, wheel and mouse on the strips, in the grid and on the solid, the clipboard, the words of the trade.
#include <QClipboard>
#include <QDialog>
#include <QGuiApplication>
#include <QMenuBar>
#include <QSignalSpy>
#include <QTableWidget>
#include <QTest>
#include <QTimer>
#include <QWheelEvent>
#include <cmath>

#include "ui/opened.h"
#include "ui/views/axis_strip.h"
#include "ui/views/measure_grid.h"
#include "ui/views/turned_picture.h"

namespace pommel::ui {
namespace {

void turn_wheel(QWidget& over, QPointF at, int notches, Qt::KeyboardModifiers with = {}) {
  QWheelEvent event(at, over.mapToGlobal(at), {}, {0, 120 * notches}, Qt::NoButton, with, Qt::NoScrollPhase, false);
  QCoreApplication::sendEvent(&over, &event);
}

// A strip with nothing on it.
class BareStrip : public AxisStrip {
 public:
  explicit BareStrip(LengthAxis& axis) : AxisStrip(axis, QStringLiteral("bare")) { resize(1028, 100); }  // a pixel a mm, over 1000 mm

 protected:
  void paint(QPainter&) override {}
};

class Strip : public ::testing::Test {
 protected:
  Strip() {
    axis_.set_whole(0, 1000);
    axis_.show_all();
  }
  LengthAxis axis_;
  BareStrip strip_{axis_};
};

TEST_F(Strip, KeysMoveTheHairlineAndTheView) {
  axis_.set_hair(500.4);
  const std::pair<Qt::Key, double> steps[] = {{Qt::Key_Right, 501}, {Qt::Key_Left, 500}, {Qt::Key_End, 1000}, {Qt::Key_Home, 0}};
  for (const auto& [key, to] : steps) {
    QTest::keyClick(&strip_, key);
    EXPECT_DOUBLE_EQ(axis_.hair().value(), to) << key;
  }
  QTest::keyClick(&strip_, Qt::Key_Right, Qt::ShiftModifier);
  EXPECT_DOUBLE_EQ(axis_.hair().value(), 10);
  axis_.set_hair(500);
  QTest::keyClick(&strip_, Qt::Key_Plus);
  EXPECT_LT(axis_.to() - axis_.from(), 1000);
  EXPECT_NEAR((axis_.to() + axis_.from()) / 2, 500, 1e-6) << "closer about the hairline";
  QTest::keyClick(&strip_, Qt::Key_End);  // out of sight: the view goes along
  EXPECT_LE(axis_.hair().value(), axis_.to() + 1e-9);
  QTest::keyClick(&strip_, Qt::Key_A);
  EXPECT_TRUE(axis_.shows_all());
  QTest::keyClick(&strip_, Qt::Key_Plus);
  QTest::keyClick(&strip_, Qt::Key_Minus);
  EXPECT_TRUE(axis_.shows_all());
  QSignalSpy picked(&strip_, &AxisStrip::picked);
  axis_.set_hair(321);
  QTest::keyClick(&strip_, Qt::Key_Return);
  ASSERT_EQ(picked.size(), 1);
  EXPECT_DOUBLE_EQ(picked[0][0].toDouble(), 321);
}

TEST_F(Strip, TheWheelComesCloserAboutThePointer) {
  const double about = axis_.at_pixel(264, strip_.width());
  turn_wheel(strip_, {264, 50}, 3);
  EXPECT_LT(axis_.to() - axis_.from(), 1000);
  EXPECT_NEAR(axis_.at_pixel(264, strip_.width()), about, 1e-6);
  const double from = axis_.from(), wide = axis_.to() - axis_.from();
  turn_wheel(strip_, {264, 50}, -1, Qt::ShiftModifier);
  EXPECT_NEAR(axis_.from(), from + wide / 10, 1e-6) << "along the piece";
  turn_wheel(strip_, {264, 50}, -40);
  EXPECT_TRUE(axis_.shows_all());
}

TEST_F(Strip, ADragMovesTheViewAndAClickPicks) {
  QSignalSpy picked(&strip_, &AxisStrip::picked);
  axis_.show(200, 700);  // two pixels a mm
  QTest::mouseMove(&strip_, {300, 50});
  QTest::mousePress(&strip_, Qt::LeftButton, {}, {300, 50});
  QMouseEvent move(QEvent::MouseMove, QPointF(400, 50), strip_.mapToGlobal(QPointF(400, 50)), Qt::NoButton, Qt::LeftButton, {});
  QCoreApplication::sendEvent(&strip_, &move);
  QTest::mouseRelease(&strip_, Qt::LeftButton, {}, {400, 50});
  EXPECT_NEAR(axis_.from(), 150, 1e-6);
  EXPECT_EQ(picked.size(), 0);
  QTest::mouseClick(&strip_, Qt::LeftButton, {}, {414, 50});
  ASSERT_EQ(picked.size(), 1);
  EXPECT_NEAR(picked[0][0].toDouble(), 150 + 400 / 2.0, 1e-6);
}

class ByHand : public Opened {};

TEST_F(ByHand, TheClipboardGoesBetweenGridAndSpreadsheet) {
  MeasureGrid& grid = window().grid();
  grid.setCurrentIndex(at("table_height"));
  QTest::keySequence(&grid, QKeySequence::Copy);
  EXPECT_EQ(QGuiApplication::clipboard()->text().trimmed(), shown("table_height"));
  QGuiApplication::clipboard()->setText(QStringLiteral("33 1/2 in\n"));
  QTest::keySequence(&grid, QKeySequence::Paste);
  EXPECT_EQ(window().book().sizes().columns.front().own.at("table_height"), "33 1/2 in");
  window().book().undo().undo();
  EXPECT_NE(window().book().sizes().columns.front().own.at("table_height"), "33 1/2 in");
}

TEST_F(ByHand, GroupsFoldUnderTheSpaceBarAndTheMouse) {
  MeasureGrid& grid = window().grid();
  int heading = -1;
  for (int row = 0; row < model().rowCount() && heading < 0; ++row)
    if (model().kind_of(row) == SheetModel::RowKind::group) heading = row;
  ASSERT_GE(heading, 0);
  ASSERT_FALSE(grid.is_folded(heading));
  grid.setCurrentIndex(model().index(heading, 0));
  QTest::keyClick(&grid, Qt::Key_Space);
  EXPECT_TRUE(grid.is_folded(heading));
  EXPECT_TRUE(grid.isRowHidden(heading + 1));
  QTest::mouseClick(grid.viewport(), Qt::LeftButton, {}, grid.visualRect(model().index(heading, 0)).center());
  EXPECT_FALSE(grid.is_folded(heading));
  EXPECT_FALSE(grid.isRowHidden(heading + 1));
}

// A dialog that waits for an answer: looked at and closed from within.
TEST_F(ByHand, TheWordsOfTheTradeAreInTheHelpMenu) {
  QAction* wanted = nullptr;
  for (QAction* menu : window().menuBar()->actions())
    for (QAction* action : menu->menu()->actions())
      if (action->text().contains(QStringLiteral("Words of the trade"))) wanted = action;
  ASSERT_TRUE(wanted);
  int rows = 0;
  bool apron = false;
  QTimer::singleShot(0, [&] {
    auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
    ASSERT_TRUE(dialog);
    const auto* table = dialog->findChild<QTableWidget*>();
    rows = table->rowCount();
    for (int row = 0; row < rows; ++row) apron = apron || (table->item(row, 0)->text() + table->item(row, 1)->text()).contains(QStringLiteral("apron"));
    if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) dialog->grab().save(QString::fromLocal8Bit(folder) + "/words.png");
    QTest::keyClick(dialog, Qt::Key_Escape);
  });
  wanted->trigger();
  EXPECT_GE(rows, 10);
  EXPECT_TRUE(apron) << "apron and rail are one thing";
}

// The solid drawn by the processor, where there is no server to draw it.
TEST(TurnedByHand, KeysWheelAndMouseTurnTheSolid) {
  SoftwarePicture picture;
  picture.resize(300, 400);
  picture.begin_at(0);
  const auto ways = [&] { return picture.look(); };
  const auto differs = [](const viewer::Look& a, const viewer::Look& b) { return a.from.x != b.from.x || a.from.y != b.from.y || a.from.z != b.from.z; };
  const viewer::Look first = ways();
  for (const Qt::Key key : {Qt::Key_Left, Qt::Key_Right, Qt::Key_Up, Qt::Key_Down}) {
    const viewer::Look before = ways();
    QTest::keyClick(&picture, key);
    EXPECT_TRUE(differs(before, ways())) << key;
  }
  QTest::keyClick(&picture, Qt::Key_Plus);
  EXPECT_GT(ways().scale, first.scale);
  QTest::keyClick(&picture, Qt::Key_Minus);
  turn_wheel(picture, {150, 200}, -2);
  EXPECT_LT(ways().scale, first.scale);
  const viewer::Look before = ways();
  QTest::mousePress(&picture, Qt::LeftButton, {}, {150, 200});
  QMouseEvent turned(QEvent::MouseMove, QPointF(190, 200), picture.mapToGlobal(QPointF(190, 200)), Qt::NoButton, Qt::LeftButton, {});
  QCoreApplication::sendEvent(&picture, &turned);
  EXPECT_TRUE(differs(before, ways()));
  const viewer::Look there = ways();
  QMouseEvent moved(QEvent::MouseMove, QPointF(200, 180), picture.mapToGlobal(QPointF(200, 180)), Qt::NoButton, Qt::LeftButton, Qt::ShiftModifier);
  QCoreApplication::sendEvent(&picture, &moved);
  EXPECT_FALSE(differs(there, ways()));
  EXPECT_DOUBLE_EQ(ways().right, there.right + 10);
  EXPECT_DOUBLE_EQ(ways().higher, there.higher + 20);
  QTest::keyClick(&picture, Qt::Key_Home);
  EXPECT_FALSE(differs(first, ways()));
  EXPECT_DOUBLE_EQ(ways().scale, first.scale);
}

}  // namespace
}  // namespace pommel::ui
