#include "program/first_run.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "program/writer.h"

namespace pommel::program {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kRing = 15, kStem = 35, kArm = 16, kShortArm = 11, kHeight = 24;  // mm
constexpr double kLine = 75, kEnd = 110;                                           // mm: of the quarter-turn mark
constexpr double kLift = 5;                                                        // mm above the skin between marks

class Marker {
 public:
  Marker(const shop::Machine& machine, const Scrap& scrap, motion::Path& path) : machine_(machine), scrap_(scrap), path_(path) {}

  void begin(const std::string& name) { path_.stages.push_back({name, path_.moves.size(), 0}); }

  void go(double x, double a) {
    const double above = scrap_.diameter / 2 + kLift;
    rapid({now().x, 0, above, now().a});
    rapid({x, 0, above, a});
    feed({x, 0, scrap_.diameter / 2 - scrap_.depth, a});
  }
  void draw(double x, double a) { feed({x, 0, now().z, a}); }
  void rise() { rapid({now().x, 0, path_.start.z, now().a}); }
  void end() { path_.stages.back().count = path_.moves.size() - path_.stages.back().first; }

 private:
  motion::Position now() const { return path_.moves.empty() ? path_.start : path_.moves.back().to; }
  void rapid(const motion::Position& to) {
    if (!(to == now())) path_.moves.push_back({to, true, 0, 0});
  }
  void feed(const motion::Position& to) {
    const motion::Position from = now();
    const double turn = to.a - from.a, way = std::hypot(to.x - from.x, to.z - from.z, turn * scrap_.diameter / 2);
    const double speed = std::min(scrap_.feed, machine_.feed_max);
    const double least = std::max({std::abs(turn) / (2 * std::numbers::pi) / machine_.rapid_rotary,
                                   std::abs(to.x - from.x) / machine_.rapid_x, std::abs(to.z - from.z) / machine_.rapid_z});
    path_.moves.push_back({to, false, std::max(way / speed, least), 0});
  }

  const shop::Machine& machine_;
  const Scrap& scrap_;
  motion::Path& path_;
};

void mark_letter(Marker& marker, double radius) {
  const double top = -kHeight / 2 / radius, foot = kHeight / 2 / radius;
  marker.begin("letter F");
  marker.go(kStem, foot);
  marker.draw(kStem, top);
  marker.draw(kStem + kArm, top);
  marker.go(kStem, 0);
  marker.draw(kStem + kShortArm, 0);
  marker.rise();
  marker.end();
}

std::string paragraph(const std::string& first, std::string text) {
  std::string out = first;
  std::size_t width = first.size();
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    if (width + 1 + blank > 78) {
      out += "\n   ";
      width = 3;
    }
    out += " " + text.substr(0, blank);
    width += 1 + blank;
    text.erase(0, std::min(text.size(), blank + 1));
  }
  return out + "\n";
}

}  // namespace

Result<motion::Path> first_run(const shop::Machine& machine, const shop::Cutter& cutter, const Scrap& scrap) {
  const double radius = scrap.diameter / 2, clear = radius + std::max({20.0, machine.jaw_swing + 5 - radius, machine.tailstock_top + 5 - radius});
  if (!(scrap.diameter >= 30) || !(scrap.length >= kEnd + 10) || !(scrap.depth > 0 && scrap.depth < radius / 4) || !(scrap.feed > 0))
    return fail("program.scrap", "the marks need a round scrap of 30 mm diameter or more, " + format_number(kEnd + 10, 0) + " mm long or more",
                "take a larger one");
  if (scrap.diameter > machine.max_swing || scrap.length > machine.x_max || clear > machine.z_max || machine.z_min > radius - scrap.depth)
    return fail("program.scrap", "this scrap, or the height to cross it at, does not fit the machine", "take another one");
  if (!(machine.feed_max > 0 && machine.rapid_x > 0 && machine.rapid_z > 0 && machine.rapid_rotary > 0))
    return fail("program.machine", "machine '" + machine.id + "' does not state its speeds", "put them into the shop's list of machines");
  motion::Path path;
  path.cutter = cutter.id;
  path.rpm = machine.max_rpm > 0 ? std::min(cutter.rpm, machine.max_rpm) : cutter.rpm;
  path.start = {kRing, 0, clear, 0};
  Marker marker(machine, scrap, path);
  marker.begin("ring at the head");
  marker.go(kRing, -kQuarter / 2);
  marker.draw(kRing, kQuarter / 2);
  marker.end();
  mark_letter(marker, radius);
  marker.begin("quarter turn");
  marker.go(kLine, 0);
  marker.draw(kEnd, 0);
  marker.draw(kEnd, kQuarter);
  marker.draw(kLine, kQuarter);
  marker.rise();
  marker.end();
  return path;
}

std::string first_run_text(const shop::Machine& machine, const Scrap& scrap) {
  const std::string girth = format_number(std::numbers::pi * scrap.diameter / 4, 1), rotary = machine.rotary_word, x = machine.x_word, z = machine.z_word;
  std::string out = "FIRST RUN of '" + (machine.label.empty() ? machine.id : machine.label) + "'\n";
  out += "Turn a scrap round, " + format_number(scrap.diameter, 1) + " mm across, " + format_number(scrap.length, 0) + " mm free between chuck and centre.\n";
  if (!machine.setting_surface.empty())
    out += paragraph("Height:", "let the cutter touch " + machine.setting_surface + (machine.setting_gauge > 0 ? " with the gauge between" : "") + ", set " + z + " to " +
                                    format_number((machine.setting_height + machine.setting_gauge) / (machine.inches ? 25.4 : 1), 4) + ".");
  out += paragraph("Zero:", x + "0 at the head end, which is at the " + (machine.head_at_chuck ? "chuck; " : "tail centre; ") + z + "0 is the rotary axis. Run it once above the work first.");
  out += "\nRight, seen from above with the head end to the left:\n\n"
         "      |     |----          ___________\n"
         "      |     |---                      |  the quarter turn\n"
         "      |     |              ___________|  goes down\n\n";
  out += paragraph(" -", "an F that reads; the line at its left is 15 mm from the head end.");
  out += paragraph(" -", "the quarter turn between the two lines is " + girth + " mm long, a quarter of the girth: lay a strip of paper round.");
  out += paragraph(" -", "all marks are " + format_number(scrap.depth, 2) + " mm deep, everywhere the same.");
  out += "\nWrong, and why:\n";
  out += paragraph(" -", "F upside down and mirrored, its arms at the lower end: the sense of " + rotary + ". Change rotary_word in the machine's entry.");
  out += paragraph(" -", "F mirrored left to right, or the cutter sets off past the head end: " + x + " runs the other way. Change x_grows_towards.");
  out += paragraph(" -", "F turned by half a turn: both, or the head is at the other end (head_at).");
  out += paragraph(" -", std::string("the quarter turn longer or shorter than a quarter of the girth: ") +
                             (machine.rotary == shop::Machine::Rotary::degrees ? "the control's degrees (its steps a turn)." : "unrolled_diameter, or the control's steps a turn."));
  out += paragraph(" -", "the line not 15 mm from the end: the zero of " + x + ".");
  out += paragraph(" -", "marks too deep, too shallow or missing: the zero of " + z + " is not the axis; by as much as the depth is off.");
  out += paragraph(" -", "deep on one side, shallow on the other: the scrap does not run true.");
  out += paragraph(" -", "everything 25.4 times too large or small: the units.");
  return out;
}

}  // namespace pommel::program
