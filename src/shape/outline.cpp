#include "shape/outline.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "shape/moulding.h"

namespace pommel::shape {
namespace {

// Diameters nearer than this are one diameter, mm: rounding of a formula, far below what shows.
constexpr double kSameDiameter = 1e-9;
// Fixed lengths without a share may miss the piece's length by this much, mm: sums of sizes in other units.
constexpr double kSumMiss = 1e-6;
constexpr double kShortest = 0.01;    // mm: shorter elements are slips of the pen
constexpr double kThinnest = 0.1;     // mm in diameter: anything less is cut through
constexpr double kLongest = 1 << 20;  // mm: places on the grid stay exact up to here

double on_grid(double mm) {
  return std::round(mm * 4294967296.0) / 4294967296.0;
}

std::string mm(double value) {
  return format_number(value, 3) + " mm";
}

bool is_square(const ElementSpec& spec) {
  return spec.kind == ElementKind::square;
}

// One element on its way to pieces.
struct Element {
  const ElementSpec* spec = nullptr;
  std::string name;   // "the bead 'ring'"
  double length = 0;  // mm, on the grid
  double x0 = 0, x1 = 0;
  std::optional<double> start, end;  // diameters, once known
  bool rises = false;                // a pommel before its square
};

class Builder {
 public:
  Builder(const std::vector<ElementSpec>& specs, double length, const StockSection& section)
      : length_(length), section_(section) {
    for (std::size_t i = 0; i < specs.size(); ++i)
      elements_.push_back({&specs[i], named(specs[i], i), 0, 0, 0, {}, {}, false});
  }

  Result<BuiltOutline> build() {
    check_frame();
    for (std::size_t i = 0; i < elements_.size(); ++i) check_spec(i);
    if (ok()) find_lengths();
    if (ok()) place_elements();
    if (!ok()) return Failure(std::move(found_));
    find_diameters();
    check_steps();
    if (!ok()) return Failure(std::move(found_));
    for (std::size_t i = 0; i < elements_.size(); ++i) draw(i);
    if (!ok()) return Failure(std::move(found_));
    return std::move(built_);
  }

 private:
  static std::string named(const ElementSpec& spec, std::size_t index) {
    std::string text = "the " + std::string(word_of(spec.kind));
    return text + (spec.label.empty() ? " (element " + std::to_string(index + 1) + ")" : " '" + spec.label + "'");
  }

  bool ok() const { return found_.empty(); }

  void report(const Element& e, const std::string& id, std::string message, std::string remedy = {}) {
    found_.push_back(fail(id, std::move(message), std::move(remedy), e.spec->place).reasons.front());
  }

  // ---- what was asked for

  void check_frame();
  void check_spec(std::size_t i);
  void check_numbers(const Element& e);
  void check_unused(const Element& e);
  void check_length_rule(const Element& e);
  void check_stations(const Element& e);
  void check_pommel(std::size_t i);

  // ---- lengths

  void find_lengths();
  void share_out(double left, double weights);
  void too_short(double fixed);
  void place_elements();
  double ball_length(const Element& e);

  // ---- diameters

  void find_diameters();
  std::optional<double> own_start(const Element& e) const;
  std::optional<double> inherited_start(std::size_t i) const;
  std::optional<double> found_end(std::size_t i) const;
  void check_steps();
  void join(std::size_t i);

  // ---- pieces

  void draw(std::size_t i);
  void draw_pommel(const Element& e, const Span& span, Pieces& out);
  void draw_bulge(const Element& e, const Span& span, Pieces& out);
  void draw_hollow(const Element& e, const Span& span, Pieces& out);
  void draw_between(const Element& e, const Span& span, Pieces& out);
  void draw_vase(const Element& e, const Span& span, Pieces& out);
  void check_turned(const Element& e, const Pieces& pieces);
  void mark(const Element& e, const Pieces& pieces);

