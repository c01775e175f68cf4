#include "ui/models/bench_copy.h"

#include "ui/models/unsaved.h"

namespace pommel::ui {
namespace {

constexpr int kMostCopies = 20;
constexpr std::string_view kMark = "# readings that were not saved; do not edit: ";

std::filesystem::path copy_file(const std::filesystem::path& kept_in, int number) { return kept_in / ("readings-" + std::to_string(number) + ".txt"); }

std::string copy_of(const BenchDraft& draft) {
  std::string texts;
  for (const auto& [name, value] : draft.fields) texts += name + ": " + value + "\n";
  texts += "\n" + draft.table;
  return sealed(kMark, texts);
}

std::optional<BenchDraft> draft_of(std::string_view copy) {
  const auto whole = unsealed(kMark, copy);
  if (!whole) return std::nullopt;
  std::string_view texts = whole->texts;
  BenchDraft draft;
  while (!texts.starts_with('\n')) {
    const std::size_t line = texts.find('\n'), colon = texts.find(": ");
    if (line == std::string_view::npos || colon > line) return std::nullopt;
    draft.fields.emplace(texts.substr(0, colon), texts.substr(colon + 2, line - colon - 2));
    texts.remove_prefix(line + 1);
  }
  draft.table = texts.substr(1);
  return draft;
}

}  // namespace

bool BenchCopy::any_left(FileSystem& files, const std::filesystem::path& kept_in) { return BenchCopy(files, kept_in).free_copy(true).has_value(); }

std::optional<BenchCopy::Held> BenchCopy::free_copy(bool with_something) {
  for (int number = 1; number <= kMostCopies; ++number) {
    const auto file = copy_file(kept_in_, number);
    if (files_.exists(file) != with_something) continue;
    auto claim = files_.claim(file);
    // another session may have written or taken it away before it was claimed
    if (claim.ok() && files_.exists(file) == with_something) return Held{file, std::move(claim).value()};
  }
  return std::nullopt;
}

Result<Done> BenchCopy::keep(const BenchDraft& draft) {
  if (!own_) own_ = free_copy(false);
  if (!own_) return fail("files.held", "all copies of unsaved readings are in use", "see what stands in '" + kept_in_.generic_string() + "'");
  if (const auto made = files_.make_folder(kept_in_); !made.ok()) return made;
  return files_.write(own_->file, copy_of(draft));
}

void BenchCopy::forget() {
  // one that cannot be removed is offered again next time: nothing is lost by it
  if (own_ && files_.exists(own_->file)) (void)files_.remove_all(own_->file);
}

std::optional<BenchDraft> BenchCopy::left_behind() {
  if (!left_) left_ = free_copy(true);
  while (left_) {
    const auto bytes = files_.read(left_->file);
    if (auto draft = bytes.ok() ? draft_of(*bytes) : std::nullopt) return draft;
    const auto apart = set_apart(files_, left_->file);
    if (!apart) break;  // it stays, and is told again next time
    damaged_ = apart;
    left_.reset();
    left_ = free_copy(true);
  }
  left_.reset();
  return std::nullopt;
}

void BenchCopy::take_left() {
  forget();
  own_ = std::move(left_);
  left_.reset();
}

void BenchCopy::throw_left_away() {
  if (left_) (void)files_.remove_all(left_->file);
  left_.reset();
}

}  // namespace pommel::ui
