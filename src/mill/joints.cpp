#include "mill/joints.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "base/number.h"
#include "base/text.h"
#include "mill/feed.h"
#include "mill/setup.h"
#include "mill/time.h"
#include "shape/mortise.h"

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kSame = 1e-6;         // mm: sums of a maker's sizes in other units
constexpr double kSnap = 0.0025;       // mm: a way to either side shorter than this is not gone
constexpr double kChord = 0.002;       // mm that a chord may stay inside its arc
constexpr double kLeastRun = 1;        // mm: along a shorter way no ramp is worth its moves
constexpr double kLeastHelix = 0.5;    // mm of radius
constexpr double kOver = 2;            // mm over the wood where the quick way down ends
constexpr double kOverFloor = 0.5;     // mm over the floor of a hole where a peck begins anew
constexpr double kBreakThrough = 0.5;  // mm that a through bore goes on beyond the wood

std::string mm(double value) {
  return format_number(value, 2) + " mm";
}

std::string face_name(double phi) {
  const double quarters = phi / (kTurn / 4);
  const double whole = std::round(quarters);
  if (std::fabs(quarters - whole) < 1e-9 && whole >= 0 && whole < 4)
    return std::string("face ") + "ABCD"[static_cast<std::size_t>(whole)];
  return "the face at " + format_number(phi * 360 / kTurn, 2) + " degrees";
}

Diagnostic said(Severity severity, std::string id, std::string message, std::string remedy = {}) {
  Diagnostic d;
  d.severity = severity, d.id = std::move(id), d.message = std::move(message), d.remedy = std::move(remedy);
  return d;
}

Diagnostic warning(std::string id, std::string message, std::string remedy = {}) {
  return said(Severity::warning, std::move(id), std::move(message), std::move(remedy));
}

/// One pocket, square to its face. Heights are over the axis.
struct Task {
  std::string label;
  double x = 0, t = 0;           // its middle
  double along = 0, across = 0;  // sizes
  double corner = 0;             // radius; 0: square
  double top = 0, bottom = 0;    // top: of any wood that may stand over it
  std::optional<shop::Cutter> cutter;

  double narrow() const { return std::min(along, across); }
};

struct Joint {
  std::string id;
  double phi = 0, a = 0;
  std::vector<Task> tasks;  // wide and shallow first
  double weakens = 0;
};

/// What all joints share.
struct Bench {
  const shape::Part& part;
  const shape::Blank& blank;
  const shop::Machine& machine;
  const JointSettings& settings;
  double rise = 0;      // mm that the wood may stand over a face
  double farthest = 0;  // from the axis to any wood, with all tolerances
  double clear = 0;     // height of rapids
};

// ---- the part's joints as pockets ----

double top_of(const Bench& bench, const shape::Face& face, double x0, double x1) {
  double top = -bench.farthest;
  const double from = std::max(x0, face.d.start()), to = std::min(x1, face.d.end());
  for (const shape::Piece& piece : shape::pieces_within(face.d, from, to)) {
    if (piece.kind != shape::Piece::Kind::clear) top = std::max(top, piece.greatest());
  }
  return top + bench.rise;
}

/// How much of the piece's stiffness a pocket takes: the second moment of its section about the axis, times its length,
/// times the square of the bending moment of a piece held at both ends and loaded in the middle of the pocket. For the
/// order alone.
double weakening(const Bench& bench, const Task& task) {
  const double u = std::clamp((task.x - bench.blank.x0) / bench.blank.length(), 0.0, 1.0);
  const double moment = u * (1 - u), high = task.top, low = std::max(task.bottom, -bench.farthest);
  return task.across * (high * high * high - low * low * low) / 3 * task.along * moment * moment;
}

Task task_of(const Bench& bench, const shape::Face& face, std::string label, double x0, double x1, double t0, double t1,
             double corner, double bottom) {
  Task task;
  task.label = std::move(label);
  task.x = (x0 + x1) / 2, task.t = (t0 + t1) / 2;
  task.along = x1 - x0, task.across = t1 - t0;
  task.corner = std::min(corner, task.narrow() / 2);
  task.top = top_of(bench, face, x0, x1);
  task.bottom = bottom;
  return task;
}

