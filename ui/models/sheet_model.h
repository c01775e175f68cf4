// The sheet of an order as a grid: measures down in their groups, then what follows from them and what the checks say; the catalogue's
// column, the order's, further sizes, and a note.
//
// Measures from the order's column on can be edited, as a maker writes them; an empty text makes a cell inherit again. Values that are
// inherited are dim and lighter, own ones bold; a cell with something wrong begins with a cross and its row's note says the remedy:
// no meaning stands in a colour alone.
//
// Thread rule: the window's thread.
#pragma once

#include <QAbstractTableModel>
#include <set>
#include <string>
#include <vector>

#include "ui/models/order_book.h"

namespace pommel::ui {

class SheetModel : public QAbstractTableModel {
  Q_OBJECT

 public:
  enum Column { kName, kCatalogueValue, kOrderValue };
  enum class RowKind { group, measure, outcome, check };

  /// REQUIRES: the book outlives the model.
  explicit SheetModel(OrderBook& book, QObject* parent = nullptr);

  /// The grid's last column.
  int note_column() const { return columnCount() - 1; }
  /// Of the sheet, for a column of the grid that shows values; nothing for others.
  std::optional<std::size_t> sheet_column(int section) const;
  RowKind kind_of(int row) const { return rows_[static_cast<std::size_t>(row)].kind; }
  /// Name of the measure, outcome or check; of a group its title.
  const std::string& name_of(int row) const { return rows_[static_cast<std::size_t>(row)].name; }
  /// Row of a measure or outcome; -1 when there is none.
  int row_of(const std::string& name) const;
  /// Everything by which a row can be found: its name and its note.
  QString words_of(int row) const;

  /// What may stand in a row of choices; empty for other rows.
  QStringList choices(int row) const;
  /// Names and functions that a formula may use.
  QStringList names_for_formulas() const;

  /// All problems of one column, one text each; failing checks are among them.
  QStringList problems(std::size_t column = 1) const;
  /// What is different from the catalogue in one column, a line each, to be read to the client: "table height 31 1/4\" (was 29 1/8\")".
  QStringList changes(std::size_t column = 1) const;

  /// Marks what the cell's formula reads and who reads the cell.
  void follow_formula(const QModelIndex& cell);

  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role) const override;
  QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role) override;

  /// What is shown, rows as lines, cells apart by tabs: what any spreadsheet reads.
  QString copied(const QModelIndexList& cells) const;
  /// Lines and tabs from any spreadsheet, from `at` down and to the right; groups are stepped over. One step of undo.
  void paste(const QModelIndex& at, const QString& text);
  /// The cell's own or inherited entry into all sizes of the order. One step of undo.
  void carry_across(const QModelIndex& at);
  /// The cells take the catalogue's again. One step of undo.
  void clear(const QModelIndexList& cells);

 private:
  struct Row {
    RowKind kind = RowKind::measure;
    std::string name;
  };
  void lay_out();
  void changed_all();
  QVariant value_data(const Row& row, std::size_t column, int role) const;
  QVariant check_data(const Row& row, std::size_t column, int role) const;
  QString shown(const Row& row, std::size_t column) const;
  QString told(const Row& row, std::size_t column) const;
  QString note(const Row& row) const;
  QString label(const Row& row) const;
  bool wrong(const Row& row, std::size_t column) const;

  OrderBook& book_;
  std::vector<Row> rows_;
  std::set<std::string> read_, readers_;
};

/// Splits what a spreadsheet puts on the clipboard; a field in double quotes may hold tabs and line ends, its quotes doubled.
std::vector<QStringList> cells_of_text(const QString& text);
/// The other way: cells by row and column, rows as lines, cells apart by tabs.
QString text_of_cells(const std::map<int, std::map<int, QString>>& cells);

}  // namespace pommel::ui
