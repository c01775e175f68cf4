#include "job/prove.h"

#include "job/stated.h"
#include "proof/joints.h"

namespace pommel::job {

Result<proof::Proof> prove_program(std::string_view text, const shape::Part& part, bool joints, const shape::Blank& blank,
                                   const std::vector<shop::Cutter>& cutters, const std::vector<std::string>& rough_only, const shop::Machine& machine, std::stop_token stop) {
  proof::Settings settings;
  settings.rough_only = rough_only;
  auto proof = joints ? proof::prove_joints(text, part, blank, cutters, machine, {}, std::move(stop))
                      : proof::prove(text, part, blank, {machine.blank_off_centre, machine.blank_bow, machine.blank_oversize}, cutters, machine, settings, std::move(stop));
  if (proof.ok()) hold_to_header(text, *proof);
  return proof;
}

}  // namespace pommel::job
