#include "ui/models/sheet_model.h"

#include <QColor>
#include <QFont>
#include <QGuiApplication>
#include <QPalette>
#include <algorithm>

#include "base/text.h"
#include "family/family.h"
#include "job/show.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

QString text(const std::string& bytes) { return QString::fromStdString(bytes); }

QString in_words(const std::string& name) { return text(name).replace('_', ' '); }

QString with_remedy(const Diagnostic& what, const char* between) {
  return text(what.message) + (what.remedy.empty() ? QString() : QString::fromLatin1(between) + text(what.remedy));
}

}  // namespace

SheetModel::SheetModel(OrderBook& book, QObject* parent) : QAbstractTableModel(parent), book_(book) {
  lay_out();
  connect(&book, &OrderBook::edited, this, &SheetModel::changed_all);
  connect(&book, &OrderBook::outcomes_changed, this, &SheetModel::changed_all);
  connect(&book, &OrderBook::shown_changed, this, &SheetModel::changed_all);
  const auto lay_out_again = [this] {
    beginResetModel();
    lay_out();
    endResetModel();
  };
  connect(&book, &OrderBook::reshaped, this, lay_out_again);
  connect(&book, &OrderBook::rewritten, this, lay_out_again);
}

void SheetModel::lay_out() {
  rows_.clear();
  const sheet::Sheet& sheet = book_.sheet();
  for (const std::string& group : sheet.groups()) {
    rows_.push_back({RowKind::group, group.empty() ? "measures" : group});
    for (const std::string& name : sheet.parameters())
      if (sheet.parameter(name)->group == group) rows_.push_back({RowKind::measure, name});
  }
  rows_.push_back({RowKind::group, tr("what follows").toStdString()});
  for (const std::string& name : sheet.outcomes()) rows_.push_back({RowKind::outcome, name});
  const auto checks = sheet.checks(family::kCatalogue);
  if (checks.empty()) return;
  rows_.push_back({RowKind::group, tr("checks").toStdString()});
  for (const sheet::CheckResult& check : checks) rows_.push_back({RowKind::check, check.name});
}

void SheetModel::changed_all() { emit dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1)); }

std::optional<std::size_t> SheetModel::sheet_column(int section) const {
  if (section < kCatalogueValue || section >= note_column()) return std::nullopt;
  return static_cast<std::size_t>(section - kCatalogueValue);
}

int SheetModel::row_of(const std::string& name) const {
  const auto found = std::find_if(rows_.begin(), rows_.end(), [&](const Row& row) { return row.kind != RowKind::group && row.name == name; });
  return found == rows_.end() ? -1 : static_cast<int>(found - rows_.begin());
}

QString SheetModel::words_of(int row) const { return label(rows_[static_cast<std::size_t>(row)]) + ' ' + note(rows_[static_cast<std::size_t>(row)]); }

QStringList SheetModel::choices(int row) const {
  QStringList out;
  if (kind_of(row) != RowKind::measure) return out;
  const sheet::Parameter* measure = book_.sheet().parameter(name_of(row));
  for (const std::string& choice : measure->choices) out << text(choice);
  if (out.isEmpty() && book_.sheet().kind_of(name_of(row)) == sheet::Kind::yes_no()) out << QStringLiteral("yes") << QStringLiteral("no");
  return out;
}

QStringList SheetModel::names_for_formulas() const {
  QStringList out = {"abs(", "atan2(", "ceil(", "choose(", "cos(", "floor(", "max(", "min(", "next_size(", "pi", "round(", "round_down(", "round_to(", "round_up(", "sin(", "sqrt(", "tan("};
  for (const std::string& name : book_.sheet().parameters()) out << text(name);
  out.sort();
  return out;
}

QStringList SheetModel::problems(std::size_t column) const {
  QStringList out;
  for (const Diagnostic& what : book_.sheet().diagnostics(column)) out << with_remedy(what, ": ");
  for (const sheet::CheckResult& check : book_.sheet().checks(column))
    if (check.said) out << text(check.said->message);
  return out;
}

