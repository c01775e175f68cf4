// The readings as a grid that is worked with the keyboard: typing replaces, Enter opens a cell and goes on to the row below, a note offers its words.
#pragma once

#include <QTableView>

#include "ui/models/readings_model.h"

namespace pommel::ui {

class ReadingsGrid : public QTableView {
  Q_OBJECT

 public:
  /// REQUIRES: the model outlives the grid.
  explicit ReadingsGrid(ReadingsModel& model, QWidget* parent = nullptr);

  void copy();
  void paste();
  void clear_cells();
  void take_rows_out();

 signals:
  void current_moved(int row);
  /// What is on the clipboard cannot be taken.
  void not_pasted(const QString& why);

 protected:
  void keyPressEvent(QKeyEvent* event) override;
  void closeEditor(QWidget* editor, QAbstractItemDelegate::EndEditHint hint) override;
  void currentChanged(const QModelIndex& current, const QModelIndex& previous) override;

 private:
  ReadingsModel& model_;
};

}  // namespace pommel::ui
