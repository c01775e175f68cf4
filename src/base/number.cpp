#include "base/number.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace pommel {

std::optional<double> parse_number(std::string_view text) {
  if (text.starts_with('+')) {
    text.remove_prefix(1);
    if (text.starts_with('-')) return std::nullopt;  // from_chars would read "+-5" after the plus is gone
  }
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::general);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string format_fixed(double value, int decimals) {
  decimals = std::clamp(decimals, 0, 30);
  std::string text(360, '\0');  // the largest double has 309 digits before the point
  const auto [end, error] =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals);
  text.resize(error == std::errc() ? static_cast<std::size_t>(end - text.data()) : 0);
  if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string format_number(double value, int decimals) {
  std::string text = format_fixed(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string format_exact(double value) {
  if (value == 0) return "0";
  const bool readable = std::abs(value) >= 1e-6 && std::abs(value) < 1e15;
  const auto notation = readable ? std::chars_format::fixed : std::chars_format::general;
  char text[64];
  const auto [end, error] = std::to_chars(text, text + sizeof text, value, notation);
  return error == std::errc() ? std::string(text, end) : std::string();
}

}  // namespace pommel
