#include "mill/setup.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/number.h"
#include "mill/envelope.h"
#include "shape/faces.h"
#include "shape/mortise.h"

namespace pommel::mill {
namespace {

using shape::Piece;

constexpr double kAbove = 5;         // mm that rapids keep above everything
constexpr double kPastTheEnd = 0.5;  // mm that a run-up is longer than the ball's radius
constexpr double kSameSize = 1e-3;   // mm: sizes that differ by less are the same size

std::string mm(double value) {
  return format_number(value, 2) + " mm";
}

// The tangent beside an end of radius r whose outward normal leans out by `lean` (0: level, 1: plumb).
struct Tail {
  double run = 0, r = 0;
};

Tail tail_of(double r, double lean, double rho) {
  if (lean <= 1e-9 || r <= 0) return {0, r};
  const double slope = std::asin(std::min(1.0, lean));
  const double along = rho * std::tan(slope / 2) + 0.1;
  const double drop = std::min(along * std::sin(slope), (1 - kLeastCore) * r);
  return {drop / std::sin(slope) * std::cos(slope), r - drop};
}

std::vector<Piece> foot_waste(const Piece& last, double rho, double reach) {
  const double end = last.x1, to = end + reach;
  if (last.kind == Piece::Kind::clear) return {shape::clear_piece(end, to)};
  const Tail tail = tail_of(last.r1, last.normal(end).nx, rho);
  if (tail.run <= 1e-6) return {shape::line_piece(end, tail.r, to, tail.r)};
  return {shape::line_piece(end, last.r1, end + tail.run, tail.r),
          shape::line_piece(end + tail.run, tail.r, to, tail.r)};
}

std::vector<Piece> head_waste(const Piece& first, double rho, double reach) {
  const double end = first.x0, from = end - reach;
  if (first.kind == Piece::Kind::clear) return {shape::clear_piece(from, end)};
  const Tail tail = tail_of(first.r0, -first.normal(end).nx, rho);
  if (tail.run <= 1e-6) return {shape::line_piece(from, tail.r, end, tail.r)};
  return {shape::line_piece(from, tail.r, end - tail.run, tail.r),
          shape::line_piece(end - tail.run, tail.r, end, first.r0)};
}

// The centre line of a groove or of reeds: like the outline, so that what runs out through an end is cut to the very end.
void go_on(shape::Profile& centre, double rho, double reach) {
  if (centre.pieces.empty()) return;
  const std::vector<Piece> head = head_waste(centre.pieces.front(), rho, reach), foot = foot_waste(centre.pieces.back(), rho, reach);
  centre.pieces.insert(centre.pieces.begin(), head.begin(), head.end());
  centre.pieces.insert(centre.pieces.end(), foot.begin(), foot.end());
}

void go_on_level(shape::Profile& face, double reach) {
  const Piece first = face.pieces.front(), last = face.pieces.back();
  auto level = [](double a, double b, const Piece& like, double d) {
    return like.kind == Piece::Kind::clear ? shape::clear_piece(a, b) : shape::line_piece(a, d, b, d);
  };
  face.pieces.insert(face.pieces.begin(), level(first.x0 - reach, first.x0, first, first.r0));
  face.pieces.push_back(level(last.x1, last.x1 + reach, last, last.r1));
}

std::optional<Failure> bad_figures(const shape::Blank& blank, const shape::BlankTolerance& t, const shop::Cutter& c,
                                   const shop::Machine& m) {
  auto above = [](std::initializer_list<double> values) {
    return std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v) && v > 0 && v < 1e6; });
  };
  auto not_below = [](std::initializer_list<double> values) {
    return std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v) && v >= 0 && v < 1e6; });
  };
  if (!above({c.diameter, c.rpm, c.chip_load, c.max_depth_of_cut, c.flute_length, static_cast<double>(c.flutes)}) ||
      !not_below({c.shank_diameter, c.shank_length, c.collet_diameter, c.collet_length}) || c.diameter > 500) {
    return fail("mill.cutter", "the cutter '" + c.id + "' lacks a figure, or one makes no sense",
                "give its diameter, flute length, flutes, rpm, chip load and depth of cut");
  }
  if (!above({m.rapid_x, m.rapid_z, m.rapid_rotary, m.feed_max}) ||
      !not_below({m.jaw_swing, m.tailstock_top, m.chuck_grip, m.centre_grip, m.keep_out}) || m.x_min > m.x_max ||
      m.z_min > m.z_max) {
    return fail("mill.machine", "the machine '" + m.id + "' lacks a figure, or one makes no sense",
                "give its rapid speeds, greatest feed, travels, and the sizes of chuck and tailstock");
  }
  if (!above({blank.size, blank.length()}) || !not_below({t.off_centre, t.bow, t.oversize}) || blank.length() > 20000) {
    return fail("mill.blank", "the blank has no size that wood could have", "give its section and both its ends");
  }
  return std::nullopt;
}

