#include "job/inputs.h"

#include <algorithm>

namespace pommel::job {
namespace {

namespace fs = std::filesystem;

// By its full name: one may be given from here and the other from the root of the disk.
fs::path full(const fs::path& path) {
  std::error_code error;
  const fs::path whole = fs::absolute(path, error);
  return (error ? path : whole).lexically_normal();
}

}  // namespace

void Inputs::saw(const fs::path& path, const std::string& text) {
  for (const auto& [root, prefix] : {std::pair{house_.catalog, "catalog"}, std::pair{house_.templates, "templates"}}) {
    const std::string inside = full(path).lexically_relative(full(root)).generic_string();
    if (inside.empty() || inside.starts_with("..")) continue;
    files_.push_back({std::string(prefix) + "/" + inside, sha256(text), text.size()});
    return;
  }
  files_.push_back({path.filename().generic_string(), sha256(text), text.size()});
}

std::vector<InputFile> Inputs::take() {
  std::sort(files_.begin(), files_.end(), [](const InputFile& a, const InputFile& b) { return a.name < b.name; });
  return std::move(files_);
}

bool of_the_shop(const std::string& name) { return name.starts_with("catalog/shop/"); }

}  // namespace pommel::job