Joint joint_of(const Bench& bench, const shape::Mortise& m) {
  const shape::Face& face = *shape::face_looking(bench.part, m.phi);
  const double plane = face.d.value((m.x0 + m.x1) / 2, shape::Side::after);
  const std::string name = "the mortise '" + m.id + "'";
  Joint joint{m.id, m.phi, m.phi, {}, 0};
  if (m.haunch_length > 0) {
    joint.tasks.push_back(task_of(bench, face, "the haunch of " + name, m.x0 - m.haunch_length, m.x1, m.t0, m.t1,
                                  m.corner_radius, plane - m.haunch_depth));
  }
  joint.tasks.push_back(task_of(bench, face, name, m.x0, m.x1, m.t0, m.t1, m.corner_radius, plane - m.depth));
  return joint;
}

Joint joint_of(const Bench& bench, const shape::Bore& b) {
  const shape::Face& face = *shape::face_looking(bench.part, b.phi);
  const double plane = face.d.value(b.x, shape::Side::after);
  const std::string name = "the bore '" + b.id + "'";
  Joint joint{b.id, b.phi, b.phi, {}, 0};
  auto hole = [&](const std::string& label, double diameter, double bottom) {
    const double r = diameter / 2;
    joint.tasks.push_back(task_of(bench, face, label, b.x - r, b.x + r, b.t - r, b.t + r, r, bottom));
  };
  if (b.seat_depth > 0) hole("the seat of " + name, b.seat_diameter, plane - b.seat_depth);
  const bool through = shape::goes_through(bench.part, b);
  hole(name, b.diameter,
       through ? plane - shape::thickness_at(bench.part, b) - bench.rise - kBreakThrough : plane - b.depth);
  return joint;
}

// ---- choosing the cutter ----

bool has_figures(const shop::Cutter& c) {
  for (double v : {c.diameter, c.flute_length, c.rpm, c.chip_load, c.max_depth_of_cut, static_cast<double>(c.flutes),
                   c.shank_diameter, c.shank_length}) {
    if (!std::isfinite(v) || !(v > 0) || v >= 1e6) return false;
  }
  for (double v : {c.collet_diameter, c.collet_length, c.holder_diameter, c.holder_length}) {
    if (!std::isfinite(v) || v < 0 || v >= 1e6) return false;
  }
  return c.diameter <= 500;
}

/// Why this cutter does not get down to the floor; nothing when it does.
std::optional<Diagnostic> out_of_reach(const Bench& bench, const Task& task, const shop::Cutter& c) {
  const double deep = task.top - task.bottom;
  if (c.flute_length < deep - kSame) {
    return warning("mill.joint-flutes",
                   task.label + " is left for the bench: it needs flutes " + mm(deep) + " long, and the cutter '" +
                       c.id + "' has " + mm(c.flute_length),
                   "add a cutter with longer flutes to the list");
  }
  auto too_low = [&](const char* what, double from_tip) -> std::optional<Diagnostic> {
    const double lacks = bench.farthest - (task.bottom + from_tip);
    if (lacks <= kSame) return std::nullopt;
    return warning("mill.joint-reach",
                   task.label + " is left for the bench: the " + what + " of '" + c.id + "' would come " + mm(lacks) +
                       " below the corners of the wood",
                   "let the cutter stand out of the collet by so much more, or take a longer one");
  };
  if (c.shank_diameter > c.diameter + kSame) {
    if (auto low = too_low("shank", c.flute_length)) return low;
  }
  return too_low("collet nut", c.shank_length);
}

bool has_room_for_a_ramp(const Task& task, const shop::Cutter& c, const JointSettings& settings);

/// Why this cutter does not come down into the wood; nothing when it does.
std::optional<Diagnostic> cannot_enter(const Bench& bench, const Task& task, const shop::Cutter& c) {
  if (c.plunges() || has_room_for_a_ramp(task, c, bench.settings)) return std::nullopt;
  return warning("mill.joint-plunge",
                 task.label + " is left for the bench: the cutter '" + c.id + "' does not go straight down, and there is no room for a ramp",
                 "add a cutter that plunges, or a narrower one, to the list");
}

