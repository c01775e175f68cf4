// The piece in elevation across the window's width, head at the left, in true proportion: the order's leg below, the catalogued
// one above it at the same scale.
#pragma once

#include <QWidget>
#include <optional>

#include "paper/leg_view.h"

namespace pommel::ui {

class LegStrip : public QWidget {
  Q_OBJECT

 public:
  explicit LegStrip(QWidget* parent = nullptr);

  void show_catalogue(const shape::Part& part);
  /// Nothing: the measures as they are make no leg.
  void show_order(const std::optional<shape::Part>& part);

  QSize sizeHint() const override { return {1000, 260}; }

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  struct Shown {
    paper::LegView view;
    double length = 0, reach = 0;
  };
  static Shown shown(const shape::Part& part);

  std::optional<Shown> catalogue_, order_;
};

}  // namespace pommel::ui
