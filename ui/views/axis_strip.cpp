#include "ui/views/axis_strip.h"

#include <QFontInfo>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>
#include <cmath>

#include "paper/canvas.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

constexpr double kStep = 1.25;   ///< a notch of the wheel
constexpr double kSlop = 4;      ///< pixels that a click may tremble

}  // namespace

double round_step(double wanted, LengthUnit unit) {
  if (unit == LengthUnit::inch || unit == LengthUnit::foot) {
    for (const double inches : {0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0})
      if (inches * kInch >= wanted) return inches * kInch;
    return 48 * kInch;
  }
  for (double decade = 1;; decade *= 10)
    for (const double step : {1.0, 2.0, 5.0})
      if (step * decade >= wanted) return step * decade;
}

AxisStrip::AxisStrip(LengthAxis& axis, const QString& name, QWidget* parent) : QWidget(parent), axis_(axis) {
  setAccessibleName(name);
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  connect(&axis, &LengthAxis::changed, this, qOverload<>(&QWidget::update));
}

double AxisStrip::grown(double usual) const {
  constexpr double kUsualLetters = 13;  // pixels
  return usual * std::max(1.0, QFontInfo(font()).pixelSize() / kUsualLetters);
}

void AxisStrip::name_strip(QPainter& painter, const QString& name) const {
  paper::write(painter, LengthAxis::kMargin, grown(14), name, paper::font(grown(12), true), paper::tone::ink);
}

void AxisStrip::paint_scale(QPainter& painter, const LengthFormat& lengths) const {
  const double y = height() - grown(kScale), step = round_step(70 / pixels_per_mm(), lengths.unit);
  painter.setPen(QPen(paper::tone::hair, 1));
  painter.drawLine(QPointF(0, y), QPointF(width(), y));
  for (double x = std::ceil(axis_.from() / step) * step; x <= axis_.to(); x += step) {
    painter.setPen(QPen(paper::tone::faint, 1));
    painter.drawLine(QPointF(pixel(x), y), QPointF(pixel(x), y + 4));
    const QString text = QString::fromStdString(format_length(x, lengths, false));
    const double half = paper::text_width(paper::font(grown(11)), text) / 2;
    if (pixel(x) - half > 0 && pixel(x) + half < width()) paper::write(painter, pixel(x), y + grown(15), text, paper::font(grown(11)), paper::tone::faint, 0);
  }
}

void AxisStrip::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), paper::tone::paper);
  paint(painter);
  if (axis_.hair()) {
    painter.setPen(QPen(tones().mark, 1));
    const double at = std::floor(pixel(*axis_.hair())) + 0.5;
    painter.drawLine(QPointF(at, 0), QPointF(at, height()));
  }
  if (!hasFocus()) return;
  painter.setPen(QPen(tones().mark, 2));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(rect().adjusted(1, 1, -1, -1));
}

void AxisStrip::wheelEvent(QWheelEvent* event) {
  const double notches = event->angleDelta().y() / 120.0;
  if (event->modifiers() & Qt::ShiftModifier) axis_.shift(-notches * (axis_.to() - axis_.from()) / 10);
  else axis_.zoom(std::pow(kStep, notches), axis_.at_pixel(event->position().x(), width()));
  event->accept();
}

void AxisStrip::mousePressEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton) return;
  pressed_ = last_ = event->position().x();
  dragging_ = false;
}

void AxisStrip::mouseMoveEvent(QMouseEvent* event) {
  const double at = event->position().x();
  if (event->buttons() & Qt::LeftButton) {
    dragging_ = dragging_ || std::fabs(at - pressed_) > kSlop;
    if (dragging_) axis_.shift((last_ - at) / pixels_per_mm());
    last_ = at;
  }
  axis_.set_hair(axis_.at_pixel(at, width()));
}

void AxisStrip::mouseReleaseEvent(QMouseEvent* event) {
  if (event->button() == Qt::LeftButton && !dragging_) emit picked(axis_.at_pixel(event->position().x(), width()));
}

void AxisStrip::keyPressEvent(QKeyEvent* event) {
  const double middle = (axis_.from() + axis_.to()) / 2, hair = axis_.hair().value_or(middle);
  const double step = event->modifiers() & Qt::ShiftModifier ? 10 : 1;
  const auto to = [&](double x) {
    axis_.set_hair(x);
    if (x < axis_.from() || x > axis_.to()) axis_.shift(x - middle);
  };
  switch (event->key()) {
    case Qt::Key_Left: return to(std::ceil(hair) - step);
    case Qt::Key_Right: return to(std::floor(hair) + step);
    case Qt::Key_Home: return to(axis_.whole0());
    case Qt::Key_End: return to(axis_.whole1());
    case Qt::Key_Plus:
    case Qt::Key_Equal: return axis_.zoom(kStep, hair);
    case Qt::Key_Minus: return axis_.zoom(1 / kStep, hair);
    case Qt::Key_A: return axis_.show_all();
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_Space: emit picked(hair); return;
    default: QWidget::keyPressEvent(event);
  }
}

}  // namespace pommel::ui
