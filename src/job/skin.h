// A piece with its joints as a solid and its skin, for looking at.
#pragma once

#include <memory>
#include <stop_token>

#include "base/result.h"
#include "shape/part.h"
#include "solid/mesh.h"
#include "solid/picture.h"

namespace pommel::job {

struct Skin {
  solid::Solid solid;
  solid::Mesh mesh;  ///< within 0.1 mm of it: finer than a screen shows
};

/// Fails with solid's reasons, or "cancelled".
Result<std::shared_ptr<const Skin>> skin_of(const shape::Part& part, std::stop_token stop);

}  // namespace pommel::job