/// Whether the cutter may be as wide as it is; `least_width`: of cutters that a machine without free Y may use.
bool fits(const Task& task, const shop::Cutter& c, bool corners, double least_width) {
  if (c.diameter > task.narrow() + kSame || c.diameter < least_width) return false;
  return !corners || task.corner <= 0 || c.diameter <= 2 * task.corner + kSame;
}

/// The widest that can cut the pocket, else the reason by the widest that fits it. `cutters`: widest first.
std::optional<Diagnostic> choose(const Bench& bench, Task& task, const std::vector<shop::Cutter>& cutters) {
  const bool free_y = bench.machine.has_free_y();
  if (!free_y && std::fabs(task.t) > kSame) {
    return warning("mill.joint-off-middle",
                   task.label + " is left for the bench: it lies " + mm(std::fabs(task.t)) +
                       " beside the middle of its face, and '" + bench.machine.id + "' has no free Y",
                   "cut it at the bench, or on a machine with a free Y");
  }
  const double least = free_y ? 0 : task.across - 2 * kSnap;
  std::optional<Diagnostic> reason;
  bool narrow_enough = false, as_wide = false;
  for (const shop::Cutter& c : cutters) {
    narrow_enough = narrow_enough || fits(task, c, false, 0);
    as_wide = as_wide || fits(task, c, false, least);
    if (!fits(task, c, true, least)) continue;
    auto why = out_of_reach(bench, task, c);
    if (!why) why = cannot_enter(bench, task, c);
    if (!why) {
      task.cutter = c;
      return std::nullopt;
    }
    if (!reason) reason = std::move(why);
  }
  if (reason) return reason;
  if (!narrow_enough) {
    return warning(
        "mill.joint-no-cutter",
        task.label + " is left for the bench: no flat cutter in the list is " + mm(task.narrow()) + " wide or less",
        "add a narrower flat cutter to the list");
  }
  if (!as_wide) {
    return warning("mill.joint-wedge",
                   task.label + " is left for the bench: '" + bench.machine.id +
                       "' has no free Y and no flat cutter of just " + mm(task.across) +
                       "; turning the piece to widen it would make a wedge",
                   "add a flat cutter of that width, or cut it at the bench");
  }
  return warning("mill.joint-corner",
                 task.label + " is left for the bench: no flat cutter that fits it is " + mm(2 * task.corner) +
                     " wide or less, as its corners of radius " + mm(task.corner) + " need",
                 "add a narrower flat cutter, or ask for square corners and chisel them");
}

/// A mortise and its haunch have one cutter, that of the deeper pocket: what gets down there gets down everywhere.
std::optional<Diagnostic> choose(const Bench& bench, Joint& joint, const std::vector<shop::Cutter>& cutters,
                                 bool mortise) {
  for (std::size_t i = joint.tasks.size(); i-- > 0;) {
    if (mortise && i + 1 < joint.tasks.size()) {
      joint.tasks[i].cutter = joint.tasks.back().cutter;
      // the face may lean up towards the haunch
      if (auto why = out_of_reach(bench, joint.tasks[i], *joint.tasks[i].cutter)) return why;
      if (auto why = cannot_enter(bench, joint.tasks[i], *joint.tasks[i].cutter)) return why;
    } else if (auto why = choose(bench, joint.tasks[i], cutters)) {
      return why;
    }
  }
  return std::nullopt;
}

// ---- cutting ----

struct Point {
  double x = 0, t = 0;
};

void add_corner(std::vector<Point>& ring, double x, double t, double r, double from) {
  const int chords =
      r > kSnap ? std::max(2, static_cast<int>(std::ceil(kTurn / 4 / (2 * std::acos(1 - std::min(1.0, kChord / r))))))
                : 0;
  for (int i = 0; i <= chords; ++i) {
    const double angle = from + (chords > 0 ? kTurn / 4 * i / chords : kTurn / 8);
    ring.push_back(chords > 0 ? Point{x + r * std::cos(angle), t + r * std::sin(angle)} : Point{x, t});
  }
}

