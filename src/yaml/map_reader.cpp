#include "yaml/map_reader.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"

namespace pommel::yaml {

namespace {

std::string with_article(const std::string& what) {
  return (!what.empty() && std::string_view("aeiou").find(what.front()) != std::string_view::npos ? "an " : "a ") + what;
}

// The text of a scalar, or a report of what stands there instead of `wanted` ("a length").
std::optional<std::string> scalar_text(const Node& node, std::string_view wanted, std::string_view example,
                                       Sink& sink) {
  const std::string remedy = "write " + std::string(wanted) + " such as " + std::string(example);
  if (!node.is_scalar()) {
    const std::string_view kind = node.is_list() ? "a list" : "a group of entries";
    sink.add(at(node, "yaml.not-one-value", std::string(wanted) + " is wanted here, not " + std::string(kind), remedy));
    return std::nullopt;
  }
  if (node.nothing() || trimmed(node.text()).empty()) {
    sink.add(at(node, "yaml.nothing-here", std::string(wanted) + " is wanted here, and nothing is written", remedy));
    return std::nullopt;
  }
  return node.text();
}

// A label with an end of line in it would begin lines of papers and tables; a text folded over lines reads the same without.
std::string in_one_line(std::string_view text) {
  std::string out(trimmed(text));
  std::replace_if(out.begin(), out.end(), [](char c) { return c == '\n' || c == '\t'; }, ' ');
  return out;
}

// Puts the reasons of a parser of base/, whose columns count within the text, at their place in the file.
void report_within(const Node& node, const Failure& failure, Sink& sink) {
  for (Diagnostic reason : failure.reasons) {
    std::size_t index = 0;  // of the byte at the reason's column
    for (int left = reason.place.column - 1; left > 0 && index < node.text().size(); --left) {
      do ++index;
      while (index < node.text().size() && (static_cast<unsigned char>(node.text()[index]) & 0xC0) == 0x80);
    }
    reason.place = node.place_within(index);
    reason.source_line = node.source_line();
    sink.add(std::move(reason));
  }
}

template <class Show>
std::optional<double> within(const Node& node, double value, const Need& need, Sink& sink, Show show) {
  if (need.holds(value)) return value;
  const bool low = !(value > need.low()) && !(need.low() == value && !need.low_is_open());
  const std::string bound =
      low ? (need.low_is_open() ? "above " : "at least ") + show(need.low()) : "at most " + show(need.high());
  sink.add(at(node, "yaml.out-of-range", in_quotes(node.text()) + " will not do: it must be " + bound,
              "check the figure and its unit"));
  return std::nullopt;
}

std::string plain_figure(double value) {
  return format_exact(value);
}

}  // namespace

std::optional<std::string> as_text(const Node& node, Sink& sink) {
  return scalar_text(node, "a text", "'oak table'", sink);
}

std::optional<double> as_number(const Node& node, Sink& sink, const Need& need) {
  const auto text = scalar_text(node, "a number", "1.5", sink);
  if (!text) return std::nullopt;
  const auto value = parse_number(*text);
  if (value) return within(node, *value, need, sink, plain_figure);
  const bool comma = text->find(',') != std::string::npos;
  sink.add(at(node, "yaml.not-a-number", in_quotes(*text) + " is no number",
              comma ? "write a point for the decimals, as in 1.5" : "write a number alone, such as 1.5"));
  return std::nullopt;
}

std::optional<double> as_length(const Node& node, std::optional<LengthUnit> plain, Sink& sink, const Need& need) {
  const auto text = scalar_text(node, "a length", "717.5 mm or 28 1/4 in", sink);
  if (!text) return std::nullopt;
  const auto value = parse_length(*text, plain);
  if (value) return within(node, *value, need, sink, [](double mm) { return format_number(mm, 3) + " mm"; });
  report_within(node, value.failure(), sink);
  return std::nullopt;
}

std::optional<double> as_angle(const Node& node, Sink& sink, const Need& need) {
  const auto text = scalar_text(node, "an angle", "30 deg", sink);
  if (!text) return std::nullopt;
  const auto value = parse_angle(*text);
  if (value) return within(node, *value, need, sink, [](double radians) { return format_angle(radians, 3); });
  report_within(node, value.failure(), sink);
  return std::nullopt;
}

std::optional<Money> as_money(const Node& node, std::string_view currency, Sink& sink, const Need& need) {
  const auto text = scalar_text(node, "an amount of money", "12.50", sink);
  if (!text) return std::nullopt;
  const auto value = parse_money(*text, currency);
  if (value && !within(node, static_cast<double>(value->cents) / 100, need, sink, [](double units) { return format_money(round_to_cents(units)); })) return std::nullopt;
  if (value) return *value;
  report_within(node, value.failure(), sink);
  return std::nullopt;
}

std::optional<bool> as_yes_no(const Node& node, Sink& sink) {
  const auto text = scalar_text(node, "a yes or no", "yes", sink);
  if (!text) return std::nullopt;
  if (*text == "yes" || *text == "true") return true;
  if (*text == "no" || *text == "false") return false;
  sink.add(at(node, "yaml.not-yes-no", in_quotes(*text) + " is neither yes nor no", "write yes or no"));
  return std::nullopt;
}

std::optional<int> as_count(const Node& node, Sink& sink, const Need& need) {
  const auto text = scalar_text(node, "a whole number", "4", sink);
  if (!text) return std::nullopt;
  const auto value = parse_number(*text);
  constexpr double kMost = 1e6;
  if (!value || *value < 0 || *value > kMost || *value != std::floor(*value)) {
    sink.add(at(node, "yaml.not-a-count", in_quotes(*text) + " is no whole number from 0 to 1000000",
                "write a whole number, such as 4"));
    return std::nullopt;
  }
  if (!within(node, *value, need, sink, plain_figure)) return std::nullopt;
  return static_cast<int>(*value);
}

std::optional<std::size_t> as_choice(const Node& node, const std::vector<std::string>& words, Sink& sink) {
  const auto text = scalar_text(node, "a word", words.empty() ? "" : words.front(), sink);
  if (!text) return std::nullopt;
  const auto found = std::find(words.begin(), words.end(), *text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  const std::string near = nearest_name(*text, words);
  sink.add(at(node, "yaml.unknown-choice", in_quotes(*text) + " is not one of " + listed(words),
              near.empty() ? "write one of them" : "did you mean '" + near + "'?"));
  return std::nullopt;
}

MapReader::MapReader(const Node& map, std::string what, Sink& sink) : map_(map), what_(std::move(what)), sink_(sink) {
  if (map_.is_map()) return;
  sink_.add(at(map_, "yaml.not-a-map", "the entries of this " + what_ + " are wanted here",
               "write them as 'word: value', one to a line"));
}

std::optional<Node> MapReader::find(std::string_view key) {
  asked_.emplace_back(key);
  return map_.find(key);
}

std::optional<Node> MapReader::require(std::string_view key, std::string_view purpose) {
  auto found = find(key);
  if (!found && map_.is_map()) {
    sink_.add(at(map_, "yaml.missing-key", "this " + what_ + " has no '" + std::string(key) + "'",
                 "add '" + std::string(key) + ":' " + std::string(purpose)));
  }
  return found;
}

std::optional<Node> MapReader::wanted(std::string_view key, const Need& need) {
  return need.is_required() ? require(key, need.purpose()) : find(key);
}

template <class Read>
auto MapReader::take(std::string_view key, const Need& need, Read read) -> decltype(read(std::declval<const Node&>())) {
  const auto found = wanted(key, need);
  if (!found) return std::nullopt;
  return read(*found);
}

std::optional<std::string> MapReader::text(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) {
    auto text = as_text(node, sink_);
    if (text) *text = in_one_line(*text);
    return text;
  });
}
std::optional<double> MapReader::number(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) { return as_number(node, sink_, need); });
}
std::optional<double> MapReader::length(std::string_view key, std::optional<LengthUnit> plain, const Need& need) {
  return take(key, need, [&](const Node& node) { return as_length(node, plain, sink_, need); });
}
std::optional<double> MapReader::angle(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) { return as_angle(node, sink_, need); });
}
std::optional<Money> MapReader::money(std::string_view key, std::string_view currency, const Need& need) {
  return take(key, need, [&](const Node& node) { return as_money(node, currency, sink_, need); });
}
std::optional<bool> MapReader::yes_no(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) { return as_yes_no(node, sink_); });
}
std::optional<int> MapReader::count(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) { return as_count(node, sink_, need); });
}
std::optional<std::size_t> MapReader::choice(std::string_view key, const std::vector<std::string>& words,
                                             const Need& need) {
  return take(key, need, [&](const Node& node) { return as_choice(node, words, sink_); });
}

