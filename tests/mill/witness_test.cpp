// The witness flat: heights over a plane against the cutter's own points, ridges against everything that the lines leave, the whole against a blank cut ray by ray.
#include "mill/witness.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mill/leftover.h"
#include "mill/meridian.h"
#include "simulate.h"

namespace pommel::mill {
namespace {

shop::Cutter cutter(shop::Cutter::Form form, double diameter, double corner = 0) {
  shop::Cutter c;
  c.id = "cutter", c.form = form, c.diameter = diameter, c.tip_radius = corner;
  c.flute_length = 38, c.shank_diameter = diameter, c.shank_length = 62, c.collet_diameter = 28, c.collet_length = 30;
  c.flutes = 2, c.rpm = 18000, c.chip_load = 0.12, c.max_depth_of_cut = std::max(2.0, diameter / 2);
  return c;
}

std::vector<shop::Cutter> cutters() {
  using Form = shop::Cutter::Form;
  return {cutter(Form::ball, 8), cutter(Form::ball, 3), cutter(Form::bull_nose, 12, 2), cutter(Form::bull_nose, 6, 0.5), cutter(Form::flat, 12), cutter(Form::flat, 3)};
}

CutterBody end_of(const shop::Cutter& c) { return bodies_of(c, 0)->front(); }
// How far the end is above its tip, q beside its axis.
double rise(const CutterBody& end, double q) { return end.rise(std::min(std::fabs(q), end.outer)); }

TEST(Witness, TheCutterStandsOnThePlaneAndNotInIt) {
  for (const shop::Cutter& c : cutters()) {
    const Foot foot = *foot_of(c);
    const CutterBody end = end_of(c);
    for (double height : {8.0, 31.7, 90.0}) {
      for (double a : {0.0, 0.01, -0.2, 0.2, 0.5, -0.9}) {
        const double tip = tip_over_plane(foot, height, a);
        double least = 1e9;
        constexpr int kRadii = 2000, kRound = 36;
        for (int i = 0; i <= kRadii; ++i) {
          const double q = c.diameter / 2 * i / kRadii, up = tip + rise(end, q);
          // a point of the end: up along the cutter, q cos p along the piece, q sin p sideways
          for (int k = 0; k < kRound; ++k) least = std::min(least, up * std::cos(a) - q * std::sin(2 * std::numbers::pi * k / kRound + std::numbers::pi / 2) * std::sin(a));
        }
        EXPECT_NEAR(least, height, 2e-5) << c.diameter << " " << c.tip_radius << " at " << a << " over " << height;
      }
    }
  }
}

// What lines at these directions and their opposites leave above the plane, beside the middle; a line is taken to run on and on.
double highest_left(const shop::Cutter& c, double height, const std::vector<double>& half_lines, double half, double& lowest) {
  constexpr int kPlaces = 5000, kPoints = 2000;
  const CutterBody end = end_of(c);
  std::vector<double> left(kPlaces + 1, 1e9);
  std::vector<double> lines = half_lines;
  for (double a : half_lines) lines.push_back(-a);
  for (double a : lines) {
    const double tip = tip_over_plane(*foot_of(c), height, a);
    double last_t = 0, last_h = 0;
    for (int i = -kPoints; i <= kPoints + 1; ++i) {
      const bool side = i > kPoints;  // of its flutes, from the rim up
      const double q = c.diameter / 2 * std::min(1.0, static_cast<double>(i) / kPoints), up = tip + rise(end, q) + (side ? c.flute_length / 2 : 0);
      const double t = up * std::sin(a) + q * std::cos(a), h = up * std::cos(a) - q * std::sin(a);
      for (int k = static_cast<int>(std::ceil(last_t / half * kPlaces)); i > -kPoints && k <= kPlaces && k * half / kPlaces <= t; ++k)
        if (k >= 0) left[static_cast<std::size_t>(k)] = std::min(left[static_cast<std::size_t>(k)], last_h + (h - last_h) * (t > last_t ? (k * half / kPlaces - last_t) / (t - last_t) : 0));
      last_t = t, last_h = h;
    }
  }
  lowest = *std::min_element(left.begin(), left.end());
  return *std::max_element(left.begin(), left.end());
}

TEST(Witness, LinesLeaveRidgesAsHighAsAllowedAndNoHigher) {
  for (const shop::Cutter& c : cutters()) {
    for (double height : {12.0, 32.0, 80.0}) {
      for (double half : {2.0, 9.0, 20.0}) {
        for (double cusp : {0.02, 0.3}) {
          const auto lines = lines_over_plane(*foot_of(c), height, half, cusp);
          double lowest = 0;
          const double most = highest_left(c, height, lines, half - 1e-6, lowest) - height;
          const std::string where = std::to_string(c.diameter) + " " + std::to_string(c.tip_radius) + " h " + std::to_string(height) + " half " + std::to_string(half);
          EXPECT_LE(most, cusp + 1e-3) << where;
          EXPECT_GE(lowest, height - 1e-3) << where;
          EXPECT_TRUE(std::is_sorted(lines.begin(), lines.end())) << where;
          // not needlessly near: a ball's ridges come to what is allowed
          if (c.form == shop::Cutter::Form::ball && lines.size() > 3) {
            EXPECT_GT(most, cusp * 0.9) << where;
          }
        }
      }
    }
  }
}

/// A rod in a round blank whose passes begin 5 mm from the head and end 5 mm behind the foot.
struct Rod {
  shape::Part part;
  shape::Blank blank;
  shape::BlankTolerance tolerance;
  shop::Machine machine;
  motion::Path pass;

