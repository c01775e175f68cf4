// Inside frame/: the words of a family file for a choice, in the order of its enumerators.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace pommel::frame {

template <std::size_t N>
std::vector<std::string> as_list(const std::array<std::string_view, N>& words) {
  return {words.begin(), words.end()};
}

/// The enumerator of a word; nothing for a word that is none of them.
template <class Choice, std::size_t N>
std::optional<Choice> choice_of(const std::array<std::string_view, N>& words, std::string_view wanted) {
  const auto found = std::find(words.begin(), words.end(), wanted);
  if (found == words.end()) return std::nullopt;
  return static_cast<Choice>(found - words.begin());
}

template <class Choice, std::size_t N>
std::string_view word_of(const std::array<std::string_view, N>& words, Choice choice) {
  return words[static_cast<std::size_t>(choice)];
}

}  // namespace pommel::frame
