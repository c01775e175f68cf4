#include "sheet/kind.h"

#include <array>
#include <cassert>
#include <charconv>
#include <vector>

#include "base/text.h"

namespace pommel::sheet {
namespace {

struct Named {
  std::string_view name;
  Kind kind;
};

/// Ordered so that the first name of a dimension is the one it is written with.
const std::vector<Named>& number_names() {
  static const std::vector<Named> names = {
      {"length", Kind::length()}, {"angle", Kind::angle()},   {"count", Kind::count()}, {"ratio", Kind::ratio()},
      {"area", Kind::area()},     {"volume", Kind::volume()}, {"money", Kind::money()}, {"time", Kind::time()},
      {"hour", Kind::time()},     {"minute", Kind::time()},   {"piece", Kind::count()},
  };
  return names;
}

const std::vector<Named>& word_names() {
  static const std::vector<Named> names = {
      {"choice", Kind::choice()}, {"yes/no", Kind::yes_no()}, {"text", Kind::text()}};
  return names;
}

Failure unknown_kind(std::string_view word) {
  std::vector<std::string> all;
  for (const auto& one : number_names()) all.emplace_back(one.name);
  for (const auto& one : word_names()) all.emplace_back(one.name);
  const std::string near = nearest_name(word, all);
  return fail(
      "sheet.unknown-kind", "'" + std::string(word) + "' is no kind of value",
      near.empty()
          ? "use length, angle, count, ratio, area, volume, money, time, 'money per time', choice, yes/no or text"
          : "did you mean '" + near + "'?",
      {}, std::string(word));
}

Dimension raised(const Dimension& base, int power) {
  return {base.length * power, base.angle * power, base.money * power, base.time * power};
}

/// One factor: `length`, `length^4`.
Result<Kind> parse_factor(std::string_view text) {
  text = trimmed(text);
  const auto hat = text.find('^');
  const std::string_view word = trimmed(text.substr(0, hat));
  for (const auto& one : number_names()) {
    if (one.name != word) continue;
    if (hat == std::string_view::npos) return one.kind;
    const std::string_view digits = trimmed(text.substr(hat + 1));
    int power = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), power);
    if (error != std::errc() || end != digits.data() + digits.size() || power < 1 || power > 99)
      return unknown_kind(text);
    return Kind{Form::number, raised(one.kind.dimension, power), false};
  }
  return unknown_kind(word);
}

/// Factors joined by `*`.
Result<Kind> parse_product(std::string_view text) {
  std::optional<Kind> product;
  for (const auto part : split(text, '*')) {
    auto factor = parse_factor(part);
    if (!factor) return factor;
    if (product)
      product = Kind{Form::number, product->dimension * factor->dimension, false};
    else
      product = *factor;
  }
  return *product;
}

/// The parts around the word ` per `.
std::vector<std::string_view> split_per(std::string_view text) {
  std::vector<std::string_view> parts;
  constexpr std::string_view kPer = " per ";
  for (std::size_t at = text.find(kPer); at != std::string_view::npos; at = text.find(kPer)) {
    parts.push_back(text.substr(0, at));
    text.remove_prefix(at + kPer.size());
  }
  parts.push_back(text);
  return parts;
}

void append_factor(std::string& to, std::string_view name, int power) {
  if (power == 0) return;
  if (!to.empty()) to += "*";
  if (name == "length" && power == 2)
    to += "area";
  else if (name == "length" && power == 3)
    to += "volume";
  else
    to += std::string(name) + (power == 1 ? "" : "^" + std::to_string(power));
}

using Factors = std::array<std::pair<std::string_view, int>, 4>;

Factors factors(const Dimension& of) {
  return {{{"money", of.money}, {"angle", of.angle}, {"length", of.length}, {"time", of.time}}};
}

}  // namespace

Dimension operator*(const Dimension& a, const Dimension& b) {
  return {a.length + b.length, a.angle + b.angle, a.money + b.money, a.time + b.time};
}

Dimension operator/(const Dimension& a, const Dimension& b) {
  return a * raised(b, -1);
}

Kind Kind::per(const Kind& above, const Kind& below) {
  assert(above.form == Form::number && below.form == Form::number);
  return {Form::number, above.dimension / below.dimension, false};
}

Result<Kind> parse_kind(std::string_view text) {
  text = trimmed(text);
  for (const auto& one : word_names())
    if (one.name == text) return one.kind;
  std::optional<Kind> kind;
  for (const auto part : split_per(text)) {
    auto next = parse_product(part);
    if (!next) return next;
    kind = kind ? Kind::per(*kind, *next) : *next;
  }
  return *kind;
}

std::string kind_name(const Kind& kind) {
  for (const auto& one : word_names())
    if (one.kind.form == kind.form) return std::string(one.name);
  if (kind.dimension.plain()) return kind.whole ? "count" : "ratio";
  std::string above, below;
  for (const auto& [name, power] : factors(kind.dimension)) {
    if (power > 0) append_factor(above, name, power);
    if (power >= 0) continue;
    below += " per ";
    std::string one;
    append_factor(one, name, -power);
    below += one;
  }
  return (above.empty() ? "count" : above) + below;
}

std::string a_kind(const Kind& kind) {
  const std::string name = kind_name(kind);
  if (name.starts_with("money")) return name;
  return (name.starts_with("a") ? "an " : "a ") + name;
}

}  // namespace pommel::sheet
