#include "frame/lamp.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/text.h"
#include "frame/choice.h"
#include "frame/hands.h"
#include "frame/kinds.h"
#include "frame/plan.h"
#include "frame/slice.h"
#include "frame/stretch.h"
#include "shape/ring.h"

namespace pommel::frame {
namespace {

using shape::Part;
using shape::Side;

constexpr double kSame = 1e-6;      // mm
constexpr double kStation = 0.25;   // mm between the sections that are measured
constexpr double kBetweenLamps = 100;

constexpr std::array<std::string_view, 3> kWays{"bored", "ploughed", "stacked"};
constexpr std::array<std::string_view, 2> kExits{"base", "column"};

void check_numbers(const Lamp& lamp, Findings& findings) {
  MeasureCheck check("lamp's", findings);
  check.positive("height", lamp.height);
  check.positive("base's width", lamp.base_width);
  check.positive("base's thickness", lamp.base_thickness);
  check.positive("foot tenon's length", lamp.foot_tenon);
  check.positive("foot tenon's diameter", lamp.foot_tenon_diameter);
  check.positive("bore", lamp.bore);
  check.not_negative("pipe's clearance", lamp.pipe_clearance);
  check.not_negative("seat's diameter", lamp.seat_diameter);
  check.not_negative("seat's depth", lamp.seat_depth);
  check.not_negative("waste at the head", lamp.waste_head);
  check.not_negative("waste at the foot", lamp.waste_foot);
  check.not_negative("relief", lamp.relief);
  check.not_negative("least wall", lamp.least_wall);
  check.not_negative("drill's wander", lamp.drill_wander);
  if (lamp.drill_wander > 0.1)
    findings.error("frame.measure-out-of-range", "the lamp's drill wanders by more than a tenth of its depth", "give what the shop's drill does, as 0.004");
  if (lamp.way != BoreWay::ploughed) check.positive("drill's reach", lamp.drill_reach);
  if (lamp.way == BoreWay::stacked) {
    check.positive("sections' tenon length", lamp.section_tenon);
    check.positive("sections' tenon diameter", lamp.section_tenon_diameter);
  }
  if (lamp.cord_exit == CordExit::column) {
    check.positive("cord hole's diameter", lamp.cord_diameter);
    check.positive("cord hole's height", lamp.cord_height);
  }
  const auto count = [&](const std::string& what, int value, int least) {
    if (value < least || value > 100)
      findings.error("frame.measure-out-of-range", std::to_string(value) + " " + what, "give " + std::to_string(least) + " to 100");
  };
  count("lamps", lamp.lamps, 1);
  count("spares", lamp.spares, 0);
}

void check_fit(const Lamp& lamp, Findings& findings) {
  if (const LampPipe* pipe = lamp_pipe(lamp.pipe); !pipe) {
    findings.error("frame.lamp-pipe", "'" + printable(lamp.pipe) + "' is no pipe that is known here", "one of: " + listed(lamp_pipe_words()));
  } else if (pipe->diameter > 0 && lamp.bore < pipe->diameter + lamp.pipe_clearance - kSame) {
    findings.error("frame.lamp-pipe",
                   "a bore of " + findings.mm(lamp.bore) + " does not take the pipe, " + findings.mm(pipe->diameter) + " thick, with " +
                       findings.mm(lamp.pipe_clearance) + " to spare",
                   "bore it " + findings.mm(pipe->diameter + lamp.pipe_clearance) + " or wider");
  }
  const auto tenon = [&](const std::string& name, double diameter) {
    if (diameter <= lamp.bore + kSame)
      findings.error("frame.lamp-tenon", "the " + name + " is " + findings.mm(diameter) + " thick, and the bore through it " + findings.mm(lamp.bore),
                     "make the tenon thicker, or the bore narrower");
  };
  tenon("foot tenon", lamp.foot_tenon_diameter);
  if (lamp.way == BoreWay::stacked) tenon("sections' tenon", lamp.section_tenon_diameter);
  if (lamp.foot_tenon > lamp.base_thickness + kSame)
    findings.error("frame.lamp-tenon",
                   "the foot tenon is " + findings.mm(lamp.foot_tenon) + " long, and the base " + findings.mm(lamp.base_thickness) + " thick",
                   "make the tenon shorter, or the base thicker");
  if (lamp.base_thickness >= lamp.height)
    findings.error("frame.measure-out-of-range", "the base is as thick as the lamp is high", "give the lamp another height");
}

double least_radius(const Part& part, double x) { return std::min(shape::ring_at(part, x, Side::before).least(), shape::ring_at(part, x, Side::after).least()); }

class LampJoiner {
 public:
  LampJoiner(const Lamp& lamp, const Part& column, const LengthFormat& shown) : lamp_(lamp), column_(column), shown_(shown), findings_(shown) {}

