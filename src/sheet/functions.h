// The functions a formula may call: what they compute, and how kinds go through them.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace pommel::sheet {

/// How a function treats the kinds of its values.
enum class Rule {
  alike,       ///< all of one kind, which is the result's: min, max
  same,        ///< the result's kind is the value's: abs
  root,        ///< halves the exponents: sqrt
  from_angle,  ///< an angle gives a plain number: sin, cos, tan
  to_angle,    ///< two of one kind give an angle: atan2
  whole,       ///< a plain number gives a count: floor, ceil, round
  step,        ///< a value and a step of its kind: round_up, round_down, round_to
  size,        ///< a value and sizes of its kind, or the name of a list: next_size
  choose,      ///< a choice parameter, then words and values in turn; computed by branches, not called
};

/// What can go wrong while a formula is computed.
enum class Mishap { none, divided_by_zero, root_of_negative, no_power, not_finite, no_step, no_size };

struct Function {
  std::string_view name;
  Rule rule;
  int least, most;                                                    ///< number of values; most < 0: any number
  std::string_view shape;                                             ///< for remedies: "round_up(x, step)"
  double (*compute)(std::span<const double> values, Mishap& mishap);  ///< nullptr for choose
};

/// nullptr when there is none.
const Function* find_function(std::string_view name);
std::vector<std::string> function_names();

/// Words with a meaning of their own: functions, and, or, not, per, yes, no, pi.
bool is_reserved(std::string_view word);

/// a / b, a ^ b, with the mishaps that plain arithmetic would hide in an infinity.
double divided(std::span<const double> values, Mishap& mishap);
double power(std::span<const double> values, Mishap& mishap);

/// The part of a step (or of a whole number) that rounding forgives, so that a length that came out a few bits above a
/// whole number of steps is not rounded up by a whole one.
inline constexpr double kForgiven = 1e-9;

}  // namespace pommel::sheet
