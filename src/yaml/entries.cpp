#include "yaml/entries.h"

#include "base/text.h"
#include "yaml/patch.h"

namespace pommel::yaml {
namespace {

// Everything that the node says, but for one entry of the map at `map_key`.
std::string said(const Node& node, std::string_view map_key, std::string_view but, int depth = 0) {
  if (node.is_scalar()) return node.nothing() ? "~" : (node.quoted() ? "'" : "") + node.text() + "\x1f";
  std::string out = node.is_map() ? "{" : "[";
  for (std::size_t i = 0; i < node.size(); ++i) {
    if (node.is_list()) {
      out += said(node.item(i), {}, {}, depth + 1);
      continue;
    }
    const std::string& key = node.key(i).text();
    if (depth == 1 && !map_key.empty() && key == but) continue;
    const bool the_map = depth == 0 && key == map_key;
    const std::string value = said(node.value(i), the_map ? map_key : std::string_view(), but, depth + 1);
    // an empty map, a place left empty and a map that is not there hold the same entries: none
    if (!the_map || (value != "{}" && value != "~")) out += key + "\x1e" + value;
  }
  return out + (node.is_map() ? "}" : "]");
}

struct Lines {
  std::vector<std::string> lines;
  bool ends_with_break = false;

  explicit Lines(std::string_view text) : ends_with_break(text.ends_with('\n')) {
    for (const std::string_view line : split(text, '\n')) lines.emplace_back(line);
    if (ends_with_break) lines.pop_back();
  }
  std::string text() const {
    std::string out;
    for (std::size_t i = 0; i < lines.size(); ++i) out += lines[i] + (i + 1 < lines.size() || ends_with_break ? "\n" : "");
    return out;
  }
};

std::size_t line_index(const Node& node) { return static_cast<std::size_t>(node.place().line) - 1; }

std::string indent_of(const std::string& line) { return line.substr(0, line.find_first_not_of(' ')); }

bool begins_its_line(const Lines& file, const Node& key) {
  const std::string& line = file.lines[line_index(key)];
  return static_cast<int>(indent_of(line).size()) + 1 == key.place().column;
}

Result<std::string> held(std::string_view before, std::string text, const std::string& file, std::string_view map_key, std::string_view key, const Failure& cannot) {
  Sink sink;
  const auto old = read(before, file, sink), made = read(text, file, sink);
  if (!old || !made || sink.has_errors() || said(*old, map_key, key) != said(*made, map_key, key)) return cannot;
  return text;
}

Failure cannot(const std::string& id, const Node& at_node, const std::string& what) { return Failure(at(at_node, id, what, "change it in an editor")); }

}  // namespace

Result<std::string> with_entry(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key, std::string_view value) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-add", *root, "'" + std::string(key) + "' cannot be added to '" + std::string(map_key) + "' line by line");
  if (!root->is_map()) return refused;
  const std::string line = std::string(key) + ": " + scalar_for(value);
  Lines lines(text);
  const auto map = root->find(map_key);
  if (!map) {
    lines.lines.push_back(std::string(map_key) + ":");
    lines.lines.push_back("  " + line);
    lines.ends_with_break = true;
  } else if (map->is_map() && map->size() > 0) {
    const Node last = map->value(map->size() - 1), last_key = map->key(map->size() - 1);
    if (map->find(key) || !begins_its_line(lines, last_key) || !last.is_scalar()) return refused;
    lines.lines.insert(lines.lines.begin() + static_cast<std::ptrdiff_t>(line_index(last_key)) + 1, indent_of(lines.lines[line_index(last_key)]) + line);
  } else {
    // `sheet:`, `sheet: {}`, or the braces alone on the line after it
    std::string& at = lines.lines[line_index(*map)];
    const std::size_t braces = map->is_map() ? at.find("{}") : std::string::npos;
    if (map->is_map() && braces == std::string::npos) return refused;
    if (braces != std::string::npos && indent_of(at).size() == braces) {
      at.replace(braces, 2, line);
    } else {
      if (braces != std::string::npos) at.erase(at.find_last_not_of(' ', braces - 1) + 1, braces + 2 - at.find_last_not_of(' ', braces - 1) - 1);
      lines.lines.insert(lines.lines.begin() + static_cast<std::ptrdiff_t>(line_index(*map)) + 1, "  " + line);
    }
  }
  auto made = held(text, lines.text(), file, map_key, key, refused);
  if (!made.ok()) return made;
  const auto again = read(*made, file, sink)->find(map_key);
  const auto entry = again && again->is_map() ? again->find(key) : std::nullopt;
  return entry && entry->is_scalar() && entry->text() == value ? std::move(made) : Result<std::string>(refused);
}

Result<std::string> without_entry(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-remove", *root, "'" + std::string(key) + "' cannot be taken out of '" + std::string(map_key) + "' line by line");
  const auto map = root->is_map() ? root->find(map_key) : std::nullopt;
  if (!map || !map->is_map()) return refused;
  Lines lines(text);
  for (std::size_t i = 0; i < map->size(); ++i) {
    if (map->key(i).text() != key) continue;
    if (!begins_its_line(lines, map->key(i)) || !map->value(i).is_scalar()) return refused;
    const auto at = lines.lines.begin() + static_cast<std::ptrdiff_t>(line_index(map->key(i)));
    if (map->size() == 1) *at = indent_of(*at) + "{}";
    else lines.lines.erase(at);
    return held(text, lines.text(), file, map_key, key, refused);
  }
  return refused;
}

}  // namespace pommel::yaml
