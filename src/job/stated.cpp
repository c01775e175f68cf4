#include "job/stated.h"

#include <algorithm>

#include "base/files.h"
#include "base/number.h"
#include "base/text.h"

namespace pommel::job {
namespace {

constexpr std::string_view kBegins = "(note: check";
constexpr int kLines = 6;

std::string mm(double v) { return format_number(v, 3) + " mm"; }

// The first three lines, each short enough for one comment.
std::vector<std::string> found_by(const proof::Proof& proof) {
  if (proof.joints.empty()) {
    return {"deepest cut into the design " + mm(proof.gouge.amount) + ", limit " + mm(proof.settings.gouge_limit),
            "no more than " + mm(proof.settings.cusp) + " left where the cutter reaches", "no wood at rapid - as planned, off centre, bowed, oversize"};
  }
  double corners = 0;
  int cut = 0;
  for (const proof::JointCheck& joint : proof.joints) cut += joint.touched ? 1 : 0, corners = std::max(corners, joint.corners);
  return {"pockets cut: " + std::to_string(cut) + ", each true to size within " + mm(proof.settings.gouge_limit),
          "no wood at rapid, none at shank, nut or holder", corners > 0 ? "round corners are left for the chisel" : "no corners are left for the chisel"};
}

std::vector<std::string> notes_of(const proof::Proof& proof, std::string_view text) {
  std::vector<std::string> notes = found_by(proof);
  const std::string sum = sum_of_other_lines(text);
  notes.push_back("sha256 of all lines but those with note: check");
  notes.push_back("  " + sum.substr(0, 32));
  notes.push_back("  " + sum.substr(32));
  return notes;
}

// The digits of "(note: check:   0123...)".
std::string_view digits_of(std::string_view line) {
  constexpr std::string_view begins = "(note: check:   ";
  line = trimmed(line);
  if (!line.starts_with(begins) || !line.ends_with(')')) return {};
  const std::string_view digits = line.substr(begins.size(), line.size() - begins.size() - 1);
  return digits.find_first_not_of("0123456789abcdef") == std::string_view::npos ? digits : std::string_view{};
}

std::string_view next_line(std::string_view& rest) {
  const std::size_t end = rest.find('\n');
  const std::string_view line = rest.substr(0, end == std::string_view::npos ? end : end + 1);
  rest.remove_prefix(line.size());
  return line;
}

}  // namespace

program::Header reserved(program::Header header) {
  for (int i = 1; i <= kLines; ++i) header.notes.push_back("check " + std::to_string(i) + " of " + std::to_string(kLines));
  return header;
}

std::string sum_of_other_lines(std::string_view text) {
  std::string kept;
  kept.reserve(text.size());
  while (!text.empty())
    if (const std::string_view line = next_line(text); !line.starts_with(kBegins)) kept += line;
  return sha256(kept);
}

Result<Program> stated(std::string text, proof::Proof proof) {
  if (!proof.passed()) return Program{std::move(text), std::move(proof)};
  const std::vector<std::string> notes = notes_of(proof, text);
  std::string filled;
  filled.reserve(text.size() + 400);
  std::size_t next = 0;
  std::string_view rest = text;
  while (!rest.empty()) {
    const std::string_view line = next_line(rest);
    if (line.starts_with(kBegins) && next < notes.size()) filled += "(note: check: " + notes[next++] + ")\n";
    else filled += line;
  }
  if (next != notes.size()) return fail("proof.other-text", "the header has no room for what the check found", "write the program anew");
  auto same = proof::restated(text, filled, proof);
  if (!same.ok()) return same.failure();
  return Program{std::move(filled), std::move(same).value()};
}

std::optional<proof::Finding> changed_since_check(std::string_view text) {
  std::string says;
  proof::Finding finding;
  std::string_view rest = text;
  for (int line = 1; !rest.empty(); ++line) {
    const std::string_view digits = digits_of(next_line(rest));
    if (!digits.empty() && says.empty()) finding.line = line;
    says += digits;
  }
  const std::string has = sum_of_other_lines(text);
  if (says.empty() || says == has) return std::nullopt;
  finding.id = "proof.changed";
  finding.message = "the text was changed after its check: its header states the sha256 " + says.substr(0, 12) + "..., its lines have " + has.substr(0, 12) + "...";
  finding.remedy = "write the program anew; or take the lines '(note: check ...)' out, then it is judged as one that nobody has checked";
  return finding;
}

}  // namespace pommel::job
