#include "base/quantity.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

#include "base/number.h"
#include "base/text.h"

namespace pommel {

namespace {

struct UnitName {
  std::string_view name;
  double size;  // in mm, or in radians
};

constexpr std::array kLengthUnits = {
    UnitName{"mm", 1},
    UnitName{"cm", 10},
    UnitName{"m", 1000},
    UnitName{"in", kInch},
    UnitName{"inch", kInch},
    UnitName{"inches", kInch},
    UnitName{"\"", kInch},
    UnitName{"\xE2\x80\xB3", kInch},
    UnitName{"ft", 12 * kInch},
    UnitName{"foot", 12 * kInch},
    UnitName{"feet", 12 * kInch},
    UnitName{"'", 12 * kInch},
    UnitName{"\xE2\x80\xB2", 12 * kInch},
};
constexpr std::array kAngleUnits = {
    UnitName{"deg", std::numbers::pi / 180},
    UnitName{"degree", std::numbers::pi / 180},
    UnitName{"degrees", std::numbers::pi / 180},
    UnitName{"\xC2\xB0", std::numbers::pi / 180},
    UnitName{"rad", 1},
    UnitName{"turn", 2 * std::numbers::pi},
    UnitName{"turns", 2 * std::numbers::pi},
};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// What is read: the name of the quantity in messages, its units, and examples for remedies.
struct Language {
  std::string_view noun, units_text, example;
  const UnitName* units;
  std::size_t unit_count;
};
constexpr Language kLength = {"length", "mm, cm, m, in or ft", "717.5 mm or 28 1/4 in", kLengthUnits.data(),
                              kLengthUnits.size()};
constexpr Language kAngle = {"angle", "deg, rad or turn", "30 deg", kAngleUnits.data(), kAngleUnits.size()};

// A reading head over the maker's text. Each step returns nothing and leaves the reason in `failure` when it fails.
class Reader {
 public:
  // tabs and the ends of lines behind a quantity are blank, too
  Reader(std::string_view text, const Language& language) : text_(text), end_(text.find_last_not_of(" \t\r\n") + 1), language_(language) {}

  bool at_end() const { return at_ >= end_; }
  bool at(std::string_view sign) const { return text_.substr(at_).starts_with(sign); }
  std::size_t position() const { return at_; }
  void back_to(std::size_t position) { at_ = position; }
  std::string_view since(std::size_t begin) const { return text_.substr(begin, at_ - begin); }
  std::string_view rest() const { return trimmed(text_.substr(at_)); }
  void skip_blanks() {
    while (at(" ")) ++at_;
  }
  bool take(std::string_view sign) {
    if (!at(sign)) return false;
    at_ += sign.size();
    return true;
  }

  /// `717.5`, `1/4`, `28 1/4`, `28-1/4`.
  std::optional<double> value();
  /// The unit that stands here, blanks before it allowed; nothing and no failure when there is none.
  std::optional<UnitName> unit();

  bool failed() const { return failure_.has_value(); }
  Failure failure() const { return *failure_; }
  std::nullopt_t refuse(std::size_t begin, std::size_t size, std::string id, std::string message, std::string remedy);
  /// Says why what stands at the head cannot be read there.
  std::nullopt_t refuse_rest(std::string_view after);

 private:
  std::string_view digits();
  std::string_view fraction_ahead(std::size_t begin) const;
  std::optional<double> fraction(std::size_t begin);
  std::nullopt_t refuse_comma(std::size_t begin);
  bool refuse_foreign_sign();

