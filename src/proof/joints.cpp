#include "proof/joints.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <new>
#include <numbers>

#include "base/files.h"
#include "base/number.h"
#include "proof/body.h"
#include "proof/limits.h"
#include "proof/openings.h"
#include "proof/plane.h"
#include "proof/read.h"
#include "proof/tool.h"
#include "shape/mortise.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kBeside[] = {0.021, 0.045, 0.1};          // mm from an outline: rows of further points
constexpr double kSameDirection = 1e-4;                    // radians: rotary words have few decimals; 0.005 mm at 50 mm from the axis
constexpr std::size_t kMostPoints = 8'000'000;
constexpr double kFarthest = 1e6;                          // mm
constexpr double kAround = 0.5;                            // mm around a joint that is looked at whatever the program does

std::string mm(double v) { return format_number(v, 3) + " mm"; }

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

double blank_reach(const shape::Blank& blank) { return blank.size / 2 * (blank.section == shape::Blank::Section::square ? std::numbers::sqrt2 : 1); }

// The waste at the ends, as thick as the blank: the turning may have left all of it.
double waste_over(const shape::Blank& blank, double t) {
  double half = blank.size / 2;
  if (std::fabs(t) > half) return 0;
  return blank.section == shape::Blank::Section::square ? half : std::sqrt(half * half - t * t);
}

