#include "sheet/program.h"

#include <muParserBase.h>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace pommel::sheet {
namespace {

using Compute = double (*)(std::span<const double>, Mishap&);

struct Site {
  Compute compute = nullptr;
  std::size_t node = 0;
};

/// muParser without a function, constant or operator of its own beyond + - * and the comparisons.
class Bare : public mu::ParserBase {
 public:
  Bare() {
    InitCharSets();
    EnableOptimizer(false);
  }

 protected:
  void InitCharSets() override {
    DefineNameChars("0123456789abcdefghijklmnopqrstuvwxyz");
    DefineOprtChars("<>=!+-*?:");
    DefineInfixOprtChars("+-");
  }
  void InitFun() override {}
  void InitConst() override {}
  void InitOprt() override {}
};

}  // namespace

/// Symbols: v<n> inputs, c<n> constants, f<n> calls (division and powers too); n counts from 0.
struct Program::Text {
  std::string expression;
  std::vector<std::pair<std::size_t, std::size_t>> origin;  // position in the expression -> node, ascending
  std::vector<double> constants;
  std::vector<Site> sites;
  std::size_t inputs = 0;
};

struct Program::Machine {
  // what a call reports; a callback gets a pointer to its own Call
  struct Call {
    Site site;
    Stop* stop = nullptr;
  };

  Bare parser;
  std::vector<double> slots;
  std::vector<Call> calls;
  Stop stop;

  explicit Machine(const Text& text);
  static double call(void* user, const double* values, int count);
};

double Program::Machine::call(void* user, const double* values, int count) {
  const Call& self = *static_cast<Call*>(user);
  const std::span<const double> given(values, static_cast<std::size_t>(count));
  Mishap mishap = Mishap::none;
  const bool finite = std::all_of(given.begin(), given.end(), [](double v) { return std::isfinite(v); });
  const double result = self.site.compute(given, mishap);
  if (mishap == Mishap::none && (!finite || !std::isfinite(result))) mishap = Mishap::not_finite;
  // the first mishap is the cause; what follows computes on with its NaN
  if (mishap != Mishap::none && self.stop->mishap == Mishap::none)
    *self.stop = {mishap, self.site.node, {given.begin(), given.end()}, {}};
  return result;
}

Program::Machine::Machine(const Text& text) : slots(text.inputs) {
  for (std::size_t i = 0; i < slots.size(); ++i) parser.DefineVar("v" + std::to_string(i), &slots[i]);
  for (std::size_t i = 0; i < text.constants.size(); ++i)
    parser.DefineConst("c" + std::to_string(i), text.constants[i]);
  calls.reserve(text.sites.size());
  for (std::size_t i = 0; i < text.sites.size(); ++i) {
    calls.push_back({text.sites[i], &stop});
    parser.DefineFunUserData("f" + std::to_string(i), &Machine::call, &calls.back(), false);
  }
  parser.SetExpr(text.expression);
}

namespace {

/// Writes the expression front to back from an explicit stack of pieces still to be written.
class Writer {
 public:
  Writer(const Formula& formula, const Analysis& analysis, const Scope& scope,
         const std::function<double(const std::string&)>& number_for)
      : formula_(formula), analysis_(analysis), scope_(scope), number_for_(number_for) {}

  void write();

  std::string expression;
  std::vector<std::pair<std::size_t, std::size_t>> origin;
  std::vector<double> constants;
  std::vector<Site> sites;

 private:
  struct Piece {
    std::string text;  // written when there is no node
    std::optional<std::size_t> node;
    bool bare = false;  // a sum or product that needs no brackets where it stands
  };

  static Piece part(std::size_t node, bool bare = false) { return {{}, node, bare}; }
  static Piece literal(std::string text) { return {std::move(text), std::nullopt, false}; }
  void push(std::vector<Piece> pieces) {
    for (auto piece = pieces.rbegin(); piece != pieces.rend(); ++piece) stack_.push_back(std::move(*piece));
  }
  std::string constant(double value) {
    constants.push_back(value);
    return "c" + std::to_string(constants.size() - 1);
  }
  void write_node(std::size_t index, bool bare);
  void infix(const Node& node, const char* sign, bool bare, bool left_bare);
  void call(const Node& node, std::size_t index, Compute compute);
  void choose(const Node& node);
  std::string input(std::size_t index) const;

  const Formula& formula_;
  const Analysis& analysis_;
  const Scope& scope_;
  const std::function<double(const std::string&)>& number_for_;
  std::vector<Piece> stack_;
};

void Writer::write() {
  stack_.push_back(part(formula_.nodes.size() - 1, true));
  while (!stack_.empty()) {
    const Piece piece = std::move(stack_.back());
    stack_.pop_back();
    if (!piece.node) {
      expression += piece.text;
      continue;
    }
    origin.emplace_back(expression.size(), *piece.node);
    write_node(*piece.node, piece.bare);
  }
}

std::string Writer::input(std::size_t index) const {
  const std::size_t row = analysis_.meanings[index].index;
  const auto found = std::find(analysis_.inputs.begin(), analysis_.inputs.end(), row);
  assert(found != analysis_.inputs.end());
  return "v" + std::to_string(found - analysis_.inputs.begin());
}

/// a + b + c stays a+b+c: without the brackets a long chain is no deep nest.
void Writer::infix(const Node& node, const char* sign, bool bare, bool left_bare) {
  push({literal(bare ? "" : "("), part(node.parts[0], left_bare), literal(sign), part(node.parts[1]),
        literal(bare ? "" : ")")});
}

void Writer::call(const Node& node, std::size_t index, Compute compute) {
  sites.push_back({compute, index});
  std::vector<Piece> pieces{literal("f" + std::to_string(sites.size() - 1) + "(")};
  for (std::size_t i = 0; i < node.parts.size(); ++i) {
    if (i > 0) pieces.push_back(literal(","));
    const Meaning& meaning = analysis_.meanings[node.parts[i]];
    if (meaning.what != Meaning::What::list) {
      pieces.push_back(part(node.parts[i]));
      continue;
    }
    std::string sizes;
    for (const double size : scope_.sizes(meaning.index)) sizes += (sizes.empty() ? "" : ",") + constant(size);
    pieces.push_back(literal(sizes));
  }
  pieces.push_back(literal(")"));
  push(std::move(pieces));
}

/// Branches, so that only the chosen value is computed.
void Writer::choose(const Node& node) {
  const std::string by = input(node.parts[0]);
  const bool others = node.parts.size() % 2 == 0;
  const std::size_t pairs = (node.parts.size() - 1) / 2, asked = others ? pairs : pairs - 1;
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < asked; ++i) {
    pieces.push_back(
        literal("((" + by + "==" + constant(number_for_(formula_.nodes[node.parts[1 + 2 * i]].word)) + ")?"));
    pieces.push_back(part(node.parts[2 + 2 * i]));
    pieces.push_back(literal(":"));
  }
  pieces.push_back(part(node.parts.back()));
  pieces.push_back(literal(std::string(asked, ')')));
  push(std::move(pieces));
}

