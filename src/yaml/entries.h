// Adding entries to a map of a maker's file and taking them out, line by line, with everything else left as it is.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "yaml/document.h"

namespace pommel::yaml {

/// The text with `key: value` as the last entry of the map at `map_key` of the document, which must be a map in block style, empty (`{}`,
/// nothing) or not there yet; then it is begun at the text's end. `text` is the whole file. Fails with the reader's reasons, with
/// "yaml.cannot-add" where the map is in flow style or the key is there already. The result has been read again: it differs in this entry alone.
Result<std::string> with_entry(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key, std::string_view value);

/// The text without that entry, its line with its comment taken out. The last entry leaves `{}`. Fails as above with "yaml.cannot-remove":
/// no such entry, flow style, or a value that runs over lines.
Result<std::string> without_entry(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key);

/// The comment behind that entry in its line, without its mark; empty where there is none, or no such entry in one line.
std::string comment_of(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key);
/// The text with that comment behind the entry instead of its own; empty: none. Fails with the reader's reasons and "yaml.cannot-comment": no such entry, one
/// that runs over lines, a flow style, or a comment with a line's end in it.
Result<std::string> with_comment(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key, std::string_view comment);

/// The text with `key: written` as a line of the document's own map, below the entry `below`, or at the text's end where there is no such entry. `written` is YAML for one line (scalar_for makes a scalar so). Fails with the reader's reasons and "yaml.cannot-add".
Result<std::string> with_line(std::string_view text, const std::string& file, std::string_view below, std::string_view key, std::string_view written);

/// The text without that entry of the document's own map: its line with its comment, and the lines that are indented below it. Fails with
/// "yaml.cannot-remove": no such entry, or one that shares its lines with others.
Result<std::string> without_key(std::string_view text, const std::string& file, std::string_view key);

/// The text with that entry of the document's own map as it is written in `other`, its lines with their comments: in place of its own, else below the entry
/// `below` or at the text's end; without it where `other` has none. Fails with the readers' reasons and "yaml.cannot-add" or "yaml.cannot-remove", where it shares
/// its lines with others in either.
Result<std::string> with_key_as_in(std::string_view text, std::string_view other, const std::string& file, std::string_view below, std::string_view key);

/// The text with `- written` as the item at `index` of the list at `key` of the document, 0 to its size; the list must be in block style and not empty.
/// `written` is YAML for one line. Fails as above with "yaml.cannot-add".
Result<std::string> with_item(std::string_view text, const std::string& file, std::string_view key, std::size_t index, std::string_view written);
/// The text without the item at `index` of such a list: its line with its comment, and those indented below it. The last one stays. Fails with
/// "yaml.cannot-remove".
Result<std::string> without_item(std::string_view text, const std::string& file, std::string_view key, std::size_t index);
/// The text with the item at `index` before or behind its neighbour. REQUIRES: both are there. Fails with "yaml.cannot-remove".
Result<std::string> with_items_swapped(std::string_view text, const std::string& file, std::string_view key, std::size_t index);

}  // namespace pommel::yaml
