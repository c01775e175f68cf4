#include "mill/foot.h"

#include <algorithm>
#include <cmath>

namespace pommel::mill {

double Foot::rise(double q) const {
  const double past = std::clamp(q - flat, 0.0, corner);
  return corner - std::sqrt((corner - past) * (corner + past));
}

Result<Foot> foot_of(const shop::Cutter& cutter) {
  const double radius = cutter.diameter / 2;
  switch (cutter.form) {
    case shop::Cutter::Form::ball:
      return Foot{0, radius};
    case shop::Cutter::Form::flat:
      return Foot{radius, 0};
    case shop::Cutter::Form::bull_nose:
      return Foot{radius - cutter.tip_radius, cutter.tip_radius};
    case shop::Cutter::Form::tapered_ball:
    case shop::Cutter::Form::vee:
      break;
  }
  return fail("mill.no-foot", "the turning is cut with balls, flat ends and bull noses, and '" + cutter.id + "' is none of them",
              "name another cutter of the shop");
}

shop::Cutter flutes_only(shop::Cutter cutter) {
  cutter.shank_diameter = cutter.shank_length = cutter.collet_diameter = cutter.collet_length = 0;
  cutter.holder_diameter = cutter.holder_length = 0;
  return cutter;
}

}  // namespace pommel::mill
