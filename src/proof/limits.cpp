#include "proof/limits.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kRounding = 1.02;     // feed words have few decimals; a program that is more than this off is not written
constexpr double kWordRounding = 1e-3; // mm: coordinates are written with three decimals
constexpr double kFar = std::numeric_limits<double>::infinity();

// Collects breaks of one limit.
struct Breaks {
  std::size_t count = 0, worst_move = 0;
  double worst = 0, value = 0;

  void take(double over, double at_value, std::size_t move) {
    if (!(over > 0)) return;
    ++count;
    if (over <= worst) return;
    worst = over;
    value = at_value;
    worst_move = move;
  }
};

class Checker {
 public:
  explicit Checker(const motion::Path& path) : path_(path) {}

  /// `before` + the worst value + `after`; adds the place and how many more there are.
  void add(const Breaks& breaks, std::string id, const std::string& before, int decimals, const std::string& after,
           std::string remedy) {
    if (breaks.count == 0) return;
    Finding finding;
    finding.id = std::move(id);
    finding.line = breaks.worst_move < path_.moves.size() ? path_.moves[breaks.worst_move].line : 0;
    finding.stage = stage_of(path_, breaks.worst_move);
    finding.message = before + format_number(breaks.value, decimals) + after;
    std::string where = line_and_pass(finding.line, finding.stage);
    if (!where.empty()) finding.message += ", " + where;
    if (breaks.count > 1) finding.message += " (" + std::to_string(breaks.count) + " moves in all, this is the worst)";
    finding.remedy = std::move(remedy);
    findings.push_back(std::move(finding));
  }

  void add_plain(std::string id, std::string message, std::string remedy) {
    findings.push_back({Severity::error, std::move(id), std::move(message), std::move(remedy), 0, {}});
  }

  std::vector<Finding> findings;

 private:
  const motion::Path& path_;
};

std::string number(double v) { return format_number(v, 3); }

void check_travel(const motion::Path& path, const shop::Machine& machine, Checker& checker) {
  Breaks x, y, z;
  double a_low = path.start.a, a_high = path.start.a;
  auto look = [&](const motion::Position& p, std::size_t move) {
    if (machine.x_max > machine.x_min) {
      x.take(std::max(machine.x_min - p.x, p.x - machine.x_max) - kWordRounding, p.x, move);
    }
    if (machine.has_free_y() && machine.y_max > machine.y_min) {
      y.take(std::max(machine.y_min - p.y, p.y - machine.y_max) - kWordRounding, p.y, move);
    }
    if (machine.z_max > machine.z_min) {
      z.take(std::max(machine.z_min - p.z, p.z - machine.z_max) - kWordRounding, p.z, move);
    }
    a_low = std::min(a_low, p.a);
    a_high = std::max(a_high, p.a);
  };
  look(path.start, 0);
  for (std::size_t i = 0; i < path.moves.size(); ++i) look(path.moves[i].to, i);
  checker.add(x, "proof.travel", "x goes to ", 3,
              " mm, beyond the machine's travel from " + number(machine.x_min) + " to " + number(machine.x_max) + " mm",
              "move the piece on the machine or shorten the run-up");
  checker.add(y, "proof.travel", "y goes to ", 3,
              " mm, beyond the machine's travel from " + number(machine.y_min) + " to " + number(machine.y_max) + " mm",
              "cut that joint at the bench");
  checker.add(z, "proof.travel", "z goes to ", 3,
              " mm, beyond the machine's travel from " + number(machine.z_min) + " to " + number(machine.z_max) + " mm",
              "take a thinner blank or another cutter length");
  double turns = (a_high - a_low) / kTurn;
  if (machine.rotary_limit_turns > 0 && turns > machine.rotary_limit_turns) {
    checker.add_plain("proof.turns", "the rotary needs " + number(turns) + " turns and has " + number(machine.rotary_limit_turns),
                      "cut back and forth instead of on and on");
  }
}