  std::string_view text_;
  std::size_t end_;  // of what is not blank; 0 where all is
  const Language& language_;
  std::size_t at_ = 0;
  std::optional<Failure> failure_;
};

std::nullopt_t Reader::refuse(std::size_t begin, std::size_t size, std::string id, std::string message,
                              std::string remedy) {
  Diagnostic why;
  why.id = std::move(id);
  why.message = std::move(message);
  why.remedy = std::move(remedy);
  why.place.column = character_count(text_.substr(0, begin)) + 1;
  why.read = text_.substr(begin, size);
  why.source_line = text_;
  failure_ = Failure(std::move(why));
  return std::nullopt;
}

std::string_view Reader::digits() {
  const std::size_t begin = at_;
  while (!at_end() && is_digit(text_[at_])) ++at_;
  return since(begin);
}

// `1,5` reads as 5 in some programs and as 15 in others; here it is asked for again.
std::nullopt_t Reader::refuse_comma(std::size_t begin) {
  while (!at_end() && (is_digit(text_[at_]) || at(",") || at("."))) ++at_;
  const std::string read(since(begin));
  std::string instead;
  const bool decimal = std::count(read.begin(), read.end(), ',') == 1 && read.find('.') == std::string::npos;
  for (const char c : read) {
    if (c != ',')
      instead += c;
    else if (decimal)
      instead += '.';
  }
  return refuse(begin, read.size(), "quantity.comma", in_quotes(read) + " has a comma in the number",
                "write " + in_quotes(instead));
}

// The size of a text like "1/4" at `begin`, or empty.
std::string_view Reader::fraction_ahead(std::size_t begin) const {
  std::size_t end = begin;
  while (end < text_.size() && is_digit(text_[end])) ++end;
  if (end == begin || end == text_.size() || text_[end] != '/') return {};
  const std::size_t slash = end++;
  while (end < text_.size() && is_digit(text_[end])) ++end;
  return end == slash + 1 ? std::string_view{} : text_.substr(begin, end - begin);
}

std::optional<double> Reader::fraction(std::size_t begin) {
  const std::string_view read = fraction_ahead(begin);
  at_ = begin + read.size();
  const std::size_t slash = read.find('/');
  const auto above = parse_number(read.substr(0, slash)), below = parse_number(read.substr(slash + 1));
  if (above && below && *below > 0) return *above / *below;
  return refuse(begin, read.size(), "quantity.denominator",
                in_quotes(read) + " is no fraction: nothing is divided by 0",
                "write the fraction with a number above 0 below the line");
}

std::optional<double> Reader::value() {
  const std::size_t begin = at_;
  if (!fraction_ahead(begin).empty()) return fraction(begin);
  const std::string_view whole = digits();
  const bool point = take(".");
  const std::string_view decimals = point ? digits() : std::string_view{};
  if (at(",") && at_ > begin) return refuse_comma(begin);
  if (whole.empty() && decimals.empty()) {
    at_ = begin;
    return refuse_rest({});
  }
  const auto number = parse_number(since(begin));
  if (!number) {
    return refuse(begin, at_ - begin, "quantity.too-large",
                  "this number is too large to be a " + std::string(language_.noun), "check the digits");
  }
  const bool separated = at(" ") || at("-");
  const std::size_t next = at(" ") ? text_.find_first_not_of(' ', at_) : at_ + 1;
  if (!separated || next >= text_.size() || fraction_ahead(next).empty()) return number;
  const auto part = fraction(next);
  if (!part) return std::nullopt;
  if (point || *part >= 1) {
    return refuse(begin, at_ - begin, "quantity.mixed", in_quotes(since(begin)) + " is no mixed number",
                  "write a whole number and a fraction under 1, as in 28 1/4");
  }
  return *number + *part;
}

std::optional<UnitName> Reader::unit() {
  const std::size_t before = at_;
  skip_blanks();
  const std::size_t begin = at_;
  while (!at_end() && is_letter(text_[at_])) ++at_;
  const std::string_view word = since(begin);
  for (std::size_t i = 0; i < language_.unit_count; ++i) {
    const UnitName& unit = language_.units[i];
    if (word.empty() ? take(unit.name) : word == unit.name) return unit;
  }
  if (word.empty()) {
    at_ = before;
    return std::nullopt;
  }
  std::vector<std::string> names;
  for (std::size_t i = 0; i < language_.unit_count; ++i) names.emplace_back(language_.units[i].name);
  const std::string near = nearest_name(lowered(word), names);
  const bool one_letter = word.size() == 1 && lowered(word) != near;  // every one-letter word is near to 'm'
  return refuse(
      begin, word.size(), "quantity.unknown-unit", in_quotes(word) + " is no unit of " + std::string(language_.noun),
      near.empty() || one_letter ? "use " + std::string(language_.units_text) : "did you mean '" + near + "'?");
}

// Signs that look right on paper and are others than the ones on the keyboard. True when one stands here.
bool Reader::refuse_foreign_sign() {
  struct Foreign {
    std::string_view sign, instead;
  };
  static constexpr std::array kFractions = {
      Foreign{"\xC2\xBC", "1/4"},     Foreign{"\xC2\xBD", "1/2"},     Foreign{"\xC2\xBE", "3/4"},
      Foreign{"\xE2\x85\x93", "1/3"}, Foreign{"\xE2\x85\x94", "2/3"}, Foreign{"\xE2\x85\x95", "1/5"},
      Foreign{"\xE2\x85\x96", "2/5"}, Foreign{"\xE2\x85\x97", "3/5"}, Foreign{"\xE2\x85\x98", "4/5"},
      Foreign{"\xE2\x85\x99", "1/6"}, Foreign{"\xE2\x85\x9A", "5/6"}, Foreign{"\xE2\x85\x9B", "1/8"},
      Foreign{"\xE2\x85\x9C", "3/8"}, Foreign{"\xE2\x85\x9D", "5/8"}, Foreign{"\xE2\x85\x9E", "7/8"},
      Foreign{"\xE2\x85\x90", "1/7"}, Foreign{"\xE2\x85\x91", "1/9"}, Foreign{"\xE2\x85\x92", "1/10"},
  };
  static constexpr std::array kOthers = {
      Foreign{"\xE2\x81\x84", "/"},
      Foreign{"\xE2\x88\x95", "/"},
      Foreign{"\xE2\x88\x92", "-"},
      Foreign{"\xE2\x80\x90", "-"},
      Foreign{"\xE2\x80\x91", "-"},
      Foreign{"\xE2\x80\x93", "-"},
      Foreign{"\xE2\x80\x94", "-"},
      Foreign{"\xE2\x80\x9C", "\""},
      Foreign{"\xE2\x80\x9D", "\""},
      Foreign{"\xE2\x80\x98", "'"},
      Foreign{"\xE2\x80\x99", "'"},
      Foreign{"\xC2\xA0", "a plain blank"},
      Foreign{"\xE2\x80\xAF", "a plain blank"},
      Foreign{"\xE2\x80\x89", "a plain blank"},
      Foreign{"\t", "a plain blank"},
  };
  for (const Foreign& one : kFractions) {
    if (!at(one.sign)) continue;
    const std::string sign(one.sign), instead(one.instead);
    refuse(at_, sign.size(), "quantity.fraction-glyph", "'" + sign + "' is one sign, not a fraction in figures",
           "write " + instead + ", with a blank before it after a whole number");
    return true;
  }
  for (const Foreign& one : kOthers) {
    if (!at(one.sign)) continue;
    const bool blank = one.instead == "a plain blank";
    const std::string instead = blank ? std::string(one.instead) : in_quotes(one.instead);
    refuse(at_, one.sign.size(), "quantity.foreign-sign",
           blank ? "this is not a plain blank" : in_quotes(one.sign) + " is another sign than the one on the keyboard",
           "write " + instead + " instead");
    return true;
  }
  return false;
}

std::nullopt_t Reader::refuse_rest(std::string_view after) {
  const std::size_t before = at_;
  skip_blanks();
  if (refuse_foreign_sign()) return std::nullopt;
  const std::string noun(language_.noun), left(rest());
  const std::string article = noun == "angle" ? "an " : "a ";
  if (text_.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    return refuse(0, text_.size(), "quantity.empty", "there is no " + noun + " here",
                  "write " + article + noun + " such as " + std::string(language_.example));
  }
  if (!after.empty()) {
    return refuse(at_, left.size(), "quantity.left-over",
                  in_quotes(left) + " is left over after the " + noun + " " + in_quotes(trimmed(after)),
                  "take it out, or write one " + noun + " such as " + std::string(language_.example));
  }
  if (left.empty()) at_ = before;
  const std::string what = left.empty() ? "a number is missing at the end" : in_quotes(left) + " is no " + noun;
  return refuse(at_, left.size(), "quantity.not-" + (article + noun).replace(article.size() - 1, 1, "-"), what,
                "write " + article + noun + " such as " + std::string(language_.example));
}

Failure no_unit(Reader& reader, std::size_t begin, const Language& language, std::string_view one,
                std::string_view other) {
  const std::string number(trimmed(reader.since(begin)));
  reader.refuse(begin, number.size(), "quantity.no-unit",
                number + " what? this " + std::string(language.noun) + " has no unit",
                "write '" + number + " " + std::string(one) + "' or '" + number + " " + std::string(other) + "'");
  return reader.failure();
}

std::nullopt_t refuse_two_primes(Reader& reader) {
  return reader.refuse(reader.position(), 1, "quantity.two-primes", "two single marks are not the sign of the inch",
                       "write \" or in");
}

// The inches after feet: `2' 4 1/4"`, `2'-4"`, `2 ft 4 in`. Nothing and no failure when nothing follows.
std::optional<double> inches_after_feet(Reader& reader) {
  const std::size_t before = reader.position();
  reader.skip_blanks();
  if (!reader.take("-") && reader.position() == before && reader.at_end()) return std::nullopt;
  if (reader.at_end()) {
    reader.back_to(before);
    return std::nullopt;
  }
  const std::size_t begin = reader.position();
  if (reader.at("'")) return refuse_two_primes(reader);
  if (!is_digit(reader.rest().front()) && !reader.at(".")) {
    reader.back_to(before);
    return std::nullopt;
  }
  const auto value = reader.value();
  if (!value) return std::nullopt;
  const auto unit = reader.unit();
  if (reader.failed()) return std::nullopt;
  if (!unit && !reader.rest().empty()) return reader.refuse_rest(reader.since(begin));
  if (!unit) {
    no_unit(reader, begin, kLength, "in", "ft");
    return std::nullopt;
  }
  if (reader.at("'")) return refuse_two_primes(reader);
  if (unit->size != kInch) {
    return reader.refuse(begin, reader.position() - begin, "quantity.after-feet", "only inches can follow feet",
                         "write it as in 2' 4 1/4\"");
  }
  return *value * kInch;
}

std::string inch_text(double inches, int denominator) {
  const auto parts = std::llround(inches * denominator);
  const auto whole = parts / denominator;
  auto above = parts % denominator;
  const auto common = std::gcd(above, static_cast<long long>(denominator));
  std::string text;
  if (whole != 0 || above == 0) text = std::to_string(whole);
  if (above == 0) return text;
  above /= common;
  return text + (text.empty() ? "" : " ") + std::to_string(above) + "/" + std::to_string(denominator / common);
}

}  // namespace

double millimetres(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::millimetre:
      return 1;
    case LengthUnit::centimetre:
      return 10;
    case LengthUnit::metre:
      return 1000;
    case LengthUnit::inch:
      return kInch;
    case LengthUnit::foot:
      return 12 * kInch;
  }
  return 1;
}

