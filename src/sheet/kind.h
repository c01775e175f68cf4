// What a value is a value of. A kind is a length, an angle, a count, a ratio, an area, a volume, money, a time, a rate
// of these (money per time, length per time, money per area ...), a choice, a yes/no or a text.
//
// A number carries exponents over four dimensions: length, angle, money and time. An area is length^2, a price per area
// is money * length^-2. Angle is a dimension of its own here, so that `sin(3)` can ask "3 what?" and degrees never
// stand in for millimetres; an arc's length is written `radius * turn / 1 rad`. A count and a ratio are both plain
// numbers and may meet in a formula; a count must come out whole.
//
// Values, free to cross threads.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace pommel::sheet {

struct Dimension {
  int length = 0, angle = 0, money = 0, time = 0;

  bool plain() const { return *this == Dimension{}; }
  bool operator==(const Dimension&) const = default;
};

Dimension operator*(const Dimension& a, const Dimension& b);
Dimension operator/(const Dimension& a, const Dimension& b);

enum class Form { number, choice, yes_no, text };

struct Kind {
  Form form = Form::number;
  Dimension dimension;  ///< plain unless form is number
  bool whole = false;   ///< a count; only for plain numbers

  static Kind length() { return {Form::number, {.length = 1}, false}; }
  static Kind angle() { return {Form::number, {.angle = 1}, false}; }
  static Kind count() { return {Form::number, {}, true}; }
  static Kind ratio() { return {}; }
  static Kind area() { return {Form::number, {.length = 2}, false}; }
  static Kind volume() { return {Form::number, {.length = 3}, false}; }
  static Kind money() { return {Form::number, {.money = 1}, false}; }
  static Kind time() { return {Form::number, {.time = 1}, false}; }
  static Kind per(const Kind& above, const Kind& below);  ///< REQUIRES: both are numbers
  static Kind choice() { return {Form::choice, {}, false}; }
  static Kind yes_no() { return {Form::yes_no, {}, false}; }
  static Kind text() { return {Form::text, {}, false}; }

  bool operator==(const Kind&) const = default;
};

/// Reads `length`, `angle`, `count`, `ratio`, `area`, `volume`, `money`, `time`, `choice`, `yes/no`, `text`, and rates
/// `money per time`, `money per area`, `length per time`, `money per length per time` ... (`hour`, `minute` stand for
/// time, `piece` for count). Fails with "sheet.unknown-kind" and the nearest name.
Result<Kind> parse_kind(std::string_view text);

/// The text that parse_kind reads: `length`, `money per time`. Kinds without such a name (length^4) are written with
/// exponents: `length^4`.
std::string kind_name(const Kind& kind);

/// The name with its article, for sentences: "a length", "an area", "money", "money per time", "a yes/no".
std::string a_kind(const Kind& kind);

}  // namespace pommel::sheet
