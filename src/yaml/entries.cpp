#include "yaml/entries.h"

#include <optional>
#include <vector>

#include "yaml/lines.h"
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

Result<std::string> held(std::string_view before, std::string text, const std::string& file, std::string_view map_key, std::string_view key, const Failure& cannot) {
  Sink sink;
  const auto old = read(before, file, sink), made = read(text, file, sink);
  if (!old || !made || sink.has_errors() || said(*old, map_key, key) != said(*made, map_key, key)) return cannot;
  return text;
}

Failure cannot(const std::string& id, const Node& at_node, const std::string& what) { return Failure(at(at_node, id, what, "change it in an editor")); }

// Everything that the document says, but for one entry of its own map.
std::string said_but(const Node& root, std::string_view but) {
  std::string out;
  for (std::size_t i = 0; i < root.size(); ++i)
    if (root.key(i).text() != but) out += root.key(i).text() + "\x1e" + said(root.value(i), {}, {});
  return out;
}

struct LineRange {
  std::size_t from = 0, to = 0;  // one past
};

// The lines of an entry of the document's own map: its own and those indented below it; what stands between entries belongs to nobody.
std::optional<LineRange> lines_of_entry(const Lines& file, const Node& root, std::string_view key) {
  for (std::size_t i = 0; i < root.size(); ++i) {
    if (root.key(i).text() != key) continue;
    if (!begins_its_line(file, root.key(i)) || root.key(i).place().column != 1) return std::nullopt;
    LineRange out{line_index(root.key(i)), line_index(root.key(i)) + 1};
    const std::size_t end = i + 1 < root.size() ? line_index(root.key(i + 1)) : file.lines.size();
    for (std::size_t line = out.to; line < end; ++line)
      if (file.lines[line].starts_with(' ') || file.lines[line].starts_with('-')) out.to = line + 1;
    return out;
  }
  return std::nullopt;
}

Result<std::string> held_but(const Node& before, std::string made, const std::string& file, std::string_view key, const Failure& cannot) {
  Sink sink;
  const auto after = read(made, file, sink);
  if (!after || sink.has_errors() || !after->is_map() || said_but(before, key) != said_but(*after, key)) return cannot;
  return made;
}

}  // namespace

Result<std::string> with_line(std::string_view text, const std::string& file, std::string_view below, std::string_view key, std::string_view written) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-add", *root, "'" + std::string(key) + "' cannot be added as a line");
  if (!root->is_map() || root->find(key)) return refused;
  Lines lines(text);
  const auto above = lines_of_entry(lines, *root, below);
  const std::size_t at = above ? above->to : lines.lines.size();
  lines.lines.insert(lines.at(at), std::string(key) + ": " + std::string(written));
  if (!above) lines.ends_with_break = true;
  auto made = held_but(*root, lines.text(), file, key, refused);
  if (!made.ok() || !read(*made, file, sink)->find(key)) return refused;
  return made;
}

Result<std::string> without_key(std::string_view text, const std::string& file, std::string_view key) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-remove", *root, "'" + std::string(key) + "' cannot be taken out by its lines");
  if (!root->is_map()) return refused;
  Lines lines(text);
  const auto entry = lines_of_entry(lines, *root, key);
  if (!entry) return refused;
  lines.lines.erase(lines.at(entry->from), lines.at(entry->to));
  return held_but(*root, lines.text(), file, key, refused);
}

