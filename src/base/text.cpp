#include "base/text.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <iterator>

#include "base/unseen.h"

namespace pommel {

namespace {

// Bytes of the well-formed character that `text` begins with (RFC 3629, section 4); 0 when it begins with none.
std::size_t character_size(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  if (text.empty()) return 0;
  const unsigned first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t size = first >= 0xC2 && first <= 0xDF   ? 2
                           : first >= 0xE0 && first <= 0xEF ? 3
                           : first >= 0xF0 && first <= 0xF4 ? 4
                                                            : 0;
  if (size == 0 || text.size() < size) return 0;
  // the second byte rules out overlong forms (E0, F0), surrogates (ED) and what is above U+10FFFF (F4)
  const unsigned low = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
  const unsigned high = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
  if (byte(1) < low || byte(1) > high) return 0;
  for (std::size_t i = 2; i < size; ++i) {
    if (byte(i) < 0x80 || byte(i) > 0xBF) return 0;
  }
  return size;
}

bool is_control(std::string_view character) {
  const auto first = static_cast<unsigned char>(character[0]);
  if (character.size() == 1) return first < 0x20 || first == 0x7F;
  return character.size() == 2 && first == 0xC2 && static_cast<unsigned char>(character[1]) < 0xA0;
}

// The code point of a well-formed character (RFC 3629, section 3).
char32_t code_point(std::string_view character) {
  const auto first = static_cast<unsigned char>(character[0]);
  if (character.size() == 1) return first;
  char32_t point = first & (0x7Fu >> character.size());
  for (const char c : character.substr(1)) point = point << 6 | (static_cast<unsigned char>(c) & 0x3Fu);
  return point;
}

bool is_unseen(char32_t point) {
  struct Range {
    char32_t first, last;
  };
  static constexpr Range ranges[] = {{0x80, 0x9F},     {0xAD, 0xAD},     {0x61C, 0x61C},   {0x200B, 0x200B}, {0x200E, 0x200F}, {0x2028, 0x202E},
                                     {0x2060, 0x206F}, {0xFDD0, 0xFDEF}, {0xFEFF, 0xFEFF}, {0xFFF9, 0xFFFB}, {0xE0000, 0xE0FFF}};
  if ((point & 0xFFFE) == 0xFFFE) return true;
  return std::any_of(std::begin(ranges), std::end(ranges), [&](const Range& one) { return point >= one.first && point <= one.last; });
}

std::string unicode_name(char32_t point) {
  std::string digits;
  for (; point > 0 || digits.size() < 4; point >>= 4) digits.insert(digits.begin(), "0123456789ABCDEF"[point & 15]);
  return "U+" + digits;
}

bool holds_control(std::string_view text) {
  while (!text.empty()) {
    const std::size_t size = std::max<std::size_t>(1, character_size(text));
    if (is_control(text.substr(0, size))) return true;
    text.remove_prefix(size);
  }
  return false;
}

// Windows keeps these names for devices, whatever the ending: "nul.txt" is the device, too.
bool is_device_name(std::string_view name) {
  const std::string stem = lowered(trimmed(name.substr(0, name.find('.'))));
  if (stem == "con" || stem == "prn" || stem == "aux" || stem == "nul") return true;
  if (stem == "conin$" || stem == "conout$" || stem == "clock$") return true;
  if (!stem.starts_with("com") && !stem.starts_with("lpt")) return false;
  const std::string_view number = std::string_view(stem).substr(3);  // the small figures of Latin-1 count, too
  return (number.size() == 1 && number[0] >= '0' && number[0] <= '9') || number == "\u00B9" || number == "\u00B2" || number == "\u00B3";
}

std::string unsafe_because(std::string_view name) {
  if (name.empty()) return "it is empty";
  if (name.size() > 100) return "it is longer than 100 bytes";
  if (!is_utf8(name)) return "it is not UTF-8 text";
  if (holds_control(name)) return "it holds a control character";
  const bool joined_by_nothing = name.find("\u200C") != std::string_view::npos || name.find("\u200D") != std::string_view::npos;
  if (joined_by_nothing || first_unseen(name).size > 0) return "it holds a character that nobody sees";
  const std::size_t sign = name.find_first_of("/\\:*?\"<>|");
  if (sign != std::string_view::npos) return std::string("it holds the reserved sign ") + name[sign];
  if (name.front() == '.' || name.back() == '.') return "it begins or ends with a dot";
  if (name.front() == ' ' || name.back() == ' ') return "it begins or ends with a blank";
  if (is_device_name(name)) return "it is the name of a device on some systems";
  return {};
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(" \t\r\n");
  if (begin == std::string_view::npos) return text.substr(0, 0);
  return text.substr(begin, text.find_last_not_of(" \t\r\n") - begin + 1);
}

std::string lowered(std::string_view ascii) {
  std::string text(ascii);
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  for (std::size_t begin = 0;;) {
    const std::size_t end = text.find(separator, begin);
    parts.push_back(text.substr(begin, end - begin));
    if (end == std::string_view::npos) return parts;
    begin = end + 1;
  }
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += between;
    text += parts[i];
  }
  return text;
}

std::string listed(const std::vector<std::string>& parts) {
  if (parts.size() < 2) return joined(parts, {});
  const std::vector<std::string> head(parts.begin(), parts.end() - 1);
  return joined(head, ", ") + " and " + parts.back();
}

int edit_distance(std::string_view a, std::string_view b) {
  // three rows of the table are enough: a swap of neighbours looks two rows back
  std::vector<int> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int changed = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, changed});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

