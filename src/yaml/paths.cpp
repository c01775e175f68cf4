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

// The same of a list of scalars in brackets.
std::optional<std::size_t> end_of_list(Lines& text, const Node& list) {
  const std::string& line = line_of(text, list);
  std::optional<std::size_t> end = byte_of(line, list) + 1;
  if (list.size() > 0 && line_index(list.item(list.size() - 1)) != line_index(list)) return std::nullopt;
  if (list.size() > 0) end = end_of(text, list.item(list.size() - 1));
  const std::size_t close = end ? line.find_first_not_of(' ', *end) : std::string::npos;
  return close != std::string::npos && line[close] == ']' ? std::optional(close + 1) : std::nullopt;
}

// A stretch of a line that commas part from others, with one of them.
bool take_out_of_row(std::string& line, std::size_t from, std::size_t to, bool first) {
  if (first) {
    to = line.find_first_not_of(' ', to);
    if (to == std::string::npos || line[to] != ',') return false;
    to = std::min(line.find_first_not_of(' ', to + 1), line.size());
  } else {
    from = line.find_last_not_of(' ', from - 1);
    if (from == std::string::npos || line[from] != ',') return false;
  }
  line.erase(from, to - from);
  return true;
}

bool take_out_of_braces(Lines& text, const Node& map, std::size_t i) {
  const Node key = map.key(i), value = map.value(i);
  const auto end = value.is_list() ? end_of_list(text, value) : end_of(text, value);
  if (!end || line_index(key) != line_index(value)) return false;
  std::string& line = line_of(text, key);
  return take_out_of_row(line, byte_of(line, key), *end, i == 0);
}

// Where the lines of an entry end: a list's items may each have their own below it.
std::size_t last_line(const Node& value) { return line_index(value.is_list() && value.size() > 0 ? value.item(value.size() - 1) : value); }

bool take_out_line(Lines& text, const Node& map, std::size_t i) {
  const Node key = map.key(i), value = map.value(i);
  if (map.size() == 1 || !begins_its_line(text, key) || (value.is_scalar() && line_index(key) != line_index(value))) return false;
  text.lines.erase(text.at(line_index(key)), text.at(last_line(value) + 1));
  return true;
}

struct Way {
  std::vector<std::pair<Node, std::size_t>> maps;  // and the entry of each
  Node end;
};

std::optional<Way> way_to(const Node& root, const Path& path) {
  Way out{{}, root};
  for (const std::string& key : path) {
    const auto index = index_of(out.end, key);
    if (!index) return std::nullopt;
    out.maps.emplace_back(out.end, *index);
    out.end = out.end.value(*index);
  }
  return out;
}

// Braces that are left empty go with their entry.
bool take_out_entry(Lines& text, Way way) {
  while (way.maps.size() > 1 && way.maps.back().first.size() == 1 && in_braces(text, way.maps.back().first)) way.maps.pop_back();
  const auto& [map, index] = way.maps.back();
  return in_braces(text, map) ? take_out_of_braces(text, map, index) : take_out_line(text, map, index);
}

// What is there without what is at `path`, and without braces on the way to it that may be empty before or after.
Said said_beside(const Node& root, const Path& path) {
  Said out = said(root);
  std::erase_if(out, [&](const auto& one) {
    const std::size_t common = std::min(one.first.size(), path.size());
    const bool on_the_way = std::equal(one.first.begin(), one.first.begin() + static_cast<std::ptrdiff_t>(common), path.begin());
    return on_the_way && (one.first.size() >= path.size() || one.second == "{");
  });
  return out;
}

bool has_item_of(const Node& list, std::size_t i, const std::string& text) { return list.item(i).is_scalar() && list.item(i).text() == text; }

bool is_list_of(const Node& node, const std::vector<std::string>& items) {
  if (!node.is_list() || node.size() != items.size()) return false;
  for (std::size_t i = 0; i < items.size(); ++i)
    if (!has_item_of(node, i, items[i])) return false;
  return true;
}

bool is_in_brackets(Lines& text, const Node& list) { return line_of(text, list).compare(byte_of(line_of(text, list), list), 1, "[") == 0; }

bool add_item(Lines& text, const Node& list, std::size_t i, const std::string& written) {
  const Node beside = list.item(i > 0 ? i - 1 : 0);
  if (is_in_brackets(text, list)) {
    const auto end = i > 0 ? end_of(text, beside) : byte_of(line_of(text, beside), beside);
    if (end) line_of(text, beside).insert(*end, i > 0 ? ", " + written : written + ", ");
    return end.has_value();
  }
  text.lines.insert(text.at(line_index(beside) + (i > 0 ? 1 : 0)), indent_of(line_of(text, beside)) + "- " + written);
  return true;
}

bool take_out_item(Lines& text, const Node& list, std::size_t i) {
  const Node item = list.item(i);
  if (!is_in_brackets(text, list)) {
    text.lines.erase(text.at(line_index(item)));
    return true;
  }
  const auto end = end_of(text, item);
  return end && take_out_of_row(line_of(text, item), byte_of(line_of(text, item), item), *end, i == 0);
}

