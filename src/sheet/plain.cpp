#include "sheet/plain.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "sheet/lexer.h"

namespace pommel::sheet {
namespace {

using Read = std::variant<Value, Fault>;

Span span_of(std::string_view part, std::string_view whole) {
  const auto begin = static_cast<std::size_t>(part.data() - whole.data());
  return {begin, begin + part.size()};
}

/// Words in quotes without them; other texts as they are.
std::string unquoted(std::string_view text) {
  const bool marked = text.size() >= 2 && (text.front() == '"' || text.front() == '\'') && text.back() == text.front();
  if (!marked) return std::string(text);
  std::string words;
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    words += text[i];
    if (text[i] == text.front() && text[i + 1] == text.front()) ++i;
  }
  return words;
}

Read read_choice(std::string_view entry, std::string_view text, const Wanted& wanted) {
  static const std::vector<std::string> kNone;
  const auto& choices = wanted.choices ? *wanted.choices : kNone;
  std::string word = unquoted(text);
  if (std::find(choices.begin(), choices.end(), word) != choices.end()) return Value::choice(std::move(word));
  const std::string near = nearest_name(word, choices);
  return Fault{"sheet.not-a-choice", in_quotes(word) + " is no choice of " + in_quotes(wanted.name),
               near.empty() ? "choose among " + joined(choices, ", ") : "did you mean " + in_quotes(near) + "?",
               span_of(text, entry)};
}

/// The column of base's reader becomes a span. REQUIRES: the entry is not blank.
Fault from_base(const Failure& failure, std::string_view entry) {
  const Diagnostic& why = failure.reasons.front();
  std::size_t begin = 0;
  for (int character = 1; begin < entry.size() && character < why.place.column; ++character) do
      ++begin;
    while (begin < entry.size() && (static_cast<unsigned char>(entry[begin]) & 0xC0) == 0x80);
  Fault fault{why.id, why.message, why.remedy, {begin, begin + why.read.size()}};
  if (is_word_start(trimmed(entry).front())) fault.remedy += "; a formula begins with '='";
  return fault;
}

struct Quantity {
  double amount = 0;
  Token token;
};

std::variant<Quantity, Fault> read_quantity(std::string_view entry, const Settings& settings) {
  Lexer lexer(entry, 0, Reading::plain, settings);
  auto token = lexer.next();
  const bool negative = token && token->type == Token::Type::sign && token->text == "-";
  if (negative) token = lexer.next();
  if (!token) return *lexer.fault();
  if (token->type != Token::Type::number)
    return Fault{"sheet.not-a-number", in_quotes(trimmed(entry)) + " is no number",
                 "write a number with its unit; a formula begins with '='", span_of(trimmed(entry), entry)};
  Quantity read{negative ? -token->number : token->number, *token};
  const auto rest = lexer.next();
  if (!rest) return *lexer.fault();
  if (rest->type == Token::Type::end) return read;
  if (rest->text == ",") {
    std::string instead(trimmed(entry));
    std::replace(instead.begin(), instead.end(), ',', '.');
    return Fault{"sheet.comma", in_quotes(trimmed(entry)) + " has a comma in the number", "write " + in_quotes(instead),
                 span_of(trimmed(entry), entry)};
  }
  return Fault{"sheet.left-over", in_quotes(trimmed(entry.substr(rest->span.begin))) + " is left over after the number",
               "take it out; a formula begins with '='", span_of(trimmed(entry.substr(rest->span.begin)), entry)};
}

Read whole_or_fault(double amount, const Kind& kind, std::string_view entry, const std::string& name) {
  const double whole = std::round(amount);
  if (!kind.whole || whole == amount) return Value::number(amount, kind);
  return Fault{"sheet.not-whole",
               in_quotes(trimmed(entry)) + " is not whole, and " + (name.empty() ? "this" : in_quotes(name)) + " is a count",
               "write a whole number", span_of(trimmed(entry), entry)};
}

Read read_number(std::string_view entry, const Wanted& wanted, const Settings& settings) {
  const Kind& kind = *wanted.kind;
  const std::string_view text = trimmed(entry);
  if (text == "0") return Value::number(0, kind);
  if (kind == Kind::length()) {
    const auto mm = parse_length(entry, settings.plain_length);
    if (mm) return Value::length(*mm);
    return from_base(mm.failure(), entry);
  }
  auto read = read_quantity(entry, settings);
  if (const auto* fault = std::get_if<Fault>(&read)) return *fault;
  const auto& [amount, token] = std::get<Quantity>(read);
  if (token.dimension == kind.dimension) return whole_or_fault(amount, kind, entry, wanted.name);
  const std::string who = wanted.name.empty() ? "this" : in_quotes(wanted.name);
  if (!token.has_unit) return unit_missing(text, span_of(text, entry), who + " is " + a_kind(kind), kind, settings);
  return Fault{
      "sheet.wrong-kind",
      in_quotes(text) + " is " + a_kind({Form::number, token.dimension, false}) + ", but " + who + " is " + a_kind(kind),
      kind.dimension.plain() ? "take the unit out" : "write it as in 1 " + sample_unit(kind.dimension, settings),
      span_of(text, entry)};
}

/// The unit tells the kind.
Read read_untold(std::string_view entry, const Settings& settings) {
  const std::string_view text = trimmed(entry);
  if (text == "yes" || text == "no") return Value::yes_no(text == "yes");
  if (text.size() >= 2 && (text.front() == '"' || text.front() == '\'') && text.back() == text.front())
    return Value::text(unquoted(text));
  if (is_word_start(text.front())) {
    const bool formula = std::holds_alternative<Formula>(parse_formula(text, 0, settings));
    return Fault{"sheet.untold-kind", in_quotes(text) + " tells no kind",
                 formula ? "a formula begins with '=': write '= " + std::string(text) + "'; words go in quotes"
                         : "state the row's kind, or write words in quotes",
                 span_of(text, entry)};
  }
  auto read = read_quantity(entry, settings);
  if (const auto* fault = std::get_if<Fault>(&read)) return *fault;
  const auto& [amount, token] = std::get<Quantity>(read);
  if (token.dimension == Dimension{.length = 1}) return read_number(entry, {{}, Kind::length()}, settings);
  if (token.has_unit) return Value::number(amount, {Form::number, token.dimension, false});
  if (token.fraction && std::abs(amount) > 1) {
    Fault fault = unit_missing(text, span_of(text, entry), "no unit and no kind is stated", Kind::length(), settings);
    fault.remedy += ", or state the row's kind";
    return fault;
  }
  return Value::number(amount, token.integer ? Kind::count() : Kind::ratio());
}

}  // namespace

