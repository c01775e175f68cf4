#include "sheet/formula.h"

#include <numbers>
#include <optional>

#include "base/text.h"
#include "sheet/lexer.h"

namespace pommel::sheet {
namespace {

using Index = std::optional<std::size_t>;  // nothing after a fault

class Parser {
 public:
  Parser(std::string_view text, std::size_t begin, const Settings& settings)
      : text_(text), lexer_(text, begin, Reading::formula, settings) {}

  std::variant<Formula, Fault> parse() {
    if (!advance() || !condition()) return *fault_;
    if (token_.type != Token::Type::end) {
      refuse_rest();
      return *fault_;
    }
    return std::move(formula_);
  }

 private:
  bool advance();
  bool at_sign(std::string_view sign) const { return token_.type == Token::Type::sign && token_.text == sign; }
  bool at_word(std::string_view word) const { return token_.type == Token::Type::word && token_.text == word; }
  std::nullopt_t refuse(Span span, std::string id, std::string message, std::string remedy);
  std::nullopt_t refuse_rest();
  std::size_t push(Node node) {
    node.outer = node.span;
    formula_.nodes.push_back(std::move(node));
    return formula_.nodes.size() - 1;
  }
  std::size_t push(Op op, std::vector<std::size_t> parts, Span span) {
    Node node;
    node.op = op;
    node.parts = std::move(parts);
    node.span = span;
    return push(std::move(node));
  }
  /// Brackets included.
  const Span& span(std::size_t node) const { return formula_.nodes[node].outer; }
  std::size_t join(Op op, std::size_t left, std::size_t right) {
    return push(op, {left, right}, {span(left).begin, span(right).end});
  }

  bool deeper();
  Index condition();
  Index either();
  Index both();
  Index inverted();
  Index comparison();
  Index sum();
  Index product();
  Index negated();
  Index power();
  Index operand();
  Index number();
  Index named();
  Index call(const Function& function, Span name);
  bool close_bracket(std::size_t opened);

