#include <algorithm>

#include "base/files.h"

namespace pommel {

namespace {

std::string key_of(const std::filesystem::path& path) {
  std::string key = path.lexically_normal().generic_string();
  if (key.size() > 1 && key.ends_with('/')) key.pop_back();
  return key == "." ? "" : key;
}

std::string parent_of(const std::string& key) {
  return key_of(std::filesystem::path(key).parent_path());
}
bool always_there(const std::string& key) {
  return key.empty() || key == "/";
}
bool is_below(const std::string& key, const std::string& folder) {
  return key.size() > folder.size() && key.starts_with(folder) && key[folder.size()] == '/';
}
Failure cannot(std::string_view verb, const std::filesystem::path& path, std::string why) {
  return fail("files.cannot-" + std::string(verb),
              "cannot " + std::string(verb) + " '" + path.generic_string() + "': " + std::move(why), {},
              {path.generic_string(), 0, 0});
}

class HeldInMemory : public Claim {
 public:
  HeldInMemory(std::shared_ptr<std::set<std::string>> all, std::string key) : all_(std::move(all)), key_(std::move(key)) {}
  ~HeldInMemory() override { all_->erase(key_); }

 private:
  std::shared_ptr<std::set<std::string>> all_;
  std::string key_;
};

}  // namespace

Result<std::unique_ptr<Claim>> MemoryFiles::claim(const std::filesystem::path& path) {
  if (!claimed_->insert(key_of(path)).second) {
    return fail("files.held", "'" + path.generic_string() + "' is being written by this process", "wait until that has ended, or end it",
                {path.generic_string(), 0, 0});
  }
  return std::unique_ptr<Claim>(std::make_unique<HeldInMemory>(claimed_, key_of(path)));
}

Result<Done> MemoryFiles::spend_write(const std::filesystem::path& path) {
  if (writes_left_ > 0) {
    --writes_left_;
    return Done{};
  }
  if (failures_left_ <= 0) return Done{};
  --failures_left_;
  return cannot("write", path, "the disk is full");
}

Result<std::string> MemoryFiles::read(const std::filesystem::path& path, std::size_t limit) const {
  const auto found = files_.find(key_of(path));
  if (found == files_.end()) return cannot("read", path, is_folder(path) ? "it is a folder" : "there is no such file");
  if (found->second.size() > limit) {
    return fail("files.too-large", "'" + path.generic_string() + "' is larger than " + std::to_string(limit) + " bytes",
                {}, {path.generic_string(), 0, 0});
  }
  return found->second;
}

Result<Done> MemoryFiles::write(const std::filesystem::path& path, std::string_view bytes) {
  if (is_folder(path)) return cannot("write", path, "it is a folder");
  if (!is_folder(parent_of(key_of(path)))) return cannot("write", path, "there is no such folder");
  if (auto spent = spend_write(path); !spent) return spent;
  files_[key_of(path)] = bytes;
  return Done{};
}

bool MemoryFiles::exists(const std::filesystem::path& path) const {
  return files_.contains(key_of(path)) || is_folder(path);
}

bool MemoryFiles::is_folder(const std::filesystem::path& path) const {
  const std::string key = key_of(path);
  return always_there(key) || folders_.contains(key);
}

std::vector<std::string> MemoryFiles::list(const std::filesystem::path& folder) const {
  const std::string key = key_of(folder);
  std::set<std::string> names;
  const auto note = [&](const std::string& one) {
    if (one != key && parent_of(one) == key) names.insert(std::filesystem::path(one).filename().generic_string());
  };
  for (const auto& [name, bytes] : files_) note(name);
  for (const std::string& name : folders_) note(name);
  return {names.begin(), names.end()};
}

Result<Done> MemoryFiles::make_folder(const std::filesystem::path& path) {
  std::vector<std::string> missing;
  for (std::string key = key_of(path); !is_folder(key); key = parent_of(key)) {
    if (files_.contains(key)) return cannot("write", path, "'" + key + "' is a file");
    missing.push_back(key);
  }
  if (missing.empty()) return Done{};
  if (auto spent = spend_write(path); !spent) return spent;
  folders_.insert(missing.begin(), missing.end());
  return Done{};
}

void MemoryFiles::move(const std::string& from, const std::string& to) {
  const auto moved = [&](const std::string& key) { return to + key.substr(from.size()); };
  std::map<std::string, std::string> files;
  for (auto& [key, bytes] : files_) files[key == from || is_below(key, from) ? moved(key) : key] = std::move(bytes);
  std::set<std::string> folders;
  for (const std::string& key : folders_) folders.insert(key == from || is_below(key, from) ? moved(key) : key);
  files_ = std::move(files);
  folders_ = std::move(folders);
}

Result<Done> MemoryFiles::rename(const std::filesystem::path& from, const std::filesystem::path& to) {
  const std::string source = key_of(from), target = key_of(to);
  if (!exists(from) || always_there(source)) return cannot("write", to, "there is no '" + source + "'");
  if (source == target) return Done{};
  if (is_folder(to) || (is_folder(from) && exists(to))) return cannot("write", to, "it exists");
  if (!is_folder(parent_of(target)) || is_below(target, source)) return cannot("write", to, "there is no such folder");
  if (auto spent = spend_write(to); !spent) return spent;
  files_.erase(target);
  move(source, target);
  return Done{};
}

Result<Done> MemoryFiles::remove_all(const std::filesystem::path& path) {
  const std::string key = key_of(path);
  std::erase_if(files_, [&](const auto& one) { return one.first == key || is_below(one.first, key); });
  std::erase_if(folders_, [&](const std::string& one) { return one == key || is_below(one, key); });
  return Done{};
}

Result<Done> MemoryFiles::exchange(const std::filesystem::path& a, const std::filesystem::path& b) {
  if (!is_folder(a)) return cannot("write", b, "there is no '" + key_of(a) + "'");
  if (!is_folder(b)) return cannot("write", b, "there is no such folder");
  if (auto spent = spend_write(b); !spent) return spent;
  const std::string aside = key_of(a) + "/.exchange";
  move(key_of(a), aside);
  move(key_of(b), key_of(a));
  move(aside, key_of(b));
  return Done{};
}

}  // namespace pommel
