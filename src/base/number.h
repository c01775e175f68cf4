// Numbers as text, never by the locale: only to_chars and from_chars.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace pommel {

/// The whole text as a finite number, or nothing: a sign, digits with a point, an exponent; no spaces, no hex, no inf or
/// nan. Numbers too large or too small for a double are nothing, too.
std::optional<double> parse_number(std::string_view text);

/// Fixed notation with at most `decimals` (0 to 30) places; trailing zeros and a trailing point are dropped; never "-0".
/// Ties of the decimal text go by the exact binary value. A value that is not finite gives "inf", "-inf" or "nan".
std::string format_number(double value, int decimals);

/// Fixed notation with exactly `decimals` places; never "-0.00".
std::string format_fixed(double value, int decimals);

/// The shortest text that reads back to the same double; without an exponent from 1e-6 up to 1e15.
std::string format_exact(double value);

}  // namespace pommel
