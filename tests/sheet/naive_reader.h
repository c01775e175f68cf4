// The naive evaluator's reader: one formula or plain entry, read and computed at once, by recursive descent.
#pragma once

#include <cctype>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sheet/naive.h"

namespace naive {

inline constexpr double kInch = 25.4;

struct Unit {
  double times, over;
  Dims dims;
};

// What a piece of formula comes to. Wrong kinds are found in every branch; mishaps count only where the piece is
// needed.
struct Piece {
  Form form = Form::number;
  Dims dims{};
  bool whole = false, zero = false;
  bool unknown = false;  // its kind is not known, because of a row it reads
  const std::vector<std::string>* choices = nullptr;
  const std::vector<double>* list = nullptr;
  bool literal_word = false, integer = false, name = false, fraction = false;
  double number = 0;
  std::string word;
};

struct SyntaxError {};

class Reader {
 public:
  Reader(Evaluator& evaluator, std::string text, int column, bool outcomes)
      : evaluator_(evaluator), text_(std::move(text)), column_(column), outcomes_(outcomes) {}

  // Throws SyntaxError.
  Piece all() {
    Piece piece = condition(true);
    blanks();
    if (at_ != text_.size()) throw SyntaxError{};
    return piece;
  }
  Piece plain();

  bool wrong = false;    // a wrong kind, an unknown name, an outcome where none may stand
  bool mishap = false;   // in a piece that is needed
  bool blocked = false;  // reads a cell without a value that has a problem
  bool missing = false;  // reads an outcome that is not there
  std::vector<std::string> names;

 private:
  void blanks() {
    while (at_ < text_.size() && text_[at_] == ' ') ++at_;
  }
  bool sign(const std::string& s) {
    blanks();
    if (text_.compare(at_, s.size(), s) != 0) return false;
    const bool longer = (s == "<" || s == ">") && at_ + 1 < text_.size() && text_[at_ + 1] == '=';
    if (longer) return false;
    at_ += s.size();
    return true;
  }
  std::string peek_word() {
    blanks();
    std::size_t end = at_;
    while (end < text_.size() && (std::isalnum(static_cast<unsigned char>(text_[end])) || text_[end] == '_')) ++end;
    if (end > at_ && std::isdigit(static_cast<unsigned char>(text_[at_]))) return "";
    return text_.substr(at_, end - at_);
  }
  bool word(const std::string& w) {
    if (peek_word() != w) return false;
    at_ += w.size();
    return true;
  }
  void must(const std::string& s) {
    if (!sign(s)) throw SyntaxError{};
  }
  bool digit(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() && std::isdigit(static_cast<unsigned char>(text_[at_ + ahead]));
  }

  Piece condition(bool needed);
  Piece either(bool needed);
  Piece both(bool needed);
  Piece inverted(bool needed);
  Piece comparison(bool needed);
  Piece sum(bool needed);
  Piece product(bool needed);
  Piece negated(bool needed);
  Piece power(bool needed);
  Piece operand(bool needed);
  Piece number(bool in_plain);
  double digits();
  std::optional<double> fraction();
  std::optional<Unit> unit();
  Piece call(const std::string& function, bool needed);
  Piece named(const std::string& name);
  Piece choose(bool needed);

  static Piece lost() {
    Piece piece;
    piece.unknown = true;
    return piece;
  }
  Piece bad() {
    wrong = true;
    return lost();
  }
  Piece alike(const Piece& a, const Piece& b);
  bool want_number(const Piece& p) {
    if (p.list) wrong = true;
    if (!p.unknown && p.form != Form::number) wrong = true;
    return !p.unknown && !p.list && p.form == Form::number;
  }
  Piece finite(Piece p, bool needed) {
    if (needed && !std::isfinite(p.number)) mishap = true;
    return p;
  }

  Evaluator& evaluator_;
  std::string text_;
  std::size_t at_ = 0;
  int column_;
  bool outcomes_;
  std::string before_;  // the sign before a number
};

}  // namespace naive