Result<double> parse_length(std::string_view text, std::optional<LengthUnit> plain) {
  Reader reader(text, kLength);
  reader.skip_blanks();
  const std::size_t begin = reader.position();
  const double sign = reader.take("-") ? -1 : 1;
  reader.skip_blanks();
  const auto value = reader.value();
  if (!value) return reader.failure();
  const auto unit = reader.unit();
  if (reader.failed()) return reader.failure();
  double length = *value * (unit ? unit->size : plain ? millimetres(*plain) : 1);
  if (unit && unit->size == 12 * kInch) {
    length += inches_after_feet(reader).value_or(0);
    if (reader.failed()) return reader.failure();
  }
  const std::string_view read = reader.since(begin);
  reader.skip_blanks();
  if (!reader.at_end()) {
    reader.refuse_rest(read);
    return reader.failure();
  }
  if (!unit && !plain) return no_unit(reader, begin, kLength, "mm", "in");
  if (!std::isfinite(length)) {
    reader.refuse(begin, read.size(), "quantity.too-large", "this number is too large to be a length",
                  "check the digits");
    return reader.failure();
  }
  return sign * length;
}

Result<double> parse_angle(std::string_view text) {
  Reader reader(text, kAngle);
  reader.skip_blanks();
  const std::size_t begin = reader.position();
  const double sign = reader.take("-") ? -1 : 1;
  reader.skip_blanks();
  const auto value = reader.value();
  if (!value) return reader.failure();
  const auto unit = reader.unit();
  if (reader.failed()) return reader.failure();
  const std::string_view read = reader.since(begin);
  reader.skip_blanks();
  if (!reader.at_end()) {
    reader.refuse_rest(read);
    return reader.failure();
  }
  if (!unit) return no_unit(reader, begin, kAngle, "deg", "turn");
  // degrees are multiplied before they are divided: 90 deg is then pi/2 to the bit
  const bool degrees = unit->size == std::numbers::pi / 180;
  return sign * (degrees ? *value * std::numbers::pi / 180 : *value * unit->size);
}

