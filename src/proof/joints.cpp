#include "proof/joints.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <new>
#include <numbers>

#include "base/files.h"
#include "base/number.h"
#include "program/reader.h"
#include "program/replay.h"
#include "proof/body.h"
#include "proof/limits.h"
#include "proof/tool.h"
#include "shape/mortise.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kStep = 0.1;                              // mm between points
constexpr double kBeside[] = {0.021, 0.045, 0.1};          // mm from an outline: rows of further points
constexpr double kSameDirection = 1e-6;                    // radians
constexpr std::size_t kMostPoints = 8'000'000;
constexpr double kFarthest = 1e6;                          // mm

std::string mm(double v) { return format_number(v, 3) + " mm"; }

// A joint's opening in its face: a rectangle with round corners, or a circle (a square with corners as large as it).
struct Opening {
  std::string id;
  double phi = 0;
  double x = 0, t = 0;                ///< middle
  double half_x = 0, half_t = 0, corner = 0;
  double bottom = 0;                  ///< distance from the axis along phi; -infinity: through

  /// Signed distance from its outline, negative inside, with corners of at least `corner_least`.
  double from_outline(double px, double pt, double corner_least = 0) const {
    double r = std::min({std::max(corner, corner_least), half_x, half_t});
    double qx = std::fabs(px - x) - (half_x - r), qt = std::fabs(pt - t) - (half_t - r);
    return std::hypot(std::max(qx, 0.0), std::max(qt, 0.0)) + std::min(std::max(qx, qt), 0.0) - r;
  }
};

std::vector<Opening> openings_of(const shape::Part& part) {
  std::vector<Opening> all;
  auto id_of = [&](const shape::Pocket& pocket) {
    for (const shape::Mortise& m : part.mortises) {
      bool within = pocket.x1 <= m.x1 + 1e-9 && pocket.x0 >= m.x0 - m.haunch_length - 1e-9 && pocket.t0 == m.t0 && pocket.t1 == m.t1;
      if (within && std::fabs(std::remainder(m.phi - pocket.phi, kTurn)) < kSameDirection) return m.id;
    }
    return std::string("mortise");
  };
  for (const shape::Pocket& p : shape::pockets(part)) {
    all.push_back({id_of(p), p.phi, (p.x0 + p.x1) / 2, (p.t0 + p.t1) / 2, (p.x1 - p.x0) / 2, (p.t1 - p.t0) / 2, p.corner_radius, p.bottom});
  }
  for (const shape::Bore& b : part.bores) {
    const shape::Face* face = shape::face_looking(part, b.phi);
    double d = face != nullptr ? face->d.value(b.x) : shape::radius_at(part, b.x, b.phi);
    bool through = b.depth >= d + shape::radius_at(part, b.x, b.phi + kTurn / 2) - 1e-9;
    double r = b.diameter / 2, seat = b.seat_diameter / 2;
    all.push_back({b.id, b.phi, b.x, b.t, r, r, r, through ? -std::numeric_limits<double>::infinity() : d - b.depth});
    if (seat > 0) all.push_back({b.id, b.phi, b.x, b.t, seat, seat, seat, d - b.seat_depth});
    // a through hole opens on the other side too, where it may be cut from as well
    if (through) all.push_back({b.id, b.phi + kTurn / 2, b.x, -b.t, r, r, r, -std::numeric_limits<double>::infinity()});
  }
  return all;
}

// A point of the plane (x, t) and the wood over it.
struct Point {
  double x = 0, t = 0;
  double skin = 0;    ///< height of the part as turned, along the direction; 0 where there is none
  double height = 0;  ///< of what stands
  double floor = 0;   ///< of the jointed part
};

// Highest point of the turned part over (x, t), seen along phi.
double skin_over(const shape::Part& part, double phi, double x, double t, double reach) {
  if (x < 0 || x > part.length) return 0;
  auto inside = [&](double h) { return std::hypot(t, h) <= shape::radius_at(part, x, phi + std::atan2(t, h)) + 1e-9; };
  if (const shape::Face* face = shape::face_looking(part, phi)) {
    double d = face->d.value(x);
    if (std::isfinite(d) && inside(d)) return d;
  }
  double low = 0, high = reach;
  if (!inside(low + 1e-6)) return 0;
  for (int i = 0; i < 40; ++i) {
    double middle = (low + high) / 2;
    (inside(middle) ? low : high) = middle;
  }
  return low;
}

// A straight move in the plane of one direction.
struct Stroke {
  double x0, t0, z0, x1, t1, z1;
};