QStringList SheetModel::changes(std::size_t column) const {
  QStringList out;
  for (const Row& row : rows_) {
    if (row.kind == RowKind::group || row.kind == RowKind::check) continue;
    const auto *was = book_.sheet().value(row.name, family::kCatalogue), *is = book_.sheet().value(row.name, column);
    if (!was || !is || *was == *is) continue;
    const auto cell = book_.sheet().cell(row.name, column);
    if (cell && !cell->own && row.kind == RowKind::measure && !job::is_of_use(book_.sheet(), row.name, column)) continue;
    const QString before = text(sheet::show(*was, book_.shown())), now = text(sheet::show(*is, book_.shown()));
    if (before != now) out << tr("%1 %2 (catalogue %3)").arg(in_words(row.name), now, before);
  }
  return out;
}

void SheetModel::follow_formula(const QModelIndex& cell) {
  read_.clear();
  readers_.clear();
  const auto column = cell.isValid() ? sheet_column(cell.column()) : std::nullopt;
  if (column && kind_of(cell.row()) != RowKind::group && kind_of(cell.row()) != RowKind::check) {
    const std::string& name = name_of(cell.row());
    if (kind_of(cell.row()) == RowKind::measure)
      for (const std::string& input : book_.sheet().inputs_of(name, *column)) read_.insert(input);
    for (const sheet::Change& reader : book_.sheet().dependents_of(name, *column)) readers_.insert(reader.name);
  }
  emit dataChanged(index(0, kName), index(rowCount() - 1, kName));
}

int SheetModel::rowCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : static_cast<int>(rows_.size()); }
int SheetModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : static_cast<int>(book_.sheet().column_count()) + 2; }

QString SheetModel::label(const Row& row) const {
  QString said = row.kind == RowKind::group ? text(row.name) : in_words(row.name);
  if (read_.contains(row.name)) said += tr("  → goes into it");
  if (readers_.contains(row.name)) said += tr("  ← follows it");
  return said;
}

bool SheetModel::wrong(const Row& row, std::size_t column) const {
  const auto cell = book_.sheet().cell(row.name, column);
  return cell && (cell->state == sheet::CellState::failed || !cell->problems.empty());
}

QString SheetModel::shown(const Row& row, std::size_t column) const {
  const auto cell = book_.sheet().cell(row.name, column);
  const QString cross = wrong(row, column) ? QStringLiteral("✗ ") : QString();
  if (cell && cell->value) return cross + text(sheet::show(*cell->value, book_.shown()));
  // a wrong entry stays to be seen and mended
  if (cell && cell->state == sheet::CellState::failed && cell->entry) return cross + text(cell->entry->text);
  return row.kind == RowKind::outcome ? QStringLiteral("…") : QStringLiteral("–");
}

QString SheetModel::told(const Row& row, std::size_t column) const {
  const auto cell = book_.sheet().cell(row.name, column);
  if (!cell) return {};
  QStringList lines;
  for (const Diagnostic& problem : cell->problems) lines << with_remedy(problem, "\n");
  if (lines.isEmpty() && cell->entry) lines << text(cell->entry->text);
  return lines.join("\n");
}

// The first thing that is wrong in the row stands where its note stood.
QString SheetModel::note(const Row& row) const {
  if (row.kind == RowKind::group) return {};
  for (std::size_t column = book_.sheet().column_count(); column-- > 0;) {
    if (row.kind == RowKind::check) {
      for (const sheet::CheckResult& check : book_.sheet().checks(column))
        if (check.name == row.name && check.said) return QStringLiteral("✗ ") + text(check.said->message);
    } else if (const auto cell = book_.sheet().cell(row.name, column); cell && !cell->problems.empty()) {
      return QStringLiteral("✗ ") + with_remedy(cell->problems.front(), ": ");
    }
  }
  if (row.kind == RowKind::check) return {};
  if (row.kind == RowKind::outcome) return text(book_.sheet().outcome(row.name)->note);
  const auto cell_of_order = book_.sheet().cell(row.name, family::kOrder);
  const QString about = text(book_.sheet().parameter(row.name)->note), own = cell_of_order && cell_of_order->own ? book_.note(row.name) : QString();
  return own.isEmpty() ? about : QStringLiteral("✎ ") + own + (about.isEmpty() ? QString() : QStringLiteral(" · ") + about);
}

