// A plain low leg, quick to mill, from the catalog's own shop and family.
#pragma once

#include "job/job.h"

namespace pommel::job {

/// Its design alone, as `pommel make` would load it.
Loaded plain_leg();

}  // namespace pommel::job