// Lowest height of a surface over the point, for a body of this lower surface sliding along the stroke; `surface(s)` from its axis outwards,
// convex and growing, defined up to `radius`.
template <class F>
double lowest_over(const Stroke& s, double x, double t, double radius, const F& surface) {
  double dx = s.x1 - s.x0, dt = s.t1 - s.t0, way2 = dx * dx + dt * dt, none = std::numeric_limits<double>::infinity();
  auto at = [&](double u) {
    double away = std::hypot(x - s.x0 - u * dx, t - s.t0 - u * dt);
    return away < radius ? s.z0 + u * (s.z1 - s.z0) + surface(away) : none;
  };
  if (way2 == 0) return std::min(at(0), at(1));
  double nearest = std::clamp(((x - s.x0) * dx + (t - s.t0) * dt) / way2, 0.0, 1.0);
  if (s.z0 == s.z1 || at(nearest) == none) return at(nearest);
  // a ramp: while the point is under the cutter
  double off2 = std::pow(x - s.x0 - nearest * dx, 2) + std::pow(t - s.t0 - nearest * dt, 2), half = std::sqrt((radius * radius - off2) / way2);
  double low = std::max(0.0, nearest - half), high = std::min(1.0, nearest + half);
  for (int i = 0; i < 40; ++i) {
    double a = low + (high - low) / 3, b = high - (high - low) / 3;
    (at(a) < at(b) ? high : low) = at(a) < at(b) ? b : a;
  }
  return at((low + high) / 2);
}

// The worst of one kind, and how often.
struct Worst {
  double amount = 0, x = 0, t = 0;
  std::size_t times = 0;
  int line = 0;
  std::string stage;
};

class JointJudge {
 public:
  JointJudge(const shape::Part& part, const shop::Machine& machine, const Settings& settings)
      : part_(part), settings_(settings), reach_(shape::reach(part)), sideways_(machine.x_towards_foot ? -1 : 1), openings_(openings_of(part)) {}

  struct Work {
    const motion::Path* path;
    Tool tool;
  };

  Result<Done> run(const std::vector<Work>& works, Proof& proof, const std::stop_token& stop) {
    for (double direction : directions(works)) {
      if (auto done = judge(works, direction, proof, stop); !done) return done;
    }
    tell(proof, turning_, "proof.turn-in-wood", "the wood turns while the cutter is down to " , "lift the cutter over the piece before it turns");
    return Done{};
  }

 private:
  template <class F>
  void for_moves(const std::vector<Work>& works, const F& each) const {
    for (const Work& work : works) {
      motion::Position from = work.path->start;
      for (std::size_t i = 0; i < work.path->moves.size(); ++i) {
        each(work, from, i);
        from = work.path->moves[i].to;
      }
    }
  }

  // Directions in which something is cut; moves that turn low are told once.
  std::vector<double> directions(const std::vector<Work>& works) {
    std::vector<double> found;
    for_moves(works, [&](const Work& work, const motion::Position& from, std::size_t i) {
      const motion::Move& move = work.path->moves[i];
      double lowest = std::min(from.z, move.to.z);
      if (lowest > reach_ + 1e-6) return;
      if (from.a != move.to.a) take(turning_, reach_ - lowest + 1e-3, move.to.x, 0, work, i);
      for (double a : found) {
        if (std::fabs(std::remainder(a - move.to.a, kTurn)) < kSameDirection) return;
      }
      found.push_back(move.to.a);
    });
    return found;
  }

  static void take(Worst& worst, double amount, double x, double t, const Work& work, std::size_t move) {
    ++worst.times;
    if (amount <= worst.amount) return;
    worst = {amount, x, t, worst.times, work.path->moves[move].line, stage_of(*work.path, move)};
  }

  Stroke stroke_of(const motion::Position& a, const motion::Position& b) const { return {a.x, sideways_ * a.y, a.z, b.x, sideways_ * b.y, b.z}; }

