#include "leg.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>

#include "mill/finish.h"
#include "mill/line.h"
#include "mill/rough.h"
#include "program/writer.h"
#include "solid/legs.h"

namespace pommel::bench {
namespace {

template <class T>
T value_of(Result<T> result) {
  if (result.ok()) return std::move(result).value();
  std::fputs(render(result.reasons()).c_str(), stderr);
  std::exit(1);
}

shop::Machine machine() {
  shop::Machine m;
  m.id = "bench machine";
  m.x_min = -200, m.x_max = 3000, m.z_min = -20, m.z_max = 160;
  m.rapid_x = 15000, m.rapid_z = 8000, m.rapid_rotary = 30, m.feed_max = 6000;
  m.accel_x = 1200, m.accel_z = 1000, m.accel_rotary = 5;
  m.max_rpm = 24000, m.max_swing = 200, m.max_between_centres = 3000;
  m.jaw_swing = 60, m.tailstock_top = 45, m.chuck_grip = 50, m.centre_grip = 30, m.keep_out = 12;
  m.feed_decimals = 4;
  return m;
}

shop::Cutter cutter() {
  shop::Cutter c;
  c.id = "ball-4";
  c.diameter = 4, c.flute_length = 40, c.shank_diameter = 4, c.shank_length = 60;
  c.collet_diameter = 28, c.collet_length = 30, c.flutes = 2, c.rpm = 20000, c.chip_load = 0.08, c.max_depth_of_cut = 4;
  return c;
}

void plan(Leg& leg) {
  const mill::FinishSettings finishing{.cusp = 0.04, .along = 0.005, .prominence = 1.0, .plunge_share = 0.4, .way = mill::Way::fastest, .climb = false};
  const auto rough = value_of(mill::plan_roughing(leg.part, leg.blank, leg.tolerance, leg.cutter, leg.machine, {}, {}));
  const auto finish = value_of(mill::plan(leg.part, leg.blank, leg.tolerance, leg.cutter, leg.machine, finishing, {}, &rough.wood));
  leg.planned = mill::joined(rough.path, finish.path);
}

motion::Path dense_path(const Leg& leg) {
  const auto envelope = value_of(mill::Envelope::of(leg.part, leg.cutter.diameter / 2));
  std::vector<double> rows;
  for (double x = 150; x <= leg.part.length; x += 0.4) rows.push_back(x);
  mill::Heights heights;
  value_of(envelope.fill(rows, 720, heights));
  motion::Path path;
  path.cutter = leg.cutter.id;
  path.rpm = leg.cutter.rpm;
  const double clear = 60;
  path.start = {rows.front(), 0, clear, 0};
  for (int column = 0; column < 720; ++column) {
    std::vector<mill::LinePoint> line;
    for (std::size_t row = 0; row < rows.size(); ++row)
      line.push_back({rows[row], static_cast<double>(heights.at(row, column)) - leg.cutter.diameter / 2});
    const double a = heights.angle(column);
    line = mill::simplified(line, 0.005);
    if (!path.moves.empty()) path.moves.push_back({{line.front().x, 0, clear, a}, true, 0, 0});
    motion::Position from = {line.front().x, 0, clear, a};
    for (const mill::LinePoint& point : line) {
      const motion::Position to{point.x, 0, point.z, a};
      path.moves.push_back({to, false, std::hypot(to.x - from.x, to.z - from.z) / 2000 + 1e-5, 0});
      from = to;
    }
    path.moves.push_back({{from.x, 0, clear, a}, true, 0, 0});
  }
  return path;
}

// As the solid room's, but the groove below the ring is wider than the ball.
shape::Part turned_leg() {
  using namespace solid::testing;
  const double half = 30, diagonal = half * std::numbers::sqrt2;
  Turning t(0);
  t.clear(150, diagonal).shoulder(Shoulder::rounded, 14, diagonal, 27).wall(24).cylinder(3);
  t.half_round(9).wall(21).cylinder(4).dip(12, 3.5).wall(24).cylinder(3).crest(8, 2.5).wall(20);
  t.cubic(60, 28.5, 0.05, 0).cubic(110, 15, 0, -0.02).wall(18).half_round(6).wall(15).cylinder(5);
  t.wall(22).line(260, 14).wall(18).crest(10, 3).wall(12).cylinder(3);
  t.line(720 - t.x(), 16);
  shape::Part part = part_of(t, 4, half);
  part.name = "bench leg";
  return part;
}

Leg unplanned(const shape::Part& part) {
  Leg leg{part, {}, {}, cutter(), machine(), {}, {}};
  leg.blank.size = 60, leg.blank.x0 = -60, leg.blank.x1 = part.length + 60, leg.blank.chuck_waste = 20, leg.blank.centre_waste = 10;
  return leg;
}

}  // namespace

const Leg& leg() {
  static const Leg made = [] {
    Leg leg = unplanned(turned_leg());
    plan(leg);
    leg.dense = dense_path(leg);
    return leg;
  }();
  return made;
}

Leg planned_leg(double length) {
  Leg leg = unplanned(turned_leg());
  // square head, long taper and foot take up the difference
  std::vector<shape::Piece>& pieces = leg.part.outline.pieces;
  const auto stretches = [](const shape::Piece& piece) { return piece.x1 - piece.x0 > 61 && piece.kind != shape::Piece::Kind::cubic; };
  double elastic = 0;
  for (const shape::Piece& piece : pieces) elastic += stretches(piece) ? piece.x1 - piece.x0 : 0;
  const double share = (length - leg.part.length + elastic) / elastic;
  double x = 0;
  for (shape::Piece& piece : pieces) {
    const double own = (piece.x1 - piece.x0) * (stretches(piece) ? share : 1), moved = x - piece.x0;
    piece.x0 = x, piece.x1 = x += own, piece.cx += moved;
  }
  leg.part.length = pieces.back().x1 = length;
  for (shape::Face& face : leg.part.faces) face.d.pieces.back().x1 = length;
  leg = unplanned(leg.part);
  plan(leg);
  return leg;
}

std::string text_of(const Leg& leg, const motion::Path& path) {
  program::Header header;
  header.program = "bench.nc";
  header.piece = "bench leg";
  return value_of(program::write(path, leg.machine, header));
}

}  // namespace pommel::bench
