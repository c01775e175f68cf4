#include "job/skin.h"

namespace pommel::job {

Result<Done> skins_of(const shape::Part& part, const std::function<void(std::shared_ptr<const Skin>)>& seen, std::stop_token stop) {
  const auto solid = solid::jointed(part, stop);
  if (!solid.ok()) return solid.failure();
  for (const double off : {kSkinSoon, kSkinFine}) {
    auto skin = solid::laid(*solid, off, 0.35, stop);
    if (!skin.ok()) return skin.failure();
    seen(std::make_shared<const Skin>(std::move(skin).value()));
  }
  return Done{};
}

}  // namespace pommel::job
