#include "sheet/sheet.h"

#include <algorithm>
#include <cassert>

#include "sheet/book.h"

namespace pommel::sheet {
namespace {

std::vector<std::string> names_of(const std::vector<Row>& rows, RowType type) {
  std::vector<std::string> names;
  for (const Row& row : rows)
    if (row.type == type) names.push_back(row.name);
  return names;
}

}  // namespace

Sheet::Sheet(std::string first_column, Settings settings)
    : book_(std::make_unique<Book>(std::move(first_column), std::move(settings))) {}
Sheet::Sheet(const Sheet& other) : book_(std::make_unique<Book>(*other.book_)) {
  book_->recorder = nullptr;
}
Sheet::Sheet(Sheet&&) noexcept = default;
Sheet& Sheet::operator=(const Sheet& other) {
  if (this != &other) *this = Sheet(other);
  return *this;
}
Sheet& Sheet::operator=(Sheet&&) noexcept = default;
Sheet::~Sheet() = default;

void Sheet::add(Parameter row) {
  book_->add(std::move(row));
}
void Sheet::add(SizeList list) {
  book_->add(std::move(list));
}
void Sheet::add(Use use) {
  book_->add(std::move(use));
}
void Sheet::add(Check check) {
  book_->add(std::move(check));
}
void Sheet::add(Outcome outcome) {
  book_->add(std::move(outcome));
}
std::size_t Sheet::add_column(std::string name) {
  return book_->add_column(std::move(name));
}
Changes Sheet::settle() {
  return book_->settle();
}

Result<Changes> Sheet::set_entry(std::string_view parameter, std::size_t column, Entry entry) {
  return book_->set_entry(parameter, column, std::move(entry));
}
Result<Changes> Sheet::clear_entry(std::string_view parameter, std::size_t column) {
  return book_->set_entry(parameter, column, std::nullopt);
}
Result<Changes> Sheet::set_outcomes(std::size_t column, const std::vector<std::pair<std::string, Value>>& values) {
  return book_->set_outcomes(column, values);
}
Changes Sheet::clear_outcomes(std::size_t column) {
  return book_->clear_outcomes(column);
}
void Sheet::record_into(std::vector<Recomputed>* recorder) {
  book_->recorder = recorder;
}

const Settings& Sheet::settings() const {
  return book_->settings;
}
std::size_t Sheet::column_count() const {
  return book_->columns.size();
}
const std::string& Sheet::column_name(std::size_t column) const {
  assert(column < column_count());
  return book_->columns[column].name;
}
std::optional<std::size_t> Sheet::find_column(std::string_view name) const {
  for (std::size_t i = 0; i < column_count(); ++i)
    if (book_->columns[i].name == name) return i;
  return std::nullopt;
}

std::vector<std::string> Sheet::parameters() const {
  return names_of(book_->rows, RowType::parameter);
}
std::vector<std::string> Sheet::outcomes() const {
  return names_of(book_->rows, RowType::outcome);
}
std::vector<std::string> Sheet::uses() const {
  return names_of(book_->rows, RowType::use);
}

std::vector<std::string> Sheet::groups() const {
  std::vector<std::string> groups;
  for (const Parameter& one : book_->parameters)
    if (std::find(groups.begin(), groups.end(), one.group) == groups.end()) groups.push_back(one.group);
  return groups;
}

const Parameter* Sheet::parameter(std::string_view name) const {
  const auto row = book_->find_row(name);
  return row && book_->rows[*row].type == RowType::parameter ? &book_->parameters[book_->rows[*row].meta] : nullptr;
}
const Outcome* Sheet::outcome(std::string_view name) const {
  const auto row = book_->find_row(name);
  return row && book_->rows[*row].type == RowType::outcome ? &book_->outcomes[book_->rows[*row].meta] : nullptr;
}
const SizeList* Sheet::size_list(std::string_view name) const {
  const Meaning meaning = book_->meaning(name);
  return meaning.what == Meaning::What::list ? &book_->size_lists[meaning.index].list : nullptr;
}
std::optional<Kind> Sheet::kind_of(std::string_view name) const {
  const auto row = book_->find_row(name);
  return row ? book_->rows[*row].kind : std::nullopt;
}

std::optional<Cell> Sheet::cell(std::string_view name, std::size_t column) const {
  assert(column < column_count());
  const auto row = book_->find_row(name);
  if (!row) return std::nullopt;
  return book_->cell(*row, column);
}

namespace {

const Value* value_at(const Column& column, std::optional<std::size_t> row) {
  if (!row || *row >= column.cells.size() || !column.cells[*row].value) return nullptr;
  return &*column.cells[*row].value;
}

}  // namespace

const Value* Sheet::value(std::string_view name, std::size_t column) const {
  assert(column < column_count());
  return value_at(book_->columns[column], book_->find_row(name));
}
const Value* Sheet::use(std::string_view name, std::size_t column) const {
  assert(column < column_count());
  return value_at(book_->columns[column], book_->find_use(name));
}
Result<Value> Sheet::need(std::string_view name, std::size_t column) const {
  assert(column < column_count());
  const auto row = book_->find_row(name);
  if (!row) return book_->unknown_name(name);
  return book_->need(*row, column);
}
Result<Value> Sheet::need_use(std::string_view name, std::size_t column) const {
  assert(column < column_count());
  const auto row = book_->find_use(name);
  if (!row)
    return fail("sheet.unknown-name", "'" + std::string(name) + "' is not computed by this sheet", "add it as a use",
                {}, std::string(name));
  return book_->need(*row, column);
}

std::vector<std::string> Sheet::inputs_of(std::string_view parameter, std::size_t column) const {
  assert(column < column_count());
  std::vector<std::string> names;
  const auto row = book_->find_row(parameter);
  const Own* own = row ? book_->entry_of(*row, column) : nullptr;
  if (!own) return names;
  for (const std::size_t input : own->analysis.inputs) names.push_back(book_->rows[input].name);
  return names;
}

Changes Sheet::dependents_of(std::string_view name, std::size_t column) const {
  assert(column < column_count());
  Changes cells;
  const auto row = book_->find_row(name);
  if (!row || !book_->settled) return cells;
  for (const std::size_t reader : book_->columns[column].links.dependents(*row))
    cells.push_back({book_->rows[reader].type, book_->rows[reader].name, column});
  return cells;
}

std::vector<CheckResult> Sheet::checks(std::size_t column) const {
  assert(column < column_count());
  std::vector<CheckResult> results;
  for (std::size_t row = 0; row < book_->rows.size(); ++row)
    if (book_->rows[row].type == RowType::check) results.push_back(book_->check(row, column));
  return results;
}

std::vector<Diagnostic> Sheet::diagnostics() const {
  return book_->diagnostics(std::nullopt);
}
std::vector<Diagnostic> Sheet::diagnostics(std::size_t column) const {
  assert(column < column_count());
  return book_->diagnostics(column);
}
bool Sheet::sound(std::size_t column) const {
  const auto found = diagnostics(column);
  return std::none_of(found.begin(), found.end(),
                      [](const Diagnostic& one) { return one.severity == Severity::error; });
}

Result<Value> Sheet::evaluate(const Entry& entry, const std::optional<Kind>& wanted, std::size_t column) const {
  assert(column < column_count());
  return book_->evaluate(entry, wanted, column);
}
std::string Sheet::dump() const {
  return book_->dump();
}
std::optional<std::string> Sheet::broken_invariant() const {
  return book_->broken_invariant();
}

}  // namespace pommel::sheet
