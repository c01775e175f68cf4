#include "ui/models/order_book.h"

#include <QUndoCommand>
#include <algorithm>
#include <utility>

#include "family/family.h"
#include "family/save_order.h"

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

/// What a set of texts stands for.
struct OrderBook::Ground {
  std::string design_name;  // in the order
  Catalogued design;
  bool design_changed = false;
  std::shared_ptr<const job::Loaded> loaded, catalogued;
  sheet::Sheet plain{"catalogue"}, catalogued_sheet{"catalogue"};
};

OrderBook::OrderBook(job::Loaded loaded, sheet::Sheet sheet, job::Sources sources, QObject* parent)
    : QObject(parent), files_(real_files()), sources_(std::move(sources)), loaded_(std::make_shared<const job::Loaded>(std::move(loaded))), catalogued_(loaded_),
      plain_(sheet), catalogued_sheet_(sheet), sheet_(std::move(sheet)), sizes_(sizes_of(sheet_)), shown_(sheet_.settings()) {
  sizes_.order = sources_.order;
  sizes_.design = sizes_.catalogued = sources_.design.text;
  stood_on_[loaded_->order->design] = std::make_shared<const job::DesignFile>(sources_.design);
  for (const auto& [name, text] : sizes_.columns.front().own) (void)plain_.clear_entry(name, family::kOrder);  // known names: they cannot fail
  catalogued_sheet_ = plain_;
  read_notes();
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
  job::Loaded out = *loaded_;
  out.order->entries.clear();
  for (const auto& [name, text] : sizes_.columns[column - family::kOrder].own) {
    const auto cell = sheet_.cell(name, column);
    out.order->entries.emplace_back(name, cell && cell->entry ? *cell->entry : sheet::Entry{text, {}, {}});
  }
  return out;
}

// --- texts

// As it was when this session came to stand on it; a file under two names is one design.
Result<OrderBook::Catalogued> OrderBook::design_of(const std::string& name) const {
  if (const auto known = stood_on_.find(name); known != stood_on_.end()) return known->second;
  auto found = job::design_file(*files_, loaded_->house, name);
  if (!found.ok()) return found.failure();
  for (const auto& [other, design] : stood_on_)
    if (design->file == found->file) return design;
  return std::make_shared<const job::DesignFile>(std::move(found).value());
}

std::string OrderBook::design_named_in(const std::string& order, Sink& told) const {
  return family::read_order(order, sources_.order_file.generic_string(), loaded_->order->id, told).design;
}

// The design that the order names as the catalog has it, and the entries that this one knows.
Result<OrderBook::Standing> OrderBook::on_its_design(Sizes sizes) const {
  Sink told;
  const std::string name = design_named_in(sizes.order, told);
  if (told.has_errors()) return Failure(told.all());
  const auto design = design_of(name);
  if (!design.ok()) return design.failure();
  sizes.design = sizes.catalogued = (*design)->text;
  const auto ground = ground_of(sizes);
  if (!ground.ok()) return ground.failure();
  for (Sizes::Column& column : sizes.columns) std::erase_if(column.own, [&](const auto& entry) { return !ground->plain.parameter(entry.first); });
  return Standing{std::move(sizes), ground->loaded->design.name};
}

