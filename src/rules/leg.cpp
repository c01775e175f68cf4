#include "rules/leg.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "rules/joinery.h"
#include "rules/section.h"

namespace pommel::rules {
namespace {

using shape::Part;
using shape::Side;

// Between the closest stations lies at most half a millimetre: a curve that thins by more than a hundredth within it would
// have a radius under 3 mm, and such a curve has its own knots.
constexpr double kStation = 0.5;

std::vector<double> stations(const Part& part, double from, double to) {
  std::vector<double> at{from, to};
  for (const shape::Piece& piece : part.outline.pieces) at.insert(at.end(), {piece.x0, piece.x1});
  for (const shape::Face& face : part.faces) {
    for (const shape::Piece& piece : face.d.pieces) at.insert(at.end(), {piece.x0, piece.x1});
  }
  const int steps = static_cast<int>(std::min((to - from) / kStation, 1e5));
  for (int i = 1; i < steps; ++i) at.push_back(from + (to - from) * i / steps);
  std::erase_if(at, [&](double x) { return x < from || x > to; });
  std::sort(at.begin(), at.end());
  return at;
}

std::string element_at(const Part& part, double x) {
  for (const shape::ElementMark& mark : part.elements) {
    if (x >= mark.x0 && x <= mark.x1) return mark.label;
  }
  return {};
}

Thin section_at(const Part& part, double x, Side side) {
  const double round = part.outline.value(x, side);
  const double flat = shape::least_face_distance(part, x, side);
  Thin thin{x, 2 * std::min(round, flat), false, element_at(part, x)};
  thin.square = part.faces.size() == 4 && round >= std::numbers::sqrt2 * flat - 1e-9;
  return thin;
}

// the thinner of both sides; profiles end at the part's ends, where only one side has wood
Thin section_at(const Part& part, double x) {
  if (x <= part.outline.start()) return section_at(part, x, Side::after);
  if (x >= part.outline.end()) return section_at(part, x, Side::before);
  const Thin before = section_at(part, x, Side::before), after = section_at(part, x, Side::after);
  return after.thickness < before.thickness ? after : before;
}

Section section_of(const Thin& thin) { return thin.square ? Section::square : Section::round; }

Diagnostic note(Severity severity, std::string id, std::string message, std::string remedy) {
  Diagnostic one;
  one.severity = severity;
  one.id = std::move(id);
  one.message = std::move(message);
  one.remedy = std::move(remedy);
  return one;
}

// the station where (free length) / W is greatest
void find_weakest(const Part& leg, double held, double push, LegReport& report) {
  for (const double x : stations(leg, held, leg.length)) {
    const Thin here = section_at(leg, x);
    const double stress =
        bending_stress(moment_at_root(push, leg.length - x), section_modulus(section_of(here), here.thickness));
    if (stress > report.stress) {
      report.stress = stress;
      report.weakest = here;
    }
  }
}

void add_notes(double free_length, const shop::Wood& wood, double push, const LengthFormat& shown, LegReport& report) {
  report.notes.push_back(note(
      Severity::note, "rules.thinnest",
      "the leg is thinnest at " + described(report.thin, shown) + "; a push of " + format_number(push, 1) +
          " N at the foot stresses it most where it is " + described(report.weakest, shown) + ": " +
          format_fixed(report.stress, 2) + " MPa, " + format_fixed(100 * report.share_of_mor, 1) +
          " % of the average bending strength of clear " + wood.label,
      {}));
  if (report.slenderness > 50) {
    report.notes.push_back(note(Severity::warning, "rules.slender-leg",
                                "below the rails the leg is " + format_fixed(report.slenderness, 1) +
                                    " times as long as it is thick at its thinnest",
                                "make the thinnest part at least " + format_length(free_length / 50, shown) + " thick"));
  }
  if (report.share_of_mor > 1.0 / 3) {
    report.notes.push_back(note(Severity::warning, "rules.thin-leg",
                                "the push uses " + format_fixed(100 * report.share_of_mor, 1) +
                                    " % of the wood's average bending strength at " + described(report.weakest, shown),
                                "make the leg thicker there, or choose a stronger wood"));
  }
}

}  // namespace

Thin thinnest(const Part& part, double from, double to) {
  const double start = std::clamp(from, 0.0, part.length), end = std::clamp(to, start, part.length);
  Thin best = section_at(part, start);
  for (const double x : stations(part, start, end)) {
    const Thin here = section_at(part, x);
    if (here.thickness < best.thickness) best = here;
  }
  return best;
}

std::string described(const Thin& thin, const LengthFormat& shown) {
  return format_length(thin.thickness, shown) + (thin.square ? " square" : " thick") + " at " +
         format_length(thin.x, shown) + " from the head" + (thin.element.empty() ? "" : " (" + thin.element + ")");
}

// A load at a makes the moment F x (l - a)/l at each x before it, F a (l - x)/l behind it: none of them more than F x (l - x)/l, what the load makes
// when it stands at x itself. So one look at each section with the load upon it finds the worst of all places and sections.
Stressed worst_under_load(const Part& part, double from, double to, double force) {
  Stressed worst;
  const double length = to - from;
  for (const double x : stations(part, from, to)) {
    const Thin here = section_at(part, x);
    const double moment = force * (x - from) * (to - x) / length;
    const double stress = bending_stress(moment, section_modulus(section_of(here), here.thickness));
    if (stress <= worst.stress) continue;
    worst = {here, stress};
  }
  return worst;
}

Result<LegReport> leg_as_bar(const Part& leg, double held, const shop::Wood& wood, double push, const LengthFormat& shown) {
  if (leg.outline.pieces.empty() || !(held >= 0 && held < leg.length) || !std::isfinite(push)) {
    return fail("rules.leg", "the leg cannot be judged: it is held at " + format_number(held, 3) + " mm of its " +
                                 format_number(leg.length, 3) + " mm",
                "the rails must end above the foot");
  }
  if (!(wood.mor_mpa > 0) || !(wood.moe_mpa > 0)) {
    return fail("rules.leg", "the wood '" + wood.id + "' has no bending strength and stiffness to judge the leg by",
                "give its modulus of rupture and of elasticity");
  }
  LegReport report;
  const double free_length = leg.length - held;
  report.thin = thinnest(leg, held, std::max(held, leg.length - kFootEase));
  if (!(report.thin.thickness > 0)) return fail("rules.leg", "the leg has no thickness at " + described(report.thin, shown));
  find_weakest(leg, held, push, report);
  report.share_of_mor = report.stress / wood.mor_mpa;
  report.sway = deflection(Held::cantilever, push, free_length, wood.moe_mpa,
                           second_moment(section_of(report.thin), report.thin.thickness));
  report.slenderness = free_length / report.thin.thickness;
  add_notes(free_length, wood, push, shown, report);
  return report;
}

}  // namespace pommel::rules
