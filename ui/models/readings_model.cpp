#include "ui/models/readings_model.h"

#include <QRegularExpression>
#include <algorithm>

#include "job/match_input.h"
#include "ui/models/sheet_model.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {

class RowsStep : public QUndoCommand {
 public:
  RowsStep(ReadingsModel& model, const QString& what, ReadingsModel::Rows after) : QUndoCommand(what), model_(model), before_(model.rows()), after_(std::move(after)) {}
  void undo() override { model_.become(before_); }
  void redo() override { model_.become(after_); }

 private:
  ReadingsModel& model_;
  ReadingsModel::Rows before_, after_;
};

namespace {

bool empty(const ReadingsModel::Row& row) {
  return std::all_of(row.begin(), row.end(), [](const QString& cell) { return cell.isEmpty(); });
}

void without_empty_end(ReadingsModel::Rows& rows) {
  while (!rows.empty() && empty(rows.back())) rows.pop_back();
}

ReadingsModel::Row& row_at(ReadingsModel::Rows& rows, int row) {
  if (static_cast<std::size_t>(row) >= rows.size()) rows.resize(static_cast<std::size_t>(row) + 1);
  return rows[static_cast<std::size_t>(row)];
}

// One line of a file: what would part cells or end a row is no part of a cell.
QString one_cell(QString text) {
  for (const QChar c : {u'\n', u'\r', u'\t', u';', u'#'}) text.replace(c, u' ');
  return text.simplified();
}

// Whether a text without tabs has several columns. Lines of nothing but '118,5' may be numbers with a decimal comma: they stay one cell each, and the cell
// says that a point is wanted.
bool parted(const QString& text) {
  static const QRegularExpression one_number(QStringLiteral("^\\s*\\d+,\\d+\\s*$"));
  if (text.contains(u';')) return true;
  const QStringList lines = text.split(u'\n', Qt::SkipEmptyParts);
  return std::any_of(lines.begin(), lines.end(), [](const QString& line) { return line.contains(u',') && !one_number.match(line).hasMatch(); });
}

}  // namespace

void ReadingsModel::change(const QString& what, Rows rows) {
  without_empty_end(rows);
  if (rows != rows_) undo_.push(new RowsStep(*this, what, std::move(rows)));
}

void ReadingsModel::become(const Rows& rows) {
  const int before = static_cast<int>(rows_.size()), after = static_cast<int>(rows.size());
  if (after > before) {
    beginInsertRows({}, before + 1, after);
    rows_.resize(rows.size());
    endInsertRows();
  } else if (after < before) {
    beginRemoveRows({}, after, before - 1);  // the empty row stays the last
    rows_.resize(rows.size());
    endRemoveRows();
  }
  rows_ = rows;
  emit dataChanged(index(0, 0), index(after, kSeen));
  emit edited();
}

void ReadingsModel::add(const QString& what, const Rows& rows) {
  Rows all = rows_;
  all.insert(all.end(), rows.begin(), rows.end());
  change(what, std::move(all));
}

void ReadingsModel::clear(const QModelIndexList& cells) {
  Rows rows = rows_;
  for (const QModelIndex& cell : cells)
    if (cell.column() < kTyped && cell.row() < static_cast<int>(rows.size())) row_at(rows, cell.row())[static_cast<std::size_t>(cell.column())].clear();
  change(tr("clear cells"), std::move(rows));
}

void ReadingsModel::take_out(const QModelIndexList& cells) {
  Rows rows;
  for (int row = 0; row < static_cast<int>(rows_.size()); ++row)
    if (std::none_of(cells.begin(), cells.end(), [row](const QModelIndex& cell) { return cell.row() == row; })) rows.push_back(rows_[static_cast<std::size_t>(row)]);
  change(tr("take rows out"), std::move(rows));
}

QString ReadingsModel::paste(const QModelIndex& at, const QString& text) {
  auto lines = cells_of_text(text);
  const auto several = [](const QStringList& line) { return line.size() > 1; };
  const bool table = std::any_of(lines.begin(), lines.end(), several);
  if (at.column() == kPlace && (table || parted(text))) {
    QStringList rejoined;
    for (const QStringList& line : lines) {
      QStringList cells;
      for (const QString& cell : line) cells << (table ? one_cell(cell) : cell);
      rejoined << cells.join(u'\t');
    }
    Sink sink;
    const auto read = job::reading_cells(rejoined.join(u'\n').toStdString(), tr("what is pasted").toStdString(), sink);
    if (sink.has_errors()) return lines_of(sink.all()).join(u'\n');
    lines.clear();
    for (const job::ReadingCells& row : read) lines.push_back({ui::text(row[0]), ui::text(row[1]), ui::text(row[2]), ui::text(row[3])});
  }
  Rows rows = rows_;
  for (std::size_t i = 0; i < lines.size(); ++i)
    for (int k = 0; k < lines[i].size() && at.column() + k < kTyped; ++k)
      row_at(rows, at.row() + static_cast<int>(i))[static_cast<std::size_t>(at.column() + k)] = one_cell(lines[i][k]);
  change(tr("paste"), std::move(rows));
  return {};
}

