// Anybody's program for a piece, held against it.
#pragma once

#include <stop_token>
#include <string_view>
#include <vector>

#include "proof/proof.h"

namespace pommel::job {

/// Judges the text as one that turns the piece or, with `joints`, as one that cuts the joints of the turned piece; the blank as the machine's
/// entry says it may lie. Failures as proof::prove() and proof::prove_joints(); a text that is not the one
/// whose check its header states gets a fault (job/stated.h).
Result<proof::Proof> prove_program(std::string_view text, const shape::Part& part, bool joints, const shape::Blank& blank,
                                   const std::vector<shop::Cutter>& cutters, const std::vector<std::string>& rough_only, const shop::Machine& machine, std::stop_token stop);

}  // namespace pommel::job
