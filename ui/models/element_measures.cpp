#include "ui/models/element_measures.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "family/names.h"
#include "sheet/seek.h"

namespace pommel::ui {
namespace {

using Words = std::map<std::string, sheet::Entry>;

const Words& words_of(const job::Loaded& loaded, const std::string& piece) {
  static const Words none;
  const auto found = loaded.family.words.find(piece);
  return found == loaded.family.words.end() ? none : found->second;
}

void add_names(const std::string& formula, const Words& words, const sheet::Sheet& sheet, std::vector<std::string>& out) {
  const auto part_of_name = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_'; };
  for (std::size_t at = 0; at < formula.size();) {
    std::size_t end = at;
    while (end < formula.size() && part_of_name(formula[end])) ++end;
    if (end == at) {
      ++at;
      continue;
    }
    std::string name = formula.substr(at, end - at);
    at = end;
    if (const auto means = words.find(name); means != words.end()) name = means->second.text;
    if (sheet.parameter(name) && std::find(out.begin(), out.end(), name) == out.end()) out.push_back(name);
  }
}

// A size of the element that is a diameter: where along it, its entry, and what the sheet calls it.
struct Across {
  double along = 0;
  const sheet::Entry* entry = nullptr;
  std::string use;
};

std::vector<Across> diameters_of(const family::ElementText& element, const std::string& of, std::size_t index, const sheet::Sheet& sheet, std::size_t column) {
  std::vector<Across> out;
  for (const auto& [size, along] : {std::pair{"start", 0.0}, {"greatest", 0.5}, {"least", 0.5}, {"end", 1.0}})
    if (const auto found = element.sizes.find(size); found != element.sizes.end()) out.push_back({along, &found->second, family::element_use(of, index, size)});
  for (std::size_t station = 0; station < element.through.size(); ++station) {
    const sheet::Value* at = sheet.use(family::station_use(of, index, station, "at"), column);
    if (at) out.push_back({at->number(), &element.through[station].second, family::station_use(of, index, station, "diameter")});
  }
  return out;
}

std::string rounded(double mm, const LengthFormat& lengths) {
  LengthFormat format = lengths;
  format.decimals = 1, format.denominator = 32;
  const double step = lengths.unit == LengthUnit::millimetre ? 0.5 : kInch / 32;
  return format_length(std::round(mm / step) * step, format);
}

// The measure's value with which the use is `diameter`, within its limits, else between a fifth and five times what it is.
Result<double> solved(const sheet::Sheet& sheet, std::size_t column, const std::string& measure, const std::string& use, double diameter) {
  const auto cell = sheet.cell(measure, column);
  const double now = cell->value->number();
  const double low = cell->least ? cell->least->number() : now / 5, high = cell->most ? cell->most->number() : now * 5;
  sheet::Sheet trial = sheet;
  const auto root = sheet::find_root(
      [&](double value) -> Result<double> {
        if (const auto set = trial.set_entry(measure, column, {sheet::exact_entry(sheet::Value::length(value), trial.settings()), {}, {}}); !set.ok()) return set.failure();
        const auto across = trial.need_use(use, column);
        if (!across.ok()) return across.failure();
        return across->number() - diameter;
      },
      low, high, 1e-6, 1e-6);
  if (!root.ok() || std::fabs(root->residual) > 0.01) return fail("ui.out-of-reach", "the limits of '" + measure + "' do not allow that", "widen them in the family, or change another measure");
  return root->at;
}

// The first measure of the formula that moves the use to `wanted` mm.
Result<NewEntry> entry_for(const sheet::Entry& formula, const std::string& use, double wanted, const Words& words, const sheet::Sheet& sheet, std::size_t column, const LengthFormat& lengths, const Failure& fixed) {
  std::vector<std::string> measures;
  add_names(formula.text, words, sheet, measures);
  std::optional<Failure> reason;
  for (const std::string& measure : measures) {
    const sheet::Value* now = sheet.value(measure, column);
    if (!now || now->kind() != sheet::Kind::length()) continue;
    const auto value = solved(sheet, column, measure, use, wanted);
    if (value.ok()) return NewEntry{measure, rounded(*value, lengths), formula.text};
    reason = value.failure();
  }
  return reason ? *reason : fixed;
}

}  // namespace

std::vector<std::string> measures_of_element(const job::Loaded& loaded, const std::string& piece, std::size_t element, const sheet::Sheet& sheet) {
  std::vector<std::string> out;
  const auto& outline = family::outline_of(loaded.family, loaded.design, piece);
  if (element >= outline.size()) return out;
  const Words& words = words_of(loaded, piece);
  // thickness before length: a turner points at what a calliper meets
  for (const char* size : {"greatest", "least", "start", "end", "length", "share"})
    if (const auto entry = outline[element].sizes.find(size); entry != outline[element].sizes.end()) add_names(entry->second.text, words, sheet, out);
  for (const auto& [at, across] : outline[element].through) add_names(at.text, words, sheet, out), add_names(across.text, words, sheet, out);
  return out;
}

Result<NewEntry> entry_for_diameter(const job::Loaded& loaded, const std::string& piece, std::size_t element, double along, double diameter, const sheet::Sheet& sheet, std::size_t column, const LengthFormat& lengths) {
  const auto& outline = family::outline_of(loaded.family, loaded.design, piece);
  const Failure fixed = fail("ui.fixed-size", "this thickness is fixed: no measure stands behind it", "give the element a formula in its design");
  if (element >= outline.size()) return fixed;
  auto across = diameters_of(outline[element], family::uses_of(loaded.family, piece), element, sheet, column);
  if (across.empty()) return fixed;
  std::stable_sort(across.begin(), across.end(), [&](const Across& a, const Across& b) { return std::fabs(a.along - along) < std::fabs(b.along - along); });
  return entry_for(*across.front().entry, across.front().use, diameter, words_of(loaded, piece), sheet, column, lengths, fixed);
}

Result<NewEntry> entry_for_length(const job::Loaded& loaded, const std::string& piece, std::size_t element, double length, const sheet::Sheet& sheet, std::size_t column, const LengthFormat& lengths) {
  const auto& outline = family::outline_of(loaded.family, loaded.design, piece);
  const Failure fixed = fail("ui.fixed-size", "this length is fixed: no measure stands behind it", "write another length into the element: Show, the elements");
  if (element >= outline.size()) return fixed;
  if (outline[element].sizes.contains("share")) return fail("ui.shared-length", "this element takes a share of what the others leave", "draw the end of a neighbour, or write another share");
  const auto entry = outline[element].sizes.find("length");
  if (entry == outline[element].sizes.end()) return fixed;
  const std::string use = family::element_use(family::uses_of(loaded.family, piece), element, "length");
  return entry_for(entry->second, use, length, words_of(loaded, piece), sheet, column, lengths, fixed);
}

std::optional<std::string> holding_formula(const sheet::Sheet& sheet, const std::string& measure, std::size_t column) {
  const auto cell = sheet.cell(measure, column);
  if (!cell || cell->own || !cell->entry || !cell->entry->text.starts_with("=")) return std::nullopt;
  return cell->entry->text;
}

}  // namespace pommel::ui
