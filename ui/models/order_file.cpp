#include "ui/models/order_file.h"

#include "family/family.h"
#include "family/save_order.h"

namespace pommel::ui {
namespace {

std::optional<OrderFile::Entries> entries_of(const std::string& text, const std::string& file) {
  Sink sink;
  const family::Order order = family::read_order(text, file, "order", sink);
  if (sink.has_errors()) return std::nullopt;
  OrderFile::Entries out;
  for (const auto& [name, entry] : order.entries) out[name] = entry.text;
  return out;
}

}  // namespace

OrderFile::OrderFile(FileSystem& files, std::filesystem::path path, std::string text, std::filesystem::path kept_in)
    : files_(files), path_(std::move(path)), text_(std::move(text)), kept_in_(std::move(kept_in)), saved_(entries_of(text_, path_.generic_string()).value_or(Entries())) {}

Result<Done> OrderFile::save(const Entries& entries, const std::filesystem::path& path) {
  if (path == path_ && files_.exists(path))
    if (const auto now = files_.read(path); !now.ok() || *now != text_)
      return fail("ui.changed-on-disk", "'" + path.generic_string() + "' has changed since it was opened", "save under another name, or open it again");
  auto text = family::saved_order(text_, path_.generic_string(), entries);
  if (!text.ok()) return text.failure();
  if (const auto done = files_.write(path, *text); !done.ok()) return done;
  forget();
  path_ = path;
  text_ = std::move(text).value();
  saved_ = entries;
  return Done{};
}

Result<Done> OrderFile::keep(const Entries& entries) {
  if (entries == saved_) {
    forget();
    return Done{};
  }
  const auto text = family::saved_order(text_, path_.generic_string(), entries);
  if (!text.ok()) return text.failure();
  if (const auto made = files_.make_folder(kept_in_); !made.ok()) return made;
  return files_.write(copy_path(), *text);
}

void OrderFile::forget() {
  // one that cannot be removed is offered again next time: nothing is lost by it
  if (files_.exists(copy_path())) (void)files_.remove_all(copy_path());
}

std::optional<OrderFile::Entries> OrderFile::left_behind() const {
  const auto text = files_.read(copy_path(), 1u << 20);
  if (!text.ok()) return std::nullopt;
  auto entries = entries_of(*text, copy_path().generic_string());
  return entries && *entries != saved_ ? entries : std::nullopt;
}

// Named by where the file stands, so that two orders of one name keep apart.
std::filesystem::path OrderFile::copy_path() const { return kept_in_ / (path_.stem().string().substr(0, 60) + "-" + sha256(std::filesystem::absolute(path_).generic_string()).substr(0, 16) + ".yaml"); }

}  // namespace pommel::ui
