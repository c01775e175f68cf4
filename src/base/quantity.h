// Lengths, angles and money as the maker writes and reads them. Inside the program a length is millimetres in a double,
// an angle is radians in a double, money is whole cents; only this header turns them into text and back.
//
// Parsing accepts the whole text or fails with a reason whose column points into it; nothing is guessed: '1,5' is an
// error that asks for '1.5', and a number without a unit takes the unit the caller states, or is refused.
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace pommel {

inline constexpr double kInch = 25.4;  ///< mm; exact by definition (international inch)

enum class LengthUnit { millimetre, centimetre, metre, inch, foot };

/// mm in one unit.
double millimetres(LengthUnit unit);

/// Reads `28 1/4`, `28-1/4"`, `1/2 in`, `2' 4 1/4"`, `2 ft 4 in`, `717.5 mm`, `71.75 cm`, `0.7175 m`, `-3 mm`. Result in mm.
/// Units: mm, cm, m, in, inch, inches, ", ″, ft, foot, feet, ', ′. Only feet and inches are written together.
/// `plain`: the unit of a number without one; when absent such a number is refused ("quantity.no-unit": 3 what?).
/// A failure has one reason; its place has the column in `text` and no line, and its source_line is `text`.
Result<double> parse_length(std::string_view text, std::optional<LengthUnit> plain);

/// Reads `30 deg`, `30°`, `0.5 rad`, `1/4 turn`. Result in radians. A plain number is refused. Failures as parse_length.
Result<double> parse_angle(std::string_view text);

/// How lengths are shown: one setting for a whole document.
struct LengthFormat {
  LengthUnit unit = LengthUnit::millimetre;  ///< millimetre, inch or foot (feet and inches)
  int decimals = 1;                          ///< for millimetres (and centimetres, metres)
  int denominator = 32;                      ///< for inches: finest fraction, a power of two; 0 means decimal inches with `decimals`
};

/// `717.5 mm`, `28 1/4"`, `2' 4 1/4"`; trailing zeros of decimals are dropped. A fraction that is not exact is rounded to
/// the nearest and never fed back into a value. `with_unit` false leaves the unit out (for table columns); feet and inches
/// keep their marks, without which they could not be read.
std::string format_length(double mm, const LengthFormat& format, bool with_unit = true);

/// `37.5 deg`.
std::string format_angle(double radians, int decimals = 1);

/// An exact amount of one currency. Arithmetic stays in whole cents.
struct Money {
  std::int64_t cents = 0;

  auto operator<=>(const Money&) const = default;
  Money operator+(Money other) const { return {cents + other.cents}; }
  Money operator-(Money other) const { return {cents - other.cents}; }
  Money& operator+=(Money other) { cents += other.cents; return *this; }
};

/// To the nearest cent, halves away from zero (commercial rounding): the one rule by which a line of a quote is rounded.
/// `amount` is in currency units (12.345 -> 12.35). Values within 1e-9 units of a half cent count as the half, so that 1.005
/// rounds up. REQUIRES: finite; beyond 9e16 units the result is the largest amount there is.
Money round_to_cents(double amount);

/// `1234.50`; with a currency word or sign after it when given: `1234.50 EUR`. Negative amounts have a leading minus.
std::string format_money(Money amount, std::string_view currency = {});

/// Reads `12`, `12.5`, `12.50`, `-12.50`, with the optional currency word or sign before or after it when `currency` says
/// which (`$12.50`, `12.50 EUR`). More than two decimals are refused for money; rates are read as numbers elsewhere.
/// Failures as parse_length.
Result<Money> parse_money(std::string_view text, std::string_view currency = {});

}  // namespace pommel
