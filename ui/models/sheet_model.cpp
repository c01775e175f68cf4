#include "ui/models/sheet_model.h"

#include <QColor>
#include <QFont>
#include <algorithm>

#include "base/text.h"

namespace pommel::ui {
namespace {

QString text(const std::string& bytes) { return QString::fromStdString(bytes); }

std::size_t column_of(int section) { return section == SheetModel::kCatalogueValue ? family::kCatalogue : family::kOrder; }

bool is_value(int section) { return section == SheetModel::kCatalogueValue || section == SheetModel::kOrderValue; }

}  // namespace

SheetModel::SheetModel(sheet::Sheet sheet, QObject* parent) : QAbstractTableModel(parent), sheet_(std::move(sheet)) {
  rows_ = sheet_.parameters();
  measures_ = rows_.size();
  for (std::string& name : sheet_.outcomes()) rows_.push_back(std::move(name));
}

void SheetModel::set_outcomes(std::size_t column, const std::vector<std::pair<std::string, sheet::Value>>& values) {
  // an outcome that the sheet does not know would be a fault of ours; the cells then stay as they are
  if (sheet_.set_outcomes(column, values).ok())
    emit dataChanged(index(static_cast<int>(measures_), 0), index(rowCount() - 1, kColumns - 1));
}

QStringList SheetModel::problems() const {
  QStringList out;
  for (const Diagnostic& what : sheet_.diagnostics(family::kOrder))
    out << text(what.message + (what.remedy.empty() ? "" : ": " + what.remedy));
  for (const sheet::CheckResult& check : sheet_.checks(family::kOrder))
    if (check.said) out << text(check.said->message);
  return out;
}

int SheetModel::row_of(const std::string& name) const {
  const auto found = std::find(rows_.begin(), rows_.end(), name);
  return found == rows_.end() ? -1 : static_cast<int>(found - rows_.begin());
}

int SheetModel::rowCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : static_cast<int>(rows_.size()); }
int SheetModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : kColumns; }

QString SheetModel::shown(int row, std::size_t column) const {
  const auto cell = sheet_.cell(rows_[static_cast<std::size_t>(row)], column);
  if (cell && cell->value) return text(sheet::show(*cell->value, sheet_.settings()));
  // a wrong entry stays to be seen and mended
  if (cell && cell->state == sheet::CellState::failed && cell->entry) return text(cell->entry->text);
  return is_outcome(row) ? QStringLiteral("…") : QStringLiteral("–");
}

QString SheetModel::told(int row, std::size_t column) const {
  const auto cell = sheet_.cell(rows_[static_cast<std::size_t>(row)], column);
  QStringList lines;
  if (!cell) return {};
  for (const Diagnostic& problem : cell->problems) lines << text(problem.message + (problem.remedy.empty() ? "" : "\n" + problem.remedy));
  if (lines.isEmpty() && cell->entry) lines << text(cell->entry->text);
  return lines.join("\n");
}

QVariant SheetModel::data(const QModelIndex& at, int role) const {
  if (!at.isValid()) return {};
  const std::string& name = rows_[static_cast<std::size_t>(at.row())];
  // what follows stands on a ground of its own at the foot of the grid
  if (role == Qt::BackgroundRole && is_outcome(at.row())) return QColor(0xf1, 0xea, 0xdb);
  if (at.column() == kName && role == Qt::DisplayRole) return text(name).replace('_', ' ');
  if (at.column() == kNote && role == Qt::DisplayRole)
    return text(is_outcome(at.row()) ? sheet_.outcome(name)->note : sheet_.parameter(name)->note);
  if (!is_value(at.column())) return {};
  const std::size_t column = column_of(at.column());
  const auto cell = sheet_.cell(name, column);
  const bool wrong = cell && (cell->state == sheet::CellState::failed || !cell->problems.empty());
  switch (role) {
    case Qt::DisplayRole: return shown(at.row(), column);
    case Qt::EditRole: return cell && cell->entry ? text(cell->entry->text) : QString();
    case Qt::ToolTipRole: return told(at.row(), column);
    case Qt::TextAlignmentRole: return QVariant(Qt::AlignRight | Qt::AlignVCenter);
    case Qt::ForegroundRole:
      if (wrong) return QColor(0xa0, 0x20, 0x20);
      // inherited values are dim, own ones plain
      return column == family::kOrder && cell && !cell->own && !is_outcome(at.row()) ? QColor(0x70, 0x68, 0x60) : QVariant();
    case Qt::FontRole: {
      QFont font;
      font.setBold(column == family::kOrder && cell && cell->own);
      return font;
    }
    default: return {};
  }
}

QVariant SheetModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (role != Qt::DisplayRole || orientation == Qt::Vertical) return {};
  static const char* const words[kColumns] = {"measure", "catalogue", "this order", "what it is"};
  return QString::fromLatin1(words[section]);
}

Qt::ItemFlags SheetModel::flags(const QModelIndex& at) const {
  Qt::ItemFlags flags = QAbstractTableModel::flags(at);
  if (at.isValid() && at.column() == kOrderValue && !is_outcome(at.row())) flags |= Qt::ItemIsEditable;
  return flags;
}

bool SheetModel::setData(const QModelIndex& at, const QVariant& value, int role) {
  if (role != Qt::EditRole || !(flags(at) & Qt::ItemIsEditable)) return false;
  const std::string& name = rows_[static_cast<std::size_t>(at.row())];
  const std::string typed(trimmed(value.toString().toStdString()));
  const auto changed = typed.empty() ? sheet_.clear_entry(name, family::kOrder) : sheet_.set_entry(name, family::kOrder, sheet::Entry{typed, {}, {}});
  if (!changed.ok()) return false;
  // what followed from the old measures is no longer true
  sheet_.clear_outcomes(family::kOrder);
  emit dataChanged(index(0, 0), index(rowCount() - 1, kColumns - 1));
  emit edited();
  return true;
}

}  // namespace pommel::ui