  double length_;
  StockSection section_;
  std::vector<Element> elements_;
  std::vector<Diagnostic> found_;
  BuiltOutline built_;
};

void Builder::check_frame() {
  Element nobody;
  ElementSpec nowhere;
  nobody.spec = elements_.empty() ? &nowhere : elements_.front().spec;
  if (elements_.empty())
    report(nobody, "outline.empty", "the outline has no elements", "name at least one, from the head down");
  if (!std::isfinite(length_) || length_ < kShortest || length_ > kLongest) {
    report(nobody, "outline.number", "the piece's length is " + mm(length_),
           "state a length between 0.01 mm and a kilometre");
  }
  if (!(section_.flats >= kThinnest) || !(section_.corners >= section_.flats) || !std::isfinite(section_.corners)) {
    report(
        nobody, "outline.number",
        "the stock is " + mm(section_.flats) + " across the flats and " + mm(section_.corners) + " across the corners");
  }
}

void Builder::check_numbers(const Element& e) {
  auto check = [&](const std::optional<double>& value, const std::string& what) {
    if (!value) return;
    if (!std::isfinite(*value)) {
      report(e, "outline.number", e.name + ": its " + what + " is not a number");
    } else if (*value < kThinnest) {
      report(e, "outline.diameter", e.name + ": its " + what + " is " + mm(*value),
             "state a diameter of at least 0.1 mm");
    }
  };
  check(e.spec->start, "diameter at the start");
  check(e.spec->end, "diameter at the end");
  check(e.spec->greatest, "greatest diameter");
  check(e.spec->least, "least diameter");
}

// Fields by kind, as outline.h draws them: s start, e end, g greatest, l least, t stations and level ends.
std::string_view fields_of(ElementKind kind) {
  switch (kind) {
    case ElementKind::square:
      return "";
    case ElementKind::fillet:
    case ElementKind::cylinder:
    case ElementKind::pin:
      return "s";
    case ElementKind::torus:
      return "g";
    case ElementKind::pommel:
    case ElementKind::ovolo:
    case ElementKind::cyma_recta:
    case ElementKind::cyma_reversa:
    case ElementKind::taper:
      return "se";
    case ElementKind::bead:
    case ElementKind::entasis:
    case ElementKind::ball:
      return "seg";
    case ElementKind::cove:
    case ElementKind::scotia:
    case ElementKind::vee:
      return "sel";
    case ElementKind::vase:
      return "set";
  }
  return "";
}

void Builder::check_unused(const Element& e) {
  std::string_view known = fields_of(e.spec->kind);
  auto check = [&](bool set, char field, const std::string& what) {
    if (set && known.find(field) == std::string_view::npos) {
      report(e, "outline.unused", e.name + " has no " + what + " of its own", "leave it out");
    }
  };
  check(e.spec->start.has_value(), 's', "start diameter");
  check(e.spec->end.has_value(), 'e', "end diameter");
  check(e.spec->greatest.has_value(), 'g', "greatest diameter");
  check(e.spec->least.has_value(), 'l', "least diameter");
  check(!e.spec->stations.empty(), 't', "stations");
  check(e.spec->level_start || e.spec->level_end, 't', "level ends");
}

void Builder::check_length_rule(const Element& e) {
  const ElementSpec& spec = *e.spec;
  if (spec.kind == ElementKind::ball && spec.greatest) {
    if (spec.length || spec.share) {
      report(e, "outline.length", e.name + " has a diameter and a length: one follows from the other",
             "state one of them");
    } else if (!spec.start) {
      report(e, "outline.diameter",
             e.name + ": its length follows from its diameter and its ends, and it has no start diameter",
             "state the diameter where it begins");
    }
    return;
  }
  if (spec.length.has_value() == spec.share.has_value()) {
    report(e, "outline.length",
           e.name + (spec.length ? " has a length and a share" : " has neither a length nor a share"),
           "state one of them");
  } else if (spec.length && !(std::isfinite(*spec.length) && *spec.length >= kShortest && *spec.length <= kLongest)) {
    report(e, "outline.length", e.name + " is " + mm(*spec.length) + " long", "state a length of at least 0.01 mm");
  } else if (spec.share && !(std::isfinite(*spec.share) && *spec.share >= 1e-6 && *spec.share <= 1e6)) {
    report(e, "outline.length", e.name + " has a share of " + format_number(*spec.share, 6),
           "state a weight above 0, such as 1");
  }
}

void Builder::check_stations(const Element& e) {
  const auto& stations = e.spec->stations;
  double last = -1;
  for (const Station& station : stations) {
    if (!(station.at >= 0 && station.at <= 1) || !(station.at > last)) {
      report(e, "outline.stations", e.name + ": the station at " + format_number(station.at, 6) + " is out of order",
             "state places growing from 0 to 1");
      return;
    }
    if (!(station.diameter >= kThinnest) || !std::isfinite(station.diameter)) {
      report(e, "outline.stations",
             e.name + ": its diameter at " + format_number(station.at, 6) + " is " + mm(station.diameter),
             "state a diameter of at least 0.1 mm");
    }
    last = station.at;
  }
  if (stations.empty())
    return report(e, "outline.stations", e.name + " has no stations", "state the diameters that it passes, and where");
  if (stations.front().at == 0 && e.spec->start)
    report(e, "outline.stations", e.name + " has a station at 0 and a start diameter", "leave one out");
  if (stations.back().at == 1 && e.spec->end)
    report(e, "outline.stations", e.name + " has a station at 1 and an end diameter", "leave one out");
}

void Builder::check_pommel(std::size_t i) {
  Element& e = elements_[i];
  bool after = i > 0 && is_square(*elements_[i - 1].spec),
       before = i + 1 < elements_.size() && is_square(*elements_[i + 1].spec);
  if (after == before) {
    return report(e, "outline.place", e.name + (after ? " stands between two squares" : " stands beside no square"),
                  "a pommel joins one square to the round: put it right after or right before a square");
  }
  e.rises = before;
  if (e.rises ? e.spec->end.has_value() : e.spec->start.has_value()) {
    report(e, "outline.unused", e.name + " begins at the square's corners by itself",
           "state only the diameter at its round end");
  }
}

void Builder::check_spec(std::size_t i) {
  const Element& e = elements_[i];
  bool squared = is_square(*e.spec) || e.spec->kind == ElementKind::pommel;
  if (squared && section_.corners <= section_.flats)
    report(e, "outline.place", e.name + " needs a square, and the stock is round");
  check_numbers(e);
  check_unused(e);
  check_length_rule(e);
  if (e.spec->kind == ElementKind::vase) check_stations(e);
  if (e.spec->kind == ElementKind::pommel) check_pommel(i);
  if (e.spec->kind == ElementKind::pin) {
    if (i != 0 && i + 1 != elements_.size())
      report(e, "outline.place", e.name + " stands in the middle", "a pin is the first or the last element");
    if (!e.spec->start) report(e, "outline.diameter", e.name + " has no diameter");
  }
  if (e.spec->kind == ElementKind::torus && !e.spec->greatest)
    report(e, "outline.diameter", e.name + " has no greatest diameter: its crest");
}

// Both chords from the sphere's middle: sqrt(R² - (start/2)²) + sqrt(R² - (end/2)²).
double Builder::ball_length(const Element& e) {
  double r = *e.spec->greatest / 2, a = *e.spec->start / 2, b = e.spec->end.value_or(*e.spec->start) / 2;
  if (std::max(a, b) >= r) {
    report(e, "outline.diameter",
           e.name + ": its ends of " + mm(2 * a) + " and " + mm(2 * b) + " are not both thinner than its diameter of " +
               mm(2 * r));
    return 0;
  }
  return std::sqrt((r - a) * (r + a)) + std::sqrt((r - b) * (r + b));
}

void Builder::find_lengths() {
  double fixed = 0, weights = 0;
  for (Element& e : elements_) {
    if (e.spec->share) {
      weights += *e.spec->share;
      continue;
    }
    e.length = on_grid(e.spec->length ? *e.spec->length : ball_length(e));
    fixed += e.length;
  }
  if (!ok()) return;
  if (weights > 0) {
    double left = length_ - fixed;
    if (left < kShortest) return too_short(fixed);
    share_out(left, weights);
  } else if (fixed > length_ + kSumMiss) {
    too_short(fixed);
  } else if (fixed < length_ - kSumMiss) {
    report(elements_.back(), "outline.sum",
           "the piece is " + mm(length_) + " long, but its elements take " + mm(fixed) +
               " and none of them takes a share of the " + mm(length_ - fixed) + " left",
           "give at least one element a share instead of a length");
  }
}

void Builder::share_out(double left, double weights) {
  for (Element& e : elements_) {
    if (!e.spec->share) continue;
    e.length = on_grid(left * (*e.spec->share / weights));
    if (e.length < kShortest) {
      report(e, "outline.too-short", e.name + " gets " + mm(e.length) + " as its share of the " + mm(left) + " left",
             "make the piece longer, or its fixed parts shorter");
    }
  }
}

void Builder::too_short(double fixed) {
  std::vector<std::string> parts;
  for (const Element& e : elements_) {
    if (!e.spec->share) parts.push_back(e.name + " " + mm(e.length));
  }
  report(elements_.front(), "outline.too-short",
         "the piece is " + mm(length_) + " long, but its fixed parts alone take " + mm(fixed) + ": " + listed(parts),
         "make the piece longer, or shorten one of them");
}

// Places count from the head up to the last share, and from the foot after it, so that each fixed length is a difference that
// the grid holds exactly; the last share takes what lies between.
void Builder::place_elements() {
  std::size_t stretch = elements_.size() - 1;
  for (std::size_t i = 0; i < elements_.size(); ++i) {
    if (elements_[i].spec->share) stretch = i;
  }
  double x = 0;
  for (std::size_t i = 0; i < stretch; ++i) {
    elements_[i].x0 = x;
    x += elements_[i].length;
    elements_[i].x1 = x;
  }
  double foot = length_;
  for (std::size_t i = elements_.size(); i-- > stretch + 1;) {
    elements_[i].x1 = foot;
    foot -= elements_[i].length;
    elements_[i].x0 = foot;
  }
  elements_[stretch].x0 = x;
  elements_[stretch].x1 = foot;
}

// The start that an element gives by itself, without looking at the one before.
std::optional<double> Builder::own_start(const Element& e) const {
  const ElementSpec& spec = *e.spec;
  double l = e.x1 - e.x0;
  if (spec.kind == ElementKind::torus) return *spec.greatest - l;
  if (spec.kind == ElementKind::vase && !spec.stations.empty() && spec.stations.front().at == 0)
    return spec.stations.front().diameter;
  return spec.start;
}

std::optional<double> Builder::inherited_start(std::size_t i) const {
  const Element& e = elements_[i];
  if (i > 0 && !is_square(*elements_[i - 1].spec) && elements_[i - 1].end) return elements_[i - 1].end;
  // nothing to inherit: a half-round stands on its own crest or bottom
  double l = e.x1 - e.x0;
  if (e.spec->kind == ElementKind::bead && e.spec->greatest) return *e.spec->greatest - l;
  if ((e.spec->kind == ElementKind::cove || e.spec->kind == ElementKind::vee) && e.spec->least)
    return *e.spec->least + l;
  return std::nullopt;
}

std::optional<double> Builder::found_end(std::size_t i) const {
  const Element& e = elements_[i];
  if (e.spec->end) return e.spec->end;
  if (e.spec->kind == ElementKind::vase && e.spec->stations.back().at == 1) return e.spec->stations.back().diameter;
  switch (e.spec->kind) {
    case ElementKind::bead:
    case ElementKind::cove:
    case ElementKind::torus:
    case ElementKind::fillet:
    case ElementKind::cylinder:
    case ElementKind::ball:
    case ElementKind::vee:
    case ElementKind::pin:
      return e.start;
    default:
      break;
  }
  if (i + 1 == elements_.size() || is_square(*elements_[i + 1].spec)) return std::nullopt;
  std::optional<double> next = own_start(elements_[i + 1]);
  return next ? next : inherited_start(i + 1);  // e.end is still unknown: only the half-round rule can answer
}

void Builder::find_diameters() {
  for (std::size_t i = 0; i < elements_.size(); ++i) {
    Element& e = elements_[i];
    if (is_square(*e.spec)) {
      e.start = e.end = section_.flats;
      continue;
    }
    bool falls = e.spec->kind == ElementKind::pommel && !e.rises;
    e.start = falls ? section_.corners : own_start(e);
    if (!e.start) e.start = inherited_start(i);
    e.end = e.rises ? section_.corners : found_end(i);
    if (e.start && *e.start < kThinnest) {
      report(e, "outline.axis", e.name + " goes through the axis: it would begin at " + mm(*e.start) + " in diameter",
             "make it shorter, or its diameter larger");
    }
    if (!e.start)
      report(e, "outline.diameter",
             e.name + " does not say at which diameter it begins, and there is none to take over",
             "state its start diameter");
    if (!e.end)
      report(e, "outline.diameter", e.name + " does not say at which diameter it ends",
             "state its end diameter, or the start of the element after it");
  }
}

void Builder::check_steps() {
  for (std::size_t i = 1; i < elements_.size(); ++i) {
    Element &e = elements_[i], &before = elements_[i - 1];
    bool squared = is_square(*e.spec), was_squared = is_square(*before.spec);
    bool pommels = e.spec->kind == ElementKind::pommel || before.spec->kind == ElementKind::pommel;
    if ((squared && was_squared) || ((squared || was_squared) && pommels)) continue;
    if (before.end && e.start) join(i);
  }
}

// Holds a jump between element i and the one before against what was declared; takes rounding out of a join.
void Builder::join(std::size_t i) {
  Element &e = elements_[i], &before = elements_[i - 1];
  bool pinned = e.spec->kind == ElementKind::pin || before.spec->kind == ElementKind::pin;
  if (pinned) {
    const Element &pin = e.spec->kind == ElementKind::pin ? e : before, &body = &pin == &e ? before : e;
    double pin_d = *pin.start, body_d = &pin == &e ? *before.end : *e.start;
    if (pin_d > body_d + kSameDiameter) {
      report(
          pin, "outline.diameter",
          pin.name + " of " + mm(pin_d) + " is thicker than " + body.name + " of " + mm(body_d) + " on which it stands",
          "make the pin thinner");
    }
    return;
  }
  bool squared = is_square(*e.spec) || is_square(*before.spec);
  if (!squared && std::fabs(*e.start - *before.end) <= kSameDiameter) {
    e.start = before.end;
    return;
  }
  if (e.spec->step) return;
  std::string square_says = is_square(*before.spec) ? " square" : "",
              square_starts = is_square(*e.spec) ? " square" : "";
  report(e, "outline.step",
         before.name + " ends at " + mm(*before.end) + square_says + ", but " + e.name + " begins at " + mm(*e.start) +
             square_starts,
         squared ? "put a pommel between them, or say that the step is meant (step: yes)"
                 : "make the diameters meet, or say that the step is meant (step: yes)");
}

void Builder::draw_pommel(const Element& e, const Span& span, Pieces& out) {
  double neck = e.rises ? span.r0 : span.r1;
  if (neck >= section_.corners / 2 - kSameDiameter) {
    return report(e, "outline.reach",
                  e.name + " would leave the round at " + mm(2 * neck) +
                      ", as wide as the square's corners: " + mm(section_.corners),
                  "make its round end thinner");
  }
  switch (e.spec->cut) {
    case PommelCut::square:
      out.push_back(line_piece(span.x0, neck, span.x1, neck, span.element));
      break;
    case PommelCut::sloped:
      out.push_back(line_piece(span.x0, span.r0, span.x1, span.r1, span.element));
      break;
    case PommelCut::rounded:
      quarter(span, 1, out);
      break;
    case PommelCut::ogee:
      cyma(span, 1, out);
      break;
  }
}

void Builder::draw_bulge(const Element& e, const Span& span, Pieces& out) {
  double greater = std::max(span.r0, span.r1), l = span.length();
  bool alike = std::fabs(span.r1 - span.r0) <= kSameDiameter;
  if (!e.spec->greatest && !alike) return quarter(span, 1, out);
  if (!e.spec->greatest && e.spec->kind == ElementKind::entasis) {
    return report(e, "outline.diameter",
                  e.name + " begins and ends at " + mm(2 * greater) + " and has no greatest diameter to swell to",
                  "state its greatest diameter");
  }
  double crest = e.spec->greatest ? *e.spec->greatest / 2 : greater + l / 2;
  if (crest < greater - kSameDiameter || (alike && crest <= greater + kSameDiameter)) {
    return report(e, "outline.diameter",
                  e.name + ": its greatest diameter of " + mm(2 * crest) + " is not greater than its ends of " +
                      mm(2 * span.r0) + " and " + mm(2 * span.r1));
  }
  if (!crested(span, std::max(crest, greater), 1, out)) {
    report(e, "outline.overhang",
           e.name + " overhangs: it rises " + mm(crest - std::min(span.r0, span.r1)) + " over a length of " + mm(l) +
               ", more than a half-round",
           "make it longer, or its greatest diameter smaller");
  }
}

void Builder::draw_hollow(const Element& e, const Span& span, Pieces& out) {
  double smaller = std::min(span.r0, span.r1), l = span.length(), mean = (span.r0 + span.r1) / 2;
  bool alike = std::fabs(span.r1 - span.r0) <= kSameDiameter, cove = e.spec->kind == ElementKind::cove;
  if (cove && !e.spec->least && !alike) return quarter(span, -1, out);
  // without a bottom: half-round, two quarter rounds or a square groove: the depths of both ends together make the length
  double bottom = e.spec->least ? *e.spec->least / 2 : mean - l / 2;
  if (bottom > smaller - kSameDiameter && !(cove && !alike && bottom <= smaller)) {
    return report(e, "outline.diameter",
                  e.name + ": its least diameter of " + mm(2 * bottom) + " is not smaller than its ends of " +
                      mm(2 * span.r0) + " and " + mm(2 * span.r1),
                  e.spec->least ? "" : "state its least diameter, or make it longer");
  }
  if (bottom < kThinnest / 2) {
    return report(e, "outline.axis",
                  e.name + " goes through the axis: its bottom would be " + mm(2 * bottom) + " in diameter",
                  "make it shorter, or less deep");
  }
  if (e.spec->kind == ElementKind::vee) return vee(span, bottom, out);
  bool drawn = cove ? crested(span, bottom, -1, out) : scotia(span, bottom, out);
  if (!drawn) {
    report(e, "outline.overhang",
           e.name + " overhangs: it is " + mm(std::max(span.r0, span.r1) - bottom) + " deep over a length of " + mm(l) +
               ", more than a half-round",
           "make it longer, or less deep");
  }
}

// Kinds that lead from one diameter to another.
void Builder::draw_between(const Element& e, const Span& span, Pieces& out) {
  if (std::fabs(span.r1 - span.r0) <= kSameDiameter) {
    return report(e, "outline.diameter", e.name + " begins and ends at " + mm(2 * span.r0),
                  "state two different diameters, or make it a cylinder");
  }
  if (e.spec->kind == ElementKind::ovolo) return quarter(span, 1, out);
  cyma(span, e.spec->kind == ElementKind::cyma_reversa ? 1 : -1, out);
}

void Builder::draw_vase(const Element& e, const Span& span, Pieces& out) {
  std::vector<RadiusAt> at{{span.x0, span.r0}};
  for (const Station& station : e.spec->stations) {
    if (station.at > 0 && station.at < 1) at.push_back({span.x0 + span.length() * station.at, station.diameter / 2});
  }
  at.push_back({span.x1, span.r1});
  for (std::size_t i = 1; i < at.size(); ++i) {
    if (at[i].x - at[i - 1].x < kShortest) {
      return report(e, "outline.stations", e.name + ": two of its stations are less than 0.01 mm apart",
                    "spread them, or leave one out");
    }
  }
  spline(at, e.spec->level_start, e.spec->level_end, span.element, out);
}

void Builder::draw(std::size_t i) {
  const Element& e = elements_[i];
  Span span{e.x0, *e.start / 2, e.x1, *e.end / 2, static_cast<int>(i)};
  Pieces pieces;
  std::size_t before = found_.size();
  switch (e.spec->kind) {
    case ElementKind::square:
      pieces.push_back(clear_piece(e.x0, e.x1, span.element));
      break;
    case ElementKind::pommel:
      draw_pommel(e, span, pieces);
      break;
    case ElementKind::fillet:
    case ElementKind::cylinder:
    case ElementKind::pin:
    case ElementKind::taper:
      pieces.push_back(line_piece(span.x0, span.r0, span.x1, span.r1, span.element));
      break;
    case ElementKind::bead:
    case ElementKind::torus:
    case ElementKind::entasis:
      draw_bulge(e, span, pieces);
      break;
    case ElementKind::cove:
    case ElementKind::scotia:
    case ElementKind::vee:
      draw_hollow(e, span, pieces);
      break;
    case ElementKind::ovolo:
    case ElementKind::cyma_recta:
    case ElementKind::cyma_reversa:
      draw_between(e, span, pieces);
      break;
    case ElementKind::ball:
      ball(span, pieces);
      break;
    case ElementKind::vase:
      draw_vase(e, span, pieces);
      break;
  }
  if (found_.size() != before) return;
  check_turned(e, pieces);
  mark(e, pieces);
  built_.outline.pieces.insert(built_.outline.pieces.end(), pieces.begin(), pieces.end());
}

void Builder::check_turned(const Element& e, const Pieces& pieces) {
  if (is_square(*e.spec)) return;
  double least = pieces.front().least(), greatest = pieces.front().greatest();
  for (const Piece& piece : pieces) {
    least = std::min(least, piece.least());
    greatest = std::max(greatest, piece.greatest());
  }
  if (2 * least < kThinnest - kSameDiameter) {
    report(e, "outline.axis", e.name + " goes through the axis: its least diameter would be " + mm(2 * least),
           "make it thicker there");
  }
  if (2 * greatest > section_.corners + kSameDiameter) {
    report(e, "outline.reach",
           e.name + " leaves the stock: it is " + mm(2 * greatest) + " in diameter, and the stock is " +
               mm(section_.corners) + " across its corners",
           "make it thinner, or take larger stock");
  } else if (e.spec->kind != ElementKind::pommel && 2 * greatest > section_.flats + kSameDiameter) {
    Diagnostic note = fail("outline.not-full-round",
                           e.name + " is not full round: it is " + mm(2 * greatest) +
                               " in diameter, and the stock is " + mm(section_.flats) + " across its flats",
                           {}, e.spec->place)
                          .reasons.front();
    note.severity = Severity::note;
    built_.notes.push_back(std::move(note));
  }
}

void Builder::mark(const Element& e, const Pieces& pieces) {
  ElementMark mark;
  mark.kind = word_of(e.spec->kind);
  mark.label = e.spec->label.empty() ? mark.kind : e.spec->label;
  mark.x0 = e.x0;
  mark.x1 = e.x1;
  mark.d_start = *e.start;
  mark.d_end = *e.end;
  mark.shared = e.spec->share.has_value();
  mark.d_least = std::min(mark.d_start, mark.d_end);
  mark.d_greatest = std::max(mark.d_start, mark.d_end);
  if (!is_square(*e.spec)) {
    for (const Piece& piece : pieces) {
      mark.d_least = std::min(mark.d_least, 2 * piece.least());
      mark.d_greatest = std::max(mark.d_greatest, 2 * piece.greatest());
    }
  }
  built_.elements.push_back(std::move(mark));
}

}  // namespace

Result<BuiltOutline> build_outline(const std::vector<ElementSpec>& specs, double length, const StockSection& section) {
  return Builder(specs, length, section).build();
}

}  // namespace pommel::shape
