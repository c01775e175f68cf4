#include "ui/models/order_file.h"

#include <charconv>

#include "base/saving.h"
#include "base/text.h"
#include "family/family.h"

namespace pommel::ui {
namespace {

constexpr auto kCopy = ".yaml";
constexpr std::size_t kMaxFile = 4u << 20;
constexpr std::string_view kMark = "# changes to an order that were not saved; do not edit: ";

// See the header: checksum, length of the order's text, a line's end, both texts.
std::string sealed(const Draft& draft) {
  const std::string texts = draft.order + draft.design;
  return std::string(kMark) + sha256(texts) + " " + std::to_string(draft.order.size()) + "\n" + texts;
}

std::optional<Draft> unsealed(std::string_view copy) {
  const std::size_t end = copy.find('\n');
  if (!copy.starts_with(kMark) || end == std::string_view::npos) return std::nullopt;
  const auto words = split(copy.substr(kMark.size(), end - kMark.size()), ' ');
  const std::string_view texts = copy.substr(end + 1);
  std::size_t order = 0;
  if (words.size() != 2 || words[0] != sha256(texts)) return std::nullopt;
  const auto read = std::from_chars(words[1].data(), words[1].data() + words[1].size(), order);
  if (read.ec != std::errc() || order > texts.size()) return std::nullopt;
  return Draft{std::string(texts.substr(0, order)), std::string(texts.substr(order))};
}

bool is_sound(const std::string& text) {
  Sink sink;
  (void)family::read_order(text, "copy", "order", sink);
  return !sink.has_errors();
}

}  // namespace

OrderFile::OrderFile(FileSystem& files, std::filesystem::path path, std::string text, std::filesystem::path kept_in)
    : files_(files), path_(std::move(path)), text_(std::move(text)), kept_in_(std::move(kept_in)) {}

Result<Done> OrderFile::save(const std::string& text, const std::filesystem::path& path) {
  // one that is gone is written anew: what the maker sees is all that is left of it
  const bool its_own = path == path_ && files_.exists(path);
  const auto claim = its_own ? claim_unchanged(files_, path, text_, "save under another name, or open it again") : files_.claim(path);
  if (!claim.ok()) return claim.failure();
  if (const auto done = files_.write(path, text); !done.ok()) return done;
  forget();
  if (path != path_) let_go();
  path_ = path;
  text_ = text;
  return Done{};
}

Result<Done> OrderFile::hold_copy() {
  if (claim_) return Done{};
  auto claim = files_.claim(copy_path(kCopy));
  held_by_another_ = !claim.ok() && claim.reasons().front().id == "files.held";
  if (!claim.ok()) return claim.failure();
  claim_ = std::move(claim).value();
  return Done{};
}

Result<Done> OrderFile::keep(const Draft& draft) {
  if (saved(draft)) {
    forget();
    return Done{};
  }
  if (const auto held = hold_copy(); !held.ok()) return held;
  if (const auto made = files_.make_folder(kept_in_); !made.ok()) return made;
  return files_.write(copy_path(kCopy), sealed(draft));
}

void OrderFile::forget() {
  // one that cannot be removed is offered again next time: nothing is lost by it
  if (has_copy()) (void)files_.remove_all(copy_path(kCopy));
}

bool OrderFile::has_copy() const { return !held_by_another_ && files_.exists(copy_path(kCopy)); }

std::optional<Draft> OrderFile::whole_copy() const {
  if (!has_copy()) return std::nullopt;
  const auto bytes = files_.read(copy_path(kCopy), kMaxFile);
  auto draft = bytes.ok() ? unsealed(*bytes) : std::nullopt;
  return draft && is_sound(draft->order) ? draft : std::nullopt;
}

std::optional<Draft> OrderFile::left_behind() const {
  const auto draft = whole_copy();
  return draft && !saved(*draft) ? draft : std::nullopt;
}

std::optional<std::filesystem::path> OrderFile::set_damaged_apart() {
  if (!has_copy() || whole_copy()) return std::nullopt;
  for (int number = 1;; ++number) {
    const auto apart = copy_path(".damaged-" + std::to_string(number) + kCopy);
    if (files_.exists(apart)) continue;
    // where it cannot be renamed it is told under the name it has
    return files_.rename(copy_path(kCopy), apart).ok() ? apart : copy_path(kCopy);
  }
}

// Named by where the file stands, so that two orders of one name keep apart.
std::filesystem::path OrderFile::copy_path(const std::string& ending) const {
  return kept_in_ / (path_.stem().string().substr(0, 60) + "-" + sha256(std::filesystem::absolute(path_).generic_string()).substr(0, 16) + ending);
}

}  // namespace pommel::ui