  Result<Set> join() {
    if (auto sound = check_lamp(lamp_, shown_); !sound.ok()) return sound.failure();
    check_column();
    if (findings_.any_errors()) return Failure(findings_.errors());
    auto divided = sections(lamp_, column_, shown_);
    if (!divided.ok()) return divided.failure();
    turned_ = std::move(divided).value();
    for (std::size_t i = 0; i < turned_.size(); ++i) joint(i);
    if (findings_.any_errors()) return Failure(findings_.errors());
    for (int lamp = 0; lamp < lamp_.lamps; ++lamp) add_lamp(lamp);
    for (int i = 1; i <= lamp_.spares; ++i) add_spares(i);
    add_base();
    sort_into_kinds(set_, "the twist of a pair runs both ways");
    note_the_rest();
    set_.notes = findings_.notes();
    return std::move(set_);
  }

 private:
  void check_column() {
    for (const Diagnostic& one : shape::problems(column_)) findings_.error(one.id, "the column: " + one.message, one.remedy);
    const double length = column_length(lamp_);
    if (std::abs(column_.length - length) > kSame) {
      findings_.error("frame.column-length",
                      "the column is " + findings_.mm(column_.length) + " long, and the lamp's height makes it " + findings_.mm(length),
                      "let its outline fill the length that is left");
      return;
    }
    if (!is_pin(column_, lamp_.foot_tenon_diameter, length - lamp_.foot_tenon, length))
      findings_.error("frame.column-foot",
                      "the column does not end in a tenon " + findings_.mm(lamp_.foot_tenon) + " long and " + findings_.mm(lamp_.foot_tenon_diameter) +
                          " thick",
                      "end its outline with that pin");
  }

  bool last(std::size_t i) const { return i + 1 == turned_.size(); }

  std::string name_of(std::size_t i) const { return section_name(i, turned_.size()); }
  std::string id_of(std::size_t i) const {
    const std::string id = section_id(i, turned_.size());
    return id.empty() ? id : "-" + id;
  }

  // how far from its line a drill may be at x
  double wander(const Part& part, double x) const {
    if (lamp_.way == BoreWay::ploughed) return 0;
    const double from_head = x + lamp_.waste_head, from_foot = part.length - x + lamp_.waste_foot;
    return lamp_.drill_wander * (lamp_.from_both_ends ? std::min(from_head, from_foot) : from_head);
  }

  void joint(std::size_t i) {
    Part part = turned_[i];
    check_reach(i, part.length);
    part.axial_bores.push_back({"way", lamp_.bore, 0, part.length});
    if (i == 0 && lamp_.seat_diameter > 0 && lamp_.seat_depth > 0) part.axial_bores.push_back({"seat", lamp_.seat_diameter, 0, lamp_.seat_depth});
    if (!last(i)) {
      const double depth = lamp_.section_tenon + lamp_.relief;
      part.axial_bores.push_back({"socket", lamp_.section_tenon_diameter, part.length - depth, part.length});
    }
    if (last(i) && lamp_.cord_exit == CordExit::column) add_cord_hole(part);
    measure_walls(i, part);
    if (!findings_.any_errors())
      for (const Diagnostic& one : shape::problems(part)) findings_.error(one.id, "the " + name_of(i) + ": " + one.message, one.remedy);
    jointed_.push_back(std::move(part));
  }

