// Machines and paths for the tests of this room.
#pragma once

#include <cmath>
#include <numbers>
#include <random>
#include <string>

#include "motion/motion.h"
#include "shop/shop.h"

namespace pommel::program {

inline shop::Machine degrees_machine() {
  shop::Machine m;
  m.id = "bench";
  m.label = "bench router";
  m.confirmed = true;
  m.y_word = "Y";
  m.y_min = -200;
  m.y_max = 200;
  m.rapid_y = 6000;
  m.x_min = -150;
  m.x_max = 1500;
  m.z_min = -20;
  m.z_max = 160;
  m.max_swing = 200;
  m.rapid_x = 6000;
  m.rapid_z = 3000;
  m.rapid_rotary = 12;
  m.feed_max = 4000;
  m.max_rpm = 24000;
  m.feed_decimals = 4;
  return m;
}

inline shop::Machine unrolled_machine() {
  shop::Machine m = degrees_machine();
  m.rotary = shop::Machine::Rotary::unrolled_mm;
  m.feed = shop::Machine::Feed::per_minute;
  m.rotary_word = "Y";
  m.y_word.clear();
  m.unrolled_diameter = 60;
  m.feed_decimals = 1;
  return m;
}

inline motion::Path short_path() {
  const double quarter = std::numbers::pi / 2;
  motion::Path p;
  p.cutter = "ball-6";
  p.rpm = 18000;
  p.start = {-5, 0, 60, 0};
  p.moves = {
      {{-5, 0, 31.25, 0}, true, 0, 0},
      {{700.5, 0, 31.25, 0}, false, 0.5, 0},
      {{700.5, 0, 31.25, quarter}, false, 0.1, 0},
      {{-5, 0, 20, quarter}, false, 0.5, 0},
      {{-5, 0, 60, quarter}, true, 0, 0},
  };
  p.stages = {{"finish, lengthwise", 0, 4}, {"leave", 4, 1}};
  return p;
}

/// A path of rapids and feeds that stays within the machines above, with up to ten turns either way.
inline motion::Path random_path(std::mt19937& rng, bool sideways) {
  std::uniform_real_distribution<double> x(-140, 1490), z(-19, 159), y(-30, 30), step(-0.9, 0.9), slow(1.05, 4);
  std::uniform_int_distribution<int> dice(0, 9);
  motion::Path p;
  p.cutter = "ball-6";
  p.rpm = 18000;
  p.start = {x(rng), 0, 150, step(rng) * 20};
  motion::Position at = p.start;
  for (int i = 0; i < 60; ++i) {
    const motion::Position from = at;
    const int kind = dice(rng);
    if (kind != 0) at.x = x(rng);
    if (kind != 1 && kind != 2) at.z = z(rng);
    if (kind != 3) at.a += step(rng) * 6;
    if (sideways && kind == 4) at.y = y(rng);
    motion::Move move;
    move.to = at;
    move.rapid = kind == 5;
    if (!move.rapid) {
      const double needed =
          std::max({std::hypot(at.x - from.x, at.y - from.y, at.z - from.z) / 4000, std::abs(at.z - from.z) / 3000,
                    std::abs(at.a - from.a) / (2 * std::numbers::pi) / 12});
      move.minutes = needed * slow(rng);
    }
    p.moves.push_back(move);
  }
  p.stages = {{"first", 0, 20}, {"second", 25, 35}};
  return p;
}

}  // namespace pommel::program
