// A piece with its joints as a solid and its skin, for looking at.
#pragma once

#include <functional>
#include <memory>
#include <stop_token>

#include "base/result.h"
#include "shape/part.h"
#include "solid/mesh.h"
#include "solid/picture.h"

namespace pommel::job {

using Skin = solid::Laid;

constexpr double kSkinSoon = 0.4;  ///< mm that the first skin's triangles may be off: half a screen's pixel where all of a leg is seen
constexpr double kSkinFine = 0.1;  ///< mm, of the second: for coming closer

/// Tells `seen` a skin that is there soon, then a fine one. Fails with solid's reasons, or "cancelled".
Result<Done> skins_of(const shape::Part& part, const std::function<void(std::shared_ptr<const Skin>)>& seen, std::stop_token stop);

}  // namespace pommel::job
