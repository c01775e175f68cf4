#include "rules/piece.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "rules/joinery.h"
#include "rules/leg.h"
#include "rules/section.h"
#include "rules/wood.h"

namespace pommel::rules {
namespace {

std::string percent(double fraction) { return format_number(100 * fraction, 0) + " %"; }
std::string small(double mm) { return format_number(mm, 2) + " mm"; }  // movements are less than any fraction of an inch that is read off a rule

double thickest_round(const shape::Part& part) {
  double most = 0;
  for (const shape::Piece& piece : part.outline.pieces)
    if (piece.kind != shape::Piece::Kind::clear) most = std::max(most, 2 * piece.greatest());
  return most;
}

// The lower end of the lowest mortise, where the piece is held; 0 without any.
double held_at(const shape::Part& part) {
  double held = 0;
  for (const shape::Mortise& mortise : part.mortises) held = std::max(held, mortise.x1);
  return held;
}

void add_movement(const std::string& label, double square, double round, const shop::Wood& wood, const shop::Room& room, const Season& season, const LengthFormat& shown,
                  PieceReport& report) {
  const double change = season.damp - season.dry;
  report.square_movement = square * wood.c_tangential * change;
  report.lines.push_back(label + ": between " + percent(room.driest) + " and " + percent(room.dampest) + " humidity at " + format_number(room.celsius, 0) + " C its wood holds " +
                         format_number(season.dry, 1) + " to " + format_number(season.damp, 1) + " % moisture (Wood Handbook, Eq. 4-5); its square of " + format_length(square, shown) +
                         " moves " + small(report.square_movement) + " along the rings and " + small(square * wood.c_radial * change) + " across them (Eq. 13-2: D C dM, C_T " +
                         format_number(wood.c_tangential, 5) + ", C_R " + format_number(wood.c_radial, 5) + ")");
  report.out_of_round = round * std::abs(wood.c_tangential - wood.c_radial) * change;
  report.lines.push_back(label + ": turned at one end of that, its thickest round, " + format_length(round, shown) + ", is " + small(report.out_of_round) +
                         " out of round at the other: D (C_T - C_R) dM");
}

void add_column(const std::string& label, const shape::Part& part, const Thin& thin, const shop::Wood& wood, const LengthFormat& shown, PieceReport& report) {
  report.slenderness = part.length / thin.thickness;
  report.buckling = euler_load(part.length, wood.moe_mpa, second_moment(thin.square ? Section::square : Section::round, thin.thickness));
  report.lines.push_back(label + ": were it " + format_length(thin.thickness, shown) + " thick all along, as at " + format_length(thin.x, shown) + " from the head" +
                         (thin.element.empty() ? "" : " (" + thin.element + ")") + ", pinned at both ends, it would buckle under " + format_number(report.buckling / 1000, 1) +
                         " kN (Euler: pi2 E I / L2, E " + format_number(wood.moe_mpa, 0) + " MPa); it is " + format_number(report.slenderness, 1) +
                         " times as long as thick (50 is the limit of the National Design Specification for columns, from memory)");
}

}  // namespace

Result<double> moisture_in_air(double humidity, double celsius) {
  if (!(humidity >= 0 && humidity <= 0.95) || !(celsius >= 0 && celsius <= 60))
    return fail("rules.humidity", "air of " + format_number(100 * humidity, 1) + " % at " + format_number(celsius, 1) + " C is outside what the formula covers",
                "give 0 to 95 % and 0 to 60 C");
  const double t = celsius, w = 349 + 1.29 * t + 0.0135 * t * t, k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const double k1 = 6.27 - 0.00938 * t - 0.000303 * t * t, k2 = 1.91 + 0.0407 * t - 0.000293 * t * t, kh = k * humidity;
  return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh));
}

Result<Season> season_of(const shop::Room& room) {
  const auto dry = moisture_in_air(room.driest, room.celsius), damp = moisture_in_air(room.dampest, room.celsius);
  if (!dry.ok()) return dry.failure();
  if (!damp.ok()) return damp.failure();
  if (const auto within = width_change(1, 0, *dry, *damp); !within.ok()) return within.failure();
  return Season{*dry, *damp};
}

Result<PieceReport> report_on(const shape::Part& jointed, const std::string& label, double square, const shop::Wood& wood, const shop::Room& room, const LengthFormat& shown) {
  const auto season = season_of(room);
  if (!season.ok()) return season.failure();
  PieceReport report;
  add_movement(label, square, std::min(thickest_round(jointed), square), wood, room, *season, shown, report);
  const double held = held_at(jointed);
  const Thin thin = thinnest(jointed, held, std::max(held, jointed.length - kFootEase));
  if (!(thin.thickness > 0)) return fail("rules.leg", "'" + label + "' has no thickness at " + format_length(thin.x, shown) + " from the head");
  add_column(label, jointed, thin, wood, shown, report);
  if (held <= 0 || held >= jointed.length) return report;
  auto bar = leg_as_bar(jointed, held, wood, kSidePush, shown);
  if (!bar.ok()) return bar.failure();
  report.push_share = bar->share_of_mor;
  report.lines.push_back(label + ": held down to " + format_length(held, shown) + " and pushed sideways with " + format_number(kSidePush, 0) + " N at the foot, it is stressed most at " +
                         format_length(bar->weakest.x, shown) + ": " + format_number(bar->stress, 2) + " MPa (F l / W), " + format_number(100 * bar->share_of_mor, 1) +
                         " % of the average bending strength of clear " + wood.label + "; it gives " + small(bar->sway) + " at most (F l3 / 3 E I)");
  for (Diagnostic& note : bar->notes)
    if (note.severity == Severity::warning) report.warnings.push_back(std::move(note));
  return report;
}

Result<std::string> rail_movement(const std::string& label, double tenon_width, const shop::Wood& wood, const shop::Room& room, const LengthFormat& shown) {
  const auto season = season_of(room);
  if (!season.ok()) return season.failure();
  return label + ": its tenon, " + format_length(tenon_width, shown) + " wide, moves " + small(tenon_width * wood.c_tangential * (season->damp - season->dry)) +
         " across the grain in a mortise that does not (Eq. 13-2)";
}

std::string tenon_bond(const std::string& label, double width, double length, const LengthFormat& shown) {
  return label + ": both cheeks of the tenon, " + format_length(width, shown) + " x " + format_length(length, shown) + ", glue " + format_number(2 * width * length / 100, 1) +
         " cm2; at " + format_number(kBondStrength, 0) + " MPa (assumed) at most " + format_number(withdrawal_bound(width, length, kBondStrength) / 1000, 1) + " kN of pull (2 w L tau) and " +
         format_number(moment_bound(width, length, kBondStrength) / 1000, 0) + " N m of racking (tau J / r)";
}

double glue_up_bond(int lines, double width, double length) { return lines * width * length; }

std::string glue_up_words(const std::string& label, int lines, double width, double length, const LengthFormat& shown) {
  return label + " blank: " + std::to_string(lines) + (lines == 1 ? " glue line" : " glue lines") + " of " + format_length(width, shown) + " x " + format_length(length, shown) + ", " +
         format_number(glue_up_bond(lines, width, length) / 100, 0) + " cm2 of bond";
}

}  // namespace pommel::rules
