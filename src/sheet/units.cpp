#include "sheet/units.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <vector>

#include "base/text.h"

namespace pommel::sheet {
namespace {

constexpr double kFoot = 12 * kInch;
constexpr Dimension kLength{.length = 1}, kArea{.length = 2}, kVolume{.length = 3}, kAngle{.angle = 1},
    kTime{.time = 1};

struct Named {
  std::string_view word;
  Unit unit;
};

/// A board foot is 12 in x 12 in x 1 in (144 cubic inches), by definition.
constexpr std::array kUnits = {
    Named{"mm", {1, kLength}},
    Named{"cm", {10, kLength}},
    Named{"m", {1000, kLength}},
    Named{"in", {kInch, kLength}},
    Named{"inch", {kInch, kLength}},
    Named{"inches", {kInch, kLength}},
    Named{"\"", {kInch, kLength}},
    Named{"\xE2\x80\xB3", {kInch, kLength}},
    Named{"ft", {kFoot, kLength}},
    Named{"foot", {kFoot, kLength}},
    Named{"feet", {kFoot, kLength}},
    Named{"'", {kFoot, kLength}},
    Named{"\xE2\x80\xB2", {kFoot, kLength}},
    Named{"mm2", {1, kArea}},
    Named{"cm2", {100, kArea}},
    Named{"m2", {1e6, kArea}},
    Named{"sqin", {kInch * kInch, kArea}},
    Named{"in2", {kInch * kInch, kArea}},
    Named{"sqft", {kFoot * kFoot, kArea}},
    Named{"ft2", {kFoot * kFoot, kArea}},
    Named{"mm3", {1, kVolume}},
    Named{"cm3", {1000, kVolume}},
    Named{"m3", {1e9, kVolume}},
    Named{"in3", {kInch * kInch * kInch, kVolume}},
    Named{"ft3", {kFoot * kFoot * kFoot, kVolume}},
    Named{"bdft", {kFoot * kFoot * kInch, kVolume}},
    Named{"deg", {std::numbers::pi, kAngle, 180}},
    Named{"\xC2\xB0", {std::numbers::pi, kAngle, 180}},
    Named{"rad", {1, kAngle}},
    Named{"turn", {2 * std::numbers::pi, kAngle}},
    Named{"turns", {2 * std::numbers::pi, kAngle}},
    Named{"s", {1, kTime, 60}},
    Named{"min", {1, kTime}},
    Named{"h", {60, kTime}},
    Named{"hour", {60, kTime}},
    Named{"hours", {60, kTime}},
    Named{"%", {1, {}, 100}},
};

/// `m`, and `m2` for a length's second power.
std::string powered(std::string_view unit, int power) {
  return power > 1 ? std::string(unit) + std::to_string(power) : std::string(unit);
}

struct Words {
  std::string_view length, angle, time;
};

std::optional<std::string> unit_text(const Dimension& d, const Words& words, const std::string& currency) {
  struct Part {
    std::string_view unit;
    int power;
    bool is_length;
  };
  const std::array<Part, 4> parts = {Part{currency, d.money, false}, Part{words.angle, d.angle, false},
                                     Part{words.length, d.length, true}, Part{words.time, d.time, false}};
  std::string above, below;
  for (const auto& [unit, power, is_length] : parts) {
    if (power > 0) {
      if (!above.empty() || power > (is_length ? 3 : 1)) return std::nullopt;
      above = powered(unit, power);
    }
    for (int left = -power; left > 0;) {
      const int taken = is_length ? std::min(left, 3) : 1;
      below += " per " + powered(unit, taken);
      left -= taken;
    }
  }
  if (above.empty() && !below.empty()) return below.substr(1);
  return above + below;
}

}  // namespace

std::optional<Unit> find_unit(std::string_view word, const Settings& settings) {
  if (!word.empty() && word == settings.currency) return Unit{1, {.money = 1}};
  for (const auto& one : kUnits)
    if (one.word == word) return one.unit;
  return std::nullopt;
}

std::string nearest_unit(std::string_view word, const Settings& settings) {
  std::vector<std::string> all{settings.currency};
  for (const auto& one : kUnits) all.emplace_back(one.word);
  const std::string low = lowered(word);
  if (find_unit(low, settings)) return low;
  return word.size() < 2 ? "" : nearest_name(word, all);  // every single letter is near to m
}

std::string sample_unit(const Dimension& dimension, const Settings& settings) {
  const bool rate_of_money = dimension.money > 0;
  std::string_view length = rate_of_money ? "m" : "mm";
  if (dimension.length >= 2 || dimension.length <= -2) length = "m";
  const auto text = unit_text(dimension, {length, "deg", rate_of_money ? "h" : "min"}, settings.currency);
  return text.value_or("");
}

std::optional<std::string> internal_unit(const Dimension& dimension, const Settings& settings) {
  return unit_text(dimension, {"mm", "rad", "min"}, settings.currency);
}

}  // namespace pommel::sheet
