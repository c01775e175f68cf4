// The solid made behind the window and turned before the eye.
#include <QImage>
#include <QScreen>
#include <QTest>

#include "ui/opened.h"
#include "ui/views/solid_view.h"

namespace pommel::ui {
namespace {

// Share of the picture that is not ground (nearly white).
double covered(QWidget& widget) {
  const QImage image = widget.grab().toImage();
  int wood = 0;
  for (int y = 0; y < image.height(); ++y)
    for (int x = 0; x < image.width(); ++x) wood += qGray(image.pixel(x, y)) < 225 ? 1 : 0;
  return static_cast<double>(wood) / (image.width() * image.height());
}

class SolidWindow : public Opened {};

TEST_F(SolidWindow, IsMadeBehindTheWindowAndTurned) {
  wait_for_piece();
  SolidView& view = window().open_solid();
  EXPECT_TRUE(view.busy());
  wait([&] { return !view.busy(); });
  EXPECT_TRUE(view.refining());
  const auto soon = view.picture().skin_shown()->mesh.triangles.size();
  wait([&] { return !view.refining(); });
  EXPECT_GT(view.picture().skin_shown()->mesh.triangles.size(), soon);
  ASSERT_FALSE(view.picture().is_empty()) << view.told().toStdString();
  auto* picture = dynamic_cast<SoftwarePicture*>(&view.picture());
  if (!picture) {  // on an X server with OpenGL the kernel's viewer draws it
    auto* screen = dynamic_cast<ScreenPicture*>(&view.picture());
    ASSERT_TRUE(screen);
    wait([&] { return screen->covered() > 0.02; });
    if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
      EXPECT_TRUE(QGuiApplication::primaryScreen()->grabWindow(0).save(QString::fromLocal8Bit(folder) + "/solid-screen.png"));
    }
    return;
  }
  picture->resize(400, 600);
  const QImage before = picture->grab().toImage();
  EXPECT_GT(covered(*picture), 0.03);
  EXPECT_LT(covered(*picture), 0.5);
  QTest::keyClick(picture, Qt::Key_Left);
  const QImage turned = picture->grab().toImage();
  EXPECT_NE(turned, before);
  if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
    EXPECT_TRUE(view.grab().save(QString::fromLocal8Bit(folder) + "/solid.png"));
  }
  const double far = covered(*picture);
  QTest::keyClick(picture, Qt::Key_Plus);
  QTest::keyClick(picture, Qt::Key_Plus);
  EXPECT_GT(covered(*picture), 1.3 * far);
  QTest::keyClick(picture, Qt::Key_Home);
  EXPECT_EQ(picture->grab().toImage(), before);
}

TEST_F(SolidWindow, AnEditGivesUpTheOneBeforeAndMakesTheNext) {
  wait_for_piece();
  SolidView& view = window().open_solid();
  ASSERT_TRUE(type("table_height", "33 in"));  // while the first is being made
  wait_for_piece();
  wait([&] { return !view.busy(); });
  ASSERT_FALSE(view.picture().is_empty());
  view.picture().resize(300, 300);
  const solid::Box box = solid::bounds(view.picture().skin_shown()->mesh);
  EXPECT_NEAR(box.high.x - box.low.x, window().state_of(family::kOrder).made->pieces.front().part.length, 2e-3);
}

}  // namespace
}  // namespace pommel::ui
