// What is drawn on the piece, and what the piece shows of measures and members.
#include <QImage>
#include <QTest>
#include <algorithm>

#include "ui/opened.h"

namespace pommel::ui {
namespace {

class Drawn : public Opened {
 protected:
  void SetUp() override {
    Opened::SetUp();
    wait_for_piece();
    elevation_ = window().findChild<Elevation*>();
  }
  shape::ElementMark mark_of(const char* kind) {
    const auto made = window().state_of(family::kOrder).made;
    const auto& marks = made->pieces.front().part.elements;
    return *std::find_if(marks.begin(), marks.end(), [&](const shape::ElementMark& one) { return one.kind == kind; });
  }
  QPushButton* button(const QString& words) {
    for (QPushButton* one : window().held().findChildren<QPushButton*>())
      if (one->text() == words) return one;
    return nullptr;
  }
  Elevation* elevation_ = nullptr;
};

TEST_F(Drawn, AMeasureThatAFormulaHoldsIsSaidAndSetOnlyWhenWanted) {
  const shape::ElementMark vase = mark_of("vase");
  const QString before = shown("thick");
  const double x = vase.x0 + 0.3 * (vase.x1 - vase.x0);
  emit elevation_->drawn_to(x, vase.d_greatest - 6);
  EXPECT_TRUE(window().held().isVisible());
  EXPECT_TRUE(window().held().findChild<QLabel*>()->text().contains("'thick' follows its formula = ")) << window().held().findChild<QLabel*>()->text().toStdString();
  EXPECT_EQ(shown("thick"), before);
  button("Leave the formula")->click();
  EXPECT_FALSE(window().held().isVisible());
  EXPECT_EQ(shown("thick"), before);
  emit elevation_->drawn_to(x, vase.d_greatest - 6);
  button("Set it in this size")->click();
  EXPECT_NE(shown("thick"), before);
  wait_for_piece();
  EXPECT_NEAR(mark_of("vase").d_greatest, vase.d_greatest - 6, 25.4 / 32);  // entries are rounded to 1/32 in
  // its own entry now: drawn again, nothing is asked
  emit elevation_->drawn_to(x, vase.d_greatest - 3);
  EXPECT_FALSE(window().held().isVisible());
  wait_for_piece();
  EXPECT_NEAR(mark_of("vase").d_greatest, vase.d_greatest - 3, 25.4 / 32);
}

TEST_F(Drawn, AShoulderDrawnAlongThePieceIsItsLength) {
  const shape::ElementMark square = mark_of("square");
  emit elevation_->stretched_to(0, square.x1 - square.x0 + 12.7);
  if (window().held().isVisible()) button("Set it in this size")->click();
  wait_for_piece();
  EXPECT_NEAR(mark_of("square").x1 - mark_of("square").x0, square.x1 - square.x0 + 12.7, 25.4 / 32);
}

TEST_F(Drawn, TheMouseTakesHoldOfAnEnd) {
  // the boundary between vase and what follows it, on the axis
  const shape::ElementMark square = mark_of("square");
  int told = 0;
  double length = 0;
  QObject::connect(elevation_, &Elevation::stretched_to, elevation_, [&](std::size_t element, double to) { told += element == 0 ? 1 : 0, length = to; });
  const auto pixel = [&](double x) { return static_cast<int>(window().axis().pixel(x, elevation_->width())); };
  const QPoint at(pixel(square.x1), elevation_->height() / 2), to = at + QPoint(30, 0);
  QTest::mousePress(elevation_, Qt::LeftButton, {}, at);
  QMouseEvent move(QEvent::MouseMove, QPointF(to), elevation_->mapToGlobal(QPointF(to)), Qt::NoButton, Qt::LeftButton, {});
  QApplication::sendEvent(elevation_, &move);
  QTest::mouseRelease(elevation_, Qt::LeftButton, {}, to);
  EXPECT_EQ(told, 1);
  EXPECT_NEAR(length, window().axis().at_pixel(to.x(), elevation_->width()) - square.x0, 1e-6);
}

TEST_F(Drawn, HandsCanBeLookedAtAndTheMirrorsJointsStandElsewhere) {
  ASSERT_GE(window().pieces().count(), 2);  // left and right hand of a table longer than wide
  EXPECT_TRUE(window().pieces().itemText(0).contains("hand")) << window().pieces().itemText(0).toStdString();
  const QImage one = elevation_->grab().toImage();
  window().pieces().setCurrentIndex(1);
  emit window().pieces().activated(1);
  const QImage other = elevation_->grab().toImage();
  EXPECT_NE(one, other);
  for (QAction* action : window().findChildren<QAction*>())
    if (action->shortcut() == QKeySequence(Qt::ALT | Qt::Key_9)) action->trigger();
  EXPECT_NE(elevation_->grab().toImage(), other);
}

TEST_F(Drawn, TheMeasureUnderTheCursorShowsItsElements) {
  window().grid().go_to("table_width", SheetModel::kOrderValue);
  const QImage without = elevation_->grab().toImage();
  window().grid().go_to("thick", SheetModel::kOrderValue);
  EXPECT_NE(elevation_->grab().toImage(), without);
}

TEST_F(Drawn, WhatFollowsCanBeRead) {
  settle();
  FollowsView& follows = window().follows();
  EXPECT_GE(follows.cut_list().rowCount(), 2);
  EXPECT_GE(follows.price().rowCount(), 8);
  const auto followed = window().state_of(family::kOrder).followed;
  bool total = false;
  for (int row = 0; row < follows.price().rowCount(); ++row) total = total || follows.price().item(row, 2)->text().startsWith(QString::fromStdString(format_money(followed->quote.total)));
  EXPECT_TRUE(total);
  for (int tab = 0; tab < follows.count(); ++tab) {
    follows.setCurrentIndex(tab);
    window().resize(1280, 800);
    QCoreApplication::processEvents();
    if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
      EXPECT_TRUE(window().grab().save(QString::fromLocal8Bit(folder) + QStringLiteral("/follows-%1.png").arg(tab)));
    }
  }
  follows.setCurrentIndex(1);
  QImage plan = follows.plan().grab().toImage();
  std::set<QRgb> colours;
  for (int y = 0; y < plan.height(); y += 2)
    for (int x = 0; x < plan.width(); x += 2) colours.insert(plan.pixel(x, y));
  EXPECT_GT(colours.size(), 4u);
  ASSERT_TRUE(type("table_height", "33 in"));  // what was is no longer true, and is not shown as if it were
  EXPECT_EQ(follows.cut_list().rowCount(), 0);
}

}  // namespace
}  // namespace pommel::ui
