#include "ui/models/order_file.h"

#include "family/family.h"

namespace pommel::ui {
namespace {

constexpr auto kOrderCopy = ".yaml", kDesignCopy = ".design.yaml";
constexpr std::size_t kMaxFile = 1u << 20;

bool is_sound(const std::string& text) {
  Sink sink;
  (void)family::read_order(text, "copy", "order", sink);
  return !sink.has_errors();
}

}  // namespace

OrderFile::OrderFile(FileSystem& files, std::filesystem::path path, std::string text, std::filesystem::path kept_in)
    : files_(files), path_(std::move(path)), text_(std::move(text)), kept_in_(std::move(kept_in)) {}

Result<Done> OrderFile::save(const std::string& text, const std::filesystem::path& path) {
  if (path == path_ && files_.exists(path))
    if (const auto now = files_.read(path); !now.ok() || *now != text_)
      return fail("ui.changed-on-disk", "'" + path.generic_string() + "' has changed since it was opened", "save under another name, or open it again");
  if (const auto done = files_.write(path, text); !done.ok()) return done;
  forget();
  path_ = path;
  text_ = text;
  return Done{};
}

Result<Done> OrderFile::keep(const Draft& draft) {
  if (saved(draft)) {
    forget();
    return Done{};
  }
  if (const auto made = files_.make_folder(kept_in_); !made.ok()) return made;
  // the design first: an order's copy without it would stand on the outline before
  if (!draft.design.empty())
    if (const auto kept = files_.write(copy_path(kDesignCopy), draft.design); !kept.ok()) return kept;
  if (draft.design.empty() && files_.exists(copy_path(kDesignCopy))) (void)files_.remove_all(copy_path(kDesignCopy));
  return files_.write(copy_path(kOrderCopy), draft.order);
}

void OrderFile::forget() {
  // one that cannot be removed is offered again next time: nothing is lost by it
  for (const char* ending : {kOrderCopy, kDesignCopy})
    if (files_.exists(copy_path(ending))) (void)files_.remove_all(copy_path(ending));
}

std::optional<Draft> OrderFile::left_behind() const {
  const auto order = files_.read(copy_path(kOrderCopy), kMaxFile);
  if (!order.ok() || !is_sound(*order)) return std::nullopt;
  Draft draft{*order, {}};
  if (files_.exists(copy_path(kDesignCopy)))
    if (const auto design = files_.read(copy_path(kDesignCopy), kMaxFile); design.ok()) draft.design = *design;
  return saved(draft) ? std::nullopt : std::optional(draft);
}

// Named by where the file stands, so that two orders of one name keep apart.
std::filesystem::path OrderFile::copy_path(const char* ending) const {
  return kept_in_ / (path_.stem().string().substr(0, 60) + "-" + sha256(std::filesystem::absolute(path_).generic_string()).substr(0, 16) + ending);
}

}  // namespace pommel::ui
