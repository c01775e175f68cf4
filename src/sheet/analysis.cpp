#include "sheet/analysis.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "sheet/lexer.h"
#include "sheet/units.h"

namespace pommel::sheet {
namespace {

/// What is known of a node.
struct Sort {
  bool known = false;  // false below a fault or a row whose kind is not known: then nothing above is judged
  Kind kind;
  bool zero = false;  // a bare 0, which goes with every kind
  const std::vector<std::string>* choices = nullptr;
  std::optional<std::size_t> list;
};

constexpr int kLargestPower = 9;

class Analyst {
 public:
  Analyst(const Formula& formula, std::string_view text, const Scope& scope, const Wanted& wanted,
          const Settings& settings)
      : formula_(formula), text_(text), scope_(scope), wanted_(wanted), settings_(settings) {}

  Analysis run();

 private:
  Sort judge(const Node& node, std::size_t index);
  Sort name(const Node& node, std::size_t index);
  Sort sum(const Node& node);
  Sort product(const Node& node);
  Sort power(const Node& node);
  Sort comparison(const Node& node);
  Sort logic(const Node& node);
  Sort branch(const Node& node);
  Sort call(const Node& node);
  Sort root(const Node& node);
  Sort angle(const Node& node);
  Sort whole(const Node& node);
  Sort sizes(const Node& node);
  Sort choose(const Node& node);

  /// One kind for two parts; `beside` says for "3 what?" where the one stands that has no unit: %s is the other's kind.
  Sort alike(std::size_t left, std::size_t right, const std::string& beside_left, const std::string& beside_right,
             std::string_view verb);
  Sort all_alike(const Node& node, const std::vector<std::size_t>& parts, std::string_view what);
  bool is_number(std::size_t part, std::string_view who);
  bool is_condition(std::size_t part, std::string_view who);
  void check_word(std::size_t literal, const std::vector<std::string>& choices, std::string_view of);
  void check_result_words(std::size_t at);
  void check_wanted();

  const Node& node(std::size_t at) const { return formula_.nodes[at]; }
  const Sort& sort(std::size_t at) const { return sorts_[at]; }
  std::string read(const Span& span) const { return std::string(text_.substr(span.begin, span.end - span.begin)); }
  bool bare_number(std::size_t at) const;
  std::string hyphen_hint(const Node& node) const;
  std::string comma_hint(const Span& number) const;
  Sort refuse(const Span& span, std::string id, std::string message, std::string remedy) {
    result_.faults.push_back({std::move(id), std::move(message), std::move(remedy), span});
    return {};
  }
  static Sort known(const Kind& kind) { return {true, kind, false, nullptr, std::nullopt}; }