std::optional<Node> MapReader::list(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) -> std::optional<Node> {
    if (node.is_list()) return node;
    sink_.add(at(node, "yaml.not-a-list", "a list is wanted for '" + std::string(key) + "'",
                 "write [one, two], or each item on a line that begins with '- '"));
    return std::nullopt;
  });
}

std::optional<Node> MapReader::map(std::string_view key, const Need& need) {
  return take(key, need, [&](const Node& node) -> std::optional<Node> {
    if (node.is_map()) return node;
    sink_.add(at(node, "yaml.not-a-map", "entries are wanted for '" + std::string(key) + "'",
                 "write {word: value}, or each entry on a line of its own below"));
    return std::nullopt;
  });
}

void MapReader::finish() {
  constexpr int kMost = 20;
  if (!map_.is_map()) return;
  int unknown = 0;
  for (std::size_t i = 0; i < map_.size(); ++i) {
    const Node key = map_.key(i);
    if (std::find(asked_.begin(), asked_.end(), key.text()) != asked_.end()) continue;
    if (++unknown > kMost) return;
    const std::string near = nearest_name(key.text(), asked_);
    sink_.add(at(key, "yaml.unknown-key", in_quotes(key.text()) + " is no entry of " + with_article(what_),
                 near.empty() ? "it can have " + listed(asked_) : "did you mean '" + near + "'?"));
  }
}

}  // namespace pommel::yaml
