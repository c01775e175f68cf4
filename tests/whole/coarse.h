// Many pieces the whole way in seconds each: a ridge ten times the shop's, and rows and directions of the check twice as far apart as the shop's own.
// What a program does wrong stays wrong; what is finer than that is not seen.
#pragma once

#include "job/turning.h"

namespace pommel::whole {

inline constexpr double kCoarseRidge = 0.4;  // mm

/// REQUIRES: the request asks for that ridge.
inline proof::Settings coarse(const job::TurningRequest& request) {
  proof::Settings settings;
  settings.cusp = request.agreed_cusp();
  settings.row_step = 0.5, settings.columns = 360, settings.threads = 1;
  return settings;
}

}  // namespace pommel::whole