  std::string_view text_;
  Lexer lexer_;
  Token token_;
  Span last_;  // of the token before token_
  bool last_was_number_ = false;
  int depth_ = 0;
  Formula formula_;
  std::optional<Fault> fault_;
};

bool Parser::advance() {
  last_ = token_.span;
  last_was_number_ = token_.type == Token::Type::number;
  auto next = lexer_.next();
  if (!next) {
    if (!fault_) fault_ = lexer_.fault();
    return false;
  }
  token_ = std::move(*next);
  return true;
}

std::nullopt_t Parser::refuse(Span span, std::string id, std::string message, std::string remedy) {
  if (!fault_) fault_ = Fault{std::move(id), std::move(message), std::move(remedy), span};
  return std::nullopt;
}

/// What stands where a sign or the end was wanted.
std::nullopt_t Parser::refuse_rest() {
  const std::string read(text_.substr(token_.span.begin, token_.span.end - token_.span.begin));
  if (at_sign(",") && last_was_number_ && token_.span.end < text_.size() && is_digit(text_[token_.span.end])) {
    std::size_t end = token_.span.end;
    while (end < text_.size() && is_digit(text_[end])) ++end;
    const std::string whole(text_.substr(last_.begin, end - last_.begin));
    const std::string decimals(text_.substr(token_.span.end, end - token_.span.end));
    return refuse({last_.begin, end}, "sheet.comma", "'" + whole + "' has a comma in the number",
                  "write '" + std::string(text_.substr(last_.begin, last_.end - last_.begin)) + "." + decimals + "'");
  }
  if (at_sign(","))
    return refuse(token_.span, "sheet.syntax", "a comma stands outside a function",
                  "take it out; decimals take a point");
  if (at_sign(")"))
    return refuse(token_.span, "sheet.syntax", "this bracket closes nothing", "take it out, or open one before it");
  if (token_.type == Token::Type::sign)
    return refuse(token_.span, "sheet.syntax", "'" + read + "' cannot stand here", "check the formula around it");
  return refuse(token_.span, "sheet.syntax", "a sign is missing before '" + read + "'",
                "write +, -, * or / between the two");
}

/// One step further in; the matching --depth_ is the caller's.
bool Parser::deeper() {
  if (++depth_ <= kDeepestFormula) return true;
  refuse(token_.span, "sheet.too-deep", "this formula is nested more than " + std::to_string(kDeepestFormula) + " deep",
         "compute a part of it in a row of its own");
  return false;
}

Index Parser::condition() {
  if (!deeper()) return std::nullopt;
  const Index asked = either();
  if (!asked) return std::nullopt;
  if (!at_sign("?")) {
    --depth_;
    return asked;
  }
  const Span question = token_.span;
  if (!advance()) return std::nullopt;
  const Index yes = condition();
  if (!yes) return std::nullopt;
  if (!at_sign(":"))
    return token_.type == Token::Type::end ? refuse(question, "sheet.syntax", "this condition has no ':'",
                                                    "write it as in: condition ? this : that")
                                           : refuse_rest();
  if (!advance()) return std::nullopt;
  const Index no = condition();
  if (!no) return std::nullopt;
  --depth_;
  return push(Op::branch, {*asked, *yes, *no}, {span(*asked).begin, span(*no).end});
}

Index Parser::either() {
  Index left = both();
  while (left && at_word("or")) {
    if (!advance()) return std::nullopt;
    const Index right = both();
    if (!right) return std::nullopt;
    left = join(Op::either, *left, *right);
  }
  return left;
}

Index Parser::both() {
  Index left = inverted();
  while (left && at_word("and")) {
    if (!advance()) return std::nullopt;
    const Index right = inverted();
    if (!right) return std::nullopt;
    left = join(Op::both, *left, *right);
  }
  return left;
}

Index Parser::inverted() {
  if (!at_word("not")) return comparison();
  const std::size_t begin = token_.span.begin;
  if (!deeper() || !advance()) return std::nullopt;
  const Index part = inverted();
  if (!part) return std::nullopt;
  --depth_;
  return push(Op::invert, {*part}, {begin, span(*part).end});
}

std::optional<Op> comparison_op(const Token& token) {
  static constexpr std::pair<std::string_view, Op> kSigns[] = {{"<", Op::less},   {"<=", Op::at_most},
                                                               {">", Op::more},   {">=", Op::at_least},
                                                               {"==", Op::equal}, {"!=", Op::different}};
  if (token.type != Token::Type::sign) return std::nullopt;
  for (const auto& [sign, op] : kSigns)
    if (sign == token.text) return op;
  return std::nullopt;
}

Index Parser::comparison() {
  const Index left = sum();
  const auto op = comparison_op(token_);
  if (!left || !op) return left;
  if (!advance()) return std::nullopt;
  const Index right = sum();
  if (!right) return std::nullopt;
  if (comparison_op(token_))
    return refuse(token_.span, "sheet.syntax", "two comparisons in a row",
                  "join them by 'and', as in: a < b and b < c");
  return join(*op, *left, *right);
}

Index Parser::sum() {
  Index left = product();
  while (left && (at_sign("+") || at_sign("-"))) {
    const Op op = at_sign("+") ? Op::add : Op::subtract;
    if (!advance()) return std::nullopt;
    const Index right = product();
    if (!right) return std::nullopt;
    left = join(op, *left, *right);
  }
  return left;
}

Index Parser::product() {
  Index left = negated();
  while (left && (at_sign("*") || at_sign("/"))) {
    const Op op = at_sign("*") ? Op::multiply : Op::divide;
    if (!advance()) return std::nullopt;
    const Index right = negated();
    if (!right) return std::nullopt;
    left = join(op, *left, *right);
  }
  return left;
}

Index Parser::negated() {
  if (!at_sign("-")) return power();
  const std::size_t begin = token_.span.begin;
  if (!deeper() || !advance()) return std::nullopt;
  const Index part = negated();
  if (!part) return std::nullopt;
  --depth_;
  return push(Op::negate, {*part}, {begin, span(*part).end});
}

Index Parser::power() {
  const Index base = operand();
  if (!base || !at_sign("^")) return base;
  const Node& measure = formula_.nodes[*base];
  if (measure.op == Op::number && measure.has_unit && measure.outer == measure.span) {
    const std::string read(text_.substr(measure.span.begin, measure.span.end - measure.span.begin));
    return refuse({measure.span.begin, token_.span.end}, "sheet.two-readings",
                  "'" + read + "^' can be read in two ways",
                  "write '(" + read + ")^2' for the power, or an area's own unit, as in 4 mm2");
  }
  if (!deeper() || !advance()) return std::nullopt;
  const Index exponent = negated();
  if (!exponent) return std::nullopt;
  --depth_;
  return join(Op::power, *base, *exponent);
}

Index Parser::operand() {
  if (token_.type == Token::Type::number) return number();
  if (token_.type == Token::Type::word) return named();
  if (token_.type == Token::Type::words) {
    Node node;
    node.op = Op::words;
    node.word = token_.text;
    node.span = token_.span;
    if (!advance()) return std::nullopt;
    return push(std::move(node));
  }
  if (at_sign("(")) {
    const std::size_t opened = token_.span.begin;
    if (!advance()) return std::nullopt;
    const Index inner = condition();
    const std::size_t end = token_.span.end;
    if (!inner || !close_bracket(opened)) return std::nullopt;
    formula_.nodes[*inner].outer = {opened, end};
    return inner;
  }
  if (token_.type == Token::Type::end)
    return refuse(token_.span, "sheet.syntax", "the formula ends too early", "write a number or a name at its end");
  return refuse(token_.span, "sheet.syntax", "a number or a name is missing before '" + token_.text + "'",
                "write it, or take the sign out");
}

Index Parser::number() {
  Node node;
  node.span = token_.span;
  node.number = token_.number;
  node.dimension = token_.dimension;
  node.has_unit = token_.has_unit;
  node.integer = token_.integer;
  node.fraction = token_.fraction;
  if (!advance()) return std::nullopt;
  return push(std::move(node));
}

Index Parser::named() {
  Node node;
  node.op = Op::name;
  node.word = token_.text;
  node.span = token_.span;
  if (is_reserved(node.word) && !find_function(node.word) && node.word != "yes" && node.word != "no" &&
      node.word != "pi")
    return refuse(token_.span, "sheet.syntax", "a number or a name is missing before '" + node.word + "'",
                  "check the formula around it");
  if (!advance()) return std::nullopt;
  if (node.word == "yes" || node.word == "no") {
    node.op = Op::yes_no;
    node.number = node.word == "yes" ? 1 : 0;
  } else if (node.word == "pi") {
    node.op = Op::number;
    node.number = std::numbers::pi;
  }
  const Function* function = find_function(node.word);
  if (at_sign("(")) {
    if (function) return call(*function, node.span);
    const std::string near = nearest_name(node.word, function_names());
    return refuse(node.span, "sheet.unknown-function", "'" + node.word + "' is no function",
                  near.empty() ? "use one of " + joined(function_names(), ", ") : "did you mean '" + near + "'?");
  }
  if (function)
    return refuse(node.span, "sheet.syntax", "'" + node.word + "' needs its values in brackets",
                  "write it as in " + std::string(function->shape));
  return push(std::move(node));
}

Index Parser::call(const Function& function, Span name) {
  Node node;
  node.op = Op::call;
  node.function = &function;
  const std::size_t opened = token_.span.begin;
  if (!advance()) return std::nullopt;
  while (!at_sign(")")) {
    const Index part = condition();
    if (!part) return std::nullopt;
    node.parts.push_back(*part);
    if (!at_sign(",")) break;
    if (!advance()) return std::nullopt;
    if (at_sign(")"))
      return refuse(token_.span, "sheet.syntax", "a value is missing after the comma",
                    "write it, or take the comma out");
  }
  node.span = {name.begin, token_.span.end};
  if (!close_bracket(opened)) return std::nullopt;
  const auto given = static_cast<int>(node.parts.size());
  if (given < function.least || (function.most >= 0 && given > function.most)) {
    std::string wanted = std::to_string(function.least) + (function.most < 0     ? " or more values"
                                                           : function.least == 1 ? " value"
                                                                                 : " values");
    return refuse(node.span, "sheet.value-count",
                  "'" + std::string(function.name) + "' takes " + wanted + ", not " + std::to_string(given),
                  "write it as in " + std::string(function.shape) + "; decimals take a point");
  }
  return push(std::move(node));
}

bool Parser::close_bracket(std::size_t opened) {
  if (at_sign(")")) return advance();
  if (token_.type == Token::Type::end)
    refuse({opened, opened + 1}, "sheet.syntax", "this bracket is not closed", "write ')' where it ends");
  else
    refuse_rest();
  return false;
}

}  // namespace

std::variant<Formula, Fault> parse_formula(std::string_view text, std::size_t begin, const Settings& settings) {
  if (text.size() > kLongestFormula)
    return Fault{"sheet.too-long",
                 "this formula is longer than " + std::to_string(kLongestFormula) + " characters",
                 "compute a part of it in a row of its own",
                 {begin, begin + 1}};
  return Parser(text, begin, settings).parse();
}

std::string_view sign_of(const Node& node) {
  switch (node.op) {
    case Op::negate:
    case Op::subtract:
      return "-";
    case Op::add:
      return "+";
    case Op::multiply:
      return "*";
    case Op::divide:
      return "/";
    case Op::power:
      return "^";
    case Op::less:
      return "<";
    case Op::at_most:
      return "<=";
    case Op::more:
      return ">";
    case Op::at_least:
      return ">=";
    case Op::equal:
      return "==";
    case Op::different:
      return "!=";
    case Op::both:
      return "and";
    case Op::either:
      return "or";
    case Op::invert:
      return "not";
    case Op::branch:
      return "?";
    case Op::call:
      return node.function->name;
    case Op::number:
    case Op::yes_no:
    case Op::words:
    case Op::name:
      return "";
  }
  return "";
}

}  // namespace pommel::sheet
