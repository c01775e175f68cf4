// A machine, a cutter and a blank for the tests.
#pragma once

#include <algorithm>

#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::mill::testing {

inline shop::Machine machine() {
  shop::Machine m;
  m.id = "test machine";
  m.x_min = -100, m.x_max = 900, m.z_min = 0, m.z_max = 150;
  m.rapid_x = 5000, m.rapid_z = 3000, m.rapid_rotary = 20, m.feed_max = 4000;
  m.accel_x = 500, m.accel_z = 300, m.accel_rotary = 2;
  m.max_rpm = 24000, m.max_swing = 150, m.max_between_centres = 900;
  m.jaw_swing = 40, m.tailstock_top = 30, m.chuck_grip = 20, m.centre_grip = 10, m.keep_out = 3;
  return m;
}

inline shop::Cutter ball_cutter(double diameter = 6.35) {
  shop::Cutter c;
  c.id = "ball";
  c.diameter = diameter, c.flute_length = 30, c.shank_diameter = 6.35, c.shank_length = 50;
  c.collet_diameter = 40, c.collet_length = 40, c.flutes = 2, c.rpm = 18000, c.chip_load = 0.1, c.max_depth_of_cut = 4;
  return c;
}

/// A square blank of the part's own square (or `size`), with waste at both ends.
inline shape::Blank blank_for(const shape::Part& part, double size) {
  shape::Blank b;
  b.size = size, b.x0 = -60, b.x1 = part.length + 50, b.chuck_waste = 20, b.centre_waste = 10;
  return b;
}

inline shape::Blank round_blank_for(const shape::Part& part, double diameter) {
  shape::Blank b = blank_for(part, diameter);
  b.section = shape::Blank::Section::round;
  return b;
}

}  // namespace pommel::mill::testing
