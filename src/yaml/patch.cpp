#include "yaml/patch.h"

#include <algorithm>

#include "base/text.h"
#include "yaml/tree.h"

namespace pommel::yaml {

namespace {

bool has_control(std::string_view value) {
  return std::any_of(value.begin(), value.end(),
                     [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
}

// Plain text that reads back as itself in block and in flow style. Careful rather than complete.
bool can_be_plain(std::string_view value) {
  if (value.empty() || value.front() == ' ' || value.back() == ' ' || value.back() == ':' || has_control(value))
    return false;
  if (value.find_first_of(",[]{}") != std::string_view::npos) return false;
  if (value.find(": ") != std::string_view::npos || value.find(" #") != std::string_view::npos) return false;
  if (std::string_view("#&*!|>'\"%@`?:").find(value.front()) != std::string_view::npos) return false;
  if (value.front() == '-' && (value.size() == 1 || value[1] == ' ' || value[1] == '-')) return false;
  const std::string word = lowered(value);
  return word != "~" && word != "null" && !value.starts_with("...") && value != "<<";
}

std::string double_quoted(std::string_view value) {
  static constexpr char kHex[] = "0123456789ABCDEF";
  std::string text = "\"";
  for (const char c : value) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\')
      text += std::string("\\") + c;
    else if (c == '\n')
      text += "\\n";
    else if (byte < 0x20 || byte == 0x7F)
      text += std::string("\\x") + kHex[byte >> 4] + kHex[byte & 15];
    else
      text += c;
  }
  return text + "\"";
}

// Equal but for the scalar at `index`, which must read `value`.
bool differs_only_there(const Tree& before, const Tree& after, std::size_t index, std::string_view value) {
  if (before.items.size() != after.items.size()) return false;
  for (std::size_t i = 0; i < before.items.size(); ++i) {
    const Item &a = before.items[i], &b = after.items[i];
    if (a.kind != b.kind || a.children != b.children) return false;
    if (i == index ? b.text != value || b.nothing : a.text != b.text || a.quoted != b.quoted || a.nothing != b.nothing)
      return false;
  }
  return true;
}

// Where the value of an empty entry goes: after the colon of its key.
std::optional<std::size_t> after_colon(const Tree& tree, const Item& empty) {
  const auto key = std::find_if(tree.items.begin(), tree.items.end(), [&](const Item& one) {
    return one.written && one.offset == empty.offset && !one.text.empty();
  });
  if (key == tree.items.end()) return std::nullopt;
  const auto end = end_of(tree, *key);
  const std::size_t colon = end ? tree.text.find_first_not_of(' ', *end) : std::string::npos;
  if (colon == std::string::npos || tree.text[colon] != ':') return std::nullopt;
  return colon + 1;
}

}  // namespace

std::string scalar_for(std::string_view value, bool always_quoted) {
  if (!always_quoted && can_be_plain(value)) return std::string(value);
  if (has_control(value)) return double_quoted(value);
  std::string text = "'";
  for (const char c : value) text += c == '\'' ? std::string("''") : std::string(1, c);
  return text + "'";
}

Result<std::string> patched(std::string_view text, const Node& node, std::string_view new_scalar) {
  const Tree& tree = *node.tree_;
  const Item& item = tree.items[node.index_];
  const std::string_view mark = text.starts_with("\xEF\xBB\xBF") ? text.substr(0, 3) : text.substr(0, 0);
  if (text.substr(mark.size()) != tree.text) {
    return Failure(
        at(node, "yaml.other-text", "the file has changed since it was read", "read it again, then make the change"));
  }
  const Failure cannot(
      at(node, "yaml.cannot-patch", "this value cannot be replaced in place", "change it in an editor"));
  std::optional<std::size_t> begin = item.offset, end = end_of(tree, item);
  std::string value = scalar_for(new_scalar, item.quoted);
  if (item.kind == Kind::scalar && !item.written) {
    begin = end = after_colon(tree, item);
    value.insert(0, " ");
  }
  if (!begin || !end || !is_utf8(new_scalar)) return cannot;
  std::string result = tree.text.substr(0, *begin) + value + tree.text.substr(*end);
  Sink sink;
  const auto again = read(result, tree.file, sink);
  if (!again || sink.has_errors() || !differs_only_there(tree, *again->tree_, node.index_, new_scalar)) return cannot;
  return std::string(mark) + result;
}

}  // namespace pommel::yaml
