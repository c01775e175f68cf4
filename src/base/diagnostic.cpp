#include "base/diagnostic.h"

#include <algorithm>

#include "base/text.h"

namespace pommel {

namespace {

constexpr int kWidest = 120;  // characters of a source line that are shown

std::string_view word_for(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::error:
      return "error";
  }
  return "error";
}

std::string text_of(const Place& place) {
  std::string text = printable(place.file);
  if (place.line > 0) {
    text += (text.empty() ? "line " : ":") + std::to_string(place.line);
    if (place.column > 0) text += ":" + std::to_string(place.column);
  }
  return text.empty() ? text : text + ": ";
}

// Characters [from, from + count) of well-formed UTF-8.
std::string characters(std::string_view text, int from, int count) {
  std::string taken;
  int at = -1;
  for (const char byte : text) {
    if ((static_cast<unsigned char>(byte) & 0xC0) != 0x80) ++at;
    if (at >= from + count) break;
    if (at >= from) taken += byte;
  }
  return taken;
}

struct Excerpt {
  std::string text;
  int column = 0;  // of the caret in `text`, from 1; 0: no caret
  int room = 1;    // characters from the column to the end of the line, at least 1
};

Excerpt excerpt_of(const Diagnostic& what) {
  std::string line = printable(what.source_line);
  while (line.ends_with(' ')) line.pop_back();  // among them the line's own end, "\r\n"
  const int width = character_count(line);
  const int column = std::min(what.place.column, width + 1);
  if (width <= kWidest) return {line, column, std::max(1, width - column + 1)};
  const int from = std::clamp(column - kWidest / 2, 0, width - kWidest);
  const std::string before = from > 0 ? "..." : "", after = from + kWidest < width ? "..." : "";
  const int shown_column = column == 0 ? 0 : column - from + static_cast<int>(before.size());
  return {before + characters(line, from, kWidest) + after, shown_column, std::max(1, from + kWidest - column + 1)};
}

std::string caret_lines(const Diagnostic& what) {
  const Excerpt excerpt = excerpt_of(what);
  std::string number = what.place.line > 0 ? std::to_string(what.place.line) : "";
  if (number.size() < 5) number.insert(0, 5 - number.size(), ' ');
  std::string text = number + " | " + excerpt.text + "\n";
  if (excerpt.column == 0) return text;
  const std::string_view first_line = std::string_view(what.read).substr(0, what.read.find('\n'));
  const int length = std::clamp(character_count(first_line), 1, excerpt.room);
  text +=
      std::string(number.size(), ' ') + " | " + std::string(static_cast<std::size_t>(excerpt.column - 1), ' ') + "^";
  return text + std::string(static_cast<std::size_t>(length - 1), '~') + "\n";
}

}  // namespace

void Sink::add(Diagnostic found) {
  found.message = printable(found.message);
  found.remedy = printable(found.remedy);
  found_.push_back(std::move(found));
}

void Sink::add(const std::vector<Diagnostic>& found) {
  for (const Diagnostic& one : found) add(one);
}

bool Sink::has_errors() const {
  return std::any_of(found_.begin(), found_.end(),
                     [](const Diagnostic& one) { return one.severity == Severity::error; });
}

std::string render(const Diagnostic& what) {
  std::string text = text_of(what.place);
  text += word_for(what.severity);
  text += ": " + printable(what.message);
  if (!what.id.empty()) text += " [" + what.id + "]";
  text += "\n";
  if (!what.source_line.empty()) text += caret_lines(what);
  if (!what.remedy.empty()) text += "   do: " + printable(what.remedy) + "\n";
  return text;
}

std::string render(const std::vector<Diagnostic>& what) {
  std::string text;
  for (const Diagnostic& one : what) text += render(one);
  return text;
}

}  // namespace pommel