std::optional<std::size_t> formula_start(std::string_view entry) {
  const std::size_t at = entry.find_first_not_of(" \t\r\n");
  if (at == std::string_view::npos || entry[at] != '=') return std::nullopt;
  return at + 1;
}

Read read_plain(std::string_view entry, const Wanted& wanted, const Settings& settings) {
  const std::string_view text = trimmed(entry);
  if (entry.size() > kLongestFormula)
    return Fault{"sheet.too-long",
                 "this entry is longer than " + std::to_string(kLongestFormula) + " characters",
                 "shorten it",
                 {0, 1}};
  if (text.empty())
    return Fault{
        "sheet.empty", "there is nothing in this entry", "write a value, or a formula after '='", {0, entry.size()}};
  if (!wanted.kind) return read_untold(entry, settings);
  switch (wanted.kind->form) {
    case Form::choice:
      return read_choice(entry, text, wanted);
    case Form::text:
      return Value::text(unquoted(text));
    case Form::yes_no:
      if (text == "yes" || text == "no") return Value::yes_no(text == "yes");
      return Fault{"sheet.not-yes-or-no", in_quotes(text) + " is neither yes nor no", "write yes or no",
                   span_of(text, entry)};
    case Form::number:
      return read_number(entry, wanted, settings);
  }
  return read_number(entry, wanted, settings);
}

}  // namespace pommel::sheet
