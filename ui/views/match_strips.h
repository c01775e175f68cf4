// An existing turning on the length axis: the fitted outline over its readings, and how far each of them lies off.
//
// A reading is a dot; one that is believed wrong a cross, one across the flats of a square a small square, a worn one a triangle. Where more readings
// would settle most stands a bracket with a question mark. What is not recomputed yet is drawn light.
#pragma once

#include "ui/models/match_bench.h"
#include "ui/views/axis_strip.h"

namespace pommel::ui {

/// What both strips show beside what stands on the bench.
struct MatchLook {
  LengthFormat lengths;
  int element = -1;  ///< chosen; -1: none
  int row = -1;      ///< of the table, whose reading is ringed; -1: none
};

class MatchStrip : public AxisStrip {
  Q_OBJECT

 public:
  /// REQUIRES: bench and look outlive the strip.
  MatchStrip(LengthAxis& axis, const MatchBench& bench, const MatchLook& look, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 270}; }
  QSize minimumSizeHint() const override { return {200, 170}; }
  /// What the hairline meets, in words: place, diameter, element.
  QString reading() const;

 protected:
  void paint(QPainter& painter) override;

 private:
  double scale() const;
  double middle() const;
  void paint_element(QPainter& painter, std::size_t k) const;
  void paint_names(QPainter& painter) const;
  void paint_readings(QPainter& painter) const;
  void paint_wanted(QPainter& painter) const;

  const MatchBench& bench_;
  const MatchLook& look_;
};

/// How far the readings lie off the outline, enlarged; the same marks.
class MisfitStrip : public AxisStrip {
  Q_OBJECT

 public:
  MisfitStrip(LengthAxis& axis, const MatchBench& bench, const MatchLook& look, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 110}; }
  QSize minimumSizeHint() const override { return {200, 90}; }

 protected:
  void paint(QPainter& painter) override;

 private:
  const MatchBench& bench_;
  const MatchLook& look_;
};

}  // namespace pommel::ui
