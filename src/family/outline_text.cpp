#include "family/outline_text.h"

#include "yaml/entries.h"
#include "yaml/patch.h"

namespace pommel::family {
namespace {

Failure not_in_one_line() { return fail("family.element-size", "this element cannot be changed in place", "write it in one line, as - bead: {length: 8 mm}"); }

// The sizes of an element as one line of YAML, one of them another.
std::string sizes_written(const yaml::Node& sizes, const std::string& size, const std::string& value) {
  std::string out;
  bool there = false;
  const auto add = [&](const std::string& key, const std::string& written) { out += (out.empty() ? "" : ", ") + key + ": " + written; };
  const auto scalar = [](const yaml::Node& node) { return yaml::scalar_for(node.text(), node.quoted()); };
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const std::string& key = sizes.key(i).text();
    const yaml::Node now = sizes.value(i);
    if (key == size) {
      there = true;
      if (!value.empty()) add(key, yaml::scalar_for(value));
    } else if (now.is_scalar()) {
      add(key, scalar(now));
    } else {
      std::string list;
      for (const yaml::Node& station : now.items()) {
        std::string inner;
        for (const yaml::Node& one : station.items()) inner += (inner.empty() ? "" : ", ") + scalar(one);
        list += (list.empty() ? "[" : ", [") + inner + "]";
      }
      add(key, "[" + list + "]");
    }
  }
  if (!there && !value.empty()) add(size, yaml::scalar_for(value));
  return "{" + out + "}";
}

}  // namespace

std::string outline_key(std::string_view text, const std::string& file, const std::string& piece) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || !root->is_map()) return {};
  const std::string own = "outline of the " + piece;
  return root->find(own) ? own : root->find("outline") ? "outline" : "";
}

Result<std::string> with_element(std::string_view text, const std::string& file, const std::string& key, std::size_t index, std::string_view written) {
  return yaml::with_item(text, file, key, index, written);
}

Result<std::string> without_element(std::string_view text, const std::string& file, const std::string& key, std::size_t index) { return yaml::without_item(text, file, key, index); }

Result<std::string> with_elements_swapped(std::string_view text, const std::string& file, const std::string& key, std::size_t index) {
  return yaml::with_items_swapped(text, file, key, index);
}

Result<std::string> with_size(std::string_view text, const std::string& file, const std::string& key, std::size_t index, const std::string& size, const std::string& value) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto list = root->is_map() ? root->find(key) : std::nullopt;
  if (!list || !list->is_list() || index >= list->size() || !list->item(index).is_map() || list->item(index).size() != 1) return not_in_one_line();
  const yaml::Node element = list->item(index), sizes = element.value(0);
  if (!sizes.is_map()) return not_in_one_line();
  // in place where that is one value's change
  if (const auto now = sizes.find(size); now && now->is_scalar() && !value.empty()) return now->text() == value ? Result<std::string>(std::string(text)) : yaml::patched(text, *now, value);
  const auto added = yaml::with_item(text, file, key, index, element.key(0).text() + ": " + sizes_written(sizes, size, value));
  return added.ok() ? yaml::without_item(*added, file, key, index + 1) : added;
}

}  // namespace pommel::family