std::string nearest_name(std::string_view word, const std::vector<std::string>& candidates) {
  const int limit = static_cast<int>(std::clamp<std::size_t>(word.size() / 3, 1, 3));
  int best = limit + 1;
  std::string nearest;
  for (const std::string& candidate : candidates) {
    const auto longer = std::max(candidate.size(), word.size()), shorter = std::min(candidate.size(), word.size());
    if (longer - shorter > static_cast<std::size_t>(limit))
      continue;  // keeps a key of a megabyte from costing anything
    const int distance = edit_distance(word, candidate);
    if (distance < best) {
      best = distance;
      nearest = candidate;
    }
  }
  return nearest;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const std::size_t size = character_size(text);
    if (size == 0) return false;
    text.remove_prefix(size);
  }
  return true;
}

int character_count(std::string_view utf8) {
  int count = 0;
  for (; !utf8.empty(); ++count) utf8.remove_prefix(std::max<std::size_t>(1, character_size(utf8)));
  return count;
}

Unseen first_unseen(std::string_view utf8, std::size_t from) {
  for (std::size_t at = from; at < utf8.size();) {
    const std::size_t size = character_size(utf8.substr(at));
    if (size > 1) {
      const char32_t point = code_point(utf8.substr(at, size));
      if (is_unseen(point)) return {at, size, unicode_name(point)};
    }
    at += std::max<std::size_t>(1, size);
  }
  return {};
}

std::string printable(std::string_view text) {
  std::string shown;
  shown.reserve(text.size());
  while (!text.empty()) {
    const std::size_t size = character_size(text);
    if (size == 0) {
      shown += "\xEF\xBF\xBD";
    } else if (is_control(text.substr(0, size))) {
      shown += ' ';
    } else if (size > 1 && is_unseen(code_point(text.substr(0, size)))) {
      shown += "\xEF\xBF\xBD";
    } else {
      shown += text.substr(0, size);
    }
    text.remove_prefix(std::max<std::size_t>(1, size));
  }
  return shown;
}

std::string in_quotes(std::string_view text) {
  constexpr int kMost = 60;
  std::size_t end = 0;
  for (int count = 0; end < text.size() && count < kMost; ++count) {
    end += std::max<std::size_t>(1, character_size(text.substr(end)));
  }
  return "'" + printable(text.substr(0, end)) + (end < text.size() ? "..." : "") + "'";
}

bool is_safe_file_name(std::string_view name, std::string* why) {
  std::string reason = unsafe_because(name);
  const bool safe = reason.empty();
  if (why) *why = std::move(reason);
  return safe;
}

}  // namespace pommel
