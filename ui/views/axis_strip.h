// A strip of the window that stands on the length axis. It knows how to move along it; what it shows is its children's.
//
//     wheel, + and -      closer and farther, about the pointer or the hairline
//     drag                along the piece
//     left, right         the hairline by a millimetre (with shift by ten); home and end: to the piece's ends
//     a                   all of it
#pragma once

#include <QWidget>

#include "base/quantity.h"
#include "ui/views/length_axis.h"

namespace pommel::ui {

/// The steps of a scale: at least `wanted` mm apart, round in the unit.
double round_step(double wanted, LengthUnit unit);

class AxisStrip : public QWidget {
  Q_OBJECT

 public:
  static constexpr double kScale = 20;  ///< pixels for a scale at the strip's foot, with letters of usual size

  /// REQUIRES: the axis outlives the strip.
  AxisStrip(LengthAxis& axis, const QString& name, QWidget* parent = nullptr);

 signals:
  /// Clicked without dragging, mm from the head.
  void picked(double x);

 protected:
  LengthAxis& axis() const { return axis_; }
  double pixel(double x) const { return axis_.pixel(x, width()); }
  double pixels_per_mm() const { return pixel(1) - pixel(0); }
  /// A size in pixels that is `usual` with letters of usual size and grows with the window's.
  double grown(double usual) const;

  /// The strip's own name, in its upper left corner.
  void name_strip(QPainter& painter, const QString& name) const;

  /// Places along the piece, at the strip's foot.
  void paint_scale(QPainter& painter, const LengthFormat& lengths) const;

  /// The strip without the hairline, which stands over everything.
  virtual void paint(QPainter& painter) = 0;

  void paintEvent(QPaintEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

 private:
  LengthAxis& axis_;
  double pressed_ = 0, last_ = 0;
  bool dragging_ = false;
};

}  // namespace pommel::ui