/// A closed way about (0, 0): half sizes a, b, corners of radius r; a line or a point where they vanish. Conventional:
/// in the direction from +x to +t. Chords of the corners lie inside the arcs, so that the wall is never cut into.
std::vector<Point> ring_of(double a, double b, double r, bool climb) {
  a = a > kSnap ? a : 0, b = b > kSnap ? b : 0;
  if (a == 0 && b == 0) return {{0, 0}};
  if (a == 0 || b == 0) return {{-a, -b}, {a, b}};
  r = std::clamp(r, 0.0, std::min(a, b));
  std::vector<Point> ring{{0, -b}};
  auto corner = [&](double sx, double st, double from) {
    const double inward = r > kSnap ? r : 0;
    add_corner(ring, sx * (a - inward), st * (b - inward), r, from);
  };
  corner(1, -1, -kTurn / 4), corner(1, 1, 0), corner(-1, 1, kTurn / 4), corner(-1, -1, kTurn / 2);
  // a round has no straight between its corners: each point once, for a ramp needs a way from each to the next
  auto together = [](const Point& p, const Point& q) { return std::hypot(p.x - q.x, p.t - q.t) < 1e-9; };
  ring.erase(std::unique(ring.begin(), ring.end(), together), ring.end());
  if (together(ring.front(), ring.back())) ring.pop_back();
  if (climb) std::reverse(ring.begin() + 1, ring.end());
  return ring;
}

/// The way in the middle of the pocket along which the cutter sinks, a cycle about (0, 0): a line where it is long enough, a round where it is wide
/// enough, else one point: straight down.
std::vector<Point> entry_of(const Task& task, const shop::Cutter& cutter, const JointSettings& settings) {
  const double d = cutter.diameter, a = std::max(0.0, (task.along - d) / 2), b = std::max(0.0, (task.across - d) / 2), middle = std::min(a, b);
  if (2 * (std::max(a, b) - middle) >= kLeastRun) return ring_of(a - middle, b - middle, 0, settings.climb);
  const double helix = std::min(settings.step_over * d, middle - settings.finish);
  if (helix >= kLeastHelix) return ring_of(helix, helix, helix, settings.climb);
  return {{0, 0}};
}

bool has_room_for_a_ramp(const Task& task, const shop::Cutter& c, const JointSettings& settings) { return entry_of(task, c, settings).size() > 1; }

/// Writes the moves of one cutter's work.
class Hand {
 public:
  Hand(const Bench& bench, const shop::Cutter& cutter, motion::Path& path)
      : bench_(bench), cutter_(cutter), path_(path), speed_(cutting_speed(cutter, bench.machine)) {
    sideways_ = bench.machine.has_free_y() ? (bench.machine.x_towards_foot ? -1.0 : 1.0) : 0.0;
    plunge_ = speed_ * bench.settings.plunge_share;
    air_ = std::min(bench.machine.feed_max, bench.machine.rapid_z);
  }

  /// Cuts the pocket from the height `from`, above which its place is clear, and goes back up.
  void cut(const Task& task, double a, const std::string& face, double from) {
    x_ = task.x, t_ = bench_.machine.has_free_y() ? task.t : 0;
    const Ways ways = ways_of(task);
    const Point first = ways.entry.front();
    go_there(first, a, face);
    begin(task.label + ", " + face, true);
    feed(first, from + kOver, air_);
    feed(first, from, plunge_);
    const int layers = std::max(1, static_cast<int>(std::ceil((from - task.bottom) / cutter_.max_depth_of_cut - 1e-9)));
    for (int i = 1; i <= layers; ++i) {
      const double z = i == layers ? task.bottom : from + (task.bottom - from) * i / layers;
      sink(ways, z, from, i == layers);
      for (const auto& ring : ways.rings) run(ring, z);
    }
    if (!ways.rings.empty()) run(ways.rings.back(), task.bottom);
    feed({0, 0}, task.bottom, speed_);
    feed({0, 0}, bench_.clear, air_);
    end();
  }

 private:
  struct Ways {
    std::vector<Point> entry;               // a cycle; one point: straight down
    std::vector<std::vector<Point>> rings;  // from the middle outwards, the last to size
  };