// Lowest height of a surface over the point, for a body of this lower surface sliding along the stroke; `surface(s)` from its axis outwards,
// convex and growing, defined up to `radius`; the same everywhere when `level`.
template <class F>
double lowest_over(const Stroke& s, double x, double t, double radius, bool level, const F& surface) {
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
  if (level) return s.z0 + (s.z1 < s.z0 ? high : low) * (s.z1 - s.z0) + surface(0);  // the disc passes over the point from low to high
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
  JointJudge(const shape::Part& part, const shape::Blank& blank, const shop::Machine& machine, const Settings& settings)
      : part_(part), blank_(blank), settings_(settings), reach_(std::max(shape::reach(part), blank_reach(blank))), sideways_(machine.x_towards_foot ? -1 : 1), openings_(openings_of(part)) {}

  struct Work {
    const motion::Path* path;
    Tool tool;
  };

  /// The narrowest of those whose axis has been over an opening. One that was there over a smaller opening alone (a slot in a plate's recess, a bore in
  /// its seat) was not there to cut this one: it counts only where nothing else was.
  class Cutters {
   public:
    void note(const std::vector<Opening>& here, std::size_t k, double x, double t, const Tool& tool) {
      if (here[k].from_outline(x, t) > 0) return;
      narrower(any_, tool);
      bool inner = false;
      for (std::size_t other = 0; other < here.size(); ++other) inner = inner || (lies_in(here[other], here[k]) && here[other].from_outline(x, t) <= 0);
      if (!inner) narrower(own_, tool);
    }
    const Tool* narrowest() const { return own_ != nullptr ? own_ : any_; }

   private:
    static void narrower(const Tool*& known, const Tool& tool) {
      if (known == nullptr || tool.radius < known->radius) known = &tool;
    }
    // a strictly smaller one, in both sizes
    static bool lies_in(const Opening& small, const Opening& large) {
      return std::fabs(small.x - large.x) + small.half_x < large.half_x - 1e-6 && std::fabs(small.t - large.t) + small.half_t < large.half_t - 1e-6;
    }

    const Tool *own_ = nullptr, *any_ = nullptr;
  };

  Result<Done> run(const std::vector<Work>& works, Proof& proof, const std::stop_token& stop) {
    for (double direction : directions(works)) {
      if (auto done = judge(works, direction, proof, stop); !done) return done;
    }
    bool any = std::any_of(proof.joints.begin(), proof.joints.end(), [](const JointCheck& joint) { return joint.touched; });
    if (!any) {
      proof.findings.push_back({Severity::error, "proof.no-joint-cut", "the program cuts none of the piece's joints",
                                "check its faces and places, and the piece that it is for", 0, {}});
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
    auto made = plane_for(works, direction, here);
    if (!made) return made.failure();
    Plane plane = std::move(made).value();
    Worst rapid, shaft, deep, steep;
    double meant_for = 0;
    std::vector<Cutters> over(here.size());
    bool stopped = false;
    for_moves(works, [&](const Work& work, const motion::Position& from, std::size_t i) {
      const motion::Move& move = work.path->moves[i];
      bool low = std::min(from.z, move.to.z) <= reach_ + 1e-6 && std::fabs(std::remainder(move.to.a - direction, kTurn)) < kSameDirection;
      if (!low || from.a != move.to.a || stopped) return;
      stopped = stop.stop_requested();
      double depth = cut(plane, stroke_of(from, move.to), work, i, rapid, shaft);
      if (!move.rapid && work.tool.max_depth > 0 && depth > work.tool.max_depth + settings_.depth_slack) {
        take(deep, depth, move.to.x, sideways_ * move.to.y, work, i);
        meant_for = work.tool.max_depth;
      }
      const bool sinks = !move.rapid && work.tool.too_steep(from.z - move.to.z, std::hypot(move.to.x - from.x, move.to.y - from.y));
      if (sinks && depth > settings_.rapid_clearance) take(steep, depth, move.to.x, sideways_ * move.to.y, work, i);
      for (std::size_t k = 0; k < here.size(); ++k) over[k].note(here, k, move.to.x, sideways_ * move.to.y, work.tool);
    });
    if (stopped) return fail("cancelled", "the check was stopped before its end");
    tell(proof, rapid, "proof.rapid", "a rapid goes through wood, ", "lift the cutter before it goes on");
    tell(proof, shaft, "proof.shank", "shank, collet nut or holder meets wood by ", "take a cutter with longer flutes or shank");
    tell(proof, steep, "proof.plunge", "the cutter sinks more steeply than it bears, into wood of ", "come down along a ramp, or with a cutter that plunges");
    tell(proof, deep, "proof.depth", "the cutter is meant for " + mm(meant_for) + " in one move and takes ", "cut in more layers");
    hold(plane, here, over, direction, proof);
    return Done{};
  }

  // Moves of this direction that come down to the wood.
  template <class F>
  void for_low_moves(const std::vector<Work>& works, double direction, const F& each) const {
    for_moves(works, [&](const Work& work, const motion::Position& from, std::size_t i) {
      const motion::Position& to = work.path->moves[i].to;
      bool low = std::min(from.z, to.z) <= reach_ + 1e-6 && std::fabs(std::remainder(to.a - direction, kTurn)) < kSameDirection;
      if (low) each(work, stroke_of(from, to));
    });
  }

  // The points where something is cut or should be.
  Result<Plane> plane_for(const std::vector<Work>& works, double direction, const std::vector<Opening>& here) const {
    double x0 = 1e9, x1 = -1e9, t0 = 1e9, t1 = -1e9;
    auto widen = [&](double x, double t, double by_x, double by_t) {
      x0 = std::min(x0, x - by_x), x1 = std::max(x1, x + by_x), t0 = std::min(t0, t - by_t), t1 = std::max(t1, t + by_t);
    };
    for_low_moves(works, direction, [&](const Work& work, const Stroke& s) {
      widen(s.x0, s.t0, work.tool.radius, work.tool.radius);
      widen(s.x1, s.t1, work.tool.radius, work.tool.radius);
    });
    for (const Opening& o : here) widen(o.x, o.t, o.half_x + 2 * kAround, o.half_t + 2 * kAround);
    x0 = std::max(x0, blank_.x0), x1 = std::min(x1, blank_.x1), t0 = std::max(t0, -reach_), t1 = std::min(t1, reach_);
    Plane plane(x0, x1, t0, t1);
    if (x0 > x1 || t0 > t1) return plane;
    for (const Opening& o : here) plane.want(o.x - o.half_x - kAround, o.x + o.half_x + kAround, o.t - o.half_t - kAround, o.t + o.half_t + kAround);
    for_low_moves(works, direction, [&](const Work& work, const Stroke& s) { plane.want(s, reach_of(work.tool, s)); });
    if (plane.wanted() > kMostPoints) {
      return fail("proof.too-much", "the joints' program goes over too much of the piece for this check", "look for a wrong coordinate");
    }
    auto make = [&](double x, double t) { return point_at(x, t, direction, here); };
    plane.fill(make);
    for (const Opening& o : here) {
      for (double beside : kBeside) {
        for (double signed_beside : {beside, -beside}) {
          for (const OutlinePoint& p : along_outline(o, signed_beside, Plane::kStep)) plane.add(p.x, p.t, make);
        }
      }
    }
    return plane;
  }

  PlanePoint point_at(double x, double t, double direction, const std::vector<Opening>& here) const {
    PlanePoint p{x, t, in_waste(x) ? waste_over(blank_, t) : skin_over(part_, direction, x, t, reach_), 0, 0};
    p.height = p.floor = p.skin;
    for (const Opening& o : here) {
      if (o.from_outline(x, t) < 0) p.floor = std::min(p.floor, o.bottom);
    }
    return p;
  }

  bool in_waste(double x) const { return x < 0 || x > part_.length; }

  // How far from its axis the cutter meets wood along the stroke: shank, nut and holder count only where they come down to it.
  double reach_of(const Tool& tool, const Stroke& s) const {
    double wide = tool.radius;
    for (const Tool::Shaft& of : tool.shafts) {
      if (s.lowest() + of.bottom <= reach_) wide = std::max(wide, of.radius);
    }
    return wide;
  }

  // Makes one move; returns the greatest height of wood it took.
  double cut(Plane& plane, const Stroke& s, const Work& work, std::size_t move, Worst& rapid, Worst& shaft) const {
    const Tool& tool = work.tool;
    bool fast = work.path->moves[move].rapid, level = tool.disc >= tool.radius;
    double deepest = 0, met_x = 0, met_t = 0;
    plane.cut(s, reach_of(tool, s), [&](PlanePoint& p) {
      for (const Tool::Shaft& of : tool.shafts) {
        if (of.radius <= tool.radius || s.lowest() + of.bottom > p.height) continue;
        double bottom = lowest_over(s, p.x, p.t, of.radius, true, [&](double) { return of.bottom; });
        if (p.height - bottom > settings_.rapid_clearance) take(shaft, p.height - bottom, p.x, p.t, work, move);
      }
      double down = lowest_over(s, p.x, p.t, tool.radius, level, [&](double away) { return tool.height(away); });
      if (down >= p.height) return;
      if (p.height - down > deepest) deepest = p.height - down, met_x = p.x, met_t = p.t;
      p.height = down;
    });
    if (fast && deepest > settings_.rapid_clearance) take(rapid, deepest, met_x, met_t, work, move);
    return deepest;
  }

  // The state of the wood against the jointed part.
  void hold(const Plane& plane, const std::vector<Opening>& here, const std::vector<Cutters>& over, double direction, Proof& proof) {
    double limit = settings_.gouge_limit;
    Worst outside;
    struct Of {
      Worst deep, left;
      bool touched = false;
      double corners = 0;
    };
    std::vector<Of> of(here.size());
    plane.for_points([&](const PlanePoint& p) {
      bool in_any = false;
      for (std::size_t k = 0; k < here.size(); ++k) {
        const Opening& o = here[k];
        double from = o.from_outline(p.x, p.t);
        if (from > limit) continue;
        in_any = true;
        if (from > -limit) continue;
        if (p.height < explained_without(here, k, p) - limit) of[k].touched = true;
        if (p.height < p.floor - limit) note(of[k].deep, p.floor - p.height, p);
        // without a cutter whose axis has been over the joint, all of it counts as within reach
        const Tool* narrowest = over[k].narrowest();
        double radius = narrowest != nullptr ? narrowest->radius : 0, level = narrowest != nullptr ? narrowest->disc : 0;
        double allowed = limit + (radius > 0 && from > -(radius - level) - limit ? narrowest->height(radius) : 0);
        bool reached = o.from_outline(p.x, p.t, radius) <= -limit;
        double want = std::isfinite(o.bottom) ? o.bottom : 0;  // through holes are judged down to the axis
        if (p.height <= want + allowed) continue;
        if (reached) note(of[k].left, p.height - want, p);
        else of[k].corners = std::max(of[k].corners, p.height - want);
      }
      if (!in_any && !in_waste(p.x) && p.height < p.skin - limit) note(outside, p.skin - p.height, p);
    });
    tell_at(proof, outside, "proof.joint-side", "outside every joint the cutter goes into the part by ", "look at the joint's place, its width and the cutter's", direction);
    for (std::size_t k = 0; k < here.size(); ++k) {
      JointCheck check{here[k].id, of[k].touched, of[k].deep.amount, of[k].touched ? of[k].left.amount : 0, of[k].touched ? of[k].corners : 0};
      if (of[k].touched) {
        tell_at(proof, of[k].deep, "proof.joint-floor", "'" + check.id + "' is too deep by ", "look at its depth and the face it is measured from", direction);
        tell_at(proof, of[k].left, "proof.joint-left", "'" + check.id + "' is not cut out: what stands there is ", "a pass is missing; make the program again", direction);
      }
      proof.joints.push_back(std::move(check));
    }
  }

  // How low the other openings have the wood there. A bore through its seat's middle has not touched the seat, nor a mortise over the far end of
  // a bolt's hole the hole: another program, or the bench, may have to cut them.
  static double explained_without(const std::vector<Opening>& here, std::size_t k, const PlanePoint& p) {
    double low = p.skin;
    for (std::size_t other = 0; other < here.size(); ++other) {
      if (other != k && here[other].from_outline(p.x, p.t) < 0) low = std::min(low, here[other].bottom);
    }
    return low;
  }

  static void note(Worst& worst, double amount, const PlanePoint& p) {
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
  const shape::Blank& blank_;
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
  }
  const auto chosen = cutters_for(paths, cutters);
  if (!chosen) return chosen.failure();
  for (std::size_t k = 0; k < paths.size(); ++k) {
    const motion::Path& path = paths[k];
    const shop::Cutter* of = (*chosen)[k];
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
    JointJudge judge(jointed, blank, machine, settings);
    if (auto done = judge.run(works, proof, stop); !done) return done.failure();
  } catch (const std::bad_alloc&) {
    return fail("proof.too-much", "the check needs more memory than this computer has", "cut fewer joints with one program");
  }
  return proof;
}

Result<Proof> prove_joints(std::string_view program_text, const shape::Part& jointed, const shape::Blank& blank,
                           const std::vector<shop::Cutter>& cutters, const shop::Machine& machine, const Settings& settings, std::stop_token stop) {
  auto read = read_text(program_text, machine);
  if (!read) return read.failure();
  auto proof = prove_joint_paths(read->paths, jointed, blank, cutters, machine, settings, stop);
  if (!proof) return proof;
  proof->text_sha256 = sha256(program_text);
  proof->findings.insert(proof->findings.end(), read->warnings.begin(), read->warnings.end());
  return proof;
}

}  // namespace pommel::proof