std::string format_length(double mm, const LengthFormat& format, bool with_unit) {
  const std::array<std::string_view, 3> metric = {" mm", " cm", " m"};
  const double value = mm / millimetres(format.unit);
  if (format.unit != LengthUnit::inch && format.unit != LengthUnit::foot) {
    const auto index = static_cast<std::size_t>(format.unit);
    return format_number(value, format.decimals) + (with_unit ? std::string(metric[index]) : "");
  }
  const double inches = std::abs(mm / kInch);
  // llround must not overflow; nobody reads sixteenths of such a length
  const bool decimal = format.denominator <= 0 || !(inches * format.denominator < 1e15);
  const auto in_text = [&](double in) {
    return decimal ? format_number(in, format.decimals) : inch_text(in, format.denominator);
  };
  const double step = decimal ? std::pow(10.0, -format.decimals) : 1.0 / format.denominator;
  const double rounded = std::round(inches / step) * step;  // 11 31/32 and more may become a foot
  std::string text;
  if (format.unit == LengthUnit::foot && rounded >= 12 && rounded < 1e15) {
    const double feet = std::floor(rounded / 12);
    text = format_number(feet, 0) + "' " + in_text(rounded - 12 * feet) + "\"";
  } else {
    text = in_text(inches) + (with_unit || format.unit == LengthUnit::foot ? "\"" : "");
  }
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return mm < 0 && !zero ? "-" + text : text;
}

std::string format_angle(double radians, int decimals) {
  return format_number(radians * 180 / std::numbers::pi, decimals) + " deg";
}

}  // namespace pommel