void Writer::write_node(std::size_t index, bool bare) {
  const Node& node = formula_.nodes[index];
  const auto left = node.parts.empty() ? Op::number : formula_.nodes[node.parts[0]].op;
  const bool left_term = left == Op::add || left == Op::subtract || left == Op::multiply;
  switch (node.op) {
    case Op::number:
    case Op::yes_no:
      expression += constant(node.number);
      return;
    case Op::words:
      expression += constant(number_for_(node.word));
      return;
    case Op::name:
      expression += input(index);
      return;
    case Op::negate:
      push({literal("(" + constant(-1) + "*"), part(node.parts[0]), literal(")")});
      return;
    case Op::add:
      infix(node, "+", bare, left_term);
      return;
    case Op::subtract:
      infix(node, "-", bare, left_term);
      return;
    case Op::multiply:
      infix(node, "*", bare, left == Op::multiply);
      return;
    case Op::divide:
      call(node, index, divided);
      return;
    case Op::power:
      call(node, index, power);
      return;
    case Op::less:
      infix(node, "<", false, false);
      return;
    case Op::at_most:
      infix(node, "<=", false, false);
      return;
    case Op::more:
      infix(node, ">", false, false);
      return;
    case Op::at_least:
      infix(node, ">=", false, false);
      return;
    case Op::equal:
      infix(node, "==", false, false);
      return;
    case Op::different:
      infix(node, "!=", false, false);
      return;
    case Op::both:
      push({literal("("), part(node.parts[0]), literal("?"), part(node.parts[1]), literal(":" + constant(0) + ")")});
      return;
    case Op::either:
      push({literal("("), part(node.parts[0]), literal("?" + constant(1) + ":"), part(node.parts[1]), literal(")")});
      return;
    case Op::invert: {
      const std::string no = constant(0), yes = constant(1);
      push({literal("("), part(node.parts[0]), literal("?" + no + ":" + yes + ")")});
      return;
    }
    case Op::branch:
      push({literal("("), part(node.parts[0]), literal("?"), part(node.parts[1]), literal(":"), part(node.parts[2]),
            literal(")")});
      return;
    case Op::call:
      if (node.function->rule == Rule::choose)
        choose(node);
      else
        call(node, index, node.function->compute);
      return;
  }
}

}  // namespace

Program::Program(const Formula& formula, const Analysis& analysis, const Scope& scope,
                 const std::function<double(const std::string&)>& number_for) {
  assert(analysis.faults.empty() && !analysis.waits_for);
  Writer writer(formula, analysis, scope, number_for);
  writer.write();
  text_ =
      std::make_shared<const Text>(Text{std::move(writer.expression), std::move(writer.origin),
                                        std::move(writer.constants), std::move(writer.sites), analysis.inputs.size()});
}

Program::Program() = default;
Program::Program(const Program& other) : text_(other.text_) {}
Program& Program::operator=(const Program& other) {
  if (this != &other) {
    text_ = other.text_;
    machine_.reset();
  }
  return *this;
}
Program::Program(Program&&) noexcept = default;
Program& Program::operator=(Program&&) noexcept = default;
Program::~Program() = default;

std::optional<double> Program::run(std::span<const double> inputs, Stop& stop) {
  assert(text_ && inputs.size() == text_->inputs);
  stop = {};
  try {
    if (!machine_) machine_ = std::make_unique<Machine>(*text_);
    std::copy(inputs.begin(), inputs.end(), machine_->slots.begin());
    machine_->stop = {};
    const double result = machine_->parser.Eval();
    stop = machine_->stop;
    if (stop.mishap != Mishap::none) return std::nullopt;
    if (std::isfinite(result)) return result;
    stop.mishap = Mishap::not_finite;
    stop.node = text_->origin.front().second;
    return std::nullopt;
  } catch (const mu::ParserError& refused) {
    // our own expression was refused: too long for muParser, say. Its position leads back to the node written there.
    const auto at = static_cast<std::size_t>(std::max(0, refused.GetPos()));
    const auto after = std::upper_bound(text_->origin.begin(), text_->origin.end(), at,
                                        [](std::size_t pos, const auto& one) { return pos < one.first; });
    stop = {Mishap::not_finite, after == text_->origin.begin() ? 0 : std::prev(after)->second, {}, refused.GetMsg()};
    while (stop.said.ends_with('.')) stop.said.pop_back();
    machine_.reset();
    return std::nullopt;
  }
}

}  // namespace pommel::sheet
