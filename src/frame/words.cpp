#include <array>
#include <cstddef>

#include "frame/table.h"

namespace pommel::frame {
namespace {

constexpr std::array<std::string_view, 4> kTenonRules{"third of the rail", "half of the rail", "third of the leg", "given"};
constexpr std::array<std::string_view, 4> kRemedies{"mitred", "one long one short", "moved outward", "shorter"};
constexpr std::array<std::string_view, 2> kMortiseEnds{"square", "round"};

template <std::size_t N>
std::vector<std::string> as_list(const std::array<std::string_view, N>& words) {
  return {words.begin(), words.end()};
}

template <class Choice, std::size_t N>
std::optional<Choice> find(const std::array<std::string_view, N>& words, std::string_view wanted) {
  for (std::size_t i = 0; i < N; ++i) {
    if (words[i] == wanted) return static_cast<Choice>(i);
  }
  return std::nullopt;
}

}  // namespace

std::vector<std::string> tenon_rule_words() { return as_list(kTenonRules); }
std::vector<std::string> remedy_words() { return as_list(kRemedies); }
std::vector<std::string> mortise_end_words() { return as_list(kMortiseEnds); }

std::string_view word(TenonRule rule) { return kTenonRules[static_cast<std::size_t>(rule)]; }
std::string_view word(Remedy remedy) { return kRemedies[static_cast<std::size_t>(remedy)]; }
std::string_view word(MortiseEnd end) { return kMortiseEnds[static_cast<std::size_t>(end)]; }

std::optional<TenonRule> tenon_rule(std::string_view word) { return find<TenonRule>(kTenonRules, word); }
std::optional<Remedy> remedy(std::string_view word) { return find<Remedy>(kRemedies, word); }
std::optional<MortiseEnd> mortise_end(std::string_view word) { return find<MortiseEnd>(kMortiseEnds, word); }

}  // namespace pommel::frame
