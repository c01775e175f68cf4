// A value with its kind. Inside, a length is millimetres, an angle radians, money currency units (not cents: a sheet's
// money is a figure, the quote rounds it to exact cents once a line), a time minutes, and a rate is built from these.
//
// Numbers are finite always. Values are free to cross threads.
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/quantity.h"
#include "sheet/kind.h"

namespace pommel::sheet {

class Value {
 public:
  /// REQUIRES: kind.form is number and `amount` is finite.
  static Value number(double amount, const Kind& kind);
  static Value length(double mm) { return number(mm, Kind::length()); }
  static Value angle(double radians) { return number(radians, Kind::angle()); }
  static Value count(double pieces) { return number(pieces, Kind::count()); }
  static Value ratio(double amount) { return number(amount, Kind::ratio()); }
  static Value money(double currency_units) { return number(currency_units, Kind::money()); }
  static Value time(double minutes) { return number(minutes, Kind::time()); }
  static Value yes_no(bool yes);
  static Value choice(std::string word);
  static Value text(std::string words);

  const Kind& kind() const { return kind_; }

  /// Internal units. REQUIRES: kind().form is number.
  double number() const {
    assert(kind_.form == Form::number);
    return number_;
  }
  /// REQUIRES: kind().form is yes_no.
  bool yes() const {
    assert(kind_.form == Form::yes_no);
    return number_ != 0;
  }
  /// REQUIRES: kind().form is choice or text.
  const std::string& words() const {
    assert(kind_.form == Form::choice || kind_.form == Form::text);
    return words_;
  }

  /// Same kind and the same bits (so 0.0 and -0.0 differ): the test by which a wave of recalculation stops.
  bool operator==(const Value& other) const;

 private:
  Kind kind_;
  double number_ = 0;
  std::string words_;
};

/// How values are read and shown in one sheet.
struct Settings {
  std::optional<LengthUnit> plain_length;  ///< the unit of a plain length without one; absent: such an entry is refused
  std::string currency = "EUR";            ///< a word or a sign (`EUR`, `$`); amounts in any other currency are refused
  LengthFormat lengths;                    ///< for showing
};

/// As a maker reads it: `717.5 mm`, `28 1/4"`, `37.5 deg`, `4`, `0.48`, `1.25 m2`, `85.00 EUR`, `45 min`, `85 EUR per
/// h`, `yes`, `12/4 rough`. Rounded for reading: never feed it back.
std::string show(const Value& value, const Settings& settings);

/// The entry that reads back to the same bits, in internal units: `717.5 mm`, `0.6544984694978736 rad`, `85 EUR`,
/// `1.4166666666666667 EUR per min`, `"oak"` for a text; a kind without a unit of its own becomes a formula.
std::string exact_entry(const Value& value, const Settings& settings);

}  // namespace pommel::sheet
