// A formula as a tree, in one list: every node stands after the nodes it is made of, the root last. Walkers are loops,
// so that no formula, however nested, can exhaust the stack.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "sheet/fault.h"
#include "sheet/functions.h"
#include "sheet/kind.h"
#include "sheet/value.h"

namespace pommel::sheet {

enum class Op {
  number,
  yes_no,
  words,
  name,  // leaves
  negate,
  add,
  subtract,
  multiply,
  divide,
  power,  // arithmetic
  less,
  at_most,
  more,
  at_least,
  equal,
  different,  // comparison
  both,
  either,
  invert,  // and, or, not
  branch,  // condition ? a : b
  call,    // a function
};

struct Node {
  Op op = Op::number;
  Span span;
  Span outer;                                                ///< with the brackets around it
  double number = 0;                                         ///< number: internal units; yes_no: 1 or 0
  Dimension dimension;                                       ///< number
  bool has_unit = false, integer = false, fraction = false;  ///< number, as in Token
  std::string word;                                          ///< name, words
  const Function* function = nullptr;                        ///< call
  std::vector<std::size_t> parts;                            ///< indices of the nodes it is made of
};

struct Formula {
  std::vector<Node> nodes;

  const Node& root() const { return nodes.back(); }
};

inline constexpr std::size_t kLongestFormula = 4000;  ///< bytes
inline constexpr int kDeepestFormula = 100;           ///< brackets, calls, signs and conditions inside one another

/// Reads the text from `begin` (after the equals sign). One fault at most: what follows it cannot be read safely.
std::variant<Formula, Fault> parse_formula(std::string_view text, std::size_t begin, const Settings& settings);

/// The sign as it is written: "+", "<=", "and"; the function's name for calls.
std::string_view sign_of(const Node& node);

}  // namespace pommel::sheet