  void check_reach(std::size_t i, double length) {
    if (lamp_.way == BoreWay::ploughed) return;
    const double most = lamp_.drill_reach * (lamp_.from_both_ends ? 2 : 1), waste = lamp_.waste_head + lamp_.waste_foot;
    if (length + waste <= most + kSame) return;
    findings_.error("frame.drill-short",
                    "the " + name_of(i) + " is " + findings_.mm(length) + " long" + (waste > 0 ? " and its blank's waste " + findings_.mm(waste) : "") + ", and the drill reaches " + findings_.mm(most) +
                        (lamp_.from_both_ends ? " from both ends together" : " from one end"),
                    lamp_.way == BoreWay::stacked ? "divide it once more" : "stack it from sections, or plough and glue it");
  }

  // a bore's depth counts from its face's plane, also where the round has taken the face away
  static double from_face_to_axis(const Part& part, double x, double phi) {
    for (const shape::Face& face : part.faces)
      if (std::abs(face.phi - phi) < 1e-9 && std::isfinite(face.d.value(x))) return face.d.value(x);
    return shape::radius_at(part, x, phi);
  }

  void add_cord_hole(Part& part) {
    const double x = part.length - lamp_.foot_tenon - lamp_.cord_height, half = lamp_.cord_diameter / 2;
    const double back = std::numbers::pi;  // face C looks to the back
    if (x - half < 0 || lamp_.cord_height < half) {
      findings_.error("frame.cord-hole",
                      "the cord's hole, " + findings_.mm(lamp_.cord_diameter) + " wide at " + findings_.mm(lamp_.cord_height) +
                          " above the base, runs into the base or leaves the section",
                      "set it higher, or let the cord leave through the base");
      return;
    }
    part.bores.push_back({"cord", "cord", back, x, 0, lamp_.cord_diameter, from_face_to_axis(part, x, back), 0, 0});
  }

  void measure_walls(std::size_t i, const Part& part) {
    JointReport report;
    report.least_wall = std::numeric_limits<double>::infinity();
    double at = 0;
    std::string which;
    for (const shape::AxialBore& bore : part.axial_bores) {
      const bool way = bore.id == "way";
      const int steps = std::max(1, static_cast<int>(std::ceil((bore.x1 - bore.x0) / kStation)));
      for (int k = 0; k <= steps; ++k) {
        const double x = bore.x0 + (bore.x1 - bore.x0) * k / steps;
        const double wall = least_radius(part, x) - bore.diameter / 2 - (way ? wander(part, x) : 0);
        if (wall >= report.least_wall) continue;
        report.least_wall = wall;
        at = x;
        which = bore.id;
      }
    }
    const std::string where = " round the " + which + " at " + findings_.mm(at) + " from the " + name_of(i) + "'s head";
    if (report.least_wall <= kSame)
      findings_.error("frame.bore-breaks-out",
                      (which == "way" && wander(part, at) > 0 ? "with a drill's wander of " + findings_.mm(wander(part, at)) + " no" : "no") +
                          std::string(" wood is left") + where,
                      "make the column thicker there, the bore narrower, or plough and glue it");
    else if (report.least_wall < lamp_.least_wall - kSame)
      findings_.warning("frame.thin-wall",
                        "only " + findings_.mm(report.least_wall) + " of wood are left" + where + ", less than the " + findings_.mm(lamp_.least_wall) +
                            " asked for",
                        "make the column thicker there, or the bore narrower");
    report.member = "column-1" + id_of(i);
    report.text = name_of(i) + ": least wall " + findings_.mm(report.least_wall) + where +
                  (wander(part, at) > 0 && which == "way" ? ", a drill's wander of " + findings_.mm(wander(part, at)) + " taken off" : "");
    set_.joints.push_back(std::move(report));
  }

  void add_lamp(int number) {
    double top = lamp_.height;
    const bool mirror = lamp_.mirrored_pair && number % 2 == 1;
    for (std::size_t i = 0; i < jointed_.size(); ++i) {
      Member member;
      member.id = "column-" + std::to_string(number + 1) + id_of(i);
      const std::string lamp = lamp_.lamps == 1 ? "the lamp" : "lamp " + std::to_string(number + 1);
      member.place = jointed_.size() == 1 ? lamp : name_of(i) + " of " + lamp;
      member.label = name_of(i) + (lamp_.lamps == 1 ? "" : ", " + lamp);
      member.noun = jointed_.size() == 1 ? "column" : "section";
      member.piece = i;
      member.part = mirror ? shape::mirrored(jointed_[i]) : jointed_[i];
      const double tenon = i == 0 ? 0 : lamp_.section_tenon;
      member.stand = {{number * (lamp_.base_width + kBetweenLamps), 0, top + tenon}, 0};
      top -= member.part.length - tenon;
      set_.members.push_back(std::move(member));
    }
  }

