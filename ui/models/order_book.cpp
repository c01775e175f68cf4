#include "ui/models/order_book.h"

#include <QUndoCommand>
#include <algorithm>

#include "family/family.h"

namespace pommel::ui {
namespace {

Sizes sizes_of(const sheet::Sheet& sheet) {
  Sizes sizes;
  for (std::size_t column = family::kOrder; column < sheet.column_count(); ++column) {
    Sizes::Column own{sheet.column_name(column), {}};
    for (const std::string& name : sheet.parameters())
      if (const auto cell = sheet.cell(name, column); cell && cell->own && cell->entry) own.own[name] = cell->entry->text;
    sizes.columns.push_back(std::move(own));
  }
  return sizes;
}

// "size 2", or the next number that is free
std::string free_name(const Sizes& sizes) {
  for (std::size_t number = 2;; ++number) {
    const std::string name = "size " + std::to_string(number);
    if (std::none_of(sizes.columns.begin(), sizes.columns.end(), [&](const Sizes::Column& one) { return one.name == name; })) return name;
  }
}

bool same_columns(const Sizes& a, const Sizes& b) {
  return std::equal(a.columns.begin(), a.columns.end(), b.columns.begin(), b.columns.end(),
                    [](const Sizes::Column& one, const Sizes::Column& other) { return one.name == other.name; });
}

}  // namespace

class SizesStep : public QUndoCommand {
 public:
  SizesStep(OrderBook& book, const QString& what, Sizes before, Sizes after) : QUndoCommand(what), book_(book), before_(std::move(before)), after_(std::move(after)) {}
  void undo() override { book_.become(before_); }
  void redo() override { book_.become(after_); }

 private:
  OrderBook& book_;
  Sizes before_, after_;
};

OrderBook::OrderBook(job::Loaded loaded, sheet::Sheet sheet, QObject* parent)
    : QObject(parent), loaded_(std::move(loaded)), plain_(sheet), sheet_(std::move(sheet)), sizes_(sizes_of(sheet_)), shown_(sheet_.settings()) {
  for (const auto& [name, text] : sizes_.columns.front().own) (void)plain_.clear_entry(name, family::kOrder);  // known names: they cannot fail
}

void OrderBook::show_lengths(const LengthFormat& lengths) {
  shown_.lengths = lengths;
  emit shown_changed();
}

void OrderBook::edit(const QString& what, const std::vector<CellEdit>& edits) {
  Sizes after = sizes_;
  for (const CellEdit& edit : edits) {
    auto& own = after.columns[edit.column - family::kOrder].own;
    if (edit.text) own[edit.measure] = *edit.text;
    else own.erase(edit.measure);
  }
  if (after != sizes_) undo_.push(new SizesStep(*this, what, sizes_, std::move(after)));
}

std::size_t OrderBook::try_another_size(std::size_t from) {
  Sizes after = sizes_;
  Sizes::Column copy{free_name(sizes_), {}};
  if (from >= family::kOrder) copy.own = sizes_.columns[from - family::kOrder].own;
  after.columns.push_back(std::move(copy));
  undo_.push(new SizesStep(*this, tr("another size"), sizes_, std::move(after)));
  return sheet_.column_count() - 1;
}

void OrderBook::drop_size(std::size_t column) {
  Sizes after = sizes_;
  const auto gone = after.columns.begin() + static_cast<std::ptrdiff_t>(column - family::kOrder);
  const QString what = tr("without %1").arg(QString::fromStdString(gone->name));
  after.columns.erase(gone);
  undo_.push(new SizesStep(*this, what, sizes_, std::move(after)));
}

void OrderBook::set_outcomes(std::size_t column, const std::vector<std::pair<std::string, sheet::Value>>& values) {
  // an outcome that the sheet does not know would be a fault of ours; the cells then stay as they are
  if (column < sheet_.column_count() && sheet_.set_outcomes(column, values).ok()) emit outcomes_changed(column);
}

job::Loaded OrderBook::order_of(std::size_t column) const {
  job::Loaded out = loaded_;
  out.order->entries.clear();
  for (const auto& [name, text] : sizes_.columns[column - family::kOrder].own) {
    const auto cell = sheet_.cell(name, column);
    out.order->entries.emplace_back(name, cell && cell->entry ? *cell->entry : sheet::Entry{text, {}, {}});
  }
  return out;
}

void OrderBook::become(const Sizes& sizes) {
  if (!same_columns(sizes_, sizes)) {
    rebuild(sizes);
    emit reshaped();
    return;
  }
  std::vector<std::size_t> touched;
  for (std::size_t i = 0; i < sizes.columns.size(); ++i) {
    const std::size_t column = i + family::kOrder;
    const auto &before = sizes_.columns[i].own, &after = sizes.columns[i].own;
    if (before == after) continue;
    for (const auto& [name, text] : before)
      if (!after.contains(name)) (void)sheet_.clear_entry(name, column);
    for (const auto& [name, text] : after)
      if (const auto old = before.find(name); old == before.end() || old->second != text) (void)sheet_.set_entry(name, column, {text, {}, {}});
    // what followed from the old measures is no longer true
    sheet_.clear_outcomes(column);
    touched.push_back(column);
  }
  sizes_ = sizes;
  emit edited(touched);
}

// A sheet cannot lose a column: it is made again, and what followed is carried over where the measures are the same.
void OrderBook::rebuild(const Sizes& sizes) {
  sheet::Sheet made = plain_;
  for (std::size_t i = 1; i < sizes.columns.size(); ++i) made.add_column(sizes.columns[i].name);
  if (sizes.columns.size() > 1) made.settle();
  for (std::size_t i = 0; i < sizes.columns.size(); ++i)
    for (const auto& [name, text] : sizes.columns[i].own) (void)made.set_entry(name, i + family::kOrder, {text, {}, {}});
  const auto carry = [&](std::size_t from, std::size_t to) {
    std::vector<std::pair<std::string, sheet::Value>> values;
    for (const std::string& name : sheet_.outcomes())
      if (const auto* value = sheet_.value(name, from)) values.emplace_back(name, *value);
    (void)made.set_outcomes(to, values);
  };
  carry(family::kCatalogue, family::kCatalogue);
  for (std::size_t i = 0; i < sizes.columns.size(); ++i)
    if (const auto old = std::find(sizes_.columns.begin(), sizes_.columns.end(), sizes.columns[i]); old != sizes_.columns.end())
      carry(static_cast<std::size_t>(old - sizes_.columns.begin()) + family::kOrder, i + family::kOrder);
  sheet_ = std::move(made);
  sizes_ = sizes;
}

}  // namespace pommel::ui