void check_feed(const motion::Path& path, const shop::Machine& machine, Checker& checker) {
  Breaks feed, x, y, z, rotary;
  motion::Position from = path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Move& move = path.moves[i];
    double dx = move.to.x - from.x, dy = move.to.y - from.y, dz = move.to.z - from.z, da = move.to.a - from.a;
    from = move.to;
    if (move.rapid || !(move.minutes > 0)) continue;
    auto look = [&](Breaks& breaks, double speed, double most) {
      if (most > 0) breaks.take(speed - most * kRounding, speed, i);
    };
    look(feed, std::hypot(dx, dy, dz) / move.minutes, machine.feed_max);
    look(x, std::fabs(dx) / move.minutes, machine.rapid_x);
    look(y, std::fabs(dy) / move.minutes, machine.rapid_y);
    look(z, std::fabs(dz) / move.minutes, machine.rapid_z);
    look(rotary, std::fabs(da) / kTurn / move.minutes, machine.rapid_rotary);
  }
  const char* slower = "lower the feed";
  checker.add(feed, "proof.feed", "a feed of ", 0, " mm/min, the machine's most is " + number(machine.feed_max), slower);
  checker.add(x, "proof.feed", "x is asked to go ", 0, " mm/min and can go " + number(machine.rapid_x), slower);
  checker.add(y, "proof.feed", "y is asked to go ", 0, " mm/min and can go " + number(machine.rapid_y), slower);
  checker.add(z, "proof.feed", "z is asked to go ", 0, " mm/min and can go " + number(machine.rapid_z), slower);
  checker.add(rotary, "proof.feed", "the rotary is asked to turn ", 1, " turns/min and can turn " + number(machine.rapid_rotary),
              slower);
}

void check_spindle(const motion::Path& path, const shop::Cutter& cutter, const shop::Machine& machine, Checker& checker) {
  if (!(path.rpm > 0)) {
    checker.add_plain("proof.speed", "the spindle's speed is not set", "give the cutter a speed");
  } else if (machine.max_rpm > 0 && path.rpm > machine.max_rpm) {
    checker.add_plain("proof.speed", "the spindle is asked for " + number(path.rpm) + " rpm and has " + number(machine.max_rpm),
                      "take a lower speed for this cutter");
  } else if (cutter.rpm > 0 && path.rpm > cutter.rpm * kRounding) {
    checker.add_plain("proof.speed", "the program runs cutter '" + cutter.id + "' at " + number(path.rpm) + " rpm, it is meant for " +
                      number(cutter.rpm), "take the cutter's speed");
  }
  if (!path.cutter.empty() && path.cutter != cutter.id) {
    checker.add_plain("proof.wrong-cutter", "the program is for cutter '" + path.cutter + "', the check is for '" + cutter.id + "'",
                      "check with the cutter that the program names");
  }
}

// How near a part of the cutter of this radius, beginning `bottom` above the tip, comes to what stands at the blank's ends.
void check_ends(const motion::Path& path, const shape::Blank& blank, const shop::Machine& machine, const shop::Cutter& cutter,
                Checker& checker) {
  struct Round {
    double radius, bottom;
  };
  std::vector<Round> rounds{{cutter.diameter / 2, 0}, {cutter.shank_diameter / 2, cutter.flute_length}};
  if (cutter.shank_length > 0) {
    rounds.push_back({cutter.collet_diameter / 2, cutter.shank_length});
    rounds.push_back({cutter.holder_diameter / 2, cutter.shank_length + cutter.collet_length});
  }
  Breaks chuck, centre;
  motion::Position from = path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Position& to = path.moves[i].to;
    double low = std::min(from.x, to.x), high = std::max(from.x, to.x), z = std::min(from.z, to.z);
    for (const Round& round : rounds) {
      FreeRange free = free_range(blank, machine, round.radius);
      double at_head = free.low - low - kWordRounding, at_foot = high - free.high - kWordRounding;
      double chuck_over = machine.head_at_chuck ? at_head : at_foot, centre_over = machine.head_at_chuck ? at_foot : at_head;
      if (z + round.bottom < machine.jaw_swing) chuck.take(chuck_over, machine.head_at_chuck ? low : high, i);
      if (z + round.bottom < machine.tailstock_top) centre.take(centre_over, machine.head_at_chuck ? high : low, i);
    }
    from = to;
  }
  const char* remedy = "leave more waste at that end of the blank, or begin farther away from it";
  checker.add(chuck, "proof.chuck", "the cutter comes too near to the chuck: x ", 2, " mm", remedy);
  checker.add(centre, "proof.chuck", "the cutter comes too near to the tail centre: x ", 2, " mm", remedy);
}