  Ways ways_of(const Task& task) const {
    const double d = cutter_.diameter, apart = bench_.settings.step_over * d;
    const double a = std::max(0.0, (task.along - d) / 2), b = std::max(0.0, (task.across - d) / 2);
    const double corner = std::max(0.0, task.corner - d / 2), middle = std::min(a, b);
    const bool climb = bench_.settings.climb;
    Ways ways;
    ways.entry = entry_of(task, cutter_, bench_.settings);
    auto add = [&](double in) { ways.rings.push_back(ring_of(a - in, b - in, corner - in, climb)); };
    if (middle <= kSnap) {  // as wide as the cutter: the entry is all there is, but for a short way to both ends
      if (ways.entry.size() == 1 && std::max(a, b) > kSnap) add(0);
      return ways;
    }
    const double rough = middle - bench_.settings.finish;  // from the middle out to what the last ring takes
    const int count = rough > kSnap ? static_cast<int>(std::ceil(rough / apart)) : 0;
    if (count > 0 && ways.entry.size() != 2) add(middle);
    for (int i = 1; i <= count; ++i) add(middle - rough * i / count);
    add(0);
    return ways;
  }

  motion::Position now() const { return path_.moves.empty() ? path_.start : path_.moves.back().to; }

  motion::Position at(const Point& p, double z) const { return {x_ + p.x, sideways_ * (t_ + p.t) + 0.0, z, now().a}; }

  void feed(const Point& p, double z, double speed) {
    const motion::Position from = now(), to = at(p, z);
    const double way = std::hypot(to.x - from.x, to.y - from.y, to.z - from.z);
    here_ = p;
    if (way < 1e-9) return;
    path_.moves.push_back({to, false, std::max(way / speed, rapid_minutes(from, to, bench_.machine)), 0});
  }

  void rapid(const motion::Position& to) {
    if (!(to == now())) path_.moves.push_back({to, true, 0, 0});
  }

  /// At the clear height: the piece is turned in steps below half a turn, whose sense no control can mistake.
  void go_there(const Point& first, double a, const std::string& face) {
    motion::Position to = at(first, bench_.clear);
    if (path_.moves.empty()) {
      to.a = a;
      path_.start = to;
      here_ = first;
      return;
    }
    begin("to " + face, false);
    motion::Position turned = now();
    const double from = turned.a;
    const int steps = static_cast<int>(std::ceil(std::fabs(a - from) / (kTurn / 4) - 1e-9));
    for (int i = 1; i <= steps; ++i) {
      turned.a = i == steps ? a : from + (a - from) * i / steps;
      rapid(turned);
    }
    to.a = a;
    rapid(to);
    here_ = first;
    end();
  }

  /// Down to z, the middle of the pocket being clear down to where the cutter stands.
  void sink(const Ways& ways, double z, double from, bool last) {
    const std::vector<Point>& way = ways.entry;
    if (way.size() == 1) {
      feed(way[0], now().z, speed_);
      feed(way[0], z, plunge_);
      if (!ways.rings.empty() || last) return;
      feed(way[0], from + kOver, air_);  // a peck: the chips come out
      feed(way[0], z + kOverFloor, air_);
      return;
    }
    feed(way[0], now().z, speed_);
    const double ramp = cutter_.plunges() ? bench_.settings.ramp_angle : std::min(cutter_.ramp, bench_.settings.ramp_angle);
    const double fall = std::tan(ramp), speed = std::min(speed_, plunge_ / std::sin(ramp));
    std::size_t next = 0;
    while (now().z > z) {
      next = (next + 1) % way.size();
      const double run = std::hypot(way[next].x - here_.x, way[next].t - here_.t), height = now().z - z;
      if (run * fall <= height) {
        feed(way[next], now().z - run * fall, speed);
        continue;
      }
      const double share = height / (run * fall);
      feed({here_.x + share * (way[next].x - here_.x), here_.t + share * (way[next].t - here_.t)}, z, speed);
      feed(way[next], z, speed_);
    }
    for (std::size_t i = 0; i < way.size(); ++i) feed(way[(next + 1 + i) % way.size()], z, speed_);
  }

  void run(const std::vector<Point>& ring, double z) {
    for (const Point& p : ring) feed(p, z, speed_);
    feed(ring.front(), z, speed_);
  }

  void begin(const std::string& name, bool indexed) { path_.stages.push_back({name, path_.moves.size(), 0, indexed}); }
  void end() {
    motion::Stage& stage = path_.stages.back();
    stage.count = path_.moves.size() - stage.first;
    if (stage.count == 0) path_.stages.pop_back();
  }

