#include "job/skin.h"

namespace pommel::job {

Result<std::shared_ptr<const Skin>> skin_of(const shape::Part& part, std::stop_token stop) {
  const auto solid = solid::jointed(part, stop);
  if (!solid.ok()) return solid.failure();
  auto mesh = solid::mesh(*solid, 0.1, 0.35, stop);
  if (!mesh.ok()) return mesh.failure();
  return std::make_shared<const Skin>(Skin{*solid, std::move(mesh).value()});
}

}  // namespace pommel::job