// The square of the part when it has one: the greatest distance of its faces A to D when they are alike.
std::optional<double> square_of(const shape::Part& part) {
  std::array<double, 4> greatest{};
  for (const shape::Face& face : part.faces) {
    const double quarters = face.phi / (std::numbers::pi / 2);
    const double whole = std::round(quarters);
    if (std::fabs(quarters - whole) > 1e-9 || whole < 0 || whole > 3) return std::nullopt;
    for (const Piece& piece : face.d.pieces) {
      if (piece.kind != Piece::Kind::clear)
        greatest[static_cast<std::size_t>(whole)] =
            std::max(greatest[static_cast<std::size_t>(whole)], piece.greatest());
    }
  }
  const auto [least, most] = std::minmax_element(greatest.begin(), greatest.end());
  if (*least <= 0 || *most - *least > kSameSize) return std::nullopt;
  return 2 * *most;
}

// The part as turned is the same after 1/n of a turn.
bool same_after(const shape::Part& part, int n) {
  const double turn = 2 * std::numbers::pi / n;
  const auto further = [turn](double a, double b) { return std::fabs(std::remainder(b - a - turn, 2 * std::numbers::pi)) < 1e-12; };
  const auto has_twin = [](const auto& all, const auto& twins) {
    return std::all_of(all.begin(), all.end(), [&](const auto& one) {
      return std::any_of(all.begin(), all.end(), [&](const auto& other) { return twins(one, other); });
    });
  };
  const bool shaped = std::all_of(part.reedings.begin(), part.reedings.end(), [n](const shape::Reeding& r) { return r.count % n == 0; }) &&
                      std::all_of(part.twists.begin(), part.twists.end(), [n](const shape::Twist& t) { return t.starts % n == 0; });
  return shaped && has_twin(part.faces, [&](const shape::Face& a, const shape::Face& b) { return further(a.phi, b.phi) && a.d == b.d; }) &&
         has_twin(part.flutes, [&](const shape::Flute& a, const shape::Flute& b) { return further(a.theta, b.theta) && a.radius == b.radius && a.centre == b.centre; });
}

// No wood beyond a round blank's radius, or a face along the whole piece for each side of a square one.
bool surely_inside(const shape::Part& turned, const shape::Blank& blank) {
  const double half = blank.size / 2;
  if (blank.section == shape::Blank::Section::round) return shape::reach(turned) <= half;
  for (int quarter = 0; quarter < 4; ++quarter) {
    const shape::Face* face = shape::face_looking(turned, quarter * std::numbers::pi / 2);
    if (!face || face->d.start() > 0 || face->d.end() < turned.length) return false;
    if (std::any_of(face->d.pieces.begin(), face->d.pieces.end(), [half](const Piece& p) { return p.kind == Piece::Kind::clear || p.greatest() > half; })) return false;
  }
  return true;
}

// Whether the part lies inside the blank, by the ball that would have to cut it: nowhere may it be held higher by the
// part.
Result<Done> fits_inside(const shape::Part& turned, const shape::Blank& blank, double rho) {
  if (turned.outline.pieces.empty() || std::fabs(turned.outline.start()) > 1e-6) {
    return fail("mill.part", "the part '" + turned.name + "' does not begin at its head", "check the outline first");
  }
  if (blank.x0 > kSameSize || blank.x1 < turned.length - kSameSize) {
    return fail("mill.blank-short", "the blank is shorter than the part",
                "cut the blank " + mm(turned.length) + " long and the waste at both ends");
  }
  if (surely_inside(turned, blank)) return Done{};
  // without the larger ball over chords: it would stand out of a blank that the part just fills
  const Result<Envelope> part = Envelope::of(turned, rho, {.never_gouge = false});
  if (!part.ok()) return part.failure();
  const Result<Envelope> wood = Envelope::of(blank_body(blank, 0, -4 * rho, 4 * rho), rho);
  if (!wood.ok()) return wood.failure();
  std::vector<double> rows;
  for (double x = 0; x <= turned.length; x += 0.5) rows.push_back(x);
  Heights grid;
  constexpr int kAngles = 48;
  if (auto filled = part->fill(rows, kAngles, grid); !filled.ok()) return filled.failure();
  double worst = 0;
  for (int j = 0; j < kAngles; ++j) {
    const double limit = wood->centre_height(0, grid.angle(j));
    for (std::size_t i = 0; i < rows.size(); ++i) worst = std::max(worst, grid.at(i, j) - limit);
  }
  if (worst <= kSameSize) return Done{};
  return fail("mill.blank-small", "the part stands " + mm(worst) + " out of the blank",
              "take a larger blank, or a slimmer part");
}

}  // namespace

