#include "sheet/naive_reader.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <numbers>
#include <set>

namespace naive {
namespace {

std::optional<Unit> unit_named(const std::string& word) {
  static const std::map<std::string, Unit> units = {
      {"mm", {1, 1, {1, 0, 0, 0}}},
      {"cm", {10, 1, {1, 0, 0, 0}}},
      {"m", {1000, 1, {1, 0, 0, 0}}},
      {"in", {kInch, 1, {1, 0, 0, 0}}},
      {"\"", {kInch, 1, {1, 0, 0, 0}}},
      {"ft", {12 * kInch, 1, {1, 0, 0, 0}}},
      {"'", {12 * kInch, 1, {1, 0, 0, 0}}},
      {"m2", {1e6, 1, {2, 0, 0, 0}}},
      {"deg", {std::numbers::pi, 180, {0, 1, 0, 0}}},
      {"rad", {1, 1, {0, 1, 0, 0}}},
      {"EUR", {1, 1, {0, 0, 1, 0}}},
      {"s", {1, 60, {0, 0, 0, 1}}},
      {"min", {1, 1, {0, 0, 0, 1}}},
      {"h", {60, 1, {0, 0, 0, 1}}},
      {"%", {1, 100, {0, 0, 0, 0}}},
  };
  const auto found = units.find(word);
  return found == units.end() ? std::nullopt : std::optional(found->second);
}

}  // namespace

Piece Reader::alike(const Piece& a, const Piece& b) {
  if (a.list || b.list) return bad();
  Piece both;
  if (a.unknown || b.unknown) {
    both.unknown = true;
    return both;
  }
  if (a.form != b.form) return bad();
  if (a.form == Form::word) {
    both.form = Form::word;
    both.choices = a.choices == b.choices ? a.choices : nullptr;
    return both;
  }
  if (a.form == Form::yes_no) return a;
  if (a.dims == b.dims) {
    both.dims = a.dims;
    both.whole = a.whole && b.whole;
    both.zero = a.zero && b.zero;
    return both;
  }
  if (a.zero) return b;
  if (b.zero) return a;
  return bad();
}

Piece Reader::condition(bool needed) {
  const Piece asked = either(needed);
  if (!sign("?")) return asked;
  if (asked.list || (!asked.unknown && asked.form != Form::yes_no)) wrong = true;
  const bool yes = asked.number != 0;
  const Piece first = condition(needed && yes);
  must(":");
  const Piece second = condition(needed && !yes);
  Piece result = alike(first, second);
  const Piece& taken = yes ? first : second;
  result.number = taken.number;
  result.word = taken.word;
  result.literal_word = result.integer = result.name = false;
  return result;
}

Piece Reader::either(bool needed) {
  Piece left = both(needed);
  while (word("or")) {
    const Piece right = both(needed && left.number == 0);
    for (const Piece* p : std::initializer_list<const Piece*>{&left, &right})
      if (p->list || (!p->unknown && p->form != Form::yes_no)) wrong = true;
    Piece result;
    result.form = Form::yes_no;
    result.unknown = left.unknown || right.unknown;
    result.number = left.number != 0 || right.number != 0;
    left = result;
  }
  return left;
}

Piece Reader::both(bool needed) {
  Piece left = inverted(needed);
  while (word("and")) {
    const Piece right = inverted(needed && left.number != 0);
    for (const Piece* p : std::initializer_list<const Piece*>{&left, &right})
      if (p->list || (!p->unknown && p->form != Form::yes_no)) wrong = true;
    Piece result;
    result.form = Form::yes_no;
    result.unknown = left.unknown || right.unknown;
    result.number = left.number != 0 && right.number != 0;
    left = result;
  }
  return left;
}

Piece Reader::inverted(bool needed) {
  if (!word("not")) return comparison(needed);
  Piece part = inverted(needed);
  if (part.list || (!part.unknown && part.form != Form::yes_no)) wrong = true;
  Piece result;
  result.form = Form::yes_no;
  result.unknown = part.unknown;
  result.number = part.number == 0;
  return result;
}

Piece Reader::comparison(bool needed) {
  const Piece a = sum(needed);
  std::string op;
  for (const std::string s : {"<=", ">=", "==", "!=", "<", ">"})
    if (op.empty() && sign(s)) op = s;
  if (op.empty()) return a;
  const Piece b = sum(needed);
  const bool order = op != "==" && op != "!=";
  if (order && (!want_number(a) || !want_number(b))) {
    Piece unclear = lost();
    unclear.form = Form::yes_no;
    return unclear;
  }
  const bool was_wrong = wrong;
  wrong = false;
  Piece result = alike(a, b);
  if (!wrong)
    for (const auto& [literal, other] : {std::pair{&a, &b}, std::pair{&b, &a}})
      if (literal->literal_word && other->choices &&
          std::find(other->choices->begin(), other->choices->end(), literal->word) == other->choices->end())
        wrong = true;
  const bool unknown = result.unknown || wrong;
  wrong = wrong || was_wrong;
  result = {};
  result.form = Form::yes_no;
  result.unknown = unknown;
  const bool words = a.form == Form::word;
  const bool equal = words ? a.word == b.word : a.number == b.number;
  result.number = op == "=="   ? equal
                  : op == "!=" ? !equal
                  : op == "<"  ? a.number < b.number
                  : op == ">"  ? a.number > b.number
                  : op == "<=" ? a.number <= b.number
                               : a.number >= b.number;
  return result;
}

Piece Reader::sum(bool needed) {
  Piece left = product(needed);
  while (true) {
    const bool plus = sign("+");
    if (!plus && !sign("-")) return left;
    const Piece right = product(needed);
    const bool a = want_number(left), b = want_number(right);
    Piece result;
    result.unknown = true;
    if (a && b) result = alike(left, right);
    result.number = plus ? left.number + right.number : left.number - right.number;
    result.integer = result.name = result.literal_word = false;
    left = result;
  }
}

Piece Reader::product(bool needed) {
  Piece left = negated(needed);
  while (true) {
    const bool times = sign("*");
    if (!times && !sign("/")) return left;
    before_ = times ? "*" : "/";
    const Piece right = negated(needed);
    before_.clear();
    const bool a = want_number(left), b = want_number(right);
    Piece result;
    result.unknown = !a || !b;
    for (std::size_t i = 0; i < 4; ++i)
      result.dims[i] = times ? left.dims[i] + right.dims[i] : left.dims[i] - right.dims[i];
    result.whole = times && left.whole && right.whole;
    if (!times && right.number == 0 && needed) mishap = true;
    result.number = times ? left.number * right.number : left.number / right.number;
    left = result;
  }
}

Piece Reader::negated(bool needed) {
  if (!sign("-")) return power(needed);
  Piece part = negated(needed);
  if (!want_number(part)) return lost();
  part.number = -part.number;
  part.name = false;
  return part;
}

Piece Reader::power(bool needed) {
  const Piece base = operand(needed);
  if (!sign("^")) return base;
  const Piece exponent = operand(needed);
  const bool a = want_number(base), b = want_number(exponent);
  Piece result;
  result.unknown = !a || !b;
  if (a && b && exponent.dims != Dims{}) return bad();
  if (a && b && base.dims != Dims{}) {
    if (!exponent.integer) return bad();
    for (std::size_t i = 0; i < 4; ++i) result.dims[i] = base.dims[i] * static_cast<int>(exponent.number);
  }
  result.number = std::pow(base.number, exponent.number);
  return finite(result, needed);
}

double Reader::digits() {
  std::size_t end = at_;
  while (end < text_.size() && (std::isdigit(static_cast<unsigned char>(text_[end])) || text_[end] == '.')) ++end;
  const double value = std::strtod(text_.substr(at_, end - at_).c_str(), nullptr);
  at_ = end;
  return value;
}

// `3/4`, written without blanks, of two whole numbers.
std::optional<double> Reader::fraction() {
  const auto whole_until = [&](std::size_t end) {
    while (end < text_.size() && std::isdigit(static_cast<unsigned char>(text_[end]))) ++end;
    return end;
  };
  const std::size_t slash = whole_until(at_);
  if (slash == at_ || slash == text_.size() || text_[slash] != '/') return std::nullopt;
  const std::size_t end = whole_until(slash + 1);
  if (end == slash + 1 || (end < text_.size() && text_[end] == '.')) return std::nullopt;
  const double above = digits();
  ++at_;
  return above / digits();
}

std::optional<Unit> Reader::unit() {
  const std::size_t before = at_;
  std::string w = peek_word();
  if (w.empty() && at_ < text_.size()) w = text_.substr(at_, 1);
  const auto found = unit_named(w);
  if (found && !(at_ + w.size() < text_.size() && text_[at_ + w.size()] == '(')) {
    at_ += w.size();
    return found;
  }
  at_ = before;
  return std::nullopt;
}

Piece Reader::number(bool in_plain) {
  Piece piece;
  blanks();
  const std::size_t begin = at_;
  piece.integer = true;
  std::optional<Unit> with;
  if (const auto part = fraction()) {
    with = unit();
    if (!with && !in_plain) {
      at_ = begin;  // without a unit the slash divides
      piece.number = digits();
    } else {
      if (before_ == "/") throw SyntaxError{};
      piece.number = *part;
      piece.integer = false;
      piece.fraction = true;
    }
  } else {
    at_ = begin;
    piece.number = digits();
    if (text_.substr(begin, at_ - begin).find('.') != std::string::npos) piece.integer = false;
    const std::size_t after = at_;
    if (in_plain && at_ < text_.size() && text_[at_] == '-')
      ++at_;
    else
      blanks();
    const auto more = at_ > after ? fraction() : std::nullopt;
    if (more) {
      piece.number += *more;
      piece.integer = false;
      piece.fraction = true;
    } else {
      at_ = after;
    }
    with = unit();
  }
  piece.zero = piece.number == 0 && !with;
  if (with) {
    piece.integer = false;
    piece.number = piece.number * with->times / with->over;
    piece.dims = with->dims;
    const bool feet = with->times == 12 * kInch;
    blanks();
    if (feet && digit()) {
      double inches = 0;
      if (const auto part = fraction()) {
        inches = *part;
      } else {
        inches = digits();
        const std::size_t after = at_;
        blanks();
        if (const auto more = fraction())
          inches += *more;
        else
          at_ = after;
      }
      if (!unit()) throw SyntaxError{};
      piece.number += inches * kInch;
    }
  }
  while (word("per")) {
    blanks();
    const auto below = unit();
    if (!below) throw SyntaxError{};
    piece.number = piece.number * below->over / below->times;
    for (std::size_t i = 0; i < 4; ++i) piece.dims[i] -= below->dims[i];
    piece.integer = piece.zero = false;
  }
  piece.whole = piece.integer;
  const std::string next = peek_word();
  if (!next.empty() && next != "and" && next != "or") throw SyntaxError{};
  return piece;
}

Piece Reader::operand(bool needed) {
  if (sign("(")) {
    const std::string before = before_;
    before_.clear();
    Piece inner = condition(needed);
    before_ = before;
    must(")");
    return inner;
  }
  blanks();
  if (at_ >= text_.size()) throw SyntaxError{};
  if (digit()) return number(false);
  if (text_[at_] == '"') {
    const std::size_t close = text_.find('"', at_ + 1);
    if (close == std::string::npos) throw SyntaxError{};
    Piece piece;
    piece.form = Form::word;
    piece.literal_word = true;
    piece.word = text_.substr(at_ + 1, close - at_ - 1);
    at_ = close + 1;
    return piece;
  }
  const std::string w = peek_word();
  if (w.empty()) throw SyntaxError{};
  at_ += w.size();
  if (w == "yes" || w == "no") {
    Piece piece;
    piece.form = Form::yes_no;
    piece.number = w == "yes";
    return piece;
  }
  before_.clear();
  if (sign("(")) return w == "choose" ? choose(needed) : call(w, needed);
  return named(w);
}

Piece Reader::named(const std::string& name) {
  Piece piece;
  piece.name = true;
  const auto list = evaluator_.table_.lists.find(name);
  if (list != evaluator_.table_.lists.end()) {
    piece.list = &list->second;
    piece.dims = {1, 0, 0, 0};
    return piece;
  }
  names.push_back(name);
  const auto outcome = evaluator_.table_.outcomes.find(name);
  if (outcome != evaluator_.table_.outcomes.end()) {
    if (!outcomes_) return bad();
    piece.dims = outcome->second.kind.dims;
    piece.whole = outcome->second.kind.whole;
    const auto value = outcome->second.values.find(column_);
    if (value == outcome->second.values.end())
      missing = true;
    else
      piece.number = value->second;
    return piece;
  }
  const auto row = evaluator_.table_.rows.find(name);
  if (row == evaluator_.table_.rows.end()) {
    names.pop_back();
    return bad();
  }
  const auto kind = evaluator_.kind_of(name);
  if (!kind) {
    piece.unknown = true;
    blocked = true;
    return piece;
  }
  piece.form = kind->form;
  piece.dims = kind->dims;
  piece.whole = kind->whole;
  if (!row->second.choices.empty()) piece.choices = &row->second.choices;
  if (column_ < 0) return piece;  // only its kind is asked for
  // in a cycle there is no value to ask for, and asking would not end
  const Answer answer = evaluator_.circular(name, column_) ? Answer{} : evaluator_.cell(name, column_);
  if (!answer.ok) blocked = true;
  piece.number = answer.number;
  piece.word = answer.word;
  return piece;
}

Piece Reader::choose(bool needed) {
  const Piece by = operand(needed);
  std::optional<Piece> result;
  bool whole = true;
  std::set<std::string> left, named;
  if (by.choices) left.insert(by.choices->begin(), by.choices->end());
  const bool can = by.choices && by.name && !by.unknown;
  if (!by.unknown && !by.choices) wrong = true;
  std::optional<Piece> taken;
  bool others = false;
  const auto meet = [&](const Piece& value) {
    whole = whole && value.whole;
    result = result ? alike(*result, value) : value;
  };
  while (sign(",")) {
    const std::size_t before = at_;
    const bool wrong_before = wrong;
    Piece label = condition(false);
    if (!sign(",")) {  // one value more, for all others
      at_ = before;
      wrong = wrong_before;
      others = true;
      const Piece value = condition(needed && !taken);
      if (!taken) taken = value;
      meet(value);
      break;
    }
    if (!label.literal_word || !left.contains(label.word) || !named.insert(label.word).second) wrong = true;
    const bool chosen = !taken && label.word == by.word;
    const Piece value = condition(needed && chosen);
    if (chosen) taken = value;
    meet(value);
  }
  must(")");
  if (can && !others && named.size() != left.size()) wrong = true;
  if (!can || !result) return lost();
  if (result->form == Form::number) result->whole = whole;
  if (taken) {
    result->number = taken->number;
    result->word = taken->word;
  }
  result->literal_word = result->integer = result->name = false;
  return *result;
}

Piece Reader::call(const std::string& function, bool needed) {
  std::vector<Piece> parts;
  do parts.push_back(condition(needed));
  while (sign(","));
  must(")");
  for (const char* of_two : {"round_up", "round_down", "round_to", "atan2"})
    if (function == of_two && parts.size() != 2) throw SyntaxError{};
  std::vector<double> v;
  for (const Piece& p : parts) v.push_back(p.number);
  if (function == "next_size" && parts.size() == 2 && parts[1].list) {
    Piece result = parts[1];
    const std::vector<double> sizes = *parts[1].list;
    result.list = nullptr;
    result.name = false;
    if (!want_number(parts[0])) return lost();
    if (parts[0].dims != result.dims && !parts[0].zero) return bad();
    std::optional<double> best;
    for (const double size : sizes)
      if (size >= v[0] - 1e-9 * std::abs(size) && (!best || size < *best)) best = size;
    if (!best && needed) mishap = true;
    result.number = best.value_or(0);
    result.zero = result.whole = false;
    return result;
  }
  for (const Piece& p : parts)
    if (!want_number(p)) return lost();
  Piece result = parts[0];
  bool whole = parts[0].whole;
  for (std::size_t i = 1; i < parts.size(); ++i) {
    result = alike(result, parts[i]);
    whole = whole && parts[i].whole;
  }
  if (result.unknown) return result;
  result.whole = whole;
  result.integer = result.name = result.literal_word = false;
  const auto step = [&](double rounded) {
    if (!(v[1] > 0) && needed) mishap = true;
    return rounded * v[1];
  };
  if (function == "min")
    result.number = *std::min_element(v.begin(), v.end());
  else if (function == "max")
    result.number = *std::max_element(v.begin(), v.end());
  else if (function == "abs")
    result.number = std::abs(v[0]);
  else if (function == "round_up")
    result.number = step(std::ceil(v[0] / v[1] - 1e-9));
  else if (function == "round_down")
    result.number = step(std::floor(v[0] / v[1] + 1e-9));
  else if (function == "round_to")
    result.number = step(std::round(v[0] / v[1]));
  else if (function == "next_size") {
    std::optional<double> best;
    for (std::size_t i = 1; i < v.size(); ++i)
      if (v[i] >= v[0] - 1e-9 * std::abs(v[i]) && (!best || v[i] < *best)) best = v[i];
    if (!best && needed) mishap = true;
    result.number = best.value_or(0);
  } else if (function == "sqrt") {
    for (int& d : result.dims) {
      if (d % 2 != 0) return bad();
      d /= 2;
    }
    result.whole = result.zero = false;
    if (v[0] < 0 && needed) mishap = true;
    result.number = std::sqrt(v[0]);
  } else if (function == "sin" || function == "cos" || function == "tan") {
    if (result.dims != Dims{0, 1, 0, 0} && !result.zero) return bad();
    result.dims = {};
    result.whole = result.zero = false;
    result.number = function == "sin" ? std::sin(v[0]) : function == "cos" ? std::cos(v[0]) : std::tan(v[0]);
  } else if (function == "atan2") {
    result.dims = {0, 1, 0, 0};
    result.whole = result.zero = false;
    result.number = std::atan2(v[0], v[1]);
  } else if (function == "floor" || function == "ceil" || function == "round") {
    if (result.dims != Dims{}) return bad();
    result.whole = true;
    result.zero = false;
    result.number = function == "floor"  ? std::floor(v[0] + 1e-9)
                    : function == "ceil" ? std::ceil(v[0] - 1e-9)
                                         : std::round(v[0]);
  } else {
    throw SyntaxError{};
  }
  return finite(result, needed);
}

// --- entries

Piece Reader::plain() {
  blanks();
  if (word("yes") || word("no")) {
    Piece piece;
    piece.form = Form::yes_no;
    piece.number = text_.find("yes") != std::string::npos;
    return piece;
  }
  const bool minus = sign("-");
  if (!digit()) throw SyntaxError{};
  Piece piece = number(true);
  blanks();
  if (at_ != text_.size()) throw SyntaxError{};
  if (minus) piece.number = -piece.number;
  return piece;
}

}  // namespace naive
