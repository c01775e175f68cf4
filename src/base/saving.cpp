#include "base/saving.h"

namespace pommel {

namespace fs = std::filesystem;

Result<std::unique_ptr<Claim>> claim_unchanged(FileSystem& files, const fs::path& path, std::string_view before,
                                               const std::string& otherwise) {
  if (files.is_link(path)) return leads_elsewhere(path);
  auto claim = files.claim(path);
  if (!claim) return claim;
  const auto now = files.read(path);
  if (!now) return now.failure();
  if (*now == before) return claim;
  const std::string name = path.generic_string();
  return fail("files.changed-on-disk", "'" + name + "' has changed since it was read", otherwise, {name, 0, 0});
}

Result<Done> save_over(FileSystem& files, const fs::path& path, std::string_view before, std::string_view text,
                       const std::string& otherwise) {
  const auto claim = claim_unchanged(files, path, before, otherwise);
  if (!claim) return claim.failure();
  return files.write(path, text);
}

Result<Done> save_new(FileSystem& files, const fs::path& path, std::string_view text) {
  const auto claim = files.claim(path);
  if (!claim) return claim.failure();
  const std::string name = path.generic_string();
  if (files.exists(path)) return fail("files.exists", "'" + name + "' is there already", "choose another name", {name, 0, 0});
  return files.write(path, text);
}

}  // namespace pommel