  const Bench& bench_;
  shop::Cutter cutter_;
  motion::Path& path_;
  double speed_, plunge_ = 0, air_ = 0, sideways_ = 0;
  double x_ = 0, t_ = 0;
  Point here_;
};

// ---- the machine's limits ----

struct Holder {
  double face = 0, sense = 1, top = 0;
  const char* name = "";
};

std::array<Holder, 2> holders_of(const Bench& bench) {
  const shop::Machine& m = bench.machine;
  const bool head = m.head_at_chuck;
  auto grip = [&](bool chuck) { return chuck ? m.chuck_grip : m.centre_grip; };
  auto top = [&](bool chuck) { return chuck ? m.jaw_swing : m.tailstock_top; };
  auto name = [](bool chuck) { return chuck ? "chuck" : "tail centre"; };
  return {{{bench.blank.x0 + grip(head), 1, top(head), name(head)},
           {bench.blank.x1 - grip(!head), -1, top(!head), name(!head)}}};
}

/// mm that the cutter, its shank, its collet nut or what is above come nearer than the keep-out.
double too_near(const Holder& holder, const motion::Position& p, const shop::Cutter& c, double keep_out) {
  double most = 0;
  for (const auto& [radius, bottom] :
       {std::pair{c.diameter / 2, p.z}, std::pair{c.shank_diameter / 2, p.z + c.flute_length},
        std::pair{c.collet_diameter / 2, p.z + c.shank_length},
        std::pair{c.holder_diameter / 2, p.z + c.shank_length + c.collet_length}}) {
    if (bottom < holder.top) most = std::max(most, keep_out - (holder.sense * (p.x - holder.face) - radius));
  }
  return most;
}

std::optional<Diagnostic> off_limits(const Bench& bench, const Task& task, const motion::Path& path) {
  const shop::Machine& m = bench.machine;
  auto outside = [](double v, double low, double high) { return v < low - kSame || v > high + kSame; };
  auto look = [&](const motion::Position& p) -> std::optional<Diagnostic> {
    if (outside(p.x, m.x_min, m.x_max) || outside(p.z, m.z_min, m.z_max) ||
        (m.has_free_y() && outside(p.y, m.y_min, m.y_max))) {
      return warning("mill.joint-travel",
                     task.label + " is left for the bench: the cutter would have to go to x " + format_number(p.x, 2) +
                         ", y " + format_number(p.y, 2) + ", z " + format_number(p.z, 2) +
                         " mm, beyond the travel of '" + m.id + "'",
                     "shift the zero on the machine, or take another machine");
    }
    for (const Holder& holder : holders_of(bench)) {
      const double near = too_near(holder, p, *task.cutter, m.keep_out);
      if (near <= kSame) continue;
      return warning(
          "mill.joint-chuck",
          task.label + " is left for the bench: the cutter would come " + mm(near) + " too near to the " + holder.name,
          "leave so much more waste at that end");
    }
    return std::nullopt;
  };
  if (auto why = look(path.start)) return why;
  for (const motion::Move& move : path.moves) {
    if (auto why = look(move.to)) return why;
  }
  return std::nullopt;
}

std::optional<Diagnostic> off_limits(const Bench& bench, Joint& joint) {
  const double turns = bench.machine.rotary_limit_turns;
  if (turns > 0 && joint.a > turns * kTurn + 1e-9) joint.a = std::remainder(joint.a, kTurn);
  if (turns > 0 && std::fabs(joint.a) > turns * kTurn + 1e-9) {
    return warning("mill.joint-turns",
                   joint.tasks.back().label + " is left for the bench: the rotary of '" + bench.machine.id +
                       "' does not turn as far as " + face_name(joint.phi),
                   "chuck the piece another quarter turn on");
  }
  for (const Task& task : joint.tasks) {
    motion::Path alone;
    Hand(bench, *task.cutter, alone).cut(task, joint.a, face_name(joint.phi), task.top);
    if (auto why = off_limits(bench, task, alone)) return why;
  }
  return std::nullopt;
}

// ---- the plan ----

