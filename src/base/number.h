// Numbers as text, never by the locale: only to_chars and from_chars.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace pommel {

/// The whole text as a finite number (no leading '+' needed, no spaces, no hex, no inf/nan), or nothing.
std::optional<double> parse_number(std::string_view text);

/// Fixed notation with at most `decimals` places; trailing zeros and a trailing point are dropped; never "-0".
std::string format_number(double value, int decimals);

/// Fixed notation with exactly `decimals` places; never "-0.00".
std::string format_fixed(double value, int decimals);

/// The shortest text that reads back to the same double.
std::string format_exact(double value);

}  // namespace pommel
