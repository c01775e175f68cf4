#include "ui/models/element_measures.h"

#include <algorithm>
#include <cctype>

namespace pommel::ui {
namespace {

// The outline that this piece is turned by: the design's own of it, the family's own of it, the design's, the family's.
const std::vector<family::ElementText>& outline_of(const job::Loaded& loaded, const std::string& piece) {
  for (const family::OwnTurnings* own : {&loaded.design.own, &loaded.family.own})
    if (const auto found = own->find(piece); found != own->end() && !found->second.outline.empty()) return found->second.outline;
  return loaded.design.outline.empty() ? loaded.family.outline : loaded.design.outline;
}

void add_names(const std::string& formula, const std::map<std::string, sheet::Entry>& words, const sheet::Sheet& sheet, std::vector<std::string>& out) {
  const auto part_of_name = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_'; };
  for (std::size_t at = 0; at < formula.size();) {
    std::size_t end = at;
    while (end < formula.size() && part_of_name(formula[end])) ++end;
    if (end == at) {
      ++at;
      continue;
    }
    std::string name = formula.substr(at, end - at);
    at = end;
    if (const auto means = words.find(name); means != words.end()) name = means->second.text;
    if (sheet.parameter(name) && std::find(out.begin(), out.end(), name) == out.end()) out.push_back(name);
  }
}

}  // namespace

std::vector<std::string> measures_of_element(const job::Loaded& loaded, const std::string& piece, std::size_t element, const sheet::Sheet& sheet) {
  std::vector<std::string> out;
  const auto& outline = outline_of(loaded, piece);
  if (element >= outline.size()) return out;
  const auto words = loaded.family.words.find(piece);
  static const std::map<std::string, sheet::Entry> none;
  const auto& meant = words == loaded.family.words.end() ? none : words->second;
  // thickness before length: a turner points at what a calliper meets
  for (const char* size : {"greatest", "least", "start", "end", "length", "share"})
    if (const auto entry = outline[element].sizes.find(size); entry != outline[element].sizes.end()) add_names(entry->second.text, meant, sheet, out);
  for (const auto& [at, across] : outline[element].through) add_names(at.text, meant, sheet, out), add_names(across.text, meant, sheet, out);
  return out;
}

}  // namespace pommel::ui