/// By face, the face whose joints weaken the piece least first, and so within it.
void put_in_order(std::vector<Joint>& joints) {
  auto same_face = [](const Joint& p, const Joint& q) {
    return std::fabs(std::remainder(p.phi - q.phi, kTurn)) <= shape::kSameDirection;
  };
  std::vector<std::pair<double, std::size_t>> keys;  // what the joint's whole face takes
  for (const Joint& joint : joints) {
    double sum = 0;
    for (const Joint& other : joints) sum += same_face(joint, other) ? other.weakens : 0;
    keys.push_back({sum, keys.size()});
  }
  std::stable_sort(keys.begin(), keys.end(), [&](const auto& p, const auto& q) {
    const Joint &a = joints[p.second], &b = joints[q.second];
    if (same_face(a, b)) return a.weakens < b.weakens;
    return p.first != q.first ? p.first < q.first : a.phi < b.phi;
  });
  std::vector<Joint> ordered;
  for (const auto& key : keys) ordered.push_back(std::move(joints[key.second]));
  joints = std::move(ordered);
}

/// A path for each cutter, in the order in which they are first wanted.
void cut_all(const Bench& bench, const std::vector<Joint>& joints, JointPlan& plan) {
  std::vector<std::string> ids;
  for (const Joint& joint : joints) {
    for (const Task& task : joint.tasks) {
      if (std::find(ids.begin(), ids.end(), task.cutter->id) == ids.end()) ids.push_back(task.cutter->id);
    }
  }
  for (const std::string& id : ids) {
    motion::Path path;
    path.cutter = id;
    for (const Joint& joint : joints) {
      std::optional<double> from;
      for (const Task& task : joint.tasks) {
        if (task.cutter->id != id) continue;
        path.rpm = revolutions(*task.cutter, bench.machine);
        Hand(bench, *task.cutter, path).cut(task, joint.a, face_name(joint.phi), from.value_or(task.top));
        from = task.bottom;
        plan.cuts.push_back({joint.id, task.label, id});
      }
    }
    plan.minutes += minutes(path, bench.machine);
    plan.paths.push_back(std::move(path));
  }
}

void explain(const Bench& bench, const std::vector<Joint>& joints, JointPlan& plan) {
  auto note = [&](std::string id, std::string message, std::string remedy = {}) {
    plan.notes.push_back(said(Severity::note, std::move(id), std::move(message), std::move(remedy)));
  };
  if (joints.empty()) return;
  std::vector<std::string> faces;
  for (const Joint& joint : joints) {
    if (faces.empty() || faces.back() != face_name(joint.phi)) faces.push_back(face_name(joint.phi));
  }
  note("mill.joint-order",
       "the joints are cut after the turning, on the same centres, while the square head is still whole: the turning "
       "cutter would otherwise meet holes; face by face, what weakens the piece least first, so that it stays stiff: " +
           listed(faces));
  for (const Joint& joint : joints) {
    const Task& task = joint.tasks.back();
    if (task.corner > 0) continue;
    note("mill.joint-chisel",
         task.label + " keeps corners of radius " + mm(task.cutter->diameter / 2) + " from the cutter '" +
             task.cutter->id + "'",
         "chisel them square");
  }
  if (bench.machine.lock.empty()) {
    note("mill.joint-no-brake",
         "'" + bench.machine.id +
             "' has no brake on its rotary: the motor alone holds the piece while it is cut beside the middle",
         "cut the first joint with half the depth of cut and look at its sides");
  }
}

std::optional<Failure> bad_settings(const JointSettings& s) {
  auto within = [](double v, double low, double high) { return std::isfinite(v) && v > low && v <= high; };
  if (within(s.step_over, 0, 0.45) && within(s.ramp_angle, 1e-3, 0.5) && within(s.plunge_share, 0, 1) &&
      std::isfinite(s.finish) && s.finish >= 0 && s.finish <= 5)
    return std::nullopt;
  return fail(
      "mill.settings",
      "a setting for the joints is out of its range: finish 0 to 5 mm, step over up to 0.45 of the cutter, ramp "
      "0.001 to 0.5 rad, plunge up to the cutting speed",
      "give settings within these");
}

