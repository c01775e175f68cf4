// The words of the family file for elements and cuts.
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include "shape/outline.h"

namespace pommel::shape {
namespace {

constexpr std::array<std::string_view, 17> kKinds = {
    "square",       "pommel", "fillet",   "bead",    "cove", "ovolo", "scotia", "torus", "cyma recta",
    "cyma reversa", "taper",  "cylinder", "entasis", "vase", "ball",  "vee",    "pin"};
constexpr std::array<std::string_view, 4> kCuts = {"square", "rounded", "sloped", "ogee"};

template <class E, class Words>
std::optional<E> find_word(const Words& words, std::string_view word) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] == word) return static_cast<E>(i);
  }
  return std::nullopt;
}

}  // namespace

std::string_view word_of(ElementKind kind) {
  return kKinds[static_cast<std::size_t>(kind)];
}
std::string_view word_of(PommelCut cut) {
  return kCuts[static_cast<std::size_t>(cut)];
}
std::optional<ElementKind> element_kind(std::string_view word) {
  return find_word<ElementKind>(kKinds, word);
}
std::optional<PommelCut> pommel_cut(std::string_view word) {
  return find_word<PommelCut>(kCuts, word);
}
std::vector<std::string> element_words() {
  return {kKinds.begin(), kKinds.end()};
}
std::vector<std::string> pommel_cut_words() {
  return {kCuts.begin(), kCuts.end()};
}

StockSection StockSection::square(double width) {
  return {width, width * std::numbers::sqrt2};
}

StockSection StockSection::polygon(int sides, double across_flats) {
  assert(sides >= 3);
  return sides == 4 ? square(across_flats)
                    : StockSection{across_flats, across_flats / std::cos(std::numbers::pi / sides)};
}

StockSection StockSection::round(double diameter) {
  return {diameter, diameter};
}

}  // namespace pommel::shape
