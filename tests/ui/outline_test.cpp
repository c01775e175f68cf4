// Elements of the outline added, moved, sized and taken out; every step undone.
#include <QImage>
#include <QTest>
#include <algorithm>

#include "ui/opened.h"

namespace pommel::ui {
namespace {

class Outline : public Opened {
 protected:
  void SetUp() override {
    Opened::SetUp();
    wait_for_piece();
    for (QAction* action : window().findChildren<QAction*>())
      if (action->shortcut() == QKeySequence(Qt::ALT | Qt::Key_7)) action->trigger();
    ASSERT_TRUE(window().palette().isVisible());
  }
  std::vector<std::string> words() {
    wait_for_piece();
    std::vector<std::string> out;
    for (const shape::ElementMark& mark : window().state_of(family::kOrder).made->pieces.front().part.elements) out.push_back(mark.kind);
    return out;
  }
  void point_at(const char* kind) {
    const auto made = window().state_of(family::kOrder).made;
    const auto& marks = made->pieces.front().part.elements;
    const auto mark = std::find_if(marks.begin(), marks.end(), [&](const shape::ElementMark& one) { return one.kind == kind; });
    ASSERT_NE(mark, marks.end());
    window().axis().set_hair((mark->x0 + mark->x1) / 2);
  }
};

TEST_F(Outline, EveryShapeOfThePaletteIsDrawnAndCanStandOnALeg) {
  QListWidget& shapes = window().palette().shapes();
  ASSERT_EQ(static_cast<std::size_t>(shapes.count()), palette_shapes().size());
  const auto before = words();
  int refused = 0;
  for (int i = 0; i < shapes.count(); ++i) {
    const QImage image = shapes.item(i)->icon().pixmap(74, 62).toImage();
    int wood = 0;
    for (int y = 0; y < image.height(); ++y)
      for (int x = 0; x < image.width(); ++x) wood += qBlue(image.pixel(x, y)) < 200 ? 1 : 0;
    EXPECT_GT(wood, 300) << shapes.item(i)->text().toStdString();
    point_at("taper");
    shapes.setCurrentRow(i);
    window().palette().button("before").click();
    if (words() == before) {
      ++refused;  // told, and nothing was changed
      EXPECT_TRUE(window().palette().told().startsWith(QStringLiteral("✗ "))) << shapes.item(i)->text().toStdString();
      continue;
    }
    EXPECT_GT(words().size(), before.size());
    window().book().undo().undo();
    ASSERT_EQ(words(), before);
  }
  EXPECT_LE(refused, 1);
}

TEST_F(Outline, ABeadIsAddedMovedSizedAndTakenOut) {
  const auto before = words();
  const std::string text = window().book().sizes().design;
  point_at("taper");
  window().palette().button("behind").click();
  auto with = before;
  const auto taper = std::find(with.begin(), with.end(), "taper") - with.begin();
  with.insert(with.begin() + taper + 1, "bead");
  ASSERT_EQ(words(), with) << window().palette().told().toStdString();
  EXPECT_NE(window().book().sizes().design.find("# A house design"), std::string::npos);
  EXPECT_NE(window().book().sizes().design.find("- bead: {length: 9 mm"), std::string::npos);

  const auto made = window().state_of(family::kOrder).made;
  const auto& bead = made->pieces.front().part.elements[static_cast<std::size_t>(taper) + 1];
  window().axis().set_hair((bead.x0 + bead.x1) / 2);
  window().palette().sizes().item(1, 1)->setText("11 mm");
  wait_for_piece();
  const auto longer = window().state_of(family::kOrder).made;
  const auto& again = longer->pieces.front().part.elements[static_cast<std::size_t>(taper) + 1];
  EXPECT_NEAR(again.x1 - again.x0, 11, 1e-9);
  window().palette().sizes().item(1, 1)->setText("11 cats");
  EXPECT_TRUE(window().palette().told().contains("cats")) << window().palette().told().toStdString();

  window().axis().set_hair((again.x0 + again.x1) / 2);
  window().palette().button("headwards").click();
  std::swap(with[static_cast<std::size_t>(taper)], with[static_cast<std::size_t>(taper) + 1]);
  EXPECT_EQ(words(), with) << window().palette().told().toStdString();
  point_at("vase");
  window().palette().button("out").click();
  with.erase(std::find(with.begin(), with.end(), "vase"));
  EXPECT_EQ(words(), with) << window().palette().told().toStdString();
  EXPECT_TRUE(window().isWindowModified());
  while (window().book().undo().canUndo()) window().book().undo().undo();
  EXPECT_EQ(words(), before);
  EXPECT_EQ(window().book().sizes().design, text);
  EXPECT_FALSE(window().isWindowModified());
}

TEST_F(Outline, TheCatalogueKeepsItsOwnOutlineAndAKillLosesNothing) {
  settle();
  const auto catalogued = window().state_of(family::kCatalogue).made->pieces.front().part.elements.size();
  point_at("taper");
  window().palette().button("behind").click();
  settle();
  EXPECT_EQ(window().state_of(family::kCatalogue).made->pieces.front().part.elements.size(), catalogued);
  EXPECT_EQ(window().state_of(family::kOrder).made->pieces.front().part.elements.size(), catalogued + 1);
  wait_for_copy();
  const std::string design = window().book().sizes().design;
  kill_session();
  Desk next({}, inside("unsaved"));
  ASSERT_TRUE(next.open(order()).ok());
  ASSERT_TRUE(next.window()->offer_left_behind());
  next.window()->take_left_behind();
  EXPECT_TRUE(next.window()->book().design_changed());
  EXPECT_EQ(next.window()->book().sizes().design, design);
}

}  // namespace
}  // namespace pommel::ui
