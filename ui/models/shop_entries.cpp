#include "ui/models/shop_entries.h"

#include <QUndoCommand>
#include <algorithm>

#include "ui/views/in_words.h"

namespace pommel::ui {

class EntriesStep : public QUndoCommand {
 public:
  /// `typing`: steps of one and the same are merged; below 0: it stands for itself.
  EntriesStep(ShopEntries& entries, const QString& what, ShopEntries::Values after, int typing)
      : QUndoCommand(what), entries_(entries), before_(entries.values()), after_(std::move(after)), typing_(typing) {}
  void undo() override {
    entries_.end_typing();  // a letter typed now does not go on with a step before this one
    entries_.become(before_);
  }
  void redo() override { entries_.become(after_); }
  int id() const override { return typing_; }
  bool mergeWith(const QUndoCommand* next) override {
    after_ = static_cast<const EntriesStep*>(next)->after_;  // of the same id
    setObsolete(after_ == before_);
    return true;
  }

 private:
  ShopEntries& entries_;
  ShopEntries::Values before_, after_;
  int typing_;
};

namespace {

bool is_index(const std::string& key) { return !key.empty() && key.find_first_not_of("0123456789") == key.npos; }

job::ShopKeys list_of(const job::ShopKeys& item) { return {item.begin(), item.end() - 1}; }

// A line each; none at the end that says nothing.
std::vector<std::string> lines_in(const QString& value) {
  std::vector<std::string> out;
  for (const QString& line : value.split(u'\n')) out.push_back(line.trimmed().toStdString());
  while (!out.empty() && out.back().empty()) out.pop_back();
  return out;
}

bool begins(const job::ShopKeys& all, const job::ShopKeys& with) { return all.size() >= with.size() && std::equal(with.begin(), with.end(), all.begin()); }

}  // namespace

ShopEntries::ShopEntries(FileSystem& files, std::filesystem::path file, job::ShopKeys confirmed)
    : files_(files), file_(std::move(file)), confirmed_keys_(std::move(confirmed)) {}

void ShopEntries::read(std::vector<Entry> wanted) {
  std::vector<job::ShopKeys> keys;
  for (const Entry& one : wanted) keys.push_back(one.keys);
  const auto read = files_.read(file_);
  const std::string text = read.ok() ? *read : std::string();
  if (text == text_ && keys == wanted_) return;
  text_ = text, wanted_ = std::move(keys), entries_ = std::move(wanted);
  undo_.clear();
  take_as_stated();
  std::erase_if(entries_, [](const Entry& one) { return one.stated.isEmpty() && !one.usual; });
  values_ = {};
  for (const Entry& one : entries_) values_.entries.push_back(one.stated);
  values_.confirmed = job::value_at(text_, file_.generic_string(), confirmed_keys_) == "yes";
  stated_ = values_;
}

void ShopEntries::take_as_stated() {
  for (Entry& one : entries_) {
    one.stated.clear();
    if (!one.lines) {
      one.stated = text(job::value_at(text_, file_.generic_string(), one.keys).value_or(""));
      continue;
    }
    QStringList lines;
    for (const std::string& line : job::list_at(text_, file_.generic_string(), one.keys).value_or(std::vector<std::string>())) lines << text(line);
    one.stated = lines.join(u'\n');
  }
}

std::optional<std::size_t> ShopEntries::index_of(const job::ShopKeys& keys) const {
  const auto found = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& one) { return one.keys == keys; });
  return found == entries_.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - entries_.begin()));
}

void ShopEntries::set(std::size_t entry, const QString& value, bool typed) {
  Values after = values_;
  after.entries[entry] = value, after.confirmed = false;
  if (after.entries == values_.entries) return;
  if (!typed || typed_ != entry) end_typing();
  typed_ = entry;
  undo_.push(new EntriesStep(*this, entries_[entry].name, std::move(after), typed ? typing_ : -1));
}

void ShopEntries::confirm(bool yes) {
  if (yes == values_.confirmed) return;
  Values after = values_;
  after.confirmed = yes;
  end_typing();
  undo_.push(new EntriesStep(*this, tr("what is confirmed"), std::move(after), -1));
}

void ShopEntries::go_back() {
  end_typing();
  if (values_ != stated_) undo_.push(new EntriesStep(*this, tr("back to the file"), stated_, -1));
}

void ShopEntries::become(const Values& values) {
  values_ = values;
  emit changed();
}

Result<std::string> ShopEntries::made() const {
  job::Stated values;
  job::StatedLists lists;
  std::string unsaid;
  const auto now = [this](std::size_t i) { return values_.entries[i].trimmed().toStdString(); };
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const Entry& one = entries_[i];
    const bool item = is_index(one.keys.back());
    if (values_.entries[i] == one.stated) continue;
    if (now(i).empty() && !one.usual) unsaid += (unsaid.empty() ? "" : "; ") + one.name.toStdString();
    if (one.lines) lists.emplace_back(one.keys, lines_in(values_.entries[i]));
    else if (!item) values.emplace_back(one.keys, now(i).empty() ? std::nullopt : std::optional(now(i)));
    else if (lists.empty() || lists.back().first != list_of(one.keys)) lists.emplace_back(list_of(one.keys), std::vector<std::string>());
  }
  // of a list whose items have fields of their own all are written: both ends of an axis, or neither
  for (auto& [keys, items] : lists) {
    for (std::size_t i = 0; i < entries_.size(); ++i)
      if (is_index(entries_[i].keys.back()) && list_of(entries_[i].keys) == keys) items.push_back(now(i));
    if (std::all_of(items.begin(), items.end(), [](const std::string& item) { return item.empty(); })) items.clear();
  }
  values.emplace_back(confirmed_keys_, values_.confirmed ? "yes" : "no");
  if (!unsaid.empty()) return fail("ui.unsaid", "this must be stated: " + unsaid, "fill it in");
  const auto text = job::with_values(text_, file_.generic_string(), values);
  return text.ok() ? job::with_lists(*text, file_.generic_string(), lists) : text;
}

Result<Done> ShopEntries::save() {
  end_typing();
  tried_.clear();
  const auto text = made();
  if (!text.ok()) return text.failure();
  tried_ = *text;
  const auto saved = job::save_file(files_, file_, text_, *text);
  if (!saved.ok()) return saved;
  text_ = *text;
  take_as_stated();
  stated_ = values_;
  return saved;
}

// An entry itself, what lies within it (a program line), or one of a map that is as a whole not right: the one that is named, else the first; of a whole machine only
// one that is named.
std::optional<std::size_t> ShopEntries::of(const Diagnostic& reason) const {
  if (tried_.empty() || reason.place.line == 0) return std::nullopt;
  const job::ShopKeys keys = job::keys_at(tried_, file_.generic_string(), reason.place.line, reason.place.column);
  std::optional<std::size_t> first;
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    if (begins(keys, entries_[i].keys)) return i;
    if (!begins(entries_[i].keys, keys)) continue;
    if (reason.message.find("'" + entries_[i].keys[keys.size()] + "'") != std::string::npos) return i;
    if (!first && !begins(confirmed_keys_, keys)) first = i;
  }
  return first;
}

ShopEntries& ShopBook::of(const std::filesystem::path& file, const job::ShopKeys& confirmed) {
  auto& one = entries_[{file, confirmed}];
  if (!one) one = std::make_unique<ShopEntries>(files_, file, confirmed);
  return *one;
}

}  // namespace pommel::ui
