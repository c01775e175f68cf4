#include "designs/version.h"

#include <algorithm>

#include "base/text.h"
#include "yaml/map_reader.h"
#include "yaml/patch.h"

namespace pommel::designs {
namespace {

using yaml::Node;

bool letter_or_digit(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_'; }

bool is_word(std::string_view text) { return !text.empty() && !(text[0] >= '0' && text[0] <= '9') && std::all_of(text.begin(), text.end(), letter_or_digit); }

// A scalar that is to be something else.
struct Change {
  Node node;
  std::string text;
};

class Search {
 public:
  explicit Search(const std::map<std::string, std::string>& names) : names_(names) {}

  // `names_here`: the keys of this map are names of measures; `formula`: a scalar here is one even without its '='.
  std::optional<Change> in(const Node& node, bool names_here, bool formula, int depth = 0) const {
    if (depth > yaml::kMaxDepth) return std::nullopt;
    if (node.is_scalar()) {
      if (!formula && !node.text().starts_with("=")) return std::nullopt;
      const std::string now = with_names(node.text(), names_);
      return now == node.text() ? std::nullopt : std::optional(Change{node, now});
    }
    for (std::size_t i = 0; i < node.size(); ++i) {
      if (node.is_map() && names_here)
        if (const auto now = names_.find(node.key(i).text()); now != names_.end()) return Change{node.key(i), now->second};
      const std::string key = node.is_map() ? node.key(i).text() : "";
      const bool measures = depth == 0 && (key == "sheet" || key == "proven");
      if (auto found = in(node.is_map() ? node.value(i) : node.item(i), measures, key == "that", depth + 1)) return found;
    }
    return std::nullopt;
  }

 private:
  const std::map<std::string, std::string>& names_;
};

std::string renamed_words(const std::map<std::string, std::string>& names) {
  std::vector<std::string> words;
  for (const auto& [before, now] : names) words.push_back("'" + before + "' is '" + now + "'");
  return listed(words);
}

// Swapped names would be found again and again: first to names that nobody uses, then to their own.
std::optional<std::string> renamed(std::string text, const std::string& file, const std::map<std::string, std::string>& names, Sink& sink) {
  std::map<std::string, std::string> away, home;
  for (const auto& [before, now] : names) {
    away[before] = now + "_as_it_is_called_now";
    home[now + "_as_it_is_called_now"] = now;
  }
  for (const auto* step : {&away, &home}) {
    for (;;) {
      Sink quiet;
      const auto root = yaml::read(text, file, quiet);
      if (!root || quiet.has_errors()) return text;  // the reader will say what is wrong with it
      const auto change = Search(*step).in(*root, false, false);
      if (!change) break;
      auto patched = yaml::patched(text, change->node, change->text);
      if (!patched.ok()) {
        sink.add(yaml::at(change->node, "designs.cannot-migrate", "a measure that was renamed stands here and cannot be changed in place", renamed_words(names)));
        return std::nullopt;
      }
      text = std::move(patched).value();
    }
  }
  return text;
}

}  // namespace

std::map<std::string, std::string> Versions::names_since(int from) const {
  std::map<std::string, std::string> names;
  for (const auto& [since, pairs] : renamed) {
    if (since <= from) continue;
    const auto so_far = names;  // names of one version change all at once: two may be swapped
    for (const auto& [before, now] : pairs) {
      bool known = false;
      for (const auto& [first, latest] : so_far)
        if (latest == before) names[first] = now, known = true;
      if (!known) names[before] = now;
    }
  }
  return names;
}

Versions versions_of(std::string_view family_text, const std::string& file, Sink& sink) {
  Versions out;
  Sink quiet;  // the family's own reader reports the file's problems
  const auto root = yaml::read(family_text, file, quiet);
  if (!root || !root->is_map()) return out;
  yaml::MapReader document(*root, "family", quiet);
  out.family = document.text("family").value_or("");
  out.version = document.count("version").value_or(1);
  const auto renamed = document.map("renamed");
  for (std::size_t i = 0; renamed && i < renamed->size(); ++i) {
    const auto since = yaml::as_count(renamed->key(i), sink);
    if (!since || *since < 2 || *since > out.version || !renamed->value(i).is_map()) {
      sink.add(yaml::at(renamed->key(i), "designs.renamed", "'" + renamed->key(i).text() + "' is no version in which something was renamed", "write 2: {old_name: new_name}, up to the family's own version"));
      continue;
    }
    const Node names = renamed->value(i);
    for (std::size_t n = 0; n < names.size(); ++n) {
      if (!is_word(names.key(n).text()) || !is_word(names.value(n).text()))
        sink.add(yaml::at(names.key(n), "designs.renamed", "a measure's name is one word", "write old_name: new_name"));
      else
        out.renamed[*since].emplace_back(names.key(n).text(), names.value(n).text());
    }
  }
  return out;
}

std::optional<UpToDate> up_to_date(std::string_view text, const std::string& file, const Versions& versions, Sink& sink) {
  UpToDate out{std::string(text), false};
  Sink quiet;
  const auto root = yaml::read(text, file, quiet);
  if (!root || !root->is_map()) return out;
  const auto says = root->find("written_for");
  const int written = says ? yaml::as_count(*says, sink).value_or(versions.version) : 1;
  if (written > versions.version) {
    sink.add(yaml::at(*says, "designs.newer", "this was written for version " + std::to_string(written) + " of the family '" + versions.family + "', here is version " + std::to_string(versions.version),
                      "bring the template up to date; nothing is guessed from a newer file"));
    return std::nullopt;
  }
  const auto names = versions.names_since(written);
  if (names.empty()) return out;
  auto now = renamed(out.text, file, names, sink);
  if (!now) return std::nullopt;
  out.changed = *now != out.text;
  out.text = std::move(*now);
  if (out.changed)
    sink.add(yaml::at(says ? *says : *root, "designs.older",
                      "this was written for version " + std::to_string(written) + " of the family '" + versions.family + "' and is read as for version " + std::to_string(versions.version) + ": " + renamed_words(names),
                      "'pommel catalog --update' writes it so", Severity::note));
  return out;
}

std::string says_written_for(std::string text, int version) {
  Sink quiet;
  const auto root = yaml::read(text, "", quiet);
  if (!root || !root->is_map()) return text;
  const std::string number = std::to_string(version);
  if (const auto says = root->find("written_for")) {
    auto patched = yaml::patched(text, *says, number);
    return patched.ok() ? std::move(patched).value() : text;
  }
  // a line of its own below the first key's line that names what the file stands on
  for (std::size_t i = 0; i < root->size(); ++i) {
    const std::string key = root->key(i).text();
    if (key != "family" && key != "design") continue;
    std::size_t end = 0;
    for (int line = 0; line < root->key(i).place().line && end != std::string::npos; ++line) end = text.find('\n', line == 0 ? 0 : end + 1);
    if (root->find("family") && key == "design") continue;
    return end == std::string::npos ? text + "\nwritten_for: " + number + "\n" : text.substr(0, end + 1) + "written_for: " + number + "\n" + text.substr(end + 1);
  }
  return text;
}

std::string with_names(std::string_view formula, const std::map<std::string, std::string>& names) {
  std::string out;
  bool in_words = false;
  for (std::size_t i = 0; i < formula.size();) {
    if (in_words || !letter_or_digit(formula[i])) {
      // a mark behind a digit is of inches: 28 1/4"
      const bool inches = i > 0 && formula[i - 1] >= '0' && formula[i - 1] <= '9' && !in_words;
      if (formula[i] == '"' && !inches) in_words = !in_words;
      out += formula[i++];
      continue;
    }
    std::size_t end = i;
    while (end < formula.size() && letter_or_digit(formula[end])) ++end;
    const std::string word(formula.substr(i, end - i));
    const auto now = names.find(word);
    out += now == names.end() ? word : now->second;
    i = end;
  }
  return out;
}

}  // namespace pommel::designs
