#include "shop/save_shop.h"

#include <algorithm>
#include <charconv>

#include "base/saving.h"
#include "shop/read.h"
#include "yaml/patch.h"
#include "yaml/paths.h"

namespace pommel::shop {
namespace {

std::optional<yaml::Node> node_at(const yaml::Node& root, const KeyPath& path) {
  std::optional<yaml::Node> node = root;
  for (const std::string& key : path) {
    if (node->is_map()) {
      node = node->find(key);
    } else if (std::size_t index = 0; node->is_list() && std::from_chars(key.data(), key.data() + key.size(), index).ec == std::errc() && index < node->size()) {
      node = node->item(index);
    } else {
      return std::nullopt;
    }
    if (!node) return std::nullopt;
  }
  return node;
}

std::optional<yaml::Node> scalar_at(const yaml::Node& root, const KeyPath& path) {
  const auto node = node_at(root, path);
  return node && node->is_scalar() ? node : std::nullopt;
}

std::string said(const KeyPath& path) {
  std::string out;
  for (const std::string& key : path) out += (out.empty() ? "" : " ") + key;
  return out;
}

Failure no_entry(const KeyPath& path) { return fail("shop.no-entry", "the file has no entry '" + said(path) + "'", "add it in an editor"); }

// Of what is there: an entry of the file itself, or of one of its machines, but no item of a list.
bool can_be_stated(const yaml::Node& root, const KeyPath& path) {
  constexpr std::size_t kOfOne = 2;  // "machines", and which
  const bool items = std::any_of(path.begin(), path.end(), [](const std::string& key) { return key.find_first_not_of("0123456789") == key.npos; });
  return !items && (path.size() == 1 || (path.size() > kOfOne && node_at(root, {path.begin(), path.begin() + kOfOne})));
}

// Goes down through the document in its order: of what begins no later than the place, the last is what stands there, and of several that begin together the deepest.
void find_at(const yaml::Node& node, int line, int column, KeyPath& way, KeyPath& found, int& best) {
  const Place place = node.place();
  if (place.line == line && place.column <= column && place.column >= best) best = place.column, found = way;
  for (std::size_t i = 0; i < node.size(); ++i) {
    way.push_back(node.is_map() ? node.key(i).text() : std::to_string(i));
    find_at(node.is_map() ? node.value(i) : node.item(i), line, column, way, found, best);
    way.pop_back();
  }
}

Result<std::string> with_value(const std::string& text, const std::string& file, const KeyPath& path, const std::optional<std::string>& value) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto node = scalar_at(*root, path);
  if (!value) return node ? yaml::without_path(text, file, path) : Result<std::string>(text);
  if (node) return node->text() == *value ? Result<std::string>(text) : yaml::patched(text, *node, *value);
  if (!can_be_stated(*root, path)) return no_entry(path);
  return yaml::with_path(text, file, path, *value);
}

}  // namespace

std::optional<std::string> value_at(std::string_view text, const std::string& file, const KeyPath& path) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  const auto node = root ? scalar_at(*root, path) : std::nullopt;
  return node ? std::optional(node->text()) : std::nullopt;
}

Result<std::string> with_values(std::string_view text, const std::string& file, const Stated& values) {
  Result<std::string> now(std::string{text});
  for (const auto& [path, value] : values)
    if (now.ok()) now = with_value(*now, file, path, value);
  return now;
}

std::optional<std::vector<std::string>> list_at(std::string_view text, const std::string& file, const KeyPath& path) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  const auto node = root ? node_at(*root, path) : std::nullopt;
  if (!node || !node->is_list()) return std::nullopt;
  std::vector<std::string> out;
  for (const yaml::Node& item : node->items()) {
    if (!item.is_scalar()) return std::nullopt;
    out.push_back(item.text());
  }
  return out;
}

Result<std::string> with_lists(std::string_view text, const std::string& file, const StatedLists& lists) {
  Result<std::string> now(std::string{text});
  for (const auto& [path, items] : lists) {
    Sink sink;
    const auto root = now.ok() ? yaml::read(*now, file, sink) : std::nullopt;
    if (!root || sink.has_errors()) return now.ok() ? Result<std::string>(Failure(sink.all())) : now;
    if (!can_be_stated(*root, path)) return no_entry(path);
    now = yaml::with_list(*now, file, path, items);
  }
  return now;
}

KeyPath keys_at(std::string_view text, const std::string& file, int line, int column) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  KeyPath way, found;
  int best = 0;
  if (root) find_at(*root, line, column, way, found, best);
  return found;
}

Result<Done> sound_file(std::string_view text, const std::filesystem::path& file) {
  Shop shop;
  Sink sink;
  if (file.filename() == "machines.yaml") read_machines(text, file.generic_string(), shop, sink);
  else if (file.filename() == "rates.yaml") read_rates(text, file.generic_string(), shop, sink);
  else return fail("shop.no-entry", "'" + file.generic_string() + "' is no file of machines or rates", "change it in an editor");
  if (sink.has_errors()) return Failure(sink.all());
  return Done{};
}

Result<Done> save_file(FileSystem& files, const std::filesystem::path& file, const std::string& before, const std::string& text) {
  const auto claim = claim_unchanged(files, file, before, "open the form again");
  if (!claim.ok()) return claim.failure();
  if (const auto sound = sound_file(text, file); !sound.ok()) return sound;
  return files.write(file, text);
}

}  // namespace pommel::shop
