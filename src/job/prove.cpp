#include "job/prove.h"

#include "job/stated.h"
#include "proof/joints.h"

namespace pommel::job {

Result<std::vector<proof::Proof>> prove_turning(const std::vector<std::string_view>& texts, const Bench& bench, std::stop_token stop) {
  const shop::Machine& m = bench.machine;
  proof::Settings settings;
  settings.rough_only = bench.rough_only;
  auto proofs = proof::prove_in_turn(texts, bench.part, bench.blank, {m.blank_off_centre, m.blank_bow, m.blank_oversize}, bench.cutters, m, settings, std::move(stop));
  if (!proofs.ok()) return proofs;
  for (std::size_t file = 0; file < texts.size(); ++file) {
    auto changed = changed_since_check(texts[file]);
    if (!changed) continue;
    changed->file = file;
    for (proof::Proof& proof : *proofs) proof.findings.push_back(*changed);
  }
  return proofs;
}

Result<proof::Proof> prove_joint_program(std::string_view text, const Bench& bench, std::stop_token stop) {
  auto proof = proof::prove_joints(text, bench.part, bench.blank, bench.cutters, bench.machine, {}, std::move(stop));
  if (!proof.ok()) return proof;
  if (auto changed = changed_since_check(text)) proof->findings.push_back(std::move(*changed));
  return proof;
}

}  // namespace pommel::job
