// Parts, cutters and motions that several of these tests cut with.
#pragma once

#include <cmath>
#include <numbers>
#include <stop_token>

#include "proof/grid.h"
#include "proof/reach.h"
#include "proof/removal.h"
#include "proof/start.h"
#include "shape/faces.h"

namespace pommel::proof::testing {

inline constexpr double kPi = std::numbers::pi;

inline shape::Part with_pieces(std::vector<shape::Piece> pieces) {
  shape::Part part;
  part.name = "piece";
  part.length = pieces.back().x1;
  part.outline.pieces = std::move(pieces);
  for (const shape::Piece& p : part.outline.pieces) {
    part.elements.push_back({"piece", "piece " + std::to_string(part.elements.size() + 1), p.x0, p.x1, 0, 0, 0, 0, false});
  }
  return part;
}

inline shape::Part rod(double radius, double length) {
  return with_pieces({shape::line_piece(0, radius, length, radius)});
}

inline shape::Blank blank_for(const shape::Part& part, shape::Blank::Section section, double size, double waste = 10) {
  shape::Blank blank;
  blank.section = section;
  blank.size = size;
  blank.x0 = -waste;
  blank.x1 = part.length + waste;
  return blank;
}

inline shop::Cutter ball(double diameter, double flute = 60) {
  shop::Cutter cutter;
  cutter.id = "ball";
  cutter.diameter = diameter;
  cutter.flute_length = flute;
  cutter.max_depth_of_cut = 100;
  return cutter;
}

inline shop::Machine open_machine() {
  shop::Machine machine;
  machine.id = "bench";
  machine.x_min = -500;
  machine.x_max = 2000;
  machine.z_min = -10;
  machine.z_max = 300;
  machine.rapid_x = machine.rapid_z = 6000;
  machine.rapid_rotary = 20;
  machine.feed_max = 6000;
  machine.max_rpm = 24000;
  machine.max_swing = 300;
  machine.max_between_centres = 1500;
  return machine;
}

/// Builds paths move by move; lines count from 1 in the order of moves.
class PathMaker {
 public:
  explicit PathMaker(motion::Position start) : at_(start) {
    path.cutter = "ball";
    path.rpm = 12000;
    path.start = start;
  }
  PathMaker& rapid(double x, double z, double a) { return add({x, 0, z, a}, true); }
  PathMaker& feed(double x, double z, double a) { return add({x, 0, z, a}, false); }
  PathMaker& stage(const std::string& name) {
    path.stages.push_back({name, path.moves.size(), 0});
    return *this;
  }

  motion::Path path;

 private:
  PathMaker& add(motion::Position to, bool is_rapid) {
    double way = std::hypot(to.x - at_.x, to.z - at_.z) + 20 * std::fabs(to.a - at_.a);
    path.moves.push_back({to, is_rapid, is_rapid ? 0 : std::max(way, 1e-3) / 2000, static_cast<int>(path.moves.size()) + 1});
    if (!path.stages.empty()) path.stages.back().count = path.moves.size() - path.stages.back().first;
    at_ = to;
    return *this;
  }
  motion::Position at_;
};

/// Lengthwise passes at `passes` equal directions, tip at `z`, from x0 to x1, lifted to `clear` between passes.
inline motion::Path lengthwise(double x0, double x1, double z, int passes, double clear) {
  PathMaker maker({x0, 0, clear, 0});
  maker.stage("finish");
  for (int i = 0; i < passes; ++i) {
    double a = 2 * kPi * i / passes;
    maker.rapid(x0, clear, a).feed(x0, z, a).feed(x1, z, a).rapid(x1, clear, a).rapid(x0, clear, a);
  }
  return maker.path;
}

inline Cut cut_one(const Grid& grid, const shape::Blank& blank, const motion::Path& path, const shop::Cutter& cutter,
                   CutSettings settings = {}) {
  auto result = cut(grid, {Start(grid, blank, {"as planned", 0, 0, 0, {}})}, path, cutter, settings, {});
  return std::move(result).value();
}

}  // namespace pommel::proof::testing
