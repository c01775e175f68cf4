#include "yaml/tree.h"

#include <cassert>

#include "base/text.h"

namespace pommel::yaml {

namespace {

constexpr std::size_t kLongestShownLine = 2000, kLongestWritten = 200;

bool is_blank(char c) {
  return c == ' ' || c == '\n' || c == '\r';
}

std::optional<std::size_t> end_of_double_quoted(std::string_view text, std::size_t at) {
  for (++at; at < text.size(); ++at) {
    if (text[at] == '\\')
      ++at;
    else if (text[at] == '"')
      return at + 1;
  }
  return std::nullopt;
}

std::optional<std::size_t> end_of_single_quoted(std::string_view text, std::size_t at) {
  for (++at; at < text.size(); ++at) {
    if (text[at] != '\'') continue;
    if (at + 1 == text.size() || text[at + 1] != '\'') return at + 1;
    ++at;
  }
  return std::nullopt;
}

// A plain scalar may run over lines: then each run of blanks and line ends in the file is a blank or line end of the
// value.
std::optional<std::size_t> end_of_plain(std::string_view text, std::size_t at, std::string_view value) {
  for (std::size_t i = 0; i < value.size();) {
    if (at == text.size()) return std::nullopt;
    if (!is_blank(value[i])) {
      if (text[at++] != value[i++]) return std::nullopt;
      continue;
    }
    if (!is_blank(text[at])) return std::nullopt;
    while (i < value.size() && is_blank(value[i])) ++i;
    while (at < text.size() && is_blank(text[at])) ++at;
  }
  return at;
}

}  // namespace

std::string Tree::line_text(int line) const {
  if (line < 1 || static_cast<std::size_t>(line) > line_starts.size()) return {};
  const std::size_t begin = line_starts[static_cast<std::size_t>(line) - 1];
  const std::size_t end = std::min(text.find('\n', begin), text.size());
  return end - begin > kLongestShownLine ? std::string() : text.substr(begin, end - begin);
}

std::optional<std::size_t> end_of(const Tree& tree, const Item& item) {
  if (item.kind != Kind::scalar || !item.written || item.offset >= tree.text.size()) return std::nullopt;
  const char first = tree.text[item.offset];
  if (item.quoted && first == '"') return end_of_double_quoted(tree.text, item.offset);
  if (item.quoted && first == '\'') return end_of_single_quoted(tree.text, item.offset);
  if (item.quoted) return std::nullopt;
  if (item.nothing) return item.offset + (first == '~' ? 1 : 4);  // ~ or null
  return end_of_plain(tree.text, item.offset, item.text);
}

Kind Node::kind() const {
  return tree_->items[index_].kind;
}
const std::string& Node::text() const {
  return tree_->items[index_].text;
}
bool Node::quoted() const {
  return tree_->items[index_].quoted;
}
bool Node::nothing() const {
  return tree_->items[index_].nothing;
}
const std::string& Node::document_text() const {
  return tree_->text;
}

Place Node::place() const {
  const Item& item = tree_->items[index_];
  return {tree_->file, item.line, item.column};
}

std::string Node::source_line() const {
  return tree_->line_text(tree_->items[index_].line);
}

std::string Node::as_written() const {
  const Item& item = tree_->items[index_];
  const auto end = end_of(*tree_, item);
  if (!end) return {};
  std::size_t size = std::min(*end - item.offset, kLongestWritten);
  while (size > 0 && item.offset + size < *end &&
         (static_cast<unsigned char>(tree_->text[item.offset + size]) & 0xC0) == 0x80)
    --size;
  return tree_->text.substr(item.offset, size);
}

bool Node::is_literal() const {
  const Item& item = tree_->items[index_];
  return item.kind == Kind::scalar && item.written && item.text.find('\n') == std::string::npos &&
         tree_->text.compare(item.offset + (item.quoted ? 1 : 0), item.text.size(), item.text) == 0;
}

Place Node::place_within(std::size_t index) const {
  const Item& item = tree_->items[index_];
  Place place{tree_->file, item.line, item.column};
  if (!is_literal()) return place;
  place.column += (item.quoted ? 1 : 0) + character_count(std::string_view(item.text).substr(0, index));
  return place;
}

std::size_t Node::size() const {
  const Item& item = tree_->items[index_];
  return item.kind == Kind::map ? item.children.size() / 2 : item.children.size();
}

Node Node::item(std::size_t i) const {
  assert(is_list() && i < size());
  return {tree_, tree_->items[index_].children[i]};
}

std::vector<Node> Node::items() const {
  std::vector<Node> all;
  if (!is_list()) return all;
  for (std::size_t i = 0; i < size(); ++i) all.push_back(item(i));
  return all;
}

Node Node::key(std::size_t i) const {
  assert(is_map() && i < size());
  return {tree_, tree_->items[index_].children[2 * i]};
}

Node Node::value(std::size_t i) const {
  assert(is_map() && i < size());
  return {tree_, tree_->items[index_].children[2 * i + 1]};
}

std::optional<Node> Node::find(std::string_view wanted) const {
  if (!is_map()) return std::nullopt;
  for (std::size_t i = 0; i < size(); ++i) {
    if (key(i).text() == wanted) return value(i);
  }
  return std::nullopt;
}

Diagnostic at(const Node& node, std::string id, std::string message, std::string remedy, Severity severity) {
  Diagnostic what;
  what.severity = severity;
  what.id = std::move(id);
  what.message = std::move(message);
  what.remedy = std::move(remedy);
  what.place = node.place();
  what.read = node.as_written();
  what.source_line = node.source_line();
  return what;
}

}  // namespace pommel::yaml
