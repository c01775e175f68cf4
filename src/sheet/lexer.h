// Tokens of an entry's text. Numbers leave here folded: fraction and unit included, in internal units.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sheet/fault.h"
#include "sheet/kind.h"
#include "sheet/units.h"
#include "sheet/value.h"

namespace pommel::sheet {

struct Token {
  enum class Type { number, word, words, sign, end };

  Type type = Type::end;
  Span span;
  std::string text;  ///< the word, the words in quotes without them, or the sign
  double number = 0;
  Dimension dimension;
  bool has_unit = false;
  bool integer = false;   ///< digits only: no point, fraction or unit
  bool fraction = false;  ///< holds a fraction: 3/4 in
};

/// How numbers are folded. In a plain entry `28-1/4` is a mixed fraction and a slash after a unit means `per`; in a
/// formula both are signs.
enum class Reading { plain, formula };

class Lexer {
 public:
  Lexer(std::string_view text, std::size_t begin, Reading reading, const Settings& settings)
      : text_(text), at_(begin), reading_(reading), settings_(settings) {}

  /// The next token; nothing after a fault.
  std::optional<Token> next();
  const std::optional<Fault>& fault() const { return fault_; }

 private:
  struct Magnitude {
    double value = 0;
    bool integer = false, fraction = false;
  };

  char here(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  void skip_blanks();
  std::string_view word_at(std::size_t at) const;
  std::nullopt_t refuse(std::size_t begin, std::size_t end, std::string id, std::string message, std::string remedy);

  std::optional<Token> number();
  std::optional<Token> prefixed_money(std::string_view sign);
  std::optional<Magnitude> magnitude();
  std::size_t fraction_end(std::size_t at) const;  ///< the end of `1/4` at `at`; `at` itself when there is none
  std::optional<double> fraction();
  bool folds_fraction(std::size_t end) const;
  std::optional<Unit> unit();
  bool rates(Token& token);
  bool inches(Token& token);
  bool check_after(const Token& token);
  std::optional<Token> word();
  std::optional<Token> words();
  std::optional<Token> sign();

  std::string_view text_;
  std::size_t at_;
  Reading reading_;
  const Settings& settings_;
  std::string last_sign_;
  std::optional<Fault> fault_;
};

bool is_word_start(char c);
bool is_word_part(char c);
bool is_digit(char c);

}  // namespace pommel::sheet
