#include "job/show.h"

#include <cmath>
#include <numbers>
#include <set>
#include <vector>

#include "base/number.h"

namespace pommel::job {

std::string shown(const sheet::Sheet& sheet, const std::string& name, std::size_t column) {
  const sheet::Value* value = sheet.value(name, column);
  if (!value) return "-";
  if (value->kind() == sheet::Kind::ratio()) return format_number(value->number(), 3);
  return sheet::show(*value, sheet.settings());
}

bool is_of_use(const sheet::Sheet& sheet, const std::string& name, std::size_t column) {
  std::vector<std::string> open{name};
  std::set<std::string> seen{name};
  while (!open.empty()) {
    const std::string next = std::move(open.back());
    open.pop_back();
    for (const sheet::Change& reader : sheet.dependents_of(next, column)) {
      if (reader.type == sheet::RowType::use || reader.type == sheet::RowType::check) return true;
      if (reader.type == sheet::RowType::parameter && seen.insert(reader.name).second) open.push_back(reader.name);
    }
  }
  return false;
}

std::optional<double> size_of(std::string_view text, const sheet::Kind& kind) {
  if (kind.form != sheet::Form::number) return std::nullopt;
  const auto read = kind == sheet::Kind::length() ? parse_length(text, std::nullopt) : kind == sheet::Kind::angle() ? parse_angle(text) : Result<double>(fail("", ""));
  if (read.ok()) return *read;
  return kind == sheet::Kind::length() || kind == sheet::Kind::angle() ? std::nullopt : parse_number(text);
}

std::string mortise_text(const shape::Mortise& mortise, double square, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  const auto quarter = static_cast<int>(std::lround(mortise.phi / (std::numbers::pi / 2))) % 4;
  const auto letter = [](int quarters) { return std::string(1, static_cast<char>('A' + (quarters + 4) % 4)); };
  // t grows towards the next face: mark out from the nearer edge
  const double from_next = square / 2 - mortise.t1, from_last = square / 2 + mortise.t0;
  const bool next = from_next <= from_last;
  std::string text = "face " + letter(quarter) + ", for " + mortise.mate + ": " + size(mortise.x0) + " to " + size(mortise.x1) + " from the head, " +
                     size(mortise.t1 - mortise.t0) + " wide, " + size(next ? from_next : from_last) + " in from face " + letter(next ? quarter + 1 : quarter - 1) + ", " +
                     size(mortise.depth) + " deep" + (mortise.corner_radius > 0 ? ", ends round" : ", ends square");
  if (mortise.haunch_length > 0) text += "; haunch above it " + size(mortise.haunch_length) + " long and " + size(mortise.haunch_depth) + " deep";
  return text;
}

std::string bore_text(const shape::Bore& bore, double square, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  const auto quarter = static_cast<int>(std::lround(bore.phi / (std::numbers::pi / 2))) % 4;
  const auto letter = [](int quarters) { return std::string(1, static_cast<char>('A' + (quarters + 4) % 4)); };
  const double from_next = square / 2 - bore.t, from_last = square / 2 + bore.t;
  const bool next = from_next <= from_last;
  std::string text = "face " + letter(quarter) + ", for " + bore.mate + ": hole " + size(bore.diameter) + (bore.depth >= square - 1e-6 ? " through" : " wide, " + size(bore.depth) + " deep") +
                     ", its middle " + size(bore.x) + " from the head, " + size(next ? from_next : from_last) + " in from face " + letter(next ? quarter + 1 : quarter - 1);
  if (bore.seat_diameter > 0) text += "; seat " + size(bore.seat_diameter) + " wide, " + size(bore.seat_depth) + " deep";
  return text;
}

std::string axial_bore_text(const shape::AxialBore& bore, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  return "in the end, along the middle: hole " + size(bore.diameter) + " wide, " + size(bore.x0) + " to " + size(bore.x1) + " from the head";
}

std::string end_cut_text(const shape::EndCut& cut, double length, double square, const LengthFormat& lengths) {
  const auto letter = [](int quarters) { return std::string(1, static_cast<char>('A' + quarters % 4)); };
  const int quarter = static_cast<int>(std::lround(cut.phi / (std::numbers::pi / 2)));
  const double middle = cut.at_head ? cut.x : length - cut.x, rise = square / 2 * std::tan(std::abs(cut.angle));
  const auto from_end = [&](double mm) { return std::abs(mm) < 1e-6 ? std::string("at the end of the piece") : format_length(mm, lengths) + " from the end"; };
  return std::string(cut.at_head ? "head" : "foot") + ", sawn to " + format_angle(cut.angle) + " after turning: long point on face " + letter(cut.angle < 0 ? quarter + 2 : quarter) + " " +
         from_end(middle - rise) + ", short point on face " + letter(cut.angle < 0 ? quarter : quarter + 2) + " " + from_end(middle + rise);
}

}  // namespace pommel::job