shape::Part continued(const shape::Part& turned, double rho, double reach) {
  shape::Part part = turned;
  std::vector<Piece>& pieces = part.outline.pieces;
  const std::vector<Piece> head = head_waste(pieces.front(), rho, reach), foot = foot_waste(pieces.back(), rho, reach);
  pieces.insert(pieces.begin(), head.begin(), head.end());
  pieces.insert(pieces.end(), foot.begin(), foot.end());
  for (shape::Face& face : part.faces) go_on_level(face.d, reach);
  for (shape::Flute& flute : part.flutes) go_on(flute.centre, rho, reach);
  for (shape::Reeding& reeding : part.reedings) go_on(reeding.centre, rho, reach);
  part.length += 2 * reach;
  return part;
}

shape::Part blank_body(const shape::Blank& blank, double grown, double x0, double x1) {
  shape::Part part;
  part.name = "blank";
  part.length = x1 - x0;
  const double half = blank.size / 2 + grown;
  if (blank.section == shape::Blank::Section::round) {
    part.outline.pieces = {shape::line_piece(x0, half, x1, half)};
    return part;
  }
  part.outline.pieces = {shape::clear_piece(x0, x1)};
  for (int quarter = 0; quarter < 4; ++quarter) {
    shape::Profile d;
    d.pieces = {shape::line_piece(x0, half, x1, half)};
    part.faces.push_back({quarter * std::numbers::pi / 2, std::move(d)});
  }
  return part;
}

double stub_diameter(const shape::Part& turned, bool at_head, double rho) {
  const Piece& end = at_head ? turned.outline.pieces.front() : turned.outline.pieces.back();
  if (end.kind == Piece::Kind::clear) return 0;
  return 2 * (at_head ? tail_of(end.r0, -end.normal(end.x0).nx, rho) : tail_of(end.r1, end.normal(end.x1).nx, rho)).r;
}

double run_past_end(double radius) {
  return radius + kPastTheEnd;
}

Result<Done> check_ball(const shop::Cutter& cutter) {
  if (cutter.form == shop::Cutter::Form::ball) return Done{};
  return fail("mill.no-ball", "the last passes over a turning are made with balls, and '" + cutter.id + "' is none", "name a ball in the order's `cutter`, or as `finish` and `fine` in its `cutters`");
}

Result<Done> must_plunge(const shop::Cutter& cutter) {
  if (cutter.plunges()) return Done{};
  return fail("mill.plunge", "the cutter '" + cutter.id + "' sinks along ramps only, and where a line along the piece begins it would come straight down into the wood",
              "take a cutter that plunges for the turning; joints may be cut with this one");
}

