#include "sheet/functions.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace pommel::sheet {
namespace {

using Values = std::span<const double>;

double lost(Mishap& mishap, Mishap why) {
  mishap = why;
  return std::numeric_limits<double>::quiet_NaN();
}

double whole_below(double x) {
  return std::floor(x + kForgiven);
}
double whole_above(double x) {
  return std::ceil(x - kForgiven);
}

double steps(Values v, Mishap& mishap, double (*rounded)(double)) {
  if (!(v[1] > 0)) return lost(mishap, Mishap::no_step);
  return rounded(v[0] / v[1]) * v[1];
}

double next_size(Values v, Mishap& mishap) {
  double best = std::numeric_limits<double>::infinity();
  for (const double size : v.subspan(1))
    if (size >= v[0] - kForgiven * std::abs(size)) best = std::min(best, size);
  return std::isfinite(best) ? best : lost(mishap, Mishap::no_size);
}

double smallest(Values v, Mishap&) {
  return *std::min_element(v.begin(), v.end());
}
double largest(Values v, Mishap&) {
  return *std::max_element(v.begin(), v.end());
}
double absolute(Values v, Mishap&) {
  return std::abs(v[0]);
}
double root(Values v, Mishap& mishap) {
  return v[0] < 0 ? lost(mishap, Mishap::root_of_negative) : std::sqrt(v[0]);
}
double sine(Values v, Mishap&) {
  return std::sin(v[0]);
}
double cosine(Values v, Mishap&) {
  return std::cos(v[0]);
}
double tangent(Values v, Mishap&) {
  return std::tan(v[0]);
}
double arc_tangent(Values v, Mishap&) {
  return std::atan2(v[0], v[1]);
}
double floor_of(Values v, Mishap&) {
  return whole_below(v[0]);
}
double ceil_of(Values v, Mishap&) {
  return whole_above(v[0]);
}
double round_of(Values v, Mishap&) {
  return std::round(v[0]);
}
double step_up(Values v, Mishap& mishap) {
  return steps(v, mishap, whole_above);
}
double step_down(Values v, Mishap& mishap) {
  return steps(v, mishap, whole_below);
}
double step_to(Values v, Mishap& mishap) {
  return steps(v, mishap, [](double x) { return std::round(x); });
}

constexpr std::array kFunctions = {
    Function{"min", Rule::alike, 2, -1, "min(a, b)", smallest},
    Function{"max", Rule::alike, 2, -1, "max(a, b)", largest},
    Function{"abs", Rule::same, 1, 1, "abs(x)", absolute},
    Function{"sqrt", Rule::root, 1, 1, "sqrt(x)", root},
    Function{"sin", Rule::from_angle, 1, 1, "sin(angle)", sine},
    Function{"cos", Rule::from_angle, 1, 1, "cos(angle)", cosine},
    Function{"tan", Rule::from_angle, 1, 1, "tan(angle)", tangent},
    Function{"atan2", Rule::to_angle, 2, 2, "atan2(y, x)", arc_tangent},
    Function{"floor", Rule::whole, 1, 1, "floor(x)", floor_of},
    Function{"ceil", Rule::whole, 1, 1, "ceil(x)", ceil_of},
    Function{"round", Rule::whole, 1, 1, "round(x)", round_of},
    Function{"round_up", Rule::step, 2, 2, "round_up(x, 1/16 in)", step_up},
    Function{"round_down", Rule::step, 2, 2, "round_down(x, 1/16 in)", step_down},
    Function{"round_to", Rule::step, 2, 2, "round_to(x, 1/16 in)", step_to},
    Function{"next_size", Rule::size, 2, -1, "next_size(x, 6 mm, 8 mm, 10 mm)", next_size},
    Function{"choose", Rule::choose, 3, -1, "choose(finish, \"oil\", 12 mm, \"wax\", 10 mm)", nullptr},
};

constexpr std::array<std::string_view, 7> kWords = {"and", "or", "not", "per", "yes", "no", "pi"};

}  // namespace

const Function* find_function(std::string_view name) {
  const auto found =
      std::find_if(kFunctions.begin(), kFunctions.end(), [name](const Function& f) { return f.name == name; });
  return found == kFunctions.end() ? nullptr : &*found;
}

std::vector<std::string> function_names() {
  std::vector<std::string> names;
  for (const Function& one : kFunctions) names.emplace_back(one.name);
  return names;
}

bool is_reserved(std::string_view word) {
  return find_function(word) || std::find(kWords.begin(), kWords.end(), word) != kWords.end();
}

double divided(Values v, Mishap& mishap) {
  return v[1] == 0 ? lost(mishap, Mishap::divided_by_zero) : v[0] / v[1];
}

double power(Values v, Mishap& mishap) {
  if (v[0] == 0 && v[1] < 0) return lost(mishap, Mishap::divided_by_zero);
  const double result = std::pow(v[0], v[1]);
  return std::isnan(result) ? lost(mishap, Mishap::no_power) : result;
}

}  // namespace pommel::sheet
