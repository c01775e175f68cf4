// The sheet of an order as a grid: measures down, then what follows from them; the catalogue's column, the order's column, a note.
//
// Only the order's measures can be edited, as a maker writes them; an empty text makes a cell inherit again. The model owns
// the sheet; what follows is put in by set_outcomes() when it has been worked out elsewhere.
#pragma once

#include <QAbstractTableModel>
#include <string>
#include <utility>
#include <vector>

#include "family/family.h"
#include "sheet/sheet.h"

namespace pommel::ui {

class SheetModel : public QAbstractTableModel {
  Q_OBJECT

 public:
  enum Column { kName, kCatalogueValue, kOrderValue, kNote, kColumns };

  /// REQUIRES: the sheet is settled and has the columns catalogue and order.
  explicit SheetModel(sheet::Sheet sheet, QObject* parent = nullptr);

  const sheet::Sheet& sheet() const { return sheet_; }
  /// What follows in one column; the wave of changes is shown.
  void set_outcomes(std::size_t column, const std::vector<std::pair<std::string, sheet::Value>>& values);
  /// All problems of the order's column, one text each; the first line of a failing check is among them.
  QStringList problems() const;
  /// Row of a measure or outcome; -1 when there is none.
  int row_of(const std::string& name) const;

  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role) const override;
  QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role) override;

 signals:
  /// A measure was changed by the user.
  void edited();

 private:
  bool is_outcome(int row) const { return static_cast<std::size_t>(row) >= measures_; }
  QString shown(int row, std::size_t column) const;
  QString told(int row, std::size_t column) const;

  sheet::Sheet sheet_;
  std::vector<std::string> rows_;
  std::size_t measures_ = 0;
};

}  // namespace pommel::ui
