#include "designs/matched_plan.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number.h"
#include "base/text.h"

namespace pommel::designs {
namespace {

using match::Figure;
using match::Found;
using shape::ElementKind;

constexpr double kLongBead = 60;     // mm: longer arcs stretch with the piece
constexpr std::size_t kNoteAt = 36;  // column of the comments behind measures
constexpr double kRatioMiss = 0.02;  // mm of diameter that a part of the square in hundredths may miss

bool stretches(const Found& f) {
  switch (f.name.kind) {
    case ElementKind::vase:
    case ElementKind::entasis:
    case ElementKind::taper:
    case ElementKind::cylinder: return true;
    case ElementKind::bead: return f.stroke.length() > kLongBead;
    default: return false;
  }
}

class Writer {
 public:
  Writer(const match::Recognition& found, const MatchedNames& names, const MatchedPlan& plan) : found_(found), names_(names), plan_(plan) {
    for (std::size_t k = 0; k < found.elements.size(); ++k) shares_.push_back(plan.elements[k].may_share && stretches(found.elements[k]));
    if (std::find(shares_.begin(), shares_.end(), true) == shares_.end()) shares_[longest()] = true;
    for (std::size_t k = 0; k < shares_.size(); ++k) {
      if (shares_[k]) least_share_ = std::min(least_share_, found.elements[k].stroke.length());
    }
    find_measures();
  }

  std::string text() {
    std::string out = heading() + measures() + sheet();
    out += "\n# From the head down. What has a share stretches with the piece; what has a length keeps it. In brackets: how far its readings lie off (root of the\n# mean square), and how many there are.\noutline:\n";
    for (std::size_t k = 0; k < found_.elements.size(); ++k) out += element(k);
    for (const std::string& line : plan_.added) out += "  - " + line + "\n";
    return out;
  }

 private:
  std::size_t longest() const {
    std::size_t best = 0;
    double most = 0;
    for (std::size_t k = 0; k < found_.elements.size(); ++k) {
      const Found& f = found_.elements[k];
      if (plan_.elements[k].may_share && f.stroke.length() > most) most = f.stroke.length(), best = k;
    }
    return best;
  }

  std::string size(double mm) const { return written_length(mm, names_.lengths.unit); }

  /// A diameter as a part of the square: in hundredths where that is near enough.
  std::string diameter(double mm) const {
    const double ratio = mm / plan_.square, hundredths = std::round(ratio * 100) / 100;
    const bool near = std::fabs(hundredths * plan_.square - mm) <= kRatioMiss;
    return "= square * " + format_number(near ? hundredths : ratio, near ? 2 : 5);
  }

  // Elements that repeat an earlier one take their length from one measure.
  void find_measures() {
    std::map<ElementKind, int> named;
    for (std::size_t k = 0; k < found_.elements.size(); ++k) {
      const int like = found_.elements[k].like;
      if (like < 0 || shares_[k] || !plan_.elements[k].length.empty() || !plan_.elements[static_cast<std::size_t>(like)].length.empty()) continue;
      const auto first = static_cast<std::size_t>(like);
      if (!measure_.contains(first)) {
        const ElementKind kind = found_.elements[first].name.kind;
        std::string name(shape::word_of(kind));
        std::replace(name.begin(), name.end(), ' ', '_');
        const int n = ++named[kind];
        measure_[first] = name + "_length" + (n > 1 ? "_" + std::to_string(n) : "");
      }
      measure_[k] = measure_[first];
    }
  }

  std::string heading() const {
    std::string out = "# Matched from an existing turning: " + printable(names_.source) + ".\n# " + std::to_string(found_.readings) +
                      " readings lie " + format_number(found_.rms, 3) + " mm off this outline (root of the mean square), " + format_number(found_.worst, 2) +
                      " mm at the worst";
    out += found_.wrong.empty() ? ".\n" : "; " + std::to_string(found_.wrong.size()) + " were believed wrong.\n";
    out += "# What stretches, what keeps and which sizes hang together are proposals: read them and change what you know better.\n";
    for (const match::Symmetry& s : found_.symmetries) {
      out += "# Elements " + std::to_string(s.first + 1) + " to " + std::to_string(s.last + 1) + " stand the same way about their middle.\n";
    }
    if (found_.ovality > 0)
      out += "# The original is oval: diameters at one place differ by up to " + format_number(found_.ovality, 2) + " mm. The outline takes their mean; as new it was\n# hardly thinner than the greater one.\n";
    if (found_.wear > 0)
      out += "# The original is worn by up to " + format_number(found_.wear, 2) + " mm in diameter; worn readings were not fitted, so that this is how it is guessed to have been new.\n";
    if (!plan_.why.empty()) out += "# Taken for a " + family_in_words(plan_.family) + ", since " + plan_.why + ".\n";
    for (const std::string& remark : plan_.remarks) out += "# " + remark + "\n";
    return out + "design: " + names_.design + "\nfamily: " + plan_.family + "\nwritten_for: 1\nrevision: 1\ntags: [matched]\nabout: >-\n  Matched from an existing turning.\nthinnest: " + thinnest() + "\n";
  }

  std::string thinnest() const {
    double least = 1e30;
    std::string name;
    for (const Found& f : found_.elements) {
      const auto radii = f.square ? std::nullopt : match::radii_of(f.stroke);
      if (radii && radii->least < least) least = radii->least, name = shape::word_of(f.name.kind);
    }
    return "the " + name + ", " + format_number(2 * least / plan_.square, 2) + " of the square, as the original has it";
  }