Result<std::string> with_key_as_in(std::string_view text, std::string_view other, const std::string& file, std::string_view below, std::string_view key) {
  Sink sink;
  const auto root = read(text, file, sink), model = read(other, file, sink);
  if (!root || !model || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-add", *root, "'" + std::string(key) + "' cannot be taken over by its lines");
  if (!root->is_map() || !model->is_map()) return refused;
  if (!model->find(key)) return root->find(key) ? without_key(text, file, key) : Result<std::string>(std::string(text));
  Lines lines(text);
  Lines from(other);
  const auto wanted = lines_of_entry(from, *model, key), own = lines_of_entry(lines, *root, key), above = lines_of_entry(lines, *root, below);
  if (!wanted || (root->find(key) && !own)) return refused;
  const std::size_t at = own ? own->from : above ? above->to : lines.lines.size();
  if (own) lines.lines.erase(lines.at(own->from), lines.at(own->to));
  else if (!above) lines.ends_with_break = true;
  lines.lines.insert(lines.at(at), from.at(wanted->from), from.at(wanted->to));
  auto made = held_but(*root, lines.text(), file, key, refused);
  if (!made.ok()) return made;
  const auto there = read(*made, file, sink)->find(key);
  return there && said(*there, {}, {}) == said(*model->find(key), {}, {}) ? std::move(made) : Result<std::string>(refused);
}

namespace {

// A list in block style with the lines of each of its items.
struct ItemLines {
  Lines file;
  std::vector<LineRange> items;
  std::vector<std::string> says;  // beside it
};

std::optional<ItemLines> items_of(std::string_view text, const Node& root, std::string_view key) {
  const auto list = root.is_map() ? root.find(key) : std::nullopt;
  if (!list || !list->is_list() || list->size() == 0) return std::nullopt;
  ItemLines out{Lines(text), {}, {}};
  const auto whole = lines_of_entry(out.file, root, key);
  if (!whole) return std::nullopt;
  std::string indent;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const std::size_t line = line_index(list->item(i));
    indent = i == 0 ? indent_of(out.file.lines[line]) : indent;
    // each begins its own line, with the dash of the first
    if (line <= whole->from || !out.file.lines[line].starts_with(indent + "-") || (i > 0 && line < out.items.back().from + 1)) return std::nullopt;
    LineRange range{line, line + 1};
    const std::size_t end = i + 1 < list->size() ? line_index(list->item(i + 1)) : whole->to;
    for (std::size_t below = range.to; below < end; ++below) {
      const std::string deep = indent_of(out.file.lines[below]);
      if (deep.size() > indent.size() && deep.size() < out.file.lines[below].size() && out.file.lines[below][deep.size()] != '#') range.to = below + 1;
    }
    out.items.push_back(range);
    out.says.push_back(said(list->item(i), {}, {}));
  }
  return out;
}

// The text as made, when the list says that and everything else what it said.
Result<std::string> with_list(const Node& before, const ItemLines& made, const std::string& file, std::string_view key, const std::vector<std::string>& says, const Failure& refused) {
  auto text = held_but(before, made.file.text(), file, key, refused);
  if (!text.ok()) return text;
  Sink sink;
  const auto list = read(*text, file, sink)->find(key);
  if (!list || !list->is_list() || list->size() != says.size()) return refused;
  for (std::size_t i = 0; i < says.size(); ++i)
    if (!says[i].empty() && said(list->item(i), {}, {}) != says[i]) return refused;
  return text;
}

template <class Change>
Result<std::string> changed_list(std::string_view text, const std::string& file, std::string_view key, const char* id, Change change) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot(id, *root, "the list '" + std::string(key) + "' cannot be changed line by line");
  auto items = items_of(text, *root, key);
  if (!items || !change(*items)) return refused;
  return with_list(*root, *items, file, key, items->says, refused);
}

}  // namespace

Result<std::string> with_item(std::string_view text, const std::string& file, std::string_view key, std::size_t index, std::string_view written) {
  return changed_list(text, file, key, "yaml.cannot-add", [&](ItemLines& list) {
    if (index > list.items.size()) return false;
    const std::string indent = indent_of(list.file.lines[list.items.front().from]);
    const std::size_t line = index < list.items.size() ? list.items[index].from : list.items.back().to;
    list.file.lines.insert(list.file.at(line), indent + "- " + std::string(written));
    list.says.insert(list.says.begin() + static_cast<std::ptrdiff_t>(index), std::string());  // whatever the line says
    return true;
  });
}

Result<std::string> without_item(std::string_view text, const std::string& file, std::string_view key, std::size_t index) {
  return changed_list(text, file, key, "yaml.cannot-remove", [&](ItemLines& list) {
    if (index >= list.items.size() || list.items.size() == 1) return false;
    list.file.lines.erase(list.file.at(list.items[index].from), list.file.at(list.items[index].to));
    list.says.erase(list.says.begin() + static_cast<std::ptrdiff_t>(index));
    return true;
  });
}