// The order's columns stand on its design as it is now, the catalogue's on the design as it is catalogued.
Result<OrderBook::Ground> OrderBook::ground_of(const Sizes& sizes) const {
  Ground out;
  Sink told;  // what is wrong with the order is said with its lines below
  out.design_name = design_named_in(sizes.order, told);
  const auto design = told.has_errors() ? Result<Catalogued>(std::make_shared<const job::DesignFile>(sources_.design)) : design_of(out.design_name);
  if (!design.ok()) return design.failure();
  out.design = *design;
  const auto read = [&](const std::string& text, sheet::Sheet& sheet) -> Result<std::shared_ptr<const job::Loaded>> {
    const job::Sources sources{sources_.order_file, sizes.order, {out.design->file, text, {}}};
    Sink sink;
    auto loaded = job::reloaded(*files_, *loaded_, sources, sink);
    if (!loaded || sink.has_errors()) return Failure(sink.all());
    loaded->order->entries.clear();
    sheet = family::make_sheet(loaded->family, loaded->design, &*loaded->order, loaded->shop, {}, sink);
    if (sink.has_errors()) return Failure(job::with_lines(loaded->texts, sink.all()));
    return std::make_shared<const job::Loaded>(std::move(*loaded));
  };
  const auto now = read(sizes.design, out.plain);
  if (!now.ok()) return now.failure();
  out.loaded = *now;
  const auto catalogued = read(sizes.catalogued, out.catalogued_sheet);
  if (!catalogued.ok()) return catalogued.failure();
  out.catalogued = *catalogued;
  out.design_changed = job::differs(sizes.design, *out.design);
  return out;
}

void OrderBook::stand_on(Ground ground) {
  sources_.design = *ground.design;
  stood_on_[ground.design_name] = std::move(ground.design);
  design_changed_ = ground.design_changed;
  loaded_ = std::move(ground.loaded);
  catalogued_ = std::move(ground.catalogued);
  plain_ = std::move(ground.plain);
  catalogued_sheet_ = std::move(ground.catalogued_sheet);
  sheet_ = plain_;  // no outcomes are carried over from the ground before
}

Result<Done> OrderBook::step_to(const QString& what, Sizes after) {
  if (after == sizes_) return Done{};
  if (const auto ground = ground_of(after); !ground.ok()) return ground.failure();
  undo_.push(new SizesStep(*this, what, sizes_, std::move(after)));
  return Done{};
}

Result<Done> OrderBook::write_order(const QString& what, const std::string& text) {
  Sizes after = sizes_;
  after.order = text;
  Sink told;  // with its lines by the step
  if (const std::string design = design_named_in(text, told); told.has_errors() || design == loaded_->order->design) return step_to(what, std::move(after));
  auto other = on_its_design(std::move(after));
  return other.ok() ? step_to(what, std::move(other->sizes)) : Result<Done>(other.failure());
}

Result<std::string> OrderBook::order_of_design(const std::string& order, const std::string& design) const {
  const auto found = design_of(design);
  return found.ok() ? job::of_design(order, sources_.order_file.generic_string(), design, **found) : Result<std::string>(found.failure());
}

Result<OtherDesign> OrderBook::other_design(const std::string& id) const {
  Sizes after = sizes_;
  auto order = order_of_design(sizes_.order, id);
  if (!order.ok()) return order.failure();
  after.order = std::move(order).value();
  const auto other = on_its_design(std::move(after));
  if (!other.ok()) return other.failure();
  OtherDesign out{other->name, {}};
  for (std::size_t i = 0; i < sizes_.columns.size(); ++i)
    for (const auto& [name, text] : sizes_.columns[i].own)
      if (!other->sizes.columns[i].own.contains(name)) out.unknown.emplace(name, text);
  return out;
}

Result<Done> OrderBook::write_design(const QString& what, const std::string& text) {
  Sizes after = sizes_;
  after.design = text;
  return step_to(what, std::move(after));
}

Result<Done> OrderBook::try_design(const std::string& text, std::size_t column) const {
  Sizes trial = sizes_;
  trial.design = text;
  auto ground = ground_of(trial);
  if (!ground.ok()) return ground.failure();
  sheet::Sheet sheet = std::move(ground->plain);
  for (const auto& [name, entry] : sizes_.columns[column - family::kOrder].own) (void)sheet.set_entry(name, family::kOrder, {entry, {}, {}});
  const job::Loaded& loaded = *ground->loaded;
  const auto made = family::make(loaded.family, loaded.design, sheet, family::kOrder, loaded.shop, shown_.lengths);
  return made.ok() ? Result<Done>(Done{}) : Result<Done>(made.failure());
}