QString ReadingsModel::copied(const QModelIndexList& cells) const {
  std::map<int, std::map<int, QString>> block;
  // as typed: the mark before what is wrong is none of it
  for (const QModelIndex& cell : cells) block[cell.row()][cell.column()] = data(cell, cell.column() < kTyped ? Qt::EditRole : Qt::DisplayRole).toString();
  return text_of_cells(block);
}

std::string ReadingsModel::text() const {
  QString out = QStringLiteral("x; diameter; +-; note\n");
  for (const Row& row : rows_) {
    if (!empty(row)) out += row[kPlace] + u';' + row[kDiameter] + u';' + row[kUncertainty] + u';' + row[kNote];
    out += u'\n';
  }
  return out.toStdString();
}

ReadingsModel::Rows ReadingsModel::rows_of(const std::string& text) {
  Rows rows;
  for (const QString& line : ui::text(text).split(u'\n').mid(1)) {
    const QStringList cells = line.split(u';');
    Row& row = rows.emplace_back();
    for (int k = 0; k < std::min<int>(kTyped, static_cast<int>(cells.size())); ++k) row[static_cast<std::size_t>(k)] = cells[k];
  }
  without_empty_end(rows);
  return rows;
}

int ReadingsModel::column_of(int row, int character) const {
  int end = 0;
  for (int column = 0; column < kTyped; ++column) {
    end += static_cast<int>(rows_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)].size()) + 1;
    if (character <= end) return column;
  }
  return kNote;
}

void ReadingsModel::show_seen(std::map<int, Seen> seen) {
  stale_ = false;
  seen_ = std::move(seen);
  emit dataChanged(index(0, 0), index(rowCount() - 1, kSeen));
}

void ReadingsModel::show_stale(bool stale) {
  if (stale == stale_) return;
  stale_ = stale;
  emit dataChanged(index(0, kSeen), index(rowCount() - 1, kSeen));
}

int ReadingsModel::rowCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : static_cast<int>(rows_.size()) + 1; }

int ReadingsModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : kSeen + 1; }

QVariant ReadingsModel::seen_data(const QModelIndex& at, int role) const {
  const auto found = seen_.find(at.row());
  if (role == Qt::ForegroundRole && stale_) return tones().inherited;
  if (found == seen_.end()) return {};
  const Seen& seen = found->second;
  if (role == Qt::DisplayRole || role == Qt::ToolTipRole || role == Qt::AccessibleTextRole) return seen.words;
  if (role == Qt::ForegroundRole && seen.wrong) return tones().wrong;
  return {};
}

QVariant ReadingsModel::data(const QModelIndex& at, int role) const {
  if (!at.isValid()) return {};
  if (at.column() == kSeen) return seen_data(at, role);
  const auto row = static_cast<std::size_t>(at.row());
  const QString typed = row < rows_.size() ? rows_[row][static_cast<std::size_t>(at.column())] : QString();
  const auto seen = seen_.find(at.row());
  const bool wrong = !stale_ && seen != seen_.end() && seen->second.problems.contains(at.column());
  if (role == Qt::EditRole) return typed;
  if (role == Qt::DisplayRole) return wrong ? QStringLiteral("✗ ") + typed : typed;
  if (role == Qt::ForegroundRole && wrong) return tones().wrong;
  if ((role == Qt::ToolTipRole || role == Qt::AccessibleDescriptionRole) && wrong) return seen->second.problems.at(at.column());
  return {};
}

QVariant ReadingsModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (role != Qt::DisplayRole) return {};
  if (orientation == Qt::Vertical) return section + 1;
  switch (section) {
    case kPlace: return tr("place");
    case kDiameter: return tr("diameter");
    case kUncertainty: return tr("± of it");
    case kNote: return tr("note");
    default: return tr("what is seen");
  }
}

Qt::ItemFlags ReadingsModel::flags(const QModelIndex& at) const {
  const Qt::ItemFlags usual = Qt::ItemIsEnabled | Qt::ItemIsSelectable;
  if (!at.isValid()) return Qt::NoItemFlags;
  return at.column() < kTyped ? usual | Qt::ItemIsEditable : usual;
}

bool ReadingsModel::setData(const QModelIndex& at, const QVariant& value, int role) {
  if (role != Qt::EditRole || !at.isValid() || at.column() >= kTyped) return false;
  Rows rows = rows_;
  row_at(rows, at.row())[static_cast<std::size_t>(at.column())] = one_cell(value.toString());
  change(tr("reading %1").arg(at.row() + 1), std::move(rows));
  return true;
}

}  // namespace pommel::ui
