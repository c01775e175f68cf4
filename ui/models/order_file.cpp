#include "ui/models/order_file.h"

#include <charconv>

#include "base/saving.h"
#include "family/family.h"
#include "ui/models/unsaved.h"

namespace pommel::ui {
namespace {

constexpr std::size_t kMaxFile = 4u << 20;
constexpr std::string_view kMark = "# changes to an order that were not saved; do not edit: ";

// Both texts; the first line says how long the order's is.
std::string copy_of(const Draft& draft) { return sealed(kMark, draft.order + draft.design, std::to_string(draft.order.size())); }

std::optional<Draft> draft_of(std::string_view copy) {
  const auto whole = unsealed(kMark, copy);
  std::size_t order = 0;
  if (!whole) return std::nullopt;
  const auto [said, texts] = *whole;
  const auto read = std::from_chars(said.data(), said.data() + said.size(), order);
  if (read.ec != std::errc() || read.ptr != said.data() + said.size() || order > texts.size()) return std::nullopt;
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
  auto claim = files_.claim(copy_path());
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
  return files_.write(copy_path(), copy_of(draft));
}

void OrderFile::forget() {
  // one that cannot be removed is offered again next time: nothing is lost by it
  if (has_copy()) (void)files_.remove_all(copy_path());
}

bool OrderFile::has_copy() const { return !held_by_another_ && files_.exists(copy_path()); }

std::optional<Draft> OrderFile::whole_copy() const {
  if (!has_copy()) return std::nullopt;
  const auto bytes = files_.read(copy_path(), kMaxFile);
  auto draft = bytes.ok() ? draft_of(*bytes) : std::nullopt;
  return draft && is_sound(draft->order) ? draft : std::nullopt;
}

std::optional<Draft> OrderFile::left_behind() const {
  const auto draft = whole_copy();
  return draft && !saved(*draft) ? draft : std::nullopt;
}

std::optional<std::filesystem::path> OrderFile::set_damaged_apart() {
  if (!has_copy() || whole_copy()) return std::nullopt;
  // where it cannot be renamed it is told under the name it has
  return set_apart(files_, copy_path()).value_or(copy_path());
}

// Named by where the file stands, so that two orders of one name keep apart.
std::filesystem::path OrderFile::copy_path() const {
  return kept_in_ / (path_.stem().string().substr(0, 60) + "-" + sha256(std::filesystem::absolute(path_).generic_string()).substr(0, 16) + ".yaml");
}

}  // namespace pommel::ui
