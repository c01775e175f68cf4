// Values of the shop's files by their keys, read as written and written back with everything else left as it is.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/files.h"
#include "base/result.h"

namespace pommel::shop {

/// Keys from the file's top down; of a list the index: {"machines", "rotary-degrees", "travel", "x", "0"}.
using KeyPath = std::vector<std::string>;

/// The scalar there as its text; nothing where there is none.
std::optional<std::string> value_at(std::string_view text, const std::string& file, const KeyPath& path);

/// Values by their keys; nothing: the file does not state it any more.
using Stated = std::vector<std::pair<KeyPath, std::optional<std::string>>>;

/// The text with other values: changed in place, stated where they were not, taken out. Fails with "shop.no-entry" where there can be no such scalar (an unknown
/// machine, an item that a list does not have), and with yaml's reasons.
Result<std::string> with_values(std::string_view text, const std::string& file, const Stated& values);

/// The scalars of the list there; nothing where there is no list, or one of other things.
std::optional<std::vector<std::string>> list_at(std::string_view text, const std::string& file, const KeyPath& path);

/// Lists by their keys; empty: the file does not state it any more.
using StatedLists = std::vector<std::pair<KeyPath, std::vector<std::string>>>;

/// The text with other lists; items that stay keep their comments. Fails with "shop.no-entry" as with_values, and with yaml's reasons.
Result<std::string> with_lists(std::string_view text, const std::string& file, const StatedLists& lists);

/// The keys of what stands at that place of the text, or begins before it in its line: of a list's item the list's and its index. Empty where nothing does.
KeyPath keys_at(std::string_view text, const std::string& file, int line, int column);

/// Whether the text would do as that file of a shop, by its name: machines.yaml or rates.yaml. Fails with all its problems.
Result<Done> sound_file(std::string_view text, const std::filesystem::path& file);

/// Writes the file where it is still `before`. Fails with "files.changed-on-disk", sound_file's reasons and the disk's; then nothing is written.
Result<Done> save_file(FileSystem& files, const std::filesystem::path& file, const std::string& before, const std::string& text);

}  // namespace pommel::shop
