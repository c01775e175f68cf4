// Small helpers on text that several rooms need.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pommel {

std::string_view trimmed(std::string_view text);
std::string lowered(std::string_view ascii);
std::vector<std::string_view> split(std::string_view text, char separator);
std::string joined(const std::vector<std::string>& parts, std::string_view between);

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& parts);

/// Levenshtein distance with transpositions of neighbours (Damerau), bytes.
int edit_distance(std::string_view a, std::string_view b);

/// The candidate nearest to `word` if it is near enough to be a slip of the pen (at most a third of its letters, at
/// least one, at most three), else empty. Ties go to the first.
std::string nearest_name(std::string_view word, const std::vector<std::string>& candidates);

/// True when `text` is well-formed UTF-8 (RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF).
bool is_utf8(std::string_view text);

/// Characters (code points) of UTF-8 text; a byte that begins no character counts as one.
int character_count(std::string_view utf8);

/// Fit for a terminal and for one line of paper: control characters (C0, DEL, C1) become spaces, bytes that are not UTF-8
/// become U+FFFD. The count of characters stays the same.
std::string printable(std::string_view text);

/// For messages: printable, in single quotes, and of a long text the first 60 characters and "...".
std::string in_quotes(std::string_view text);

/// True when `name` may be the name of one file or folder inside ours on any common system: not empty, at most 100
/// bytes, no separators, control characters, colon or other reserved signs, not '.' or '..', no leading or trailing
/// blank or dot, no reserved device name (CON, NUL, COM1 ...), valid UTF-8. `why` names the reason in bench words.
bool is_safe_file_name(std::string_view name, std::string* why = nullptr);

}  // namespace pommel
