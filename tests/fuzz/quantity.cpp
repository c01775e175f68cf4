// Lengths, angles, money and numbers as a maker writes them (base/quantity.h, base/number.h): what was accepted is written and read again.
#include <cmath>
#include <string>

#include "base/number.h"
#include "base/quantity.h"
#include "fuzz/fuzz.h"

namespace pommel::fuzz {
namespace {

void told_well(const Failure& failure, std::string_view text) {
  must(failure.reasons.size() == 1, "one reason");
  const Diagnostic& why = failure.reasons.front();
  must(why.place.line == 0 && why.source_line == text, "a column in the text and no line");
  must_be_told_well(failure.reasons, text, "no file");
  must(why.place.column >= 1 && static_cast<std::size_t>(why.place.column) <= text.size() + 1, "the column is one of the text");
}

void try_length(std::string_view text, std::optional<LengthUnit> plain) {
  const auto read = parse_length(text, plain);
  if (!read.ok()) return told_well(read.failure(), text);
  must(std::isfinite(*read), "a length is finite");
  if (const std::string figures = format_exact(*read); figures.find('e') == figures.npos) {  // a maker writes no exponents
    const auto exact = parse_length(figures + " mm", std::nullopt);
    must(exact.ok() && *exact == *read, "the exact length reads back to the bit");
  }
  // as papers show it: at most half of the last place off
  if (std::abs(*read) > 1e6) return;
  for (const LengthFormat& format : {LengthFormat{LengthUnit::millimetre, 1, 0}, LengthFormat{LengthUnit::inch, 1, 32}, LengthFormat{LengthUnit::foot, 1, 64}}) {
    const auto shown = parse_length(format_length(*read, format), std::nullopt);
    const double half = (format.unit == LengthUnit::millimetre ? 0.1 : kInch / format.denominator) / 2;
    must(shown.ok() && std::abs(*shown - *read) <= half * (1 + 1e-6), "the length shown reads back to the nearest step: " + format_length(*read, format));
  }
}

void try_angle(std::string_view text) {
  const auto read = parse_angle(text);
  if (!read.ok()) return told_well(read.failure(), text);
  must(std::isfinite(*read), "an angle is finite");
  const std::string figures = format_exact(*read);
  if (figures.find('e') != figures.npos) return;
  const auto exact = parse_angle(figures + " rad");
  must(exact.ok() && *exact == *read, "the exact angle reads back to the bit");
}

void try_money(std::string_view text, std::string_view currency) {
  const auto read = parse_money(text, currency);
  if (!read.ok()) return told_well(read.failure(), text);
  const auto again = parse_money(format_money(*read, currency), currency);
  must(again.ok() && *again == *read, "money reads back to the cent");
}

}  // namespace

void try_one(std::string_view bytes) {
  try_length(bytes, std::nullopt);
  try_length(bytes, LengthUnit::inch);
  try_length(bytes, LengthUnit::millimetre);
  try_angle(bytes);
  try_money(bytes, {});
  try_money(bytes, "EUR");
  try_money(bytes, "$");
  if (const auto number = parse_number(bytes)) must(parse_number(format_exact(*number)) == number, "a number reads back to the bit");
}

}  // namespace pommel::fuzz
