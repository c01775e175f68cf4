#include "shop/save_shop.h"

#include <charconv>

#include "base/saving.h"
#include "shop/read.h"
#include "yaml/patch.h"

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
  return node->is_scalar() ? node : std::nullopt;
}

std::string said(const KeyPath& path) {
  std::string out;
  for (const std::string& key : path) out += (out.empty() ? "" : " ") + key;
  return out;
}

}  // namespace

std::optional<std::string> value_at(std::string_view text, const std::string& file, const KeyPath& path) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  const auto node = root ? node_at(*root, path) : std::nullopt;
  return node ? std::optional(node->text()) : std::nullopt;
}

Result<std::string> with_values(std::string_view text, const std::string& file, const std::vector<std::pair<KeyPath, std::string>>& values) {
  std::string now(text);
  for (const auto& [path, value] : values) {
    Sink sink;
    const auto root = yaml::read(now, file, sink);
    if (!root || sink.has_errors()) return Failure(sink.all());
    const auto node = node_at(*root, path);
    if (!node) return fail("shop.no-entry", "the file has no entry '" + said(path) + "'", "add it in an editor");
    if (node->text() == value) continue;
    auto patched = yaml::patched(now, *node, value);
    if (!patched.ok()) return patched;
    now = std::move(patched).value();
  }
  return now;
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