QVariant SheetModel::check_data(const Row& row, std::size_t column, int role) const {
  if (role == Qt::TextAlignmentRole) return QVariant(Qt::AlignRight | Qt::AlignVCenter);
  const auto checks = book_.sheet().checks(column);
  const auto check = std::find_if(checks.begin(), checks.end(), [&](const sheet::CheckResult& one) { return one.name == row.name; });
  if (check == checks.end()) return {};
  const bool fails = check->verdict == sheet::Verdict::fails;
  if (role == Qt::ForegroundRole && fails) return tones().wrong;
  if (role == Qt::ToolTipRole && check->said) return text(check->said->message);
  if (role != Qt::DisplayRole) return {};
  switch (check->verdict) {
    case sheet::Verdict::holds: return tr("holds");
    case sheet::Verdict::fails: return check->stop ? tr("✗ does not hold") : tr("! look at it");
    case sheet::Verdict::not_yet_known: return QStringLiteral("…");
    case sheet::Verdict::cannot_be_checked: return tr("✗ cannot be checked");
  }
  return {};
}

QVariant SheetModel::value_data(const Row& row, std::size_t column, int role) const {
  if (row.kind == RowKind::check) return check_data(row, column, role);
  const auto cell = book_.sheet().cell(row.name, column);
  switch (role) {
    case Qt::DisplayRole: return shown(row, column);
    case Qt::EditRole: return cell && cell->entry ? text(cell->entry->text) : QString();
    case Qt::ToolTipRole: return told(row, column);
    case Qt::TextAlignmentRole: return QVariant(Qt::AlignRight | Qt::AlignVCenter);
    case Qt::ForegroundRole:
      if (wrong(row, column)) return tones().wrong;
      return column >= family::kOrder && cell && !cell->own && row.kind == RowKind::measure ? QVariant(tones().inherited) : QVariant();
    case Qt::FontRole: {
      QFont font = QGuiApplication::font();
      font.setBold(column >= family::kOrder && cell && cell->own);
      return font;
    }
    default: return {};
  }
}

QVariant SheetModel::data(const QModelIndex& at, int role) const {
  if (!at.isValid()) return {};
  const Row& row = rows_[static_cast<std::size_t>(at.row())];
  if (role == Qt::BackgroundRole && row.kind != RowKind::measure) return row.kind == RowKind::group ? tones().group : tones().follows;
  if (role == Qt::FontRole && row.kind == RowKind::group) {
    QFont font = QGuiApplication::font();
    font.setBold(true);
    return font;
  }
  if (at.column() == kName) return role == Qt::DisplayRole ? QVariant(label(row)) : QVariant();
  if (at.column() == note_column()) {
    const QString said = role == Qt::DisplayRole || role == Qt::ToolTipRole || role == Qt::ForegroundRole ? note(row) : QString();
    if (role == Qt::EditRole && row.kind == RowKind::measure) return book_.note(row.name);
    if (role == Qt::ForegroundRole) return said.startsWith(u'✗') ? QVariant(tones().wrong) : QVariant();
    return said.isEmpty() ? QVariant() : QVariant(said);
  }
  return row.kind == RowKind::group ? QVariant() : value_data(row, *sheet_column(at.column()), role);
}

QVariant SheetModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (role != Qt::DisplayRole || orientation == Qt::Vertical) return {};
  if (section == kName) return tr("measure");
  if (section == kCatalogueValue) return tr("catalogue");
  if (section == kOrderValue) return tr("this order");
  return section == note_column() ? tr("what it is") : text(book_.sheet().column_name(*sheet_column(section)));
}

Qt::ItemFlags SheetModel::flags(const QModelIndex& at) const {
  Qt::ItemFlags flags = QAbstractTableModel::flags(at);
  const auto column = at.isValid() ? sheet_column(at.column()) : std::nullopt;
  if (column && *column >= family::kOrder && kind_of(at.row()) == RowKind::measure) flags |= Qt::ItemIsEditable;
  // a note stands beside an entry of the order's own
  const auto own = at.isValid() && at.column() == note_column() && kind_of(at.row()) == RowKind::measure ? book_.sheet().cell(name_of(at.row()), family::kOrder) : std::nullopt;
  if (own && own->own) flags |= Qt::ItemIsEditable;
  return flags;
}

