#include "ui/views/length_axis.h"

#include <algorithm>

namespace pommel::ui {
namespace {

constexpr double kClosest = 20;  ///< mm across

}  // namespace

void LengthAxis::set_whole(double x0, double x1) {
  if (x0 == whole0_ && x1 == whole1_) return;
  const bool all = shows_all();
  whole0_ = x0, whole1_ = x1;
  if (all) show_all();
  else settle(from_, to_ - from_);
}

void LengthAxis::show_all() { settle(whole0_, whole1_ - whole0_); }

void LengthAxis::show(double from, double to) { settle(from, to - from); }

void LengthAxis::zoom(double factor, double about) {
  const double length = (to_ - from_) / factor;
  settle(about - (about - from_) / factor, length);
}

void LengthAxis::shift(double mm) { settle(from_ + mm, to_ - from_); }

void LengthAxis::set_hair(std::optional<double> x) {
  if (x) x = std::clamp(*x, whole0_, whole1_);
  if (x == hair_) return;
  hair_ = x;
  emit changed();
}

void LengthAxis::settle(double from, double length) {
  length = std::clamp(length, std::min(kClosest, whole1_ - whole0_), whole1_ - whole0_);
  from_ = std::clamp(from, whole0_, whole1_ - length);
  to_ = from_ + length;
  emit changed();
}

}  // namespace pommel::ui
