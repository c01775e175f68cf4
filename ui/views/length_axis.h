// One length along the piece for everything that stands on it: how much of it is shown, and where the hairline stands. Elevation,
// radius, blank and unrolled surface share one axis, so they are aligned to the millimetre and zoomed together.
#pragma once

#include <QObject>
#include <optional>

namespace pommel::ui {

class LengthAxis : public QObject {
  Q_OBJECT

 public:
  static constexpr double kMargin = 14;  ///< pixels at both ends of every strip

  using QObject::QObject;

  /// What there is to see, mm: the longest piece with its blank. The view keeps its place as far as it can.
  void set_whole(double x0, double x1);
  double whole0() const { return whole0_; }
  double whole1() const { return whole1_; }
  /// What is shown now, mm.
  double from() const { return from_; }
  double to() const { return to_; }
  bool shows_all() const { return from_ <= whole0_ && to_ >= whole1_; }

  void show_all();
  void show(double from, double to);
  /// Zooms by `factor` (above 1: closer) about x; never closer than 20 mm across.
  void zoom(double factor, double about);
  void shift(double mm);

  std::optional<double> hair() const { return hair_; }
  void set_hair(std::optional<double> x);

  double pixel(double x, double width) const { return kMargin + (x - from_) / (to_ - from_) * (width - 2 * kMargin); }
  double at_pixel(double px, double width) const { return from_ + (px - kMargin) / (width - 2 * kMargin) * (to_ - from_); }

 signals:
  void changed();

 private:
  void settle(double from, double length);

  double whole0_ = 0, whole1_ = 1, from_ = 0, to_ = 1;
  std::optional<double> hair_;
};

}  // namespace pommel::ui