  std::string measures() const {
    std::map<std::string, std::size_t> firsts;
    for (const auto& [k, name] : measure_) firsts.emplace(name, k);
    if (firsts.empty()) return {};
    std::string out = "\n# Sizes that come more than once.\nmeasures:\n  the turning:\n";
    for (const auto& [name, k] : firsts) {
      const auto times = std::count_if(measure_.begin(), measure_.end(), [&n = name](const auto& m) { return m.second == n; });
      out += "    " + name + ": {is: length, value: " + size(found_.elements[k].stroke.length()) + ", note: \"" + std::to_string(times) + " times\"}\n";
    }
    return out;
  }

  std::string sheet() const {
    std::string out = "\nsheet:\n";
    for (const SheetLine& line : plan_.sheet) {
      const std::string said = "  " + line.name + ": " + line.value;
      out += line.note.empty() ? said + "\n" : said + std::string(said.size() < kNoteAt ? kNoteAt - said.size() : 2, ' ') + "# " + line.note + "\n";
    }
    return out;
  }

  static bool next_is_square(const std::vector<Found>& all, std::size_t k) { return k + 1 < all.size() && all[k + 1].square; }

  std::string element(std::size_t k) const {
    const auto& all = found_.elements;
    const Found& f = all[k];
    std::vector<std::string> said;
    const PlannedElement& planned = plan_.elements[k];
    if (shares_[k]) said.push_back("share: " + format_number(f.stroke.length() / least_share_, 5));
    else if (!planned.length.empty()) said.push_back("length: = " + planned.length);
    else if (measure_.contains(k)) said.push_back("length: = " + measure_.at(k));
    else said.push_back("length: " + size(f.stroke.length()));
    ElementKind kind = planned.pin ? ElementKind::pin : f.name.kind;
    if (planned.pin) {
      said.push_back("start: = " + planned.start);
    } else if (f.square) {
      if (k > 0 && all[k - 1].name.kind != ElementKind::pommel) said.push_back("step: yes");
    } else {
      // a torus states its crest alone, and its ends follow: where it begins without a step it is told as the bead that it is
      const bool begins = begins_anew(k);
      if (kind == ElementKind::torus && !begins) kind = ElementKind::bead;
      sizes(f, kind, begins, said);
      if (begins && k > 0 && !(kind == ElementKind::pommel && all[k - 1].square)) said.push_back("step: yes");
    }
    if (!planned.name.empty()) said.push_back("name: " + planned.name);
    std::string out = "  - " + std::string(shape::word_of(kind)) + ": {" + joined(said, ", ") + "}";
    if (!f.square) out += "   # [" + format_number(f.rms, 3) + " mm, " + std::to_string(f.readings) + "]";
    return out + "\n";
  }

  /// Whether it states the diameter where it begins.
  bool begins_anew(std::size_t k) const {
    const Found& f = found_.elements[k];
    if (k == 0) return true;
    if (found_.elements[k - 1].square) return !(f.name.kind == ElementKind::pommel);
    return f.step;
  }

  void sizes(const Found& f, ElementKind kind, bool begins, std::vector<std::string>& said) const {
    const match::Stroke& s = f.stroke;
    if (kind == ElementKind::pommel) return pommel(f, begins, said);
    if (kind == ElementKind::torus) return said.push_back("greatest: " + diameter(2 * s.r0 + s.length()));
    if (begins) said.push_back("start: " + diameter(2 * s.r0));
    const bool goes = !match::ends_alike(s);
    if (s.figure == Figure::vase) through(s, said);
    if (goes) said.push_back("end: " + diameter(2 * s.r1));
    if (s.figure == Figure::arc_bulge) said.push_back("greatest: " + diameter(2 * s.extreme));
    if (s.figure == Figure::arc_hollow || s.figure == Figure::scotia || s.figure == Figure::vee) said.push_back("least: " + diameter(2 * s.extreme));
  }

  void pommel(const Found& f, bool begins, std::vector<std::string>& said) const {
    const bool before = rises(f);
    said.push_back("cut: " + std::string(shape::word_of(f.name.cut)));
    if (before && begins) said.push_back("start: " + diameter(2 * f.stroke.r0));
    if (!before) said.push_back("end: " + diameter(2 * f.stroke.r1));
  }

  bool rises(const Found& f) const {
    const auto k = static_cast<std::size_t>(&f - found_.elements.data());
    return next_is_square(found_.elements, k) && !(k > 0 && found_.elements[k - 1].square);
  }

  void through(const match::Stroke& s, std::vector<std::string>& said) const {
    std::vector<std::string> stations;
    for (const match::InnerStation& inner : s.stations) stations.push_back("[" + format_number(inner.at, 4) + ", " + diameter(2 * inner.radius) + "]");
    said.push_back("through: [" + joined(stations, ", ") + "]");
    if (s.level_start) said.push_back("level_start: yes");
    if (s.level_end) said.push_back("level_end: yes");
  }

  const match::Recognition& found_;
  const MatchedNames& names_;
  const MatchedPlan& plan_;
  std::vector<bool> shares_;
  double least_share_ = 1e30;
  std::map<std::size_t, std::string> measure_;
};

}  // namespace

std::string family_in_words(std::string id) {
  std::replace(id.begin(), id.end(), '-', ' ');
  return id;
}

Result<std::string> matched_design(const match::Recognition& found, const MatchedNames& names) {
  const auto plan = plan_for(found, names);
  if (!plan.ok()) return plan.failure();
  return Writer(found, names, *plan).text();
}

}  // namespace pommel::designs