  // of a mirrored pair so many of each hand, of every section that winds
  void add_spares(int number) {
    for (std::size_t i = 0; i < turned_.size(); ++i) {
      const bool both = lamp_.mirrored_pair && lamp_.lamps > 1 && winds(turned_[i]);
      add_spare(i, turned_[i], number, "");
      if (both) add_spare(i, shape::mirrored(turned_[i]), number, "mirrored");
    }
  }

  // `hand`: "mirrored" or ""
  void add_spare(std::size_t i, const Part& part, int number, const std::string& hand) {
    Member spare;
    spare.id = "spare-" + std::to_string(number) + id_of(i) + (hand.empty() ? "" : "-" + hand);
    spare.label = "spare " + name_of(i) + " " + std::to_string(number) + (hand.empty() ? "" : ", " + hand);
    spare.noun = turned_.size() == 1 ? "column" : "section";
    spare.place = "spare";
    spare.piece = i;
    spare.part = part;
    spare.spare = true;
    set_.members.push_back(std::move(spare));
  }

  void add_base() {
    Rail base;
    base.id = "base";
    base.label = base.noun = "base";
    base.quantity = lamp_.lamps;
    base.shoulder_length = base.overall_length = base.depth = lamp_.base_width;
    base.thickness = lamp_.base_thickness;
    if (lamp_.foot_tenon > 0) base.holes.push_back({"socket for the column's foot", lamp_.foot_tenon_diameter, lamp_.foot_tenon});
    if (lamp_.bore > 0) base.holes.push_back({"way for the cord", lamp_.bore, lamp_.base_thickness});
    base.from = base.to = set_.members.front().id;
    base.start = {-lamp_.base_width / 2, 0, lamp_.base_thickness / 2};
    base.end = {lamp_.base_width / 2, 0, lamp_.base_thickness / 2};
    set_.rails.push_back(std::move(base));
  }

  void note_the_rest() {
    const std::string ends = lamp_.from_both_ends ? "from both ends" : "from the head";
    switch (lamp_.way) {
      case BoreWay::bored:
        findings_.note("frame.bore-first", "bore the blank " + findings_.mm(lamp_.bore) + " " + ends +
                                               " before it is turned, and plug both ends for the centres; knock the plugs out afterwards");
        break;
      case BoreWay::ploughed:
        findings_.note("frame.bore-first", "mill the blank as two halves, run a groove " + findings_.mm(lamp_.bore / 2) + " deep along the middle of each with a round-nosed cutter " +
                                               findings_.mm(lamp_.bore) + " wide, and glue them; plug both ends for the centres. The glue line runs through the centres: "
                                               "let it cure wholly, and keep clear of it at the first run");
        break;
      case BoreWay::stacked:
        findings_.note("frame.bore-first", "bore each section's blank " + findings_.mm(lamp_.bore) + " " + ends +
                                               " before it is turned, plug both ends for the centres; bore the sockets after turning, on the same centres");
        break;
    }
    findings_.note("frame.cord-ways", "cord ways are bushed and smooth wherever a cord passes or leaves; wiring, holder and plug are the work of a "
                                      "licensed person");
    if (const LampPipe* pipe = lamp_pipe(lamp_.pipe); pipe->diameter > 0)
      findings_.note("frame.rod", "a rod of " + std::string(pipe->id) + " pipe, " + findings_.mm(pipe->diameter) + " outside (" + std::string(pipe->source) +
                                      "), through column and base is " + findings_.mm(lamp_.height) + " long and what its nuts and the holder take");
  }