  Result<Done> judge(const std::vector<Work>& works, double direction, Proof& proof, const std::stop_token& stop) {
    std::vector<Opening> here;
    for (const Opening& o : openings_) {
      if (std::fabs(std::remainder(o.phi - direction, kTurn)) < kSameDirection) here.push_back(o);
    }
    auto points = points_for(works, direction, here);
    if (!points) return points.failure();
    Worst rapid, shaft, deep;
    double meant_for = 0, narrowest = std::numeric_limits<double>::infinity(), level = 0, rise = 0;
    bool stopped = false;
    for_moves(works, [&](const Work& work, const motion::Position& from, std::size_t i) {
      const motion::Move& move = work.path->moves[i];
      bool low = std::min(from.z, move.to.z) <= reach_ + 1e-6 && std::fabs(std::remainder(move.to.a - direction, kTurn)) < kSameDirection;
      if (!low || from.a != move.to.a || stopped) return;
      stopped = stop.stop_requested();
      double depth = cut(*points, stroke_of(from, move.to), work, i, rapid, shaft);
      if (!move.rapid && work.tool.max_depth > 0 && depth > work.tool.max_depth + settings_.depth_slack) {
        take(deep, depth, move.to.x, sideways_ * move.to.y, work, i);
        meant_for = work.tool.max_depth;
      }
      if (work.tool.radius < narrowest) {
        narrowest = work.tool.radius;
        level = work.tool.disc;
        rise = work.tool.height(work.tool.radius);
      }
    });
    if (stopped) return fail("cancelled", "the check was stopped before its end");
    tell(proof, rapid, "proof.rapid", "a rapid goes through wood, ", "lift the cutter before it goes on");
    tell(proof, shaft, "proof.shank", "shank, collet nut or holder meets wood by ", "take a cutter with longer flutes or shank");
    tell(proof, deep, "proof.depth", "the cutter is meant for " + mm(meant_for) + " in one move and takes ", "cut in more layers");
    hold(*points, here, narrowest, level, rise, direction, proof);
    return Done{};
  }

  Result<std::vector<Point>> points_for(const std::vector<Work>& works, double direction, const std::vector<Opening>& here) const {
    double x0 = 1e9, x1 = -1e9, t0 = 1e9, t1 = -1e9;
    for_moves(works, [&](const Work& work, const motion::Position& from, std::size_t i) {
      const motion::Position& to = work.path->moves[i].to;
      if (std::min(from.z, to.z) > reach_ + 1e-6 || std::fabs(std::remainder(to.a - direction, kTurn)) >= kSameDirection) return;
      double wide = work.tool.radius;
      for (const motion::Position& p : {from, to}) {
        x0 = std::min(x0, p.x - wide);
        x1 = std::max(x1, p.x + wide);
        t0 = std::min(t0, sideways_ * p.y - wide);
        t1 = std::max(t1, sideways_ * p.y + wide);
      }
    });
    x0 = std::max(x0, 0.0), x1 = std::min(x1, part_.length), t0 = std::max(t0, -reach_), t1 = std::min(t1, reach_);
    std::vector<Point> points;
    if (x0 > x1 || t0 > t1) return points;
    if ((x1 - x0) / kStep * ((t1 - t0) / kStep) > static_cast<double>(kMostPoints)) {
      return fail("proof.too-much", "the joints' program goes over too much of the piece for this check", "look for a wrong coordinate");
    }
    auto add = [&](double x, double t) {
      if (x < 0 || x > part_.length) return;
      Point p{x, t, skin_over(part_, direction, x, t, reach_), 0, 0};
      p.height = p.floor = p.skin;
      for (const Opening& o : here) {
        if (o.from_outline(x, t) < 0) p.floor = std::min(p.floor, o.bottom);
      }
      points.push_back(p);
    };
    for (double x = x0; x <= x1; x += kStep) {
      for (double t = t0; t <= t1; t += kStep) add(x, t);
    }
    for (const Opening& o : here) add_outline(o, add);
    std::sort(points.begin(), points.end(), [](const Point& a, const Point& b) { return a.x < b.x; });
    return points;
  }

  // Points in rows along both sides of the outline: rays from its middle, brought to the wanted distance by bisection.
  template <class F>
  static void add_outline(const Opening& o, const F& add) {
    double round = 4 * (o.half_x + o.half_t);
    auto n = static_cast<int>(std::ceil(round / kStep));
    for (int i = 0; i < n; ++i) {
      // along the rectangle's border by its length, so that long sides are as dense as short ones
      double way = round * i / n, ux, ut;
      double a = 2 * o.half_x, b = 2 * o.half_t;
      if (way < a) ux = way - o.half_x, ut = -o.half_t;
      else if (way < a + b) ux = o.half_x, ut = way - a - o.half_t;
      else if (way < 2 * a + b) ux = o.half_x - (way - a - b), ut = o.half_t;
      else ux = -o.half_x, ut = o.half_t - (way - 2 * a - b);
      for (double beside : kBeside) {
        for (double want : {beside, -beside}) {
          double low = 0, high = 2;
          for (int k = 0; k < 40; ++k) {
            double middle = (low + high) / 2;
            (o.from_outline(o.x + ux * middle, o.t + ut * middle) < want ? low : high) = middle;
          }
          add(o.x + ux * low, o.t + ut * low);
        }
      }
    }
  }