void check_blank(const shape::Blank& blank, const shop::Machine& machine, Checker& checker) {
  bool square = blank.section == shape::Blank::Section::square;
  double across = square ? blank.size * std::numbers::sqrt2 : blank.size;
  if (machine.max_swing > 0 && across > machine.max_swing) {
    checker.add_plain("proof.swing", "the blank swings " + number(across) + " mm and the machine " + number(machine.max_swing),
                      "take a thinner blank or another machine");
  }
  if (machine.max_between_centres > 0 && blank.length() > machine.max_between_centres) {
    checker.add_plain("proof.swing", "the blank is " + number(blank.length()) + " mm long and the machine takes " +
                      number(machine.max_between_centres), "cut the waste shorter or take another machine");
  }
}

}  // namespace

std::vector<Finding> limit_findings(const motion::Path& path, const shape::Blank& blank, const shop::Cutter& cutter,
                                    const shop::Machine& machine) {
  Checker checker(path);
  check_travel(path, machine, checker);
  check_feed(path, machine, checker);
  check_spindle(path, cutter, machine, checker);
  check_ends(path, blank, machine, cutter, checker);
  check_blank(blank, machine, checker);
  return std::move(checker.findings);
}

std::string stage_of(const motion::Path& path, std::size_t index) {
  for (const motion::Stage& stage : path.stages) {
    if (index >= stage.first && index - stage.first < stage.count) return stage.name;
  }
  return {};
}

double feed_minutes(const motion::Path& path) {
  double sum = 0;
  for (const motion::Move& move : path.moves) {
    if (!move.rapid) sum += move.minutes;
  }
  return sum;
}

double rapid_minutes(const motion::Path& path, const shop::Machine& machine) {
  double sum = 0;
  motion::Position from = path.start;
  auto takes = [](double way, double speed) { return speed > 0 ? std::fabs(way) / speed : 0; };
  for (const motion::Move& move : path.moves) {
    if (move.rapid) {
      sum += std::max({takes(move.to.x - from.x, machine.rapid_x), takes(move.to.y - from.y, machine.rapid_y), takes(move.to.z - from.z, machine.rapid_z),
                       takes((move.to.a - from.a) / kTurn, machine.rapid_rotary)});
    }
    from = move.to;
  }
  return sum;
}

FreeRange free_range(const shape::Blank& blank, const shop::Machine& machine, double radius) {
  double jaws = machine.jaw_swing > 0 ? machine.chuck_grip + machine.keep_out + radius : -kFar;
  double centre = machine.tailstock_top > 0 ? machine.centre_grip + machine.keep_out + radius : -kFar;
  return machine.head_at_chuck ? FreeRange{blank.x0 + jaws, blank.x1 - centre} : FreeRange{blank.x0 + centre, blank.x1 - jaws};
}

std::string line_and_pass(int line, const std::string& stage) {
  std::string text;
  if (line > 0) text = "line " + std::to_string(line);
  if (!stage.empty()) text += (text.empty() ? "pass '" : ", pass '") + stage + "'";
  return text;
}

std::string line_and_pass(const Spot& spot, std::size_t files) {
  const std::string text = line_and_pass(spot.line, spot.stage);
  return files > 1 && !text.empty() ? "file " + std::to_string(spot.file + 1) + ", " + text : text;
}

}  // namespace pommel::proof
