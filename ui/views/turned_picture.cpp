#include "ui/views/turned_picture.h"

#include <QGuiApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

constexpr double kRadiansAPixel = 0.008, kRadiansAKey = std::numbers::pi / 36;
constexpr double kBeside = 0.5;     // radians, so that two faces are seen
constexpr double kStep = 1.25;      // a notch of the wheel
constexpr double kMostOver = 1.45;  // radians: upright must not lie along the line of sight
constexpr double kRoom = 0.9;       // share of the picture that the piece takes when it stands

}  // namespace

TurnedPicture::TurnedPicture(QWidget* parent) : QWidget(parent) {
  setAccessibleName(tr("the solid, turned with the arrows"));
  setFocusPolicy(Qt::StrongFocus);
  setMinimumSize(160, 160);
}

void TurnedPicture::show_skin(std::shared_ptr<const job::Skin> skin) {
  skin_ = std::move(skin);
  if (skin_) {
    const solid::Box box = solid::bounds(skin_->mesh);
    size_ = std::hypot(box.high.x - box.low.x, box.high.y - box.low.y, box.high.z - box.low.z);
  }
  turned();
}

// The piece stands: its head is up, and the way round its axis begins at face A.
viewer::Look TurnedPicture::look() const {
  viewer::Look out;
  out.from = {-std::sin(over_), std::cos(over_) * std::cos(about_), std::cos(over_) * std::sin(about_)};
  out.up = {-1, 0, 0};
  out.scale = closer_ * kRoom * std::max(1, height()) / size_;
  out.right = right_, out.higher = higher_;
  return out;
}

void TurnedPicture::begin_at(double about) {
  first_ = about;
  begin_again();
}

void TurnedPicture::begin_again() {
  about_ = first_ + kBeside, over_ = 0.25, closer_ = 1, right_ = higher_ = 0;
  turned();
}

void TurnedPicture::turn(double about, double over) {
  about_ = std::remainder(about_ + about, 2 * std::numbers::pi);
  over_ = std::clamp(over_ + over, -kMostOver, kMostOver);
  turned();
}

// What stands in the middle of the picture stays there.
void TurnedPicture::come_closer(double factor) {
  const double closer = std::clamp(closer_ * factor, 0.2, 40.0);
  right_ *= closer / closer_, higher_ *= closer / closer_;
  closer_ = closer;
  turned();
}

void TurnedPicture::mousePressEvent(QMouseEvent* event) { last_ = event->position(); }

void TurnedPicture::mouseMoveEvent(QMouseEvent* event) {
  if (!(event->buttons() & Qt::LeftButton)) return;
  const QPointF moved = event->position() - last_;
  last_ = event->position();
  if (!(event->modifiers() & Qt::ShiftModifier)) return turn(-moved.x() * kRadiansAPixel, moved.y() * kRadiansAPixel);
  constexpr double kFarthest = 8000;
  right_ = std::clamp(right_ + moved.x(), -kFarthest, kFarthest), higher_ = std::clamp(higher_ - moved.y(), -kFarthest, kFarthest);
  turned();
}

void TurnedPicture::wheelEvent(QWheelEvent* event) {
  come_closer(std::pow(kStep, event->angleDelta().y() / 120.0));
  event->accept();
}

void TurnedPicture::keyPressEvent(QKeyEvent* event) {
  switch (event->key()) {
    case Qt::Key_Left: return turn(-kRadiansAKey, 0);
    case Qt::Key_Right: return turn(kRadiansAKey, 0);
    case Qt::Key_Up: return turn(0, kRadiansAKey);
    case Qt::Key_Down: return turn(0, -kRadiansAKey);
    case Qt::Key_Plus:
    case Qt::Key_Equal: return come_closer(kStep);
    case Qt::Key_Minus: return come_closer(1 / kStep);
    case Qt::Key_Home:
    case Qt::Key_A: return begin_again();
    default: QWidget::keyPressEvent(event);
  }
}

// --- by the processor

void SoftwarePicture::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.fillRect(rect(), QColor(246, 244, 240));
  if (skin_shown()) {
    const double ratio = devicePixelRatioF();
    const viewer::Look seen = look();
    solid::View view;
    view.from = seen.from, view.up = seen.up;
    view.width = static_cast<int>(width() * ratio), view.height = static_cast<int>(height() * ratio);
    view.scale = seen.scale * ratio, view.right = seen.right * ratio, view.higher = seen.higher * ratio;
    if (const auto image = solid::picture(skin_shown()->mesh, view); image.ok())
      painter.drawImage(rect(), QImage(image->rgb.data(), image->width, image->height, 3 * image->width, QImage::Format_RGB888));
  }
  if (!hasFocus()) return;
  painter.setPen(QPen(tones().mark, 2));
  painter.drawRect(rect().adjusted(1, 1, -1, -1));
}

// --- by the kernel's viewer

ScreenPicture::ScreenPicture(QWidget* parent) : TurnedPicture(parent) {
  setAttribute(Qt::WA_PaintOnScreen);
  setAttribute(Qt::WA_NoSystemBackground);
  setAttribute(Qt::WA_OpaquePaintEvent);
  setAttribute(Qt::WA_NativeWindow);
}

ScreenPicture::~ScreenPicture() = default;

bool ScreenPicture::may_work() { return QGuiApplication::platformName() == QStringLiteral("xcb"); }

void ScreenPicture::show_skin(std::shared_ptr<const job::Skin> skin) {
  stale_ = true;
  TurnedPicture::show_skin(std::move(skin));
}

bool ScreenPicture::ready() {
  if (refused_ || !isVisible() || !skin_shown()) return false;
  if (!viewer_) {
    auto opened = viewer::Viewer::open(winId());
    if (!opened.ok()) {
      refused_ = true;
      emit refused();
      return false;
    }
    viewer_ = std::move(opened).value();
  }
  if (stale_) viewer_->show(*skin_shown());
  stale_ = false;
  return true;
}

void ScreenPicture::turned() {
  if (!ready()) return;
  viewer_->look(look());
  viewer_->redraw();
}

void ScreenPicture::paintEvent(QPaintEvent*) { turned(); }

void ScreenPicture::resizeEvent(QResizeEvent*) {
  if (viewer_) viewer_->resized();
}

double ScreenPicture::covered() { return viewer_ ? viewer_->covered() : 0; }

}  // namespace pommel::ui