  // Makes one move; returns the greatest height of wood it took.
  double cut(std::vector<Point>& points, const Stroke& s, const Work& work, std::size_t move, Worst& rapid, Worst& shaft) const {
    const Tool& tool = work.tool;
    bool fast = work.path->moves[move].rapid;
    double deepest = 0, met = 0, met_x = 0, met_t = 0;
    double x_low = std::min(s.x0, s.x1) - tool.widest, x_high = std::max(s.x0, s.x1) + tool.widest;
    auto by_x = [](const Point& p, double x) { return p.x < x; };
    auto first = std::lower_bound(points.begin(), points.end(), x_low, by_x), last = std::lower_bound(first, points.end(), x_high, by_x);
    for (auto p = first; p != last; ++p) {
      for (const Tool::Shaft& of : tool.shafts) {
        if (of.radius <= tool.radius || std::min(s.z0, s.z1) + of.bottom > p->height) continue;
        double bottom = lowest_over(s, p->x, p->t, of.radius, [&](double) { return of.bottom; });
        if (p->height - bottom > settings_.rapid_clearance) take(shaft, p->height - bottom, p->x, p->t, work, move);
      }
      double down = lowest_over(s, p->x, p->t, tool.radius, [&](double away) { return tool.height(away); });
      if (down >= p->height) continue;
      if (p->height - down > met) met = p->height - down, met_x = p->x, met_t = p->t;
      deepest = std::max(deepest, p->height - down);
      p->height = down;
    }
    if (fast && met > settings_.rapid_clearance) take(rapid, met, met_x, met_t, work, move);
    return deepest;
  }

  // The state of the wood against the jointed part.
  void hold(const std::vector<Point>& points, const std::vector<Opening>& here, double radius, double level, double rise, double direction, Proof& proof) {
    double limit = settings_.gouge_limit;
    Worst outside;
    struct Of {
      Worst deep, left;
      bool touched = false;
    };
    std::vector<Of> of(here.size());
    std::vector<double> corner_left(here.size(), 0);
    for (const Point& p : points) {
      bool in_any = false;
      for (std::size_t k = 0; k < here.size(); ++k) {
        const Opening& o = here[k];
        double from = o.from_outline(p.x, p.t);
        if (from > limit) continue;
        in_any = true;
        if (from > -limit) continue;
        if (p.height < p.skin - limit) of[k].touched = true;
        if (p.height < p.floor - limit) note(of[k].deep, p.floor - p.height, p);
        double allowed = limit + (from > -(radius - level) - limit ? rise : 0);
        bool reached = o.from_outline(p.x, p.t, radius) <= -limit;
        double want = std::isfinite(o.bottom) ? o.bottom : 0;  // through holes are judged down to the axis
        if (p.height > want + allowed) (reached ? note(of[k].left, p.height - want, p) : void(corner_left[k] = std::max(corner_left[k], p.height - want)));
      }
      if (!in_any && p.height < p.skin - limit) note(outside, p.skin - p.height, p);
    }
    tell_at(proof, outside, "proof.joint-side", "outside every joint the cutter goes into the part by ", "look at the joint's place, its width and the cutter's", direction);
    for (std::size_t k = 0; k < here.size(); ++k) {
      JointCheck check{here[k].id, of[k].touched, of[k].deep.amount, of[k].touched ? of[k].left.amount : 0, of[k].touched ? corner_left[k] : 0};
      if (of[k].touched) {
        tell_at(proof, of[k].deep, "proof.joint-floor", "'" + check.id + "' is too deep by ", "look at its depth and the face it is measured from", direction);
        tell_at(proof, of[k].left, "proof.joint-left", "'" + check.id + "' is not cut out: what stands there is ", "a pass is missing; make the program again", direction);
      }
      proof.joints.push_back(std::move(check));
    }
  }

  static void note(Worst& worst, double amount, const Point& p) {
    ++worst.times;
    if (amount > worst.amount) worst.amount = amount, worst.x = p.x, worst.t = p.t;
  }

