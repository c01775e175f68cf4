// Anybody's programs for a piece, held against it.
#pragma once

#include <stop_token>
#include <string_view>
#include <vector>

#include "proof/proof.h"

namespace pommel::job {

/// What programs are held against, and by what.
struct Bench {
  const shape::Part& part;
  const shape::Blank& blank;
  const shop::Machine& machine;
  const std::vector<shop::Cutter>& cutters;
  std::vector<std::string> rough_only;  ///< ids of cutters that only rough
};

/// Judges texts that turn the piece in turn, one after the other in one blank that may lie as the machine's entry says; a proof for each
/// (proof::prove_in_turn). A text that is not the one whose check its header states gives all of them a fault (job/stated.h). Failures as
/// proof::prove_in_turn(). REQUIRES: at least one text.
Result<std::vector<proof::Proof>> prove_turning(const std::vector<std::string_view>& texts, const Bench& bench, std::stop_token stop);

/// Judges a text that cuts the joints of the turned piece. Failures as proof::prove_joints(); a changed text as above.
Result<proof::Proof> prove_joint_program(std::string_view text, const Bench& bench, std::stop_token stop);

}  // namespace pommel::job
