// The wood while a checked program cuts it, for looking at.
#pragma once

#include "job/turning.h"
#include "proof/cut_states.h"

namespace pommel::job {

/// Failures as proof::cut_states().
inline Result<proof::CutStates> cut_states(const Programs& programs, const TurningRequest& request, int count, std::stop_token stop) {
  return proof::cut_states(texts_of(programs), request.turned, request.blank, request.cutters(), request.machine, count, stop);
}

}  // namespace pommel::job