  const Lamp& lamp_;
  const Part& column_;
  LengthFormat shown_;
  Findings findings_;
  std::vector<Part> turned_, jointed_;
  Set set_;
};

}  // namespace

const std::vector<LampPipe>& lamp_pipes() {
  static const std::vector<LampPipe> pipes = {
      {"1/8 IP", "nominal pipe size 1/8, ASME B1.20.1, from memory", 0.405 * kInch}, {"M10x1", "ISO 261, by its name", 10}, {"none", "", 0}};
  return pipes;
}

const LampPipe* lamp_pipe(std::string_view id) {
  const auto& pipes = lamp_pipes();
  const auto found = std::find_if(pipes.begin(), pipes.end(), [&](const LampPipe& one) { return one.id == id; });
  return found == pipes.end() ? nullptr : &*found;
}

std::vector<std::string> lamp_pipe_words() {
  std::vector<std::string> words;
  for (const LampPipe& one : lamp_pipes()) words.emplace_back(one.id);
  return words;
}

std::string section_name(std::size_t section, std::size_t of) {
  const std::string id = section_id(section, of);
  return id.empty() ? "column" : section > 0 && section + 1 < of && of > 3 ? "section " + id : id + " section";
}

std::string section_id(std::size_t section, std::size_t of) {
  if (of == 1) return "";
  if (section == 0) return "upper";
  if (section + 1 == of) return "lower";
  return of == 3 ? "middle" : std::to_string(section + 1);
}

std::vector<std::string> bore_way_words() { return as_list(kWays); }
std::vector<std::string> cord_exit_words() { return as_list(kExits); }
std::string_view word(BoreWay way) { return word_of(kWays, way); }
std::string_view word(CordExit exit) { return word_of(kExits, exit); }
std::optional<BoreWay> bore_way(std::string_view word) { return choice_of<BoreWay>(kWays, word); }
std::optional<CordExit> cord_exit(std::string_view word) { return choice_of<CordExit>(kExits, word); }

double column_length(const Lamp& lamp) { return lamp.height - lamp.base_thickness + lamp.foot_tenon; }

Result<Done> check_lamp(const Lamp& lamp, const LengthFormat& shown) {
  Findings findings(shown);
  check_numbers(lamp, findings);
  if (!findings.any_errors()) check_fit(lamp, findings);
  if (findings.any_errors()) return Failure(findings.errors());
  return Done{};
}

Result<std::vector<Part>> sections(const Lamp& lamp, const Part& column, const LengthFormat& shown) {
  Findings findings(shown);
  if (lamp.way != BoreWay::stacked) {
    if (lamp.divided_at.empty()) return std::vector<Part>{column};
    return fail("frame.divided", "the column is not stacked, but places are given to divide it at", "say `stacked`, or leave them out");
  }
  if (lamp.divided_at.empty()) return fail("frame.divided", "a stacked column needs places to be divided at", "say where one section ends and the next begins");
  double before = 0;
  for (const double x : lamp.divided_at) {
    if (!(x > before + lamp.section_tenon) || !(x < column.length - lamp.foot_tenon - kSame))
      findings.error("frame.divided",
                     "the column cannot be divided at " + findings.mm(x) + " from its head: places grow from head to foot, more than a tenon apart, "
                     "and end above the foot tenon",
                     "give the places in that order");
    for (const shape::Twist& twist : column.twists)
      if (x > twist.x0 + kSame && x < twist.x1 - kSame)
        findings.error("frame.divided", "the column cannot be divided at " + findings.mm(x) + " from its head, inside a twist", "divide it beside the twist");
    before = x;
    if (x > 0 && x < column.length && least_radius(column, x) <= lamp.section_tenon_diameter / 2 + kSame)
      findings.error("frame.lamp-tenon",
                     "at " + findings.mm(x) + " from its head the column is " + findings.mm(2 * least_radius(column, x)) +
                         " thick, no thicker than the sections' tenon of " + findings.mm(lamp.section_tenon_diameter),
                     "divide it where it is thicker, or make the tenon thinner");
  }
  if (findings.any_errors()) return Failure(findings.errors());
  std::vector<Part> parts;
  double from = 0;
  for (std::size_t i = 0; i <= lamp.divided_at.size(); ++i) {
    const double to = i < lamp.divided_at.size() ? lamp.divided_at[i] : column.length;
    Part part = slice(column, from, to);
    if (i > 0) part = with_pin_at_head(part, lamp.section_tenon, lamp.section_tenon_diameter);
    parts.push_back(std::move(part));
    from = to;
  }
  return parts;
}

Result<Set> join_lamp(const Lamp& lamp, const Part& column, const LengthFormat& shown) { return LampJoiner(lamp, column, shown).join(); }

}  // namespace pommel::frame