  Rod() {
    part.name = "rod", part.length = 60;
    part.outline.pieces = {shape::line_piece(0, 14, 60, 14)};
    blank.section = shape::Blank::Section::round;
    blank.size = 50, blank.x0 = -110, blank.x1 = 170;
    machine.id = "router";
    machine.x_min = -150, machine.x_max = 1500, machine.z_min = -20, machine.z_max = 160;
    machine.rapid_x = 15000, machine.rapid_z = 8000, machine.rapid_rotary = 30, machine.feed_max = 6000;
    machine.max_rpm = 24000, machine.jaw_swing = 60, machine.tailstock_top = 45, machine.chuck_grip = 50, machine.centre_grip = 50, machine.keep_out = 12;
    pass = {"cutter", 18000, {-5, 0, 70, 0}, {{{-5, 0, 14, 0}, false, 0.1, 0}, {{65, 0, 14, 0}, false, 0.1, 0}}, {}};
  }

  Result<std::optional<Witness>> plan(const shop::Cutter& c, bool climb = false) const { return plan_witness(part, blank, tolerance, {c}, machine, {pass}, climb, {}); }
};

// Heights of the plane's normal at t beside its middle between which a cutter stands in the column: its tip at z in the direction a, dx along the
// piece beside the column. Its end and its flutes are one convex body, so it is one stretch; none: first > second.
std::pair<double, double> stretch_in(const shop::Cutter& c, const CutterBody& end, double dx, double z, double a, double t) {
  const double wide = std::sqrt(std::max(0.0, std::pow(c.diameter / 2, 2) - dx * dx)), sine = std::sin(a), cosine = std::cos(a);
  // up along the cutter y cos a + t sin a, beside its axis t cos a - y sin a
  double low = (z - 1) / cosine - t * sine / cosine, high = (z + c.flute_length - t * sine) / cosine;
  if (std::fabs(sine) > 1e-9) {
    const auto [one, other] = std::minmax({(t * cosine - wide) / sine, (t * cosine + wide) / sine});
    low = std::max(low, one), high = std::min(high, other);
  } else if (std::fabs(t) > wide) {
    return {1, 0};
  }
  const auto in = [&](double y) { return y * cosine + t * sine - z - rise(end, std::hypot(dx, t * cosine - y * sine)); };
  double from = low, to = high;
  for (int k = 0; k < 100 && low < high; ++k) {
    const double p = from + (to - from) / 3, q = to - (to - from) / 3;
    (in(p) < in(q) ? from : to) = in(p) < in(q) ? p : q;
  }
  if (low >= high || in(from) < 0) return {1, 0};
  const auto edge = [&](double outside) {
    if (in(outside) >= 0) return outside;
    double inside = from;
    for (int k = 0; k < 60; ++k) {
      const double middle = (inside + outside) / 2;
      (in(middle) >= 0 ? inside : outside) = middle;
    }
    return inside;
  };
  return {edge(low), edge(high)};
}

// The top of a column of wood `stands` high when all that cut it is away; what hangs over a gap still stands.
double top_after(double stands, std::vector<std::pair<double, double>> gaps) {
  std::sort(gaps.begin(), gaps.end(), [](const auto& p, const auto& q) { return p.second > q.second; });
  double top = stands;
  for (const auto& [from, to] : gaps)
    if (from <= to && to >= top - 1e-9) top = std::min(top, from);
  return top;
}

// However the blank sits of these, how far what the lines leave is off the plane within the flat: least and most.
std::pair<double, double> off_plane(const Rod& rod, const shop::Cutter& c, const Witness& witness, const std::vector<testing::Sits>& all) {
  const CutterBody end = end_of(c);
  double least = 1e9, most = -1e9;
  for (double x : {witness.flat.x0, witness.flat.x0 + 0.4, witness.flat.x1}) {
    for (int k = -20; k <= 20; ++k) {
      const double t = witness.flat.width / 2 * k / 20;
      std::vector<std::pair<double, double>> gaps;
      motion::Position from = witness.path.start;
      for (const motion::Move& move : witness.path.moves) {
        const double near = std::clamp(x, std::min(from.x, move.to.x), std::max(from.x, move.to.x));
        if (!move.rapid && from.z == move.to.z) gaps.push_back(stretch_in(c, end, x - near, move.to.z, move.to.a, t));
        from = move.to;
      }
      for (const testing::Sits& sits : all) {
        const double py = sits.off_centre * std::cos(sits.direction), pt = sits.off_centre * std::sin(sits.direction), radius = rod.blank.size / 2 + sits.oversize;
        const double off = top_after(py + std::sqrt(radius * radius - (t - pt) * (t - pt)), gaps) - witness.flat.height;
        least = std::min(least, off), most = std::max(most, off);
      }
    }
  }
  return {least, most};
}

TEST(Witness, IsLevelHoweverTheBlankSits) {
  const Rod rod;
  for (const shop::Cutter& c : cutters()) {
    const auto planned = rod.plan(c);
    ASSERT_TRUE(planned.ok()) << render(planned.reasons());
    ASSERT_TRUE(planned->has_value()) << c.diameter;
    const Witness& witness = **planned;
    EXPECT_GE(witness.flat.x1 - witness.flat.x0, 12);
    EXPECT_LE(witness.flat.x1 - witness.flat.x0, 20 + 1e-9);
    EXPECT_LT(witness.flat.height, 25 - 0.8 - 1.5 + 1e-9);
    EXPECT_GT(witness.flat.height, 25 - 0.8 - 1 - 1.5);
    EXPECT_GT(witness.flat.width, 2 * std::sqrt(2 * 22 * 1.5));
    const double off = 25 - 1.5 - witness.flat.height;  // with what a bow comes to there
    std::vector<testing::Sits> all{{}};
    for (double direction : {0.0, 1.0, std::numbers::pi}) all.insert(all.end(), {{off, 0, 0, direction}, {off, 0, 0.8, direction}});
    const auto [least, most] = off_plane(rod, c, witness, all);
    EXPECT_GT(least, -1e-6) << c.diameter << " " << c.tip_radius;
    EXPECT_LT(most, 0.0205) << c.diameter << " " << c.tip_radius;
  }
}

TEST(Witness, KeepsToItsPlaceAndTurnsAboveTheWoodOnly) {
  Rod rod;
  for (bool chuck_at_head : {true, false}) {
    for (double limit : {0.0, 20.0}) {
      rod.machine.head_at_chuck = chuck_at_head, rod.machine.rotary_limit_turns = limit;
      for (const shop::Cutter& c : cutters()) {
        const auto planned = rod.plan(c);
        ASSERT_TRUE(planned.ok()) << render(planned.reasons());
        ASSERT_TRUE(planned->has_value());
        const motion::Path& path = (*planned)->path;
        ASSERT_EQ(path.stages.size(), 1u);
        EXPECT_EQ(path.stages.front().name, "witness flat");
        EXPECT_EQ(path.stages.front().count, path.moves.size());
        const double clear = path.start.z, from_head = chuck_at_head ? -60 + 12 : 65 + c.diameter / 2, to = chuck_at_head ? -5 - c.diameter / 2 : 120 - 12;
        EXPECT_GT(clear, 60);
        EXPECT_EQ(path.moves.back().to.z, clear);
        motion::Position at = path.start;
        for (const motion::Move& move : path.moves) {
          if (move.to.a != at.a) {
            EXPECT_TRUE(move.rapid && at.z == clear && move.to.z == clear);
          }
          EXPECT_GE(move.to.x - c.diameter / 2, from_head - 1e-9);
          EXPECT_LE(move.to.x + c.diameter / 2, to + 1e-9);
          if (limit > 0) {
            EXPECT_GE(move.to.a, 0);
            EXPECT_LT(move.to.a, 2 * std::numbers::pi);
          }
          at = move.to;
        }
      }
    }
  }
}

TEST(Witness, LinesOneAfterTheOtherAreConventionalOrClimb) {
  const Rod rod;
  for (bool climb : {false, true}) {
    const auto planned = rod.plan(cutters().front(), climb);
    ASSERT_TRUE(planned.ok() && planned->has_value());
    motion::Position at = (*planned)->path.start;
    double along = 0, turned = 0;
    for (const motion::Move& move : (*planned)->path.moves) {
      if (!move.rapid) along += move.to.x - at.x;
      turned += move.to.a - at.a;
      at = move.to;
    }
    EXPECT_GT(along, 0);
    EXPECT_EQ(turned > 0, climb);  // pass.h: conventional where da dx < 0
  }
}

TEST(Witness, GoesDownInLayersWhereTheCutterIsFine) {
  const Rod rod;
  const shop::Cutter fine = cutter(shop::Cutter::Form::ball, 3);
  ASSERT_EQ(fine.max_depth_of_cut, 2);
  const auto planned = rod.plan(fine);
  ASSERT_TRUE(planned.ok() && planned->has_value());
  testing::Simulation wood(rod.blank, {0.8, 0, 0.8, 0}, 0.5);
  const Foot foot = *foot_of(fine);
  motion::Position from = (*planned)->path.start;
  double deepest = 0;
  for (const motion::Move& move : (*planned)->path.moves) {
    // over the wood as it was before the move; without the slice that the ball's side shaves off a wall
    testing::Simulation::along(from, move.to, 0.2, [&](const motion::Position& p) { deepest = std::max(deepest, wood.height_over(p, ball_foot(foot.corner - 0.3))); });
    testing::Simulation::along(from, move.to, 0.2, [&](const motion::Position& p) { EXPECT_FALSE(wood.cut(p, foot.corner) && move.rapid) << "wood at rapid"; });
    from = move.to;
  }
  EXPECT_GT(deepest, 1);
  EXPECT_LT(deepest, 2 + 0.1);
}

TEST(Witness, NoneWhereThereIsNoRoomOrTheBlankIsSquare) {
  const shop::Cutter ball = cutters().front();
  Rod square;
  square.blank.section = shape::Blank::Section::square, square.blank.flats_finished = false;
  auto planned = square.plan(ball);
  ASSERT_TRUE(planned.ok()) << render(planned.reasons());
  EXPECT_FALSE(planned->has_value());

  // keep-out, the cutter's two sides, the pass's side and 12 mm: from the jaws to where the pass begins
  for (double spare : {0.01, -0.01}) {
    Rod tight;
    tight.blank.x0 = -(50 + 12 + 8 + 4 + 5 + 12 + spare);
    planned = tight.plan(ball);
    ASSERT_TRUE(planned.ok()) << render(planned.reasons());
    EXPECT_EQ(planned->has_value(), spare > 0);
  }
  Rod bounded;  // the table ends before the waste
  bounded.machine.x_min = -15;
  planned = bounded.plan(ball);
  ASSERT_TRUE(planned.ok()) << render(planned.reasons());
  EXPECT_FALSE(planned->has_value());
}

}  // namespace
}  // namespace pommel::mill
