#include "yaml/paths.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "yaml/lines.h"
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

// Columns count letters.
std::size_t byte_of(const std::string& line, const Node& node) {
  std::size_t byte = 0;
  for (int letters = 1; byte < line.size() && letters < node.place().column; ++letters)
    do ++byte;
    while (byte < line.size() && (static_cast<unsigned char>(line[byte]) & 0xC0) == 0x80);
  return byte;
}

std::string& line_of(Lines& text, const Node& node) { return text.lines[line_index(node)]; }

bool in_braces(Lines& text, const Node& map) { return line_of(text, map).compare(byte_of(line_of(text, map), map), 1, "{") == 0; }

// One past the last byte of a scalar in its line; nothing where it does not end there as it is written.
std::optional<std::size_t> end_of(Lines& text, const Node& value) {
  const std::string written = value.is_scalar() ? value.as_written() : std::string();
  const std::size_t begin = byte_of(line_of(text, value), value);
  if (written.empty() || line_of(text, value).compare(begin, written.size(), written) != 0) return std::nullopt;
  return begin + written.size();
}

bool add_in_braces(Lines& text, const Node& map, const std::string& entry) {
  if (map.size() == 0) {
    line_of(text, map).insert(byte_of(line_of(text, map), map) + 1, entry);
    return true;
  }
  const Node last = map.value(map.size() - 1), first = map.key(0);
  if (const auto end = end_of(text, last)) line_of(text, last).insert(*end, ", " + entry);
  else line_of(text, first).insert(byte_of(line_of(text, first), first), entry + ", ");
  return true;
}

// Whether nothing of the entry stands below its line.
bool in_one_line(const Lines& text, const Node& map, std::size_t i, std::size_t indent) {
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

bool add_line(Lines& text, const Node& map, const std::string& entry) {
  for (std::size_t i = map.size(); i > 0; --i) {
    const Node key = map.key(i - 1);
    const std::size_t indent = byte_of(line_of(text, key), key);
    if (!begins_its_line(text, key) || !in_one_line(text, map, i - 1, indent)) continue;
    text.lines.insert(text.at(line_index(key) + 1), std::string(indent, ' ') + entry);
    return true;
  }
  return false;
}

bool take_out_of_braces(Lines& text, const Node& map, std::size_t i) {
  const Node key = map.key(i), value = map.value(i);
  const auto end = end_of(text, value);
  if (!end || line_index(key) != line_index(value)) return false;
  std::string& line = line_of(text, key);
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

bool take_out_line(Lines& text, const Node& map, std::size_t i) {
  if (map.size() == 1 || !begins_its_line(text, map.key(i)) || line_index(map.key(i)) != line_index(map.value(i))) return false;
  text.lines.erase(text.at(line_index(map.key(i))));
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
  Lines made(text);
  if (!(in_braces(made, map) ? add_in_braces(made, map, entry) : add_line(made, map, entry))) return refused;
  const auto again = read(made.text(), file, sink);
  if (!again || sink.has_errors()) return refused;
  Said wanted = said(*root);
  Said now = said(*again);
  const auto added = std::find_if(now.begin(), now.end(), [&](const auto& one) { return one.first == path; });
  if (added == now.end() || (added->second != value && added->second != "'" + std::string(value))) return refused;
  now.erase(added);
  std::erase_if(wanted, [&](const auto& one) { return one.second == "{" && one.first.size() < path.size() && std::equal(one.first.begin(), one.first.end(), path.begin()); });
  return now == wanted ? Result<std::string>(made.text()) : Result<std::string>(refused);
}

Result<std::string> without_path(std::string_view text, const std::string& file, const Path& path) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-remove", *root, path, "taken out");
  Lines made(text);
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
  const auto again = read(made.text(), file, sink);
  if (!again || sink.has_errors()) return refused;
  Said wanted = said(*root);
  std::erase_if(wanted, [&](const auto& one) { return one.first == path; });
  return said(*again) == wanted ? Result<std::string>(made.text()) : Result<std::string>(refused);
}

}  // namespace pommel::yaml
