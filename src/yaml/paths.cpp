#include "yaml/paths.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "yaml/document.h"
#include "yaml/patch.h"

namespace pommel::yaml {
namespace {

using Path = std::vector<std::string>;
using Said = std::vector<std::pair<Path, std::string>>;

Failure cannot(const std::string& id, const Node& root, const Path& path, const char* what) {
  std::string said;
  for (const std::string& key : path) said += (said.empty() ? "" : ": ") + key;
  return Failure(at(root, id, "'" + said + "' cannot be " + what + " by its line", "change it in an editor"));
}

// Every scalar of the document with the way to it.
void say(const Node& node, Path& way, Said& out) {
  if (node.is_scalar()) return out.emplace_back(way, (node.quoted() ? "'" : node.nothing() ? "~" : "") + node.text()), void();
  if (node.size() == 0) out.emplace_back(way, node.is_map() ? "{" : "[");
  for (std::size_t i = 0; i < node.size(); ++i) {
    way.push_back(node.is_map() ? node.key(i).text() : std::to_string(i));
    say(node.is_map() ? node.value(i) : node.item(i), way, out);
    way.pop_back();
  }
}

Said said(const Node& node) {
  Said out;
  Path way;
  say(node, way, out);
  std::sort(out.begin(), out.end());
  return out;
}

std::optional<std::size_t> index_of(const Node& map, std::string_view key) {
  for (std::size_t i = 0; map.is_map() && i < map.size(); ++i)
    if (map.key(i).text() == key) return i;
  return std::nullopt;
}

std::size_t line_index(const Node& node) { return static_cast<std::size_t>(node.place().line) - 1; }

// Columns count letters.
std::size_t byte_of(const std::string& line, const Node& node) {
  std::size_t byte = 0;
  for (int letters = 1; byte < line.size() && letters < node.place().column; ++letters)
    do ++byte;
    while (byte < line.size() && (static_cast<unsigned char>(line[byte]) & 0xC0) == 0x80);
  return byte;
}

struct Text {
  std::vector<std::string> lines;

