#include "frame/choice.h"
#include "frame/table.h"

namespace pommel::frame {
namespace {

constexpr std::array<std::string_view, 4> kTenonRules{"third of the rail", "half of the rail", "third of the leg", "given"};
constexpr std::array<std::string_view, 4> kRemedies{"mitred", "one long one short", "moved outward", "shorter"};
constexpr std::array<std::string_view, 2> kMortiseEnds{"square", "round"};

}  // namespace

std::vector<std::string> tenon_rule_words() { return as_list(kTenonRules); }
std::vector<std::string> remedy_words() { return as_list(kRemedies); }
std::vector<std::string> mortise_end_words() { return as_list(kMortiseEnds); }

std::string_view word(TenonRule rule) { return word_of(kTenonRules, rule); }
std::string_view word(Remedy remedy) { return word_of(kRemedies, remedy); }
std::string_view word(MortiseEnd end) { return word_of(kMortiseEnds, end); }

std::optional<TenonRule> tenon_rule(std::string_view word) { return choice_of<TenonRule>(kTenonRules, word); }
std::optional<Remedy> remedy(std::string_view word) { return choice_of<Remedy>(kRemedies, word); }
std::optional<MortiseEnd> mortise_end(std::string_view word) { return choice_of<MortiseEnd>(kMortiseEnds, word); }

}  // namespace pommel::frame