// How many items can stay of the list from `from` and what it is to become from `to` on, at most: the longest texts that both have in this order.
class Staying {
 public:
  Staying(const Node& list, const std::vector<std::string>& items) : wide_(items.size() + 1), most_((list.size() + 1) * wide_) {
    for (std::size_t i = list.size(); i-- > 0;)
      for (std::size_t k = items.size(); k-- > 0;)
        most_[i * wide_ + k] = has_item_of(list, i, items[k]) ? 1 + at(i + 1, k + 1) : std::max(at(i + 1, k), at(i, k + 1));
  }
  std::size_t at(std::size_t from, std::size_t to) const { return most_[from * wide_ + to]; }

 private:
  std::size_t wide_;
  std::vector<std::size_t> most_;
};

// One step from the list that is there towards `items`, which share `same` items at their beginning and are not the same.
Result<std::string> one_step(const std::string& text, const Node& list, std::size_t same, const std::vector<std::string>& items) {
  Lines made(text);
  const Failure refused = Failure(at(list, "yaml.cannot-list", "this list cannot be changed by its lines", "change it in an editor"));
  const Staying staying(list, items);
  const bool more = same < items.size(), less = same < list.size();
  if (more && less && staying.at(same + 1, same + 1) == staying.at(same, same)) return patched(text, list.item(same), items[same]);
  const bool done = more && (!less || staying.at(same, same + 1) == staying.at(same, same)) ? add_item(made, list, same, scalar_for(items[same])) : take_out_item(made, list, same);
  return done ? Result<std::string>(made.text()) : refused;
}

std::string bracketed(const std::vector<std::string>& items) {
  std::string out;
  for (const std::string& item : items) out += (out.empty() ? "" : ", ") + scalar_for(item);
  return "[" + out + "]";
}

// The text with an entry that is not there yet: the last map on the way to it takes it. `written` is YAML for one line.
std::optional<std::string> with_written(std::string_view text, const Node& root, const Path& path, const std::string& written) {
  Node map = root;
  std::size_t there = 0;
  for (auto next = index_of(map, path[there]); next; next = index_of(map, path[there])) {
    map = map.value(*next);
    if (++there == path.size()) return std::nullopt;
  }
  if (!map.is_map()) return std::nullopt;
  std::string entry = written;
  for (std::size_t i = path.size() - 1; i > there; --i) entry = "{" + scalar_for(path[i]) + ": " + entry + "}";
  entry = scalar_for(path[there]) + ": " + entry;
  Lines made(text);
  if (!(in_braces(made, map) ? add_in_braces(made, map, entry) : add_line(made, map, entry))) return std::nullopt;
  return made.text();
}

}  // namespace

Result<std::string> with_path(std::string_view text, const std::string& file, const Path& path, std::string_view value) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-add", *root, path, "added");
  const auto made = with_written(text, *root, path, scalar_for(value));
  if (!made) return refused;
  const auto again = read(*made, file, sink);
  if (!again || sink.has_errors()) return refused;
  Said wanted = said(*root);
  Said now = said(*again);
  const auto added = std::find_if(now.begin(), now.end(), [&](const auto& one) { return one.first == path; });
  if (added == now.end() || (added->second != value && added->second != "'" + std::string(value))) return refused;
  now.erase(added);
  std::erase_if(wanted, [&](const auto& one) { return one.second == "{" && one.first.size() < path.size() && std::equal(one.first.begin(), one.first.end(), path.begin()); });
  return now == wanted ? Result<std::string>(*made) : Result<std::string>(refused);
}

Result<std::string> without_path(std::string_view text, const std::string& file, const Path& path) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-remove", *root, path, "taken out");
  Lines made(text);
  const auto way = way_to(*root, path);
  if (!way || !way->end.is_scalar() || !take_out_entry(made, *way)) return refused;
  const auto again = read(made.text(), file, sink);
  if (!again || sink.has_errors()) return refused;
  Said wanted = said(*root);
  std::erase_if(wanted, [&](const auto& one) { return one.first == path; });
  return said(*again) == wanted ? Result<std::string>(made.text()) : Result<std::string>(refused);
}

Result<std::string> with_list(std::string_view text, const std::string& file, const Path& path, const std::vector<std::string>& items) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-list", *root, path, "written");
  std::string now(text);
  auto there = way_to(*root, path);
  if (!there && items.empty()) return now;
  if (!there) {
    const auto made = with_written(text, *root, path, bracketed(items));
    if (!made) return refused;
    now = *made;
  } else if (!there->end.is_list() || (!items.empty() && there->end.size() == 0)) {
    return refused;
  } else if (items.empty()) {
    Lines made(text);
    if (!take_out_entry(made, *there)) return refused;
    now = made.text();
  }
  std::size_t steps = there && !items.empty() ? there->end.size() + items.size() : 0;  // enough where each line is an item
  for (auto at = read(now, file, sink); !items.empty(); at = read(now, file, sink)) {
    there = at && !sink.has_errors() ? way_to(*at, path) : std::nullopt;
    if (!there || !there->end.is_list()) return refused;
    if (is_list_of(there->end, items)) break;
    if (steps-- == 0) return refused;
    std::size_t same = 0;
    while (same < std::min(there->end.size(), items.size()) && has_item_of(there->end, same, items[same])) ++same;
    const auto step = one_step(now, there->end, same, items);
    if (!step.ok() || *step == now) return refused;
    now = *step;
  }
  const auto again = read(now, file, sink);
  if (!again || sink.has_errors() || said_beside(*again, path) != said_beside(*root, path)) return refused;
  return items.empty() && way_to(*again, path) ? Result<std::string>(refused) : Result<std::string>(now);
}

}  // namespace pommel::yaml