  explicit Text(std::string_view text) {
    for (const std::string_view line : split(text, '\n')) lines.emplace_back(line);
  }
  std::string& of(const Node& node) { return lines[line_index(node)]; }
  std::string whole() const {
    std::string out;
    for (std::size_t i = 0; i < lines.size(); ++i) out += (i > 0 ? "\n" : "") + lines[i];
    return out;
  }
};

bool in_braces(Text& text, const Node& map) { return text.of(map).compare(byte_of(text.of(map), map), 1, "{") == 0; }

bool begins_its_line(Text& text, const Node& key) { return text.of(key).find_first_not_of(' ') == byte_of(text.of(key), key); }

// One past the last byte of a scalar in its line; nothing where it does not end there as it is written.
std::optional<std::size_t> end_of(Text& text, const Node& value) {
  const std::string written = value.is_scalar() ? value.as_written() : std::string();
  const std::size_t begin = byte_of(text.of(value), value);
  if (written.empty() || text.of(value).compare(begin, written.size(), written) != 0) return std::nullopt;
  return begin + written.size();
}

bool add_in_braces(Text& text, const Node& map, const std::string& entry) {
  if (map.size() == 0) {
    text.of(map).insert(byte_of(text.of(map), map) + 1, entry);
    return true;
  }
  const Node last = map.value(map.size() - 1), first = map.key(0);
  if (const auto end = end_of(text, last)) text.of(last).insert(*end, ", " + entry);
  else text.of(first).insert(byte_of(text.of(first), first), entry + ", ");
  return true;
}

// Whether nothing of the entry stands below its line.
bool in_one_line(const Text& text, const Node& map, std::size_t i, std::size_t indent) {
  const std::size_t line = line_index(map.key(i));
  if (line_index(map.value(i)) != line) return false;
  const std::size_t end = i + 1 < map.size() ? line_index(map.key(i + 1)) : text.lines.size();
  for (std::size_t below = line + 1; below < end; ++below) {
    const std::size_t begin = text.lines[below].find_first_not_of(" \r");
    if (begin == std::string::npos || text.lines[below][begin] == '#') continue;
    return i + 1 == map.size() && begin < indent;  // what follows the map
  }
  return true;
}

bool add_line(Text& text, const Node& map, const std::string& entry) {
  for (std::size_t i = map.size(); i > 0; --i) {
    const Node key = map.key(i - 1);
    const std::size_t indent = byte_of(text.of(key), key);
    if (!begins_its_line(text, key) || !in_one_line(text, map, i - 1, indent)) continue;
    text.lines.insert(text.lines.begin() + static_cast<std::ptrdiff_t>(line_index(key)) + 1, std::string(indent, ' ') + entry);
    return true;
  }
  return false;
}

bool take_out_of_braces(Text& text, const Node& map, std::size_t i) {
  const Node key = map.key(i), value = map.value(i);
  const auto end = end_of(text, value);
  if (!end || line_index(key) != line_index(value)) return false;
  std::string& line = text.of(key);
  std::size_t from = byte_of(line, key), to = *end;
  if (i > 0) {
    from = line.find_last_not_of(' ', from - 1);
    if (from == std::string::npos || line[from] != ',') return false;
  } else {
    to = line.find_first_not_of(' ', to);
    if (to == std::string::npos || line[to] != ',') return false;
    to = std::min(line.find_first_not_of(' ', to + 1), line.size());
  }
  line.erase(from, to - from);
  return true;
}

bool take_out_line(Text& text, const Node& map, std::size_t i) {
  if (map.size() == 1 || !begins_its_line(text, map.key(i)) || line_index(map.key(i)) != line_index(map.value(i))) return false;
  text.lines.erase(text.lines.begin() + static_cast<std::ptrdiff_t>(line_index(map.key(i))));
  return true;
}

}  // namespace

Result<std::string> with_path(std::string_view text, const std::string& file, const Path& path, std::string_view value) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-add", *root, path, "added");
  Node map = *root;
  std::size_t there = 0;
  for (auto next = index_of(map, path[there]); next; next = index_of(map, path[there])) {
    map = map.value(*next);
    if (++there == path.size()) return refused;
  }
  if (!map.is_map()) return refused;
  std::string entry = scalar_for(value);
  for (std::size_t i = path.size() - 1; i > there; --i) entry = "{" + scalar_for(path[i]) + ": " + entry + "}";
  entry = scalar_for(path[there]) + ": " + entry;
  Text made(text);
  if (!(in_braces(made, map) ? add_in_braces(made, map, entry) : add_line(made, map, entry))) return refused;
  const auto again = read(made.whole(), file, sink);
  if (!again || sink.has_errors()) return refused;
  Said wanted = said(*root);
  Said now = said(*again);
  const auto added = std::find_if(now.begin(), now.end(), [&](const auto& one) { return one.first == path; });
  if (added == now.end() || (added->second != value && added->second != "'" + std::string(value))) return refused;
  now.erase(added);
  std::erase_if(wanted, [&](const auto& one) { return one.second == "{" && one.first.size() < path.size() && std::equal(one.first.begin(), one.first.end(), path.begin()); });
  return now == wanted ? Result<std::string>(made.whole()) : Result<std::string>(refused);
}

Result<std::string> without_path(std::string_view text, const std::string& file, const Path& path) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-remove", *root, path, "taken out");
  Text made(text);
  std::vector<std::pair<Node, std::size_t>> way;  // maps and the entry of each
  Node at = *root;
  for (const std::string& key : path) {
    const auto index = index_of(at, key);
    if (!index) return refused;
    way.emplace_back(at, *index);
    at = at.value(*index);
  }
  if (!at.is_scalar()) return refused;
  while (way.size() > 1 && way.back().first.size() == 1 && in_braces(made, way.back().first)) way.pop_back();
  const auto& [map, index] = way.back();
  if (!(in_braces(made, map) ? take_out_of_braces(made, map, index) : take_out_line(made, map, index))) return refused;
  const auto again = read(made.whole(), file, sink);
  if (!again || sink.has_errors()) return refused;
  Said wanted = said(*root);
  std::erase_if(wanted, [&](const auto& one) { return one.first == path; });
  return said(*again) == wanted ? Result<std::string>(made.whole()) : Result<std::string>(refused);
}

}  // namespace pommel::yaml