  const Formula& formula_;
  std::string_view text_;
  const Scope& scope_;
  const Wanted& wanted_;
  const Settings& settings_;
  std::vector<Sort> sorts_;
  Analysis result_;
};

Analysis Analyst::run() {
  result_.meanings.resize(formula_.nodes.size());
  sorts_.reserve(formula_.nodes.size());
  for (std::size_t i = 0; i < formula_.nodes.size(); ++i) sorts_.push_back(judge(node(i), i));
  for (const Sort& one : sorts_) result_.kinds.push_back(one.kind);
  if (result_.faults.empty() && !result_.waits_for) check_wanted();
  return std::move(result_);
}

Sort Analyst::judge(const Node& at, std::size_t index) {
  switch (at.op) {
    case Op::number: {
      Sort sort = known({Form::number, at.dimension, at.integer});
      sort.zero = at.number == 0 && !at.has_unit;
      return sort;
    }
    case Op::yes_no:
      return known(Kind::yes_no());
    case Op::words:
      return known(Kind::text());
    case Op::name:
      return name(at, index);
    case Op::negate:
      return is_number(at.parts[0], "a minus sign") ? sort(at.parts[0]) : Sort{};
    case Op::add:
    case Op::subtract:
      return sum(at);
    case Op::multiply:
    case Op::divide:
      return product(at);
    case Op::power:
      return power(at);
    case Op::less:
    case Op::at_most:
    case Op::more:
    case Op::at_least:
    case Op::equal:
    case Op::different:
      return comparison(at);
    case Op::both:
    case Op::either:
    case Op::invert:
      return logic(at);
    case Op::branch:
      return branch(at);
    case Op::call:
      return call(at);
  }
  return {};
}

Sort Analyst::name(const Node& at, std::size_t index) {
  const Meaning meaning = scope_.meaning(at.word);
  result_.meanings[index] = meaning;
  if (meaning.what == Meaning::What::unknown) {
    const std::string near = scope_.nearest(at.word);
    const bool unit = find_unit(at.word, settings_).has_value();
    std::string remedy = near.empty() ? "add a row of this name, or correct it" : "did you mean " + in_quotes(near) + "?";
    if (unit) remedy = "a unit follows a number: write '1 " + at.word + "', or 'per " + at.word + "' in a rate";
    return refuse(at.span, "sheet.unknown-name", in_quotes(at.word) + " is no name of this sheet", remedy);
  }
  if (meaning.what == Meaning::What::list) {
    Sort sort;
    sort.list = meaning.index;
    sort.kind = meaning.kind.value_or(Kind{});
    return sort;
  }
  if (std::find(result_.inputs.begin(), result_.inputs.end(), meaning.index) == result_.inputs.end())
    result_.inputs.push_back(meaning.index);
  if (meaning.what == Meaning::What::outcome && !wanted_.outcomes)
    return refuse(at.span, "sheet.outcome-in-parameter",
                  in_quotes(at.word) + " is an outcome, known only after the stage " +
                      in_quotes(scope_.stage_of(meaning.index)) +
                      (wanted_.name.empty() ? "" : ": " + wanted_.name + " -> " + at.word),
                  "outcomes may stand in checks only; to reach one, seek the measure that gives it");
  if (!meaning.kind) {
    if (!result_.waits_for) result_.waits_for = meaning.index;
    return {};
  }
  Sort sort = known(*meaning.kind);
  sort.choices = meaning.choices;
  return sort;
}

// --- kinds that must meet

/// A number written out without a unit, or its negative.
bool Analyst::bare_number(std::size_t at) const {
  const Node& n = node(at);
  return n.op == Op::number ? !n.has_unit : n.op == Op::negate && bare_number(n.parts[0]);
}

Sort Analyst::alike(std::size_t left, std::size_t right, const std::string& beside_left,
                    const std::string& beside_right, std::string_view verb) {
  const Sort &a = sort(left), &b = sort(right);
  for (const std::size_t part : {left, right})
    if (sort(part).list)
      return refuse(node(part).span, "sheet.list-as-value",
                    in_quotes(node(part).word) + " is a list of sizes, not one value",
                    "only next_size(x, " + node(part).word + ") reads it");
  if (!a.known || !b.known) return {};
  const bool words = (a.kind.form == Form::choice || a.kind.form == Form::text) &&
                     (b.kind.form == Form::choice || b.kind.form == Form::text);
  if (words) {
    Sort both = known(a.choices && a.choices == b.choices ? a.kind : Kind::text());
    both.choices = a.choices == b.choices ? a.choices : nullptr;
    return both;
  }
  if (a.kind.form == b.kind.form && a.kind.form != Form::number) return a;
  if (a.kind.form == Form::number && b.kind.form == Form::number) {
    if (a.kind.dimension == b.kind.dimension) {
      Sort both = known({Form::number, a.kind.dimension, a.kind.whole && b.kind.whole});
      both.zero = a.zero && b.zero;
      return both;
    }
    if (a.zero) return b;
    if (b.zero) return a;
    if (bare_number(left)) {
      result_.faults.push_back(
          unit_missing(read(node(left).span), node(left).span, beside_left + a_kind(b.kind), b.kind, settings_));
      return {};
    }
    if (bare_number(right)) {
      result_.faults.push_back(
          unit_missing(read(node(right).span), node(right).span, beside_right + a_kind(a.kind), a.kind, settings_));
      return {};
    }
  }
  return refuse({node(left).outer.begin, node(right).outer.end}, "sheet.kinds-differ",
                a_kind(a.kind) + " and " + a_kind(b.kind) + " cannot be " + std::string(verb),
                "bring both to one kind");
}

Sort Analyst::all_alike(const Node& at, const std::vector<std::size_t>& parts, std::string_view what) {
  Sort so_far = sort(parts[0]);
  std::size_t model = parts[0];
  if (so_far.known && so_far.kind.form == Form::number && parts.size() == 1) return so_far;
  for (std::size_t i = 1; i < parts.size(); ++i) {
    const std::string beside = "beside it in " + in_quotes(sign_of(at)) + " stands ";
    const std::size_t before = result_.faults.size();
    const Sort both = alike(model, parts[i], beside, beside, what);
    if (result_.faults.size() > before) result_.faults.back().remedy += comma_hint(result_.faults.back().span);
    if (!both.known) return {};
    if (so_far.zero && !sort(parts[i]).zero) model = parts[i];
    const bool whole = so_far.kind.whole && both.kind.whole;
    so_far = both;
    if (so_far.kind.form == Form::number) so_far.kind.whole = whole;
  }
  return so_far;
}

bool Analyst::is_number(std::size_t part, std::string_view who) {
  const Sort& s = sort(part);
  if (s.list) {
    refuse(node(part).span, "sheet.list-as-value", in_quotes(node(part).word) + " is a list of sizes, not one value",
           "only next_size(x, " + node(part).word + ") reads it");
    return false;
  }
  if (!s.known) return false;
  if (s.kind.form == Form::number) return true;
  refuse(node(part).span, "sheet.not-a-number",
         std::string(who) + " takes a number, and " + in_quotes(read(node(part).span)) + " is " + a_kind(s.kind),
         s.kind.form == Form::yes_no ? "turn it into one: condition ? this : that" : "turn it into one by choose(...)");
  return false;
}

bool Analyst::is_condition(std::size_t part, std::string_view who) {
  const Sort& s = sort(part);
  if (s.list) return is_number(part, who);
  if (!s.known) return false;
  if (s.kind.form == Form::yes_no) return true;
  refuse(node(part).span, "sheet.not-a-condition",
         std::string(who) + " takes a yes/no, and " + in_quotes(read(node(part).span)) + " is " + a_kind(s.kind),
         "compare it, as in x > 0");
  return false;
}

/// `28-1/4 in` in a formula: what the maker may have meant.
std::string Analyst::hyphen_hint(const Node& at) const {
  const Node &left = node(at.parts[0]), &right = node(at.parts[1]);
  if (!left.integer || !right.fraction || !right.has_unit) return {};
  return "; or, for a mixed fraction, " + in_quotes(read(left.span) + " " + read(right.span));
}

/// `max(1,5 mm, h)`: what the maker may have meant.
std::string Analyst::comma_hint(const Span& number) const {
  const std::string_view after = text_.substr(number.end);
  if (after.size() < 2 || after[0] != ',' || !is_digit(after[1])) return {};
  const std::size_t end = std::min(after.find_first_not_of("0123456789", 1), after.size());
  return "; or, for a decimal, " + in_quotes(read(number) + "." + std::string(after.substr(1, end - 1)));
}

// --- operations

Sort Analyst::sum(const Node& at) {
  const bool adding = at.op == Op::add;
  const std::size_t left = at.parts[0], right = at.parts[1];
  if (!is_number(left, in_quotes(sign_of(at))) || !is_number(right, in_quotes(sign_of(at)))) return {};
  const std::string on_left = adding ? "what is added to it is " : "what is taken from it is ";
  const std::string on_right = adding ? "it is added to " : "it is taken from ";
  const std::size_t before = result_.faults.size();
  const Sort both = alike(left, right, on_left, on_right, adding ? "added" : "subtracted");
  if (result_.faults.size() > before) result_.faults.back().remedy += hyphen_hint(at);
  return both;
}

Sort Analyst::product(const Node& at) {
  const bool dividing = at.op == Op::divide;
  if (!is_number(at.parts[0], in_quotes(sign_of(at))) || !is_number(at.parts[1], in_quotes(sign_of(at)))) return {};
  const Kind &a = sort(at.parts[0]).kind, &b = sort(at.parts[1]).kind;
  if (dividing) return known({Form::number, a.dimension / b.dimension, false});
  return known({Form::number, a.dimension * b.dimension, a.whole && b.whole});
}

Sort Analyst::power(const Node& at) {
  if (!is_number(at.parts[0], "'^'") || !is_number(at.parts[1], "'^'")) return {};
  const Kind &base = sort(at.parts[0]).kind, &raised = sort(at.parts[1]).kind;
  const Node& exponent = node(at.parts[1]);
  if (!raised.dimension.plain())
    return refuse(exponent.span, "sheet.power",
                  "a power is a plain number, and " + in_quotes(read(exponent.span)) + " is " + a_kind(raised),
                  "take the unit out");
  if (base.dimension.plain()) return known(Kind::ratio());
  const bool negative = exponent.op == Op::negate;
  const Node& digits = negative ? node(exponent.parts[0]) : exponent;
  if (digits.op != Op::number || !digits.integer || digits.number > kLargestPower)
    return refuse(exponent.span, "sheet.power", "the power of " + a_kind(base) + " must be a whole number written out",
                  "write it as in x^2; for roots there is sqrt(x)");
  const int times = static_cast<int>(digits.number) * (negative ? -1 : 1);
  const Dimension& d = base.dimension;
  return known({Form::number, {d.length * times, d.angle * times, d.money * times, d.time * times}, false});
}

Sort Analyst::comparison(const Node& at) {
  const std::size_t left = at.parts[0], right = at.parts[1];
  const bool order = at.op != Op::equal && at.op != Op::different;
  const std::string who = in_quotes(sign_of(at));
  if (order && (!is_number(left, who) || !is_number(right, who))) return {};
  const std::size_t before = result_.faults.size();
  const std::string beside = "it is compared with ";
  const Sort both = alike(left, right, beside, beside, "compared");
  if (result_.faults.size() > before) return {};
  for (const auto& [literal, named] : {std::pair{left, right}, std::pair{right, left}})
    if (node(literal).op == Op::words && sort(named).choices)
      check_word(literal, *sort(named).choices, read(node(named).span));
  return both.known ? known(Kind::yes_no()) : Sort{};
}

Sort Analyst::logic(const Node& at) {
  bool good = true;
  for (const std::size_t part : at.parts) good = is_condition(part, in_quotes(sign_of(at))) && good;
  return good ? known(Kind::yes_no()) : Sort{};
}

Sort Analyst::branch(const Node& at) {
  const bool asked = is_condition(at.parts[0], "the part before '?'");
  const std::string beside = "the other branch is ";
  const Sort both = alike(at.parts[1], at.parts[2], beside, beside, "the two branches of one condition");
  return asked ? both : Sort{};
}

Sort Analyst::call(const Node& at) {
  switch (at.function->rule) {
    case Rule::choose:
      return choose(at);
    case Rule::size:
      return sizes(at);
    default:
      break;
  }
  for (const std::size_t part : at.parts)
    if (!is_number(part, in_quotes(at.function->name))) return {};
  switch (at.function->rule) {
    case Rule::alike:
      return all_alike(at, at.parts, "compared");
    case Rule::same:
      return sort(at.parts[0]);
    case Rule::root:
      return root(at);
    case Rule::from_angle:
    case Rule::to_angle:
      return angle(at);
    case Rule::whole:
      return whole(at);
    case Rule::step:
      return all_alike(at, at.parts, "rounded to one another");
    case Rule::size:
    case Rule::choose:
      break;
  }
  return {};
}

Sort Analyst::root(const Node& at) {
  const Dimension& d = sort(at.parts[0]).kind.dimension;
  if (d.length % 2 != 0 || d.angle % 2 != 0 || d.money % 2 != 0 || d.time % 2 != 0)
    return refuse(at.span, "sheet.root", "there is no square root of " + a_kind(sort(at.parts[0]).kind),
                  "take it of an area or a plain number");
  return known({Form::number, {d.length / 2, d.angle / 2, d.money / 2, d.time / 2}, false});
}

Sort Analyst::angle(const Node& at) {
  if (at.function->rule == Rule::to_angle)
    return all_alike(at, at.parts, "set against one another").known ? known(Kind::angle()) : Sort{};
  const std::size_t part = at.parts[0];
  const Kind& kind = sort(part).kind;
  if (kind == Kind::angle() || sort(part).zero) return known(Kind::ratio());
  const std::string who = in_quotes(at.function->name) + " takes an angle";
  if (bare_number(part)) {
    result_.faults.push_back(unit_missing(read(node(part).span), node(part).span, who, Kind::angle(), settings_));
    return {};
  }
  return refuse(node(part).span, "sheet.wrong-kind",
                who + ", and " + in_quotes(read(node(part).span)) + " is " + a_kind(kind),
                kind.dimension.plain() ? "multiply it by 1 rad or 1 deg" : "give it an angle, as in 30 deg");
}

Sort Analyst::whole(const Node& at) {
  const Kind& kind = sort(at.parts[0]).kind;
  if (kind.dimension.plain()) return known(Kind::count());
  const std::string name(at.function->name), to = name == "floor"  ? "round_down"
                                                  : name == "ceil" ? "round_up"
                                                                   : "round_to";
  return refuse(
      node(at.parts[0]).span, "sheet.wrong-kind",
      in_quotes(name) + " takes a plain number, and " + in_quotes(read(node(at.parts[0]).span)) + " is " + a_kind(kind),
      "say to which step: " + to + "(x, 1 " + sample_unit(kind.dimension, settings_) + ")");
}

Sort Analyst::sizes(const Node& at) {
  if (!is_number(at.parts[0], "'next_size'")) return {};
  if (at.parts.size() != 2 || !sort(at.parts[1]).list) {
    for (const std::size_t part : at.parts)
      if (!is_number(part, "'next_size'")) return {};
    return all_alike(at, at.parts, "compared");
  }
  if (!result_.meanings[at.parts[1]].kind)
    return refuse(node(at.parts[1]).span, "sheet.list-problem",
                  in_quotes(node(at.parts[1]).word) + " has a size that cannot be read", "correct the list first");
  const Kind &value = sort(at.parts[0]).kind, &size = sort(at.parts[1]).kind;
  if (value.dimension == size.dimension || sort(at.parts[0]).zero) return known(size);
  return refuse(at.span, "sheet.kinds-differ",
                a_kind(value) + " and the sizes of " + in_quotes(node(at.parts[1]).word) + " (" + a_kind(size) +
                    ") cannot be compared",
                "bring both to one kind");
}

Sort Analyst::choose(const Node& at) {
  const std::size_t by = at.parts[0];
  if (sort(by).known && !sort(by).choices)
    return refuse(node(by).span, "sheet.choose",
                  "'choose' goes by a choice parameter, and " + in_quotes(read(node(by).span)) + " is none",
                  "for other conditions write: condition ? this : that");
  if (!sort(by).known || node(by).op != Op::name) return {};
  const auto& choices = *sort(by).choices;
  std::vector<std::string> left = choices;
  std::vector<std::size_t> values;
  for (std::size_t i = 1; i + 1 < at.parts.size(); i += 2) {
    const Node& label = node(at.parts[i]);
    values.push_back(at.parts[i + 1]);
    if (label.op != Op::words) {
      // a choice without its quotes was taken for a name; one problem is enough
      std::erase_if(result_.faults, [&label](const Fault& fault) { return fault.span == label.span; });
      refuse(label.span, "sheet.choose", "a choice in quotes is wanted here, not " + in_quotes(read(label.span)),
             "write it as in " + std::string(at.function->shape));
      continue;
    }
    const auto found = std::find(left.begin(), left.end(), label.word);
    if (found != left.end())
      left.erase(found);
    else if (std::find(choices.begin(), choices.end(), label.word) == choices.end())
      check_word(at.parts[i], choices, node(by).word);
    else
      refuse(label.span, "sheet.choose", in_quotes(label.word) + " is named twice", "keep one of the two");
  }
  const bool others = at.parts.size() % 2 == 0;
  if (others) values.push_back(at.parts.back());
  if (!others && !left.empty())
    refuse(at.span, "sheet.choose", "nothing is said for " + listed([&] {
                                      std::vector<std::string> q;
                                      for (const auto& one : left) q.push_back(in_quotes(one));
                                      return q;
                                    }()),
           "name every choice of " + in_quotes(node(by).word) + ", or give one value more for all others");
  return all_alike(at, values, "choices of one value");
}

// --- words and the result

void Analyst::check_word(std::size_t literal, const std::vector<std::string>& choices, std::string_view of) {
  const std::string& word = node(literal).word;
  if (std::find(choices.begin(), choices.end(), word) != choices.end()) return;
  const std::string near = nearest_name(word, choices);
  refuse(node(literal).span, "sheet.not-a-choice", in_quotes(word) + " is no choice of " + in_quotes(of),
         near.empty() ? "choose among " + joined(choices, ", ") : "did you mean " + in_quotes(near) + "?");
}

/// The words a choice row's formula may come out with, in every branch.
void Analyst::check_result_words(std::size_t at) {
  std::vector<std::size_t> open{at};
  while (!open.empty()) {
    const std::size_t index = open.back();
    open.pop_back();
    const Node& n = node(index);
    if (n.op == Op::words) check_word(index, *wanted_.choices, wanted_.name);
    if (n.op == Op::branch) open.insert(open.end(), {n.parts[2], n.parts[1]});
    if (n.op != Op::call) continue;
    if (n.parts.size() % 2 == 0) open.push_back(n.parts.back());
    for (std::size_t i = (n.parts.size() - 1) / 2; i >= 1; --i) open.push_back(n.parts[2 * i]);
  }
}

void Analyst::check_wanted() {
  const std::size_t last = formula_.nodes.size() - 1;
  const Sort& got = sort(last);
  const Span whole = formula_.root().span;
  const std::string name = wanted_.name.empty() ? "here" : in_quotes(wanted_.name);
  if (got.list) {
    is_number(last, name);
    return;
  }
  if (!got.known) return;
  if (!wanted_.kind) {
    // without choices of its own a row can only hold the word as a text
    result_.kind = got.kind.form == Form::choice ? Kind::text() : got.kind;
    return;
  }
  const Kind& want = *wanted_.kind;
  const bool words = got.kind.form == Form::text || got.kind.form == Form::choice;
  bool fits = got.kind.form == want.form && got.kind.dimension == want.dimension;
  if (want.form == Form::choice || want.form == Form::text) fits = words;
  if (want.form == Form::number && got.zero) fits = true;
  if (fits) {
    if (want.form == Form::choice && wanted_.choices) check_result_words(last);
    result_.kind = want;
    return;
  }
  if (want.form == Form::number && bare_number(last)) {
    result_.faults.push_back(unit_missing(read(whole), whole, name + " is " + a_kind(want), want, settings_));
    return;
  }
  refuse(whole, "sheet.wrong-kind",
         "this gives " + a_kind(got.kind) + ", but " +
             (wanted_.name.empty() ? a_kind(want) + " is wanted here" : name + " is " + a_kind(want)),
         "check the units and the signs in it");
}

}  // namespace

Analysis analyse(const Formula& formula, std::string_view text, const Scope& scope, const Wanted& wanted,
                 const Settings& settings) {
  return Analyst(formula, text, scope, wanted, settings).run();
}

Fault unit_missing(std::string_view number, Span span, const std::string& beside, const Kind& kind,
                   const Settings& settings) {
  const std::string unit = sample_unit(kind.dimension, settings);
  const std::string text(number);
  return {"sheet.no-unit", text + " what? " + beside,
          unit.empty() ? "take the unit out of the other one" : "give it a unit, as in '" + text + " " + unit + "'",
          span};
}

}  // namespace pommel::sheet
