#include "fuzz/fuzz.h"

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>

#include "base/text.h"

namespace pommel::fuzz {
namespace {

// Processor time that bytes may take with the sanitizers on, far above what any target was seen to take; what grows with the square of the text goes
// beyond it.
double seconds_for(std::size_t bytes) { return 1.0 + 2e-4 * static_cast<double>(bytes); }

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

bool is_id(std::string_view id) {
  const std::size_t dot = id.find('.');
  return dot != 0 && dot != id.npos && dot + 1 < id.size() && id.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-.") == id.npos;
}

void must_stand_in(const Place& place, const std::string& source_line, const std::vector<std::string_view>& lines) {
  must(place.line >= 0 && place.column >= 0, "a place counts from 1");
  must(static_cast<std::size_t>(place.line) <= lines.size(), "a line beyond the end of the text");
  if (place.line == 0) return;
  const std::string_view line = lines[static_cast<std::size_t>(place.line) - 1];
  must(place.column <= character_count(line) + 1, "a column beyond the end of its line");
  must(source_line.empty() || line.find(trimmed(source_line)) != line.npos, "the source line is another than that of the place");
}

}  // namespace

void must(bool holds, std::string_view what) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %.*s\n", static_cast<int>(what.size()), what.data());
  std::abort();
}

bool has_lone_return(std::string_view bytes) {
  for (std::size_t at = bytes.find('\r'); at != bytes.npos; at = bytes.find('\r', at + 1))
    if (bytes.substr(at + 1, 1) != "\n") return true;
  return false;
}

void must_be_told_well(const std::vector<Diagnostic>& found, std::string_view text, std::string_view file) {
  const auto lines = split(text, '\n');
  for (const Diagnostic& one : found) {
    must(is_id(one.id), "an id is room.what: " + one.id);
    must(!one.message.empty() && one.message.find('\n') == std::string::npos, "a message is one line: " + one.message);
    if (one.place.file == file) must_stand_in(one.place, one.source_line, lines);
    must(is_utf8(render(one)), "what is shown is UTF-8");
  }
}

}  // namespace pommel::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pommel::fuzz;
  const double begin = processor_seconds();
  try_one({reinterpret_cast<const char*>(data), size});
  must(processor_seconds() - begin < seconds_for(size), "a text is read in a time that its length bounds");
  return 0;
}
