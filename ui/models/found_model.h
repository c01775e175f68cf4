// The elements that were recognised, as a list to read and to choose from: name, where it begins, how long, its diameters, how far its readings lie off.
//
// Thread rule: the window's thread.
#pragma once

#include <QAbstractTableModel>
#include <memory>

#include "base/quantity.h"
#include "ui/models/match_bench.h"

namespace pommel::ui {

class FoundModel : public QAbstractTableModel {
  Q_OBJECT

 public:
  enum Column { kName, kFrom, kLength, kDiameters, kOff, kColumns };

  using QAbstractTableModel::QAbstractTableModel;

  /// nullptr: nothing was recognised. `stale`: of the readings before; shown dim.
  void show(std::shared_ptr<const Fitted> fitted, bool stale, const LengthFormat& lengths);

  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role) const override;
  QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

 private:
  QString words(const match::Found& found, int column) const;

  std::shared_ptr<const Fitted> fitted_;
  int rows_ = 0;
  bool stale_ = false;
  LengthFormat lengths_;
};

/// The word of an element in the window's language.
QString element_in_words(const match::Found& found);
/// Its diameters: "⌀ 42 mm to 28 mm, greatest 57.5 mm".
QString diameters_in_words(const match::Found& found, const LengthFormat& lengths);

}  // namespace pommel::ui