Result<std::string> with_items_swapped(std::string_view text, const std::string& file, std::string_view key, std::size_t index) {
  return changed_list(text, file, key, "yaml.cannot-remove", [&](ItemLines& list) {
    if (index + 1 >= list.items.size()) return false;
    const LineRange one = list.items[index], other = list.items[index + 1];
    const std::vector<std::string> first(list.file.at(one.from), list.file.at(one.to)), second(list.file.at(other.from), list.file.at(other.to));
    list.file.lines.erase(list.file.at(other.from), list.file.at(other.to));
    list.file.lines.insert(list.file.at(other.from), first.begin(), first.end());
    list.file.lines.erase(list.file.at(one.from), list.file.at(one.to));
    list.file.lines.insert(list.file.at(one.from), second.begin(), second.end());
    std::swap(list.says[index], list.says[index + 1]);
    return true;
  });
}

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
    lines.lines.insert(lines.at(line_index(last_key)) + 1, indent_of(lines.lines[line_index(last_key)]) + line);
  } else {
    // `sheet:`, `sheet: {}`, or the braces alone on the line after it
    std::string& at = lines.lines[line_index(*map)];
    const std::size_t braces = map->is_map() ? at.find("{}") : std::string::npos;
    if (map->is_map() && braces == std::string::npos) return refused;
    if (braces != std::string::npos && indent_of(at).size() == braces) {
      at.replace(braces, 2, line);
    } else {
      if (braces != std::string::npos) at.erase(at.find_last_not_of(' ', braces - 1) + 1, braces + 2 - at.find_last_not_of(' ', braces - 1) - 1);
      lines.lines.insert(lines.at(line_index(*map)) + 1, "  " + line);
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
    const auto at = lines.at(line_index(map->key(i)));
    if (map->size() == 1) *at = indent_of(*at) + "{}";
    else lines.lines.erase(at);
    return held(text, lines.text(), file, map_key, key, refused);
  }
  return refused;
}

namespace {

// An entry whose value stands in its line alone: the line, and where its value ends.
struct EntryLine {
  std::size_t line = 0, end = 0;
};

std::optional<EntryLine> entry_line(const Lines& file, const Node& root, std::string_view map_key, std::string_view key) {
  const auto map = root.is_map() ? root.find(map_key) : std::nullopt;
  if (!map || !map->is_map()) return std::nullopt;
  for (std::size_t i = 0; i < map->size(); ++i) {
    if (map->key(i).text() != key) continue;
    const Node value = map->value(i);
    const std::string written = value.as_written();
    if (!begins_its_line(file, map->key(i)) || !value.is_scalar() || value.nothing() || line_index(value) != line_index(map->key(i)) || written.empty()) return std::nullopt;
    const std::string& line = file.lines[line_index(value)];
    const auto begin = static_cast<std::size_t>(value.place().column) - 1;
    if (line.compare(begin, written.size(), written) != 0) return std::nullopt;  // columns count letters: such a line is left to an editor
    return EntryLine{line_index(value), begin + written.size()};
  }
  return std::nullopt;
}

}  // namespace

std::string comment_of(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key) {
  Sink sink;
  const auto root = read(text, file, sink);
  const Lines lines(text);
  const auto at = root ? entry_line(lines, *root, map_key, key) : std::nullopt;
  if (!at) return {};
  const std::string rest = lines.lines[at->line].substr(at->end);
  const std::size_t mark = rest.find('#');
  return mark == std::string::npos ? std::string() : std::string(trimmed(std::string_view(rest).substr(mark + 1)));
}

Result<std::string> with_comment(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key, std::string_view comment) {
  Sink sink;
  const auto root = read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const Failure refused = cannot("yaml.cannot-comment", *root, "no comment can be put behind '" + std::string(key) + "'");
  Lines lines(text);
  const auto at = entry_line(lines, *root, map_key, key);
  if (!at || comment.find_first_of("\r\n") != std::string_view::npos) return refused;
  std::string& line = lines.lines[at->line];
  line.resize(at->end);
  if (!comment.empty()) line += "   # " + std::string(comment);
  const std::string made = lines.text();
  const auto again = read(made, file, sink);
  if (!again || sink.has_errors() || said(*again, {}, {}) != said(*root, {}, {})) return refused;
  return made;
}

}  // namespace pommel::yaml
