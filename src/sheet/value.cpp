#include "sheet/value.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

#include "base/number.h"
#include "sheet/units.h"

namespace pommel::sheet {
namespace {

std::string quoted(const std::string& words) {
  std::string text = "\"";
  for (const char c : words) text += c == '"' ? std::string("\"\"") : std::string(1, c);
  return text + "\"";
}

/// A rate in the units a maker would use, the factor taken from the unit words themselves.
std::string show_rate(double amount, const Dimension& dimension, const Settings& settings) {
  const std::string unit = sample_unit(dimension, settings);
  if (unit.empty()) return format_exact(amount) + " (" + kind_name({Form::number, dimension, false}) + ")";
  bool below = unit.starts_with("per ");
  for (std::size_t at = below ? 4 : 0; at < unit.size();) {
    const std::size_t end = std::min(unit.find(" per ", at), unit.size());
    const double one = find_unit(unit.substr(at, end - at), settings)->times(1);
    amount = below ? amount * one : amount / one;
    below = true;
    at = end + 5;
  }
  return format_number(amount, 4) + " " + unit;
}

std::string show_number(double amount, const Kind& kind, const Settings& settings) {
  if (kind == Kind::length()) return format_length(amount, settings.lengths);
  if (kind == Kind::angle()) return format_angle(amount);
  if (kind.dimension.plain()) return format_number(amount, 6);
  if (kind == Kind::money()) return format_fixed(amount, 2) + " " + settings.currency;
  if (kind == Kind::time()) return format_number(amount, 1) + " min";
  const bool imperial = settings.lengths.unit == LengthUnit::inch || settings.lengths.unit == LengthUnit::foot;
  const std::string_view square = imperial ? "sqft" : "m2", cubic = imperial ? "bdft" : "m3";
  if (kind == Kind::area())
    return format_number(amount / find_unit(square, settings)->times(1), 4) + " " + std::string(square);
  if (kind == Kind::volume())
    return format_number(amount / find_unit(cubic, settings)->times(1), imperial ? 3 : 6) + " " + std::string(cubic);
  return show_rate(amount, kind.dimension, settings);
}

}  // namespace

Value Value::number(double amount, const Kind& kind) {
  assert(kind.form == Form::number && std::isfinite(amount));
  Value made;
  made.kind_ = kind;
  made.number_ = amount;
  return made;
}

Value Value::yes_no(bool yes) {
  Value made;
  made.kind_ = Kind::yes_no();
  made.number_ = yes ? 1 : 0;
  return made;
}

Value Value::choice(std::string word) {
  Value made;
  made.kind_ = Kind::choice();
  made.words_ = std::move(word);
  return made;
}

Value Value::text(std::string words) {
  Value made;
  made.kind_ = Kind::text();
  made.words_ = std::move(words);
  return made;
}

bool Value::operator==(const Value& other) const {
  return kind_ == other.kind_ && std::bit_cast<std::uint64_t>(number_) == std::bit_cast<std::uint64_t>(other.number_) &&
         words_ == other.words_;
}

std::string show(const Value& value, const Settings& settings) {
  switch (value.kind().form) {
    case Form::number:
      return show_number(value.number(), value.kind(), settings);
    case Form::yes_no:
      return value.yes() ? "yes" : "no";
    case Form::choice:
    case Form::text:
      return value.words();
  }
  return {};
}

std::string exact_entry(const Value& value, const Settings& settings) {
  const Form form = value.kind().form;
  if (form == Form::yes_no) return value.yes() ? "yes" : "no";
  if (form == Form::choice) return value.words();
  if (form == Form::text) return quoted(value.words());
  const std::string amount = format_exact(value.number());
  const Dimension& dimension = value.kind().dimension;
  if (const auto unit = internal_unit(dimension, settings)) {
    const std::string text = unit->empty() ? amount : amount + " " + *unit;
    // plain lengths are read without exponents; formulas read them
    return amount.find('e') == std::string::npos ? text : "= " + text;
  }
  std::string text = "= " + amount;
  const auto times = [&text](int power, const std::string& unit) {
    for (int i = 0; i < power; ++i) text += " * 1 " + unit;
    for (int i = 0; i > power; --i) text += " / 1 " + unit;
  };
  times(dimension.length, "mm");
  times(dimension.angle, "rad");
  times(dimension.money, settings.currency);
  times(dimension.time, "min");
  return text;
}

}  // namespace pommel::sheet
