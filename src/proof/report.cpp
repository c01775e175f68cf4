#include <algorithm>

#include "base/number.h"
#include "proof/limits.h"
#include "proof/proof.h"

namespace pommel::proof {
namespace {

std::string mm(double v) { return format_number(v, 3) + " mm"; }

std::string where(const Spot& spot, std::size_t files) {
  std::string text = "x " + format_number(spot.x, 2) + " mm, " + format_number(spot.degrees, 1) + " deg";
  if (!spot.element.empty()) text += ", " + spot.element;
  std::string by = line_and_pass(spot, files);
  return by.empty() ? text : text + ", " + by;
}

std::string extent(const Patch& patch) {
  std::string text = "x " + format_number(patch.x0, 1) + " to " + format_number(patch.x1, 1) + " mm, ";
  text += patch.all_round ? "all round"
                          : format_number(patch.degrees0, 1) + " to " + format_number(patch.degrees1, 1) + " deg";
  if (!patch.element.empty()) text += ", " + patch.element;
  return text;
}

std::string word(Severity severity) {
  return severity == Severity::error ? "FAULT" : severity == Severity::warning ? "warning" : "note";
}

std::string conclusion(const Proof& proof) {
  auto faults = std::count_if(proof.findings.begin(), proof.findings.end(),
                              [](const Finding& f) { return f.severity == Severity::error; });
  const std::string what = proof.files > 1 ? "with these programs.\n" : "with this program.\n";
  if (faults > 0) return "NOT PASSED: " + std::to_string(faults) + (faults == 1 ? " fault" : " faults") + ", do not cut " + what;
  if (!proof.joints.empty()) return "PASSED: every joint that is cut is of its size and in its place within " + mm(proof.settings.gouge_limit) + ", nothing else is touched.\n";
  return "PASSED: no gouge over " + mm(proof.settings.gouge_limit) + ", no wood left that the cutter reaches, no wood met at rapid.\n";
}

std::string findings(const Proof& proof) {
  std::string text;
  for (const Finding& f : proof.findings) {
    text += "  " + word(f.severity) + ": " + f.message + " [" + f.id + "]\n";
    if (!f.remedy.empty()) text += "    do: " + f.remedy + "\n";
  }
  return text;
}

constexpr std::size_t kMostFaults = 12;  // lines of a list of faults; hand work is listed whole

std::string patch_list(const std::string& title, const std::vector<Patch>& patches, std::size_t most) {
  if (patches.empty()) return {};
  std::string text = title + "\n";
  for (std::size_t i = 0; i < std::min(most, patches.size()); ++i) {
    text += "  " + extent(patches[i]) + ": " + mm(patches[i].worst.amount) + "\n";
  }
  if (patches.size() > most) text += "  and " + std::to_string(patches.size() - most) + " more\n";
  return text;
}

// A haunch goes with its mortise, a seat with its bore.
std::vector<JointCheck> by_id(const std::vector<JointCheck>& joints) {
  std::vector<JointCheck> out;
  for (const JointCheck& joint : joints) {
    auto known = std::find_if(out.begin(), out.end(), [&](const JointCheck& other) { return other.id == joint.id; });
    if (known == out.end()) known = out.insert(out.end(), JointCheck{joint.id, false, 0, 0, 0});
    known->touched = known->touched || joint.touched;
    known->too_deep = std::max(known->too_deep, joint.too_deep);
    known->left = std::max(known->left, joint.left);
    known->corners = std::max(known->corners, joint.corners);
  }
  return out;
}

std::string joints(const Proof& proof) {
  std::string text = "Joints\n";
  for (const JointCheck& joint : by_id(proof.joints)) {
    text += "  '" + joint.id + "': ";
    if (!joint.touched) {
      text += "not cut by this program\n";
      continue;
    }
    text += joint.too_deep > 0 ? "too deep by " + mm(joint.too_deep) : joint.left > 0 ? "not cut out, " + mm(joint.left) + " stand" : "cut to size";
    text += joint.corners > 0 ? ", corners left for the chisel\n" : "\n";
  }
  return text;
}

std::string time_of(const Proof& proof) {
  return "  time, speeding up and slowing down not counted: " + format_fixed(proof.minutes(), 1) + " min (cutting " + format_fixed(proof.feed_minutes, 1) + ", rapids " + format_fixed(proof.rapid_minutes, 1) +
         "), " + std::to_string(proof.moves) + " moves\n";
}

std::string figures(const Proof& proof) {
  if (!proof.joints.empty()) return joints(proof) + "Figures\n" + time_of(proof);
  std::string text = "Figures\n";
  text += "  greatest gouge: " + (proof.gouge.amount > 0 ? mm(proof.gouge.amount) + " at " + where(proof.gouge, proof.files) : "none") + "\n";
  text += "  deepest cut in one move: " + mm(proof.greatest_depth) + "\n";
  for (const BlankRun& run : proof.blanks) {
    text += "  blank " + run.name + ": ";
    text += run.rapids_in_wood == 0 ? "clear at rapid" : std::to_string(run.rapids_in_wood) + " rapids in wood";
    text += run.shank_in_wood == 0 ? ", shank clear\n" : ", shank in wood in " + std::to_string(run.shank_in_wood) + " moves\n";
  }
  text += time_of(proof);
  text += "  between the rays a gouge could be " + mm(proof.hidden_gouge) + " deeper than what was seen; the reach is known to " +
          mm(proof.reach_error) + "\n";
  return text;
}

}  // namespace

std::string report(const Proof& proof) {
  std::string text = conclusion(proof);
  if (proof.files > 1) {
    text += "This is file " + std::to_string(proof.file + 1) + " of " + std::to_string(proof.files) +
            ": they were cut in turn in one blank, and what is said holds for all of them together.\n";
  }
  text += "This checks the text against this design on a rigid blank and the machine as described, not your set-up.\n";
  text += findings(proof);
  text += patch_list("Gouges", proof.gouges, kMostFaults);
  text += patch_list("Wood left where the cutter reaches", proof.left, kMostFaults);
  text += patch_list(proof.after.empty() ? "Hand work: what this cutter cannot reach (wood standing above the part)"
                                          : "Hand work: what none of the finishing cutters reaches (wood standing above the part)", proof.hand_work, proof.hand_work.size());
  text += figures(proof);
  if (!proof.cutter.empty()) text += "  cutter: " + proof.cutter + "\n";
  if (!proof.text_sha256.empty()) text += "  text checked (sha256): " + proof.text_sha256 + "\n";
  return text;
}

}  // namespace pommel::proof
