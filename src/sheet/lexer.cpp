#include "sheet/lexer.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/number.h"
#include "base/text.h"

namespace pommel::sheet {
namespace {

constexpr std::array<std::string_view, 4> kMoneySigns = {"$", "\xE2\x82\xAC", "\xC2\xA3", "\xC2\xA5"};

struct Foreign {
  std::string_view sign, instead;
};
constexpr std::array kForeign = {
    Foreign{"\xC3\x97", "*"},
    Foreign{"\xC2\xB7", "*"},
    Foreign{"\xC3\xB7", "/"},
    Foreign{"\xE2\x88\x92", "-"},
    Foreign{"\xE2\x80\x93", "-"},
    Foreign{"\xE2\x89\xA4", "<="},
    Foreign{"\xE2\x89\xA5", ">="},
    Foreign{"\xE2\x89\xA0", "!="},
    Foreign{"\xE2\x80\x9C", "\""},
    Foreign{"\xE2\x80\x9D", "\""},
    Foreign{"&&", "and"},
    Foreign{"||", "or"},
    Foreign{"!", "not"},
    Foreign{"=", "=="},
    Foreign{"**", "^"},
    Foreign{"\xC2\xBC", "1/4"},
    Foreign{"\xC2\xBD", "1/2"},
    Foreign{"\xC2\xBE", "3/4"},
    Foreign{"\xC2\xB2", "^2"},
    Foreign{"\xC2\xB3", "^3"},
};

constexpr std::array<std::string_view, 17> kSigns = {"<=", ">=", "==", "!=", "+", "-", "*", "/", "^",
                                                     "(",  ")",  ",",  "?",  ":", "<", ">", "%"};

std::size_t character_size(char first) {
  const auto byte = static_cast<unsigned char>(first);
  return byte < 0x80 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
}

}  // namespace

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_word_start(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_word_part(char c) {
  return is_word_start(c) || is_digit(c);
}

void Lexer::skip_blanks() {
  while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\n' || text_[at_] == '\r'))
    ++at_;
}

std::string_view Lexer::word_at(std::size_t at) const {
  std::size_t end = at;
  if (end < text_.size() && is_word_start(text_[end]))
    while (end < text_.size() && is_word_part(text_[end])) ++end;
  return text_.substr(at, end - at);
}

std::nullopt_t Lexer::refuse(std::size_t begin, std::size_t end, std::string id, std::string message,
                             std::string remedy) {
  if (!fault_) fault_ = Fault{std::move(id), std::move(message), std::move(remedy), {begin, end}};
  return std::nullopt;
}

std::optional<Token> Lexer::next() {
  if (fault_) return std::nullopt;
  skip_blanks();
  std::optional<Token> token;
  if (at_ == text_.size()) {
    token = Token{};
    token->span = {at_, at_};
  } else if (is_digit(here()) || (here() == '.' && is_digit(here(1)))) {
    token = number();
  } else if (text_.substr(at_).starts_with(settings_.currency) && !is_word_start(here())) {
    token = prefixed_money(settings_.currency);
  } else if (is_word_start(here())) {
    token = word();
  } else if (here() == '"' || here() == '\'') {
    token = words();
  } else {
    token = sign();
  }
  if (fault_) return std::nullopt;
  last_sign_ = token->type == Token::Type::sign ? token->text : "";
  return token;
}

// --- numbers

std::size_t Lexer::fraction_end(std::size_t at) const {
  std::size_t end = at;
  while (end < text_.size() && is_digit(text_[end])) ++end;
  if (end == at || end >= text_.size() || text_[end] != '/') return at;
  const std::size_t below = ++end;
  while (end < text_.size() && is_digit(text_[end])) ++end;
  const bool goes_on = end < text_.size() && (text_[end] == '.' || text_[end] == '_');
  return end == below || goes_on ? at : end;
}

std::optional<double> Lexer::fraction() {
  const std::size_t begin = at_, end = fraction_end(at_);
  const std::string_view read = text_.substr(begin, end - begin);
  const std::size_t slash = read.find('/');
  const auto above = parse_number(read.substr(0, slash)), below = parse_number(read.substr(slash + 1));
  at_ = end;
  if (above && below && *below > 0) return *above / *below;
  return refuse(begin, end, "sheet.fraction", in_quotes(read) + " is no fraction", "write a number above 0 below the line");
}

/// In a formula `3/4` is a fraction only where a unit takes hold of it: `3/4 in`, but `a/2` and `1/2` divide.
bool Lexer::folds_fraction(std::size_t end) const {
  if (reading_ == Reading::plain) return true;
  Lexer ahead(text_, end, reading_, settings_);
  return ahead.unit().has_value();
}

std::optional<Lexer::Magnitude> Lexer::magnitude() {
  const std::size_t begin = at_;
  if (const std::size_t end = fraction_end(at_); end != at_ && folds_fraction(end)) {
    if (last_sign_ == "/" || last_sign_ == "^") {
      const std::string read(text_.substr(begin, end - begin));
      return refuse(begin, end, "sheet.two-readings",
                    in_quotes(read) + " after " + in_quotes(last_sign_) + " can be read in two ways",
                    "put it in brackets, with its unit");
    }
    const auto value = fraction();
    if (!value) return std::nullopt;
    return Magnitude{*value, false, true};
  }
  while (is_digit(here())) ++at_;
  bool integer = at_ > begin;
  if (here() == '.' && !(is_word_start(here(1)))) {
    integer = false;
    ++at_;
    while (is_digit(here())) ++at_;
  }
  if ((here() == 'e' || here() == 'E') &&
      (is_digit(here(1)) || ((here(1) == '-' || here(1) == '+') && is_digit(here(2))))) {
    integer = false;
    at_ += 2;
    while (is_digit(here())) ++at_;
  }
  const auto value = parse_number(text_.substr(begin, at_ - begin));
  if (!value)
    return refuse(begin, at_, "sheet.number", in_quotes(text_.substr(begin, at_ - begin)) + " cannot be read as a number",
                  "check its digits");
  Magnitude read{*value, integer, false};
  const std::size_t whole_end = at_;
  const bool hyphen = reading_ == Reading::plain && here() == '-';
  if (hyphen)
    ++at_;
  else
    skip_blanks();
  if (at_ == whole_end || fraction_end(at_) == at_) {
    at_ = whole_end;
    return read;
  }
  const auto part = fraction();
  if (!part) return std::nullopt;
  if (!integer || *part >= 1)
    return refuse(begin, at_, "sheet.fraction", in_quotes(text_.substr(begin, at_ - begin)) + " is no mixed number",
                  "write a whole number and a fraction under 1, as in 28 1/4 in");
  return Magnitude{*value + *part, false, true};
}

/// The unit that stands here, blanks before it allowed; nothing and no fault when there is none.
std::optional<Unit> Lexer::unit() {
  const std::size_t before = at_;
  skip_blanks();
  std::string_view word = word_at(at_);
  if (word.empty() && at_ < text_.size()) {
    const std::string_view rest = text_.substr(at_);
    word = rest.starts_with(settings_.currency) ? rest.substr(0, settings_.currency.size())
                                                : rest.substr(0, character_size(rest[0]));
  }
  const std::size_t end = at_ + word.size();
  const bool call = end < text_.size() && text_[end] == '(';
  const auto found = word.empty() || call ? std::nullopt : find_unit(word, settings_);
  at_ = found ? end : before;
  return found;
}

/// `per h`, and in plain entries `/h`, after a number and its unit.
bool Lexer::rates(Token& token) {
  while (true) {
    const std::size_t before = at_;
    skip_blanks();
    if (reading_ == Reading::plain && here() == '/') {
      ++at_;
    } else if (word_at(at_) == "per") {
      at_ += 3;
    } else {
      at_ = before;
      return true;
    }
    skip_blanks();
    const std::size_t begin = at_;
    const auto below = unit();
    if (!below) {
      const std::string word(word_at(begin));
      const std::string near = nearest_unit(word, settings_);
      refuse(begin, begin + word.size(), "sheet.unknown-unit",
             word.empty() ? "a unit is missing after 'per'" : in_quotes(word) + " is no unit",
             near.empty() ? "name the unit, as in 'per h'" : "did you mean " + in_quotes(near) + "?");
      return false;
    }
    token.number = token.number * below->divisor / below->factor;
    token.dimension = token.dimension / below->dimension;
    token.has_unit = true;
  }
}

/// The inches after feet: `2' 4 1/4"`.
bool Lexer::inches(Token& token) {
  const std::size_t before = at_;
  skip_blanks();
  if (reading_ == Reading::plain && here() == '-' && is_digit(here(1))) ++at_;
  if (!is_digit(here())) {
    at_ = before;
    return true;
  }
  const std::size_t begin = at_;
  const auto more = magnitude();
  if (!more) return false;
  const auto below = unit();
  if (!below || !(below->dimension == Dimension{.length = 1}) || below->factor != kInch) {
    refuse(begin, at_, "sheet.after-feet", "only inches can follow feet", "write it as in 2' 4 1/4\"");
    return false;
  }
  token.number += more->value * kInch;
  token.fraction = more->fraction;
  return true;
}

/// What stands after a number and is no sign: usually a unit written wrong.
bool Lexer::check_after(const Token& token) {
  std::size_t after = at_;
  while (after < text_.size() && text_[after] == ' ') ++after;
  const std::string_view word = word_at(after);
  if (word.empty() || word == "and" || word == "or" || word == "per") return true;
  const bool call = after + word.size() < text_.size() && text_[after + word.size()] == '(';
  const std::string near = token.has_unit || call ? "" : nearest_unit(word, settings_);
  const std::string number(text_.substr(token.span.begin, at_ - token.span.begin));
  refuse(after, after + word.size(), "sheet.unknown-unit",
         token.has_unit ? in_quotes(word) + " is left over after " + in_quotes(number) : in_quotes(word) + " is no unit",
         !near.empty()    ? "did you mean " + in_quotes(near) + "?"
         : token.has_unit ? "take it out, or write a sign between the two"
                          : "write the unit, or a sign between " + in_quotes(number) + " and " + in_quotes(word));
  return false;
}

std::optional<Token> Lexer::number() {
  Token token;
  token.type = Token::Type::number;
  token.span.begin = at_;
  const auto read = magnitude();
  if (!read) return std::nullopt;
  token.number = read->value;
  token.fraction = read->fraction;
  if (const auto own = unit()) {
    token.number = own->times(token.number);
    token.dimension = own->dimension;
    token.has_unit = true;
    if (own->dimension == Dimension{.length = 1} && own->factor == 12 * kInch && !inches(token)) return std::nullopt;
  }
  if (!rates(token) || !check_after(token)) return std::nullopt;
  token.integer = read->integer && !token.has_unit;
  token.span.end = at_;
  if (!std::isfinite(token.number))
    return refuse(token.span.begin, at_, "sheet.number", "this number is too large", "check its digits");
  return token;
}

std::optional<Token> Lexer::prefixed_money(std::string_view sign) {
  Token token;
  token.type = Token::Type::number;
  token.span.begin = at_;
  at_ += sign.size();
  skip_blanks();
  if (!is_digit(here()) && here() != '.')
    return refuse(token.span.begin, at_, "sheet.number", "an amount is missing after " + in_quotes(sign),
                  "write it as in " + std::string(sign) + "85");
  const auto read = magnitude();
  if (!read) return std::nullopt;
  token.number = read->value;
  token.dimension = {.money = 1};
  token.has_unit = true;
  if (!rates(token) || !check_after(token)) return std::nullopt;
  token.span.end = at_;
  return token;
}

// --- words and signs

std::optional<Token> Lexer::word() {
  Token token;
  token.type = Token::Type::word;
  token.text = word_at(at_);
  token.span = {at_, at_ + token.text.size()};
  at_ = token.span.end;
  if (here() != '.' || !is_word_start(here(1))) return token;
  std::string joined = token.text;
  while (here() == '.' && is_word_start(here(1))) {
    const std::string_view part = word_at(at_ + 1);
    joined += "_" + std::string(part);
    at_ += 1 + part.size();
  }
  return refuse(token.span.begin, at_, "sheet.dotted-name",
                in_quotes(text_.substr(token.span.begin, at_ - token.span.begin)) + " has a dot in it",
                "join the words of a name by '_': " + joined);
}

std::optional<Token> Lexer::words() {
  const std::size_t begin = at_;
  const char mark = here();
  Token token;
  token.type = Token::Type::words;
  for (++at_; at_ < text_.size(); ++at_) {
    if (here() == mark && here(1) != mark) {
      token.span = {begin, ++at_};
      return token;
    }
    if (here() == mark) ++at_;  // a mark written twice stands for itself
    token.text += here();
  }
  return refuse(begin, text_.size(), "sheet.open-quote", "the words that begin here have no closing mark",
                std::string("close them with ") + mark);
}

std::optional<Token> Lexer::sign() {
  const std::string_view rest = text_.substr(at_);
  for (const auto sign : kMoneySigns)
    if (rest.starts_with(sign))
      return refuse(at_, at_ + sign.size(), "sheet.other-currency", "this sheet counts in " + settings_.currency,
                    "write amounts as in 85 " + settings_.currency);
  Token token;
  token.type = Token::Type::sign;
  for (const auto sign : kSigns) {
    if (!rest.starts_with(sign) || rest.starts_with("**")) continue;
    token.text = sign;
    token.span = {at_, at_ + sign.size()};
    at_ = token.span.end;
    return token;
  }
  for (const auto& [sign, instead] : kForeign)
    if (rest.starts_with(sign))
      return refuse(at_, at_ + sign.size(), "sheet.foreign-sign", in_quotes(sign) + " is no sign of a formula",
                    "write " + in_quotes(instead) + " instead");
  const std::size_t size = std::min(character_size(here()), rest.size());
  return refuse(at_, at_ + size, "sheet.foreign-sign", in_quotes(rest.substr(0, size)) + " does not belong in a formula",
                "take it out");
}

}  // namespace pommel::sheet