/// Flat cutters with all their figures, widest first.
std::vector<shop::Cutter> flat_cutters(const std::vector<shop::Cutter>& cutters, JointPlan& plan) {
  std::vector<shop::Cutter> flat;
  for (const shop::Cutter& c : cutters) {
    if (c.form != shop::Cutter::Form::flat) continue;
    if (has_figures(c)) {
      flat.push_back(c);
      continue;
    }
    plan.notes.push_back(
        said(Severity::note, "mill.cutter",
             "the cutter '" + c.id + "' is left out for the joints: it lacks a figure, or one makes no sense",
             "give its diameter, flute length, shank, flutes, rpm, chip load and depth of cut"));
  }
  std::stable_sort(flat.begin(), flat.end(), [](const auto& p, const auto& q) { return p.diameter > q.diameter; });
  return flat;
}

void leave_ends(const shape::Part& part, JointPlan& plan) {
  for (const shape::AxialBore& b : part.axial_bores) {
    plan.bench.push_back(
        {b.id, warning("mill.joint-axial",
                       "the bore '" + b.id + "' along the axis is left for the bench: the centres hold the piece there",
                       "bore it before the turning as a hole for the centres, or afterwards")});
  }
  for (const shape::EndCut& e : part.end_cuts) {
    const std::string end = e.at_head ? "head" : "foot";
    plan.bench.push_back(
        {end, warning("mill.joint-end",
                      "the cut across the " + end + " is left for the bench: the piece hangs between its ends",
                      "saw it after the joints")});
  }
}

/// The part as the turning leaves it, without its treatments: they only take wood away, and no face of a joint has one.
shape::Part plain(const shape::Part& part) {
  shape::Part out = part;
  out.flutes.clear(), out.reedings.clear(), out.twists.clear();
  out.mortises.clear(), out.bores.clear(), out.axial_bores.clear(), out.end_cuts.clear();
  return out;
}

double farthest_of(const shape::Blank& blank, const shape::BlankTolerance& t) {
  const double half = blank.size / 2 + t.oversize;
  return (blank.section == shape::Blank::Section::square ? half * std::numbers::sqrt2 : half) + t.off_centre + t.bow;
}

/// Adds the joint to `joints`, or to the bench's list.
void sort_out(const Bench& bench, Joint joint, bool mortise, const std::vector<shop::Cutter>& flat, JointPlan& plan,
              std::vector<Joint>& joints) {
  auto why = choose(bench, joint, flat, mortise);
  if (!why) why = off_limits(bench, joint);
  if (why) return plan.bench.push_back({joint.id, *std::move(why)});
  for (const Task& task : joint.tasks) joint.weakens += weakening(bench, task);
  joints.push_back(std::move(joint));
}

}  // namespace

Result<JointPlan> plan_joints(const shape::Part& part, const shape::Blank& blank,
                              const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters,
                              const shop::Machine& machine, const JointSettings& settings, std::stop_token stop) {
  if (auto bad = bad_settings(settings)) return *bad;
  if (const auto found = shape::problems(part); !found.empty())
    return fail("mill.part", "the part '" + part.name + "' is not sound: " + found.front().message,
                found.front().remedy);
  JointPlan plan;
  const std::vector<shop::Cutter> flat = flat_cutters(cutters, plan);
  Bench bench{part, blank, machine, settings, 0, farthest_of(blank, tolerance), 0};
  if (!part.mortises.empty() || !part.bores.empty()) {
    if (!flat.empty()) {
      const auto setup = set_up(plain(part), blank, tolerance, flat.front(), machine);
      if (!setup.ok()) return setup.failure();
      bench.clear = setup->clear_height;
    }
    if (blank.section == shape::Blank::Section::square && blank.flats_finished)
      bench.rise = tolerance.oversize + tolerance.off_centre + tolerance.bow;
  }
  std::vector<Joint> joints;
  for (const shape::Mortise& m : part.mortises) {
    if (stop.stop_requested()) return fail("cancelled", "the joints were not planned to the end");
    sort_out(bench, joint_of(bench, m), true, flat, plan, joints);
  }
  for (const shape::Bore& b : part.bores) {
    if (stop.stop_requested()) return fail("cancelled", "the joints were not planned to the end");
    sort_out(bench, joint_of(bench, b), false, flat, plan, joints);
  }
  put_in_order(joints);
  cut_all(bench, joints, plan);
  explain(bench, joints, plan);
  leave_ends(part, plan);
  return plan;
}

}  // namespace pommel::mill