  static void tell(Proof& proof, const Worst& worst, std::string id, const std::string& before, std::string remedy) {
    if (worst.times == 0) return;
    std::string by = line_and_pass(worst.line, worst.stage);
    proof.findings.push_back({Severity::error, std::move(id), before + mm(worst.amount) + " at x " + format_number(worst.x, 2) + " mm" + (by.empty() ? "" : ", " + by),
                              std::move(remedy), worst.line, worst.stage});
  }

  static void tell_at(Proof& proof, const Worst& worst, std::string id, const std::string& before, std::string remedy, double direction) {
    if (worst.times == 0) return;
    double degrees = (direction - kTurn * std::floor(direction / kTurn)) * 360 / kTurn;
    proof.findings.push_back({Severity::error, std::move(id),
                              before + mm(worst.amount) + " at x " + format_number(worst.x, 2) + " mm, " + format_number(worst.t, 2) + " mm beside the middle of the face at " +
                                  format_number(degrees, 1) + " deg",
                              std::move(remedy), 0, {}});
  }

  const shape::Part& part_;
  const Settings& settings_;
  double reach_;
  double sideways_;
  std::vector<Opening> openings_;
  Worst turning_;
};

Result<Done> sound(const motion::Path& path) {
  auto good = [](const motion::Position& p) {
    for (double v : {p.x, p.y, p.z, p.a}) {
      if (!std::isfinite(v) || std::fabs(v) > kFarthest) return false;
    }
    return true;
  };
  bool all = good(path.start);
  for (const motion::Move& move : path.moves) all = all && good(move.to);
  if (!all) return fail("proof.position", "the program goes to no place on a machine", "look at its numbers");
  if (path.moves.empty()) return fail("proof.empty", "the program moves nothing", "make the program again");
  return Done{};
}

}  // namespace

Result<Proof> prove_joint_paths(const std::vector<motion::Path>& paths, const shape::Part& jointed, const shape::Blank& blank,
                                const std::vector<shop::Cutter>& cutters, const shop::Machine& machine, const Settings& settings, std::stop_token stop) {
  if (std::vector<Diagnostic> wrong = shape::problems(jointed); !wrong.empty()) return Failure(std::move(wrong));
  if (jointed.mortises.empty() && jointed.bores.empty()) return fail("proof.no-joint", "the part has no mortise and no bore", "check the program against the part it is for");
  if (paths.empty() || cutters.empty()) return fail("proof.empty", "the program moves nothing, or no cutter is given", "make the program again");
  Proof proof;
  proof.settings = settings;
  std::vector<JointJudge::Work> works;
  for (const motion::Path& path : paths) {
    if (auto done = sound(path); !done) return done.failure();
    auto of = std::find_if(cutters.begin(), cutters.end(), [&](const shop::Cutter& c) { return c.id == path.cutter; });
    if (of == cutters.end() && cutters.size() == 1) of = cutters.begin();
    if (of == cutters.end()) return fail("proof.which-cutter", "the program does not say which of the check's cutters is in the spindle", "write a comment (cutter: name) before each cutter's first move");
    auto tool = tool_of(*of);
    if (!tool) return tool.failure();
    works.push_back({&path, std::move(tool).value()});
    proof.cutter += (proof.cutter.empty() ? "" : ", then ") + of->id;
    proof.moves += path.moves.size();
    proof.feed_minutes += feed_minutes(path);
    proof.rapid_minutes += rapid_minutes(path, machine);
    for (Finding& finding : limit_findings(path, blank, *of, machine)) proof.findings.push_back(std::move(finding));
  }
  try {
    JointJudge judge(jointed, machine, settings);
    if (auto done = judge.run(works, proof, stop); !done) return done.failure();
  } catch (const std::bad_alloc&) {
    return fail("proof.too-much", "the check needs more memory than this computer has", "cut fewer joints with one program");
  }
  return proof;
}

Result<Proof> prove_joints(std::string_view program_text, const shape::Part& jointed, const shape::Blank& blank,
                           const std::vector<shop::Cutter>& cutters, const shop::Machine& machine, const Settings& settings, std::stop_token stop) {
  Sink sink;
  program::Program program = program::read(program_text, "program", sink, program::read_options(machine));
  if (sink.has_errors()) return Failure(sink.all());
  auto replayed = program::replay(program, machine, "program");
  if (!replayed) return replayed.failure();
  auto proof = prove_joint_paths(replayed->paths, jointed, blank, cutters, machine, settings, stop);
  if (proof) proof->text_sha256 = sha256(program_text);
  return proof;
}

}  // namespace pommel::proof