Result<Setup> set_up(const shape::Part& turned, const shape::Blank& blank, const shape::BlankTolerance& tolerance,
                     const shop::Cutter& cutter, const shop::Machine& machine, double widest) {
  if (auto bad = bad_figures(blank, tolerance, cutter, machine)) return *bad;
  const auto foot = foot_of(cutter);
  if (!foot.ok()) return foot.failure();
  const double rho = std::max(cutter.diameter / 2, widest);
  if (auto inside = fits_inside(turned, blank, rho); !inside.ok()) return inside.failure();
  const bool square = blank.section == shape::Blank::Section::square;
  if (const auto width = square_of(turned);
      square && blank.flats_finished && width && std::fabs(*width - blank.size) > kSameSize) {
    return fail(
        "mill.flats",
        "the blank's flats are to be finished, but it is " + mm(blank.size) + " wide where the square is " + mm(*width),
        "mill the blank to the square, or say that its flats are still to be cut");
  }
  Setup setup{continued(turned, rho, 4 * rho + 60),
              turned.length,
              run_past_end(rho),
              0,
              same_after(turned, 4) ? 4 : same_after(turned, 2) ? 2 : 1,
              0,
              cutter,
              *foot,
              machine,
              blank,
              tolerance};
  setup.shift = tolerance.off_centre + tolerance.bow;
  const double half = blank.size / 2 + tolerance.oversize;
  const double farthest = (square ? half * std::numbers::sqrt2 : half) + setup.shift;
  setup.clear_height = std::max({farthest, machine.jaw_swing, machine.tailstock_top}) + kAbove;
  if (machine.max_swing > 0 && 2 * farthest > machine.max_swing) {
    return fail("mill.swing",
                "the blank needs a swing of " + mm(2 * farthest) + " and the machine '" + machine.id + "' has " +
                    mm(machine.max_swing),
                "take a smaller blank, or knock its corners off first and call it round");
  }
  if (machine.max_between_centres > 0 && blank.length() > machine.max_between_centres) {
    return fail("mill.between-centres",
                "the blank is " + mm(blank.length()) + " long and the machine '" + machine.id + "' takes " +
                    mm(machine.max_between_centres),
                "shorten the waste, or take another machine");
  }
  if (setup.clear_height > machine.z_max) {
    return fail("mill.travel",
                "rapids must run " + mm(setup.clear_height) + " above the axis and the machine '" + machine.id +
                    "' reaches " + mm(machine.z_max),
                "raise the spindle, use a shorter cutter, or take a smaller blank");
  }
  return setup;
}

namespace {

/// One end of the blank with what holds it.
struct Holder {
  double face = 0;   // x of jaws or centre
  double sense = 1;  // +1: the cutter must stay at greater x
  double top = 0;    // distance from the axis that it reaches
  const char* name = "";
};

// How far the cutter comes nearer than the keep-out, mm; 0 or less: not at all.
double trespass(const Holder& holder, const motion::Position& p, const Setup& s) {
  const shop::Cutter& c = s.cutter;
  double most = 0;
  auto body = [&](double radius, double bottom) {
    if (bottom >= holder.top) return;
    const double gap = holder.sense * (p.x - holder.face) - radius;
    most = std::max(most, s.machine.keep_out - gap);
  };
  body(s.radius(), p.z);
  body(c.shank_diameter / 2, p.z + c.flute_length);
  if (c.shank_length > 0) body(c.collet_diameter / 2, p.z + c.shank_length);
  return most;
}

}  // namespace

Result<Done> within_machine(const motion::Path& path, const Setup& setup) {
  const shop::Machine& m = setup.machine;
  const bool head = m.head_at_chuck;
  const Holder at_head{setup.blank.x0 + (head ? m.chuck_grip : m.centre_grip), 1, head ? m.jaw_swing : m.tailstock_top,
                       head ? "chuck" : "tail centre"};
  const Holder at_foot{setup.blank.x1 - (head ? m.centre_grip : m.chuck_grip), -1, head ? m.tailstock_top : m.jaw_swing,
                       head ? "tail centre" : "chuck"};
  std::array<double, 2> short_by{};
  double least_a = path.start.a, most_a = path.start.a;
  for (const motion::Move& move : path.moves) {
    const motion::Position& p = move.to;
    short_by[0] = std::max(short_by[0], trespass(at_head, p, setup));
    short_by[1] = std::max(short_by[1], trespass(at_foot, p, setup));
    least_a = std::min(least_a, p.a);
    most_a = std::max(most_a, p.a);
    if (p.x < m.x_min || p.x > m.x_max || p.z < m.z_min || p.z > m.z_max) {
      return fail("mill.travel",
                  "the cutter would have to go to x " + format_number(p.x, 2) + ", z " + format_number(p.z, 2) +
                      " mm, beyond the travel of '" + m.id + "'",
                  "shift the piece or the zero on the machine, or take another machine");
    }
  }
  for (std::size_t end : {0, 1}) {
    if (short_by[end] <= 1e-6) continue;
    const Holder& holder = end == 0 ? at_head : at_foot;
    return fail("mill.run-up",
                std::string("at the ") + (end == 0 ? "head" : "foot") + " the cutter would come " + mm(short_by[end]) +
                    " too near to the " + holder.name,
                "leave " + mm(short_by[end]) + " more waste at that end");
  }
  if (m.rotary_limit_turns > 0 && (most_a - least_a) / (2 * std::numbers::pi) > m.rotary_limit_turns) {
    return fail("mill.turns", "the pass needs more turns than the rotary of '" + m.id + "' has",
                "take another machine");
  }
  return Done{};
}

}  // namespace pommel::mill