bool SheetModel::setData(const QModelIndex& at, const QVariant& value, int role) {
  if (role != Qt::EditRole || !(flags(at) & Qt::ItemIsEditable)) return false;
  if (at.column() == note_column()) return book_.write_note(name_of(at.row()), value.toString()).ok();
  const std::string typed(trimmed(value.toString().toStdString()));
  const std::size_t column = *sheet_column(at.column());
  const auto cell = book_.sheet().cell(name_of(at.row()), column);
  // the editor opens on what is inherited; leaving it as it was changes nothing
  if (!typed.empty() && cell && cell->entry && cell->entry->text == typed) return true;
  book_.edit(in_words(name_of(at.row())), {{name_of(at.row()), column, typed.empty() ? std::nullopt : std::optional(typed)}});
  return true;
}

// --- blocks of cells

QString SheetModel::copied(const QModelIndexList& cells) const {
  std::map<int, std::map<int, QString>> block;
  for (const QModelIndex& cell : cells) {
    QString said = data(cell, Qt::DisplayRole).toString();
    if (sheet_column(cell.column()) && said.startsWith(QStringLiteral("✗ "))) said.remove(0, 2);
    block[cell.row()][cell.column()] = said;
  }
  return text_of_cells(block);
}

void SheetModel::paste(const QModelIndex& at, const QString& text) {
  std::vector<CellEdit> edits;
  int row = at.row();
  for (const QStringList& line : cells_of_text(text)) {
    while (row < rowCount() && kind_of(row) == RowKind::group) ++row;
    if (row >= rowCount()) break;
    for (int i = 0; i < line.size(); ++i) {
      const QModelIndex cell = index(row, at.column() + i);
      if (!cell.isValid() || !sheet_column(cell.column()) || !(flags(cell) & Qt::ItemIsEditable)) continue;
      const std::string typed(trimmed(line[i].toStdString()));
      edits.push_back({name_of(row), *sheet_column(cell.column()), typed.empty() ? std::nullopt : std::optional(typed)});
    }
    ++row;
  }
  book_.edit(tr("paste"), edits);
}

void SheetModel::carry_across(const QModelIndex& at) {
  if (!sheet_column(at.column()) || !(flags(at) & Qt::ItemIsEditable)) return;
  const auto cell = book_.sheet().cell(name_of(at.row()), *sheet_column(at.column()));
  std::vector<CellEdit> edits;
  for (std::size_t column = family::kOrder; column < book_.sheet().column_count(); ++column)
    edits.push_back({name_of(at.row()), column, cell && cell->own && cell->entry ? std::optional(cell->entry->text) : std::nullopt});
  book_.edit(tr("carry %1 across").arg(in_words(name_of(at.row()))), edits);
}

void SheetModel::clear(const QModelIndexList& cells) {
  std::vector<CellEdit> edits;
  for (const QModelIndex& cell : cells)
    if (sheet_column(cell.column()) && flags(cell) & Qt::ItemIsEditable) edits.push_back({name_of(cell.row()), *sheet_column(cell.column()), std::nullopt});
  book_.edit(tr("clear"), edits);
}

std::vector<QStringList> cells_of_text(const QString& text) {
  std::vector<QStringList> out(1);
  QString field;
  bool quoted = false, begins = true;
  const auto end_field = [&] {
    out.back() << field;
    field.clear();
    begins = true;
  };
  for (int i = 0; i < text.size(); ++i) {
    const QChar c = text[i];
    if (quoted) {
      if (c != u'"') field += c;
      else if (i + 1 < text.size() && text[i + 1] == u'"') field += c, ++i;
      else quoted = false;
    } else if (c == u'"' && begins) {
      quoted = true, begins = false;
    } else if (c == u'\t') {
      end_field();
    } else if (c == u'\n') {
      end_field();
      out.emplace_back();
    } else if (c != u'\r') {
      field += c, begins = false;
    }
  }
  if (!field.isEmpty() || !out.back().isEmpty()) end_field();
  if (out.back().isEmpty()) out.pop_back();
  return out;
}

QString text_of_cells(const std::map<int, std::map<int, QString>>& cells) {
  QStringList lines;
  for (const auto& [row, line] : cells) {
    QStringList fields;
    for (auto [column, field] : line) {
      if (field.startsWith(u'"') || field.contains(u'\t') || field.contains(u'\n')) field = u'"' + field.replace(u'"', QStringLiteral("\"\"")) + u'"';
      fields << field;
    }
    lines << fields.join(u'\t');
  }
  return lines.join(u'\n');
}

}  // namespace pommel::ui
