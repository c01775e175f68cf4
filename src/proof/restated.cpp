// A proof carried over to a text that differs from the checked one in idle comments alone.
#include "base/files.h"
#include "proof/proof.h"

namespace pommel::proof {
namespace {

// A line that is one comment, closed once, and of those comments that mean nothing to whoever reads the text: the cutter's and the
// stage's name stand in comments too, and a message is shown.
bool idle(std::string_view line) {
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  if (!line.starts_with("(note: ") || line.back() != ')') return false;
  return line.substr(1, line.size() - 2).find_first_of("()") == std::string_view::npos;
}

std::string_view next_line(std::string_view& rest) {
  std::size_t end = rest.find('\n');
  std::string_view line = rest.substr(0, end);
  rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  return line;
}

}  // namespace

Result<Proof> restated(std::string_view checked, std::string_view text, const Proof& proof) {
  if (auto sound = released(checked, proof); !sound) return sound.failure();
  std::string_view a = checked, b = text;
  int number = 0;
  while (!a.empty() || !b.empty()) {
    bool ends = a.empty() || b.empty();
    std::string_view was = next_line(a), is = next_line(b);
    ++number;
    if (!ends && (was == is || (idle(was) && idle(is)))) continue;
    return fail("proof.other-text", "line " + std::to_string(number) + " is not as it was checked, and is more than a note", "check this very text before it leaves",
                Place{"program", number, 0});
  }
  Proof same = proof;
  same.text_sha256 = sha256(text);
  return same;
}

}  // namespace pommel::proof