QString OrderBook::note(const std::string& measure) const {
  const auto found = notes_.find(measure);
  return found == notes_.end() ? QString() : QString::fromStdString(found->second);
}

Result<Done> OrderBook::write_note(const std::string& measure, const QString& note) {
  const auto now = order_text();  // the entry must stand in the text to have a note beside it
  if (!now.ok()) return now.failure();
  const auto noted = family::with_note(*now, sources_.order_file.generic_string(), measure, note.simplified().toStdString());
  if (!noted.ok()) return noted.failure();
  return write_order(tr("note on %1").arg(QString::fromStdString(measure)), *noted);
}

// Asked once for each text, since the grid asks for each cell.
void OrderBook::read_notes() {
  notes_.clear();
  for (const std::string& name : sheet_.parameters())
    if (const std::string note = family::note_of(sizes_.order, sources_.order_file.generic_string(), name); !note.empty()) notes_[name] = note;
}

Result<std::string> OrderBook::order_text() const { return family::saved_order(sizes_.order, sources_.order_file.generic_string(), sizes_.columns.front().own); }

Result<Done> OrderBook::take_over(const QString& what, const std::string& order, const std::string& design) {
  Sink sink;
  const family::Order read = family::read_order(order, sources_.order_file.generic_string(), loaded_->order->id, sink);
  if (sink.has_errors()) return Failure(sink.all());
  Sizes after = sizes_;
  after.order = order;
  after.columns.front().own.clear();
  for (const auto& [name, entry] : read.entries) after.columns.front().own[name] = entry.text;
  auto stands = on_its_design(std::move(after));
  if (!stands.ok()) return stands.failure();
  if (!design.empty()) stands->sizes.design = design;
  return step_to(what, std::move(stands->sizes));
}

// The steps before say by its name in their orders which design they are of, and are held against what the catalog has of it now.
Result<Done> OrderBook::design_saved(const job::SavedDesign& saved) {
  const auto design = std::make_shared<const job::DesignFile>(job::DesignFile{saved.file, saved.text, saved.text, sources_.design.version});
  const bool revision = saved.file == sources_.design.file;
  for (auto& [name, known] : stood_on_)
    if (known->file == saved.file) known = design;
  Sizes after = sizes_;
  after.design = after.catalogued = saved.text;
  if (!revision) {
    stood_on_[saved.id] = design;
    auto order = family::with_head(sizes_.order, sources_.order_file.generic_string(), {{"design", saved.id}});
    if (!order.ok()) return order.failure();
    after.order = std::move(order).value();
  }
  return step_to(revision ? tr("changing over to the saved revision") : tr("changing over to '%1'").arg(QString::fromStdString(saved.id)), std::move(after));
}

Result<Done> OrderBook::read_shop_again() {
  auto again = job::with_shop_again(*files_, *loaded_);
  if (!again.ok()) return again.failure();
  const auto before = std::exchange(loaded_, std::make_shared<const job::Loaded>(std::move(again).value()));
  auto ground = ground_of(sizes_);
  if (!ground.ok()) {
    loaded_ = before;
    return ground.failure();
  }
  stand_on(std::move(ground).value());
  rebuild(sizes_);
  emit rewritten();
  return Done{};
}

// --- steps

void OrderBook::become(const Sizes& sizes) {
  if (sizes.order != sizes_.order || sizes.design != sizes_.design || sizes.catalogued != sizes_.catalogued) {
    auto ground = ground_of(sizes);
    if (!ground.ok()) return emit stuck(ground.reasons());  // it could be read when the step was made: another has changed a file since
    stand_on(std::move(ground).value());
    rebuild(sizes);
    emit rewritten();
    return;
  }
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
  const bool other_text = sizes.order != sizes_.order;
  sheet_ = std::move(made);
  sizes_ = sizes;
  if (other_text) read_notes();
}

}  // namespace pommel::ui
