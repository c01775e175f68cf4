// The measures as a grid that is worked with the keyboard: typing replaces, F2 changes, Enter on a heading folds its group.
#pragma once

#include <QTableView>
#include <set>
#include <string>

#include "ui/models/sheet_model.h"

namespace pommel::ui {

class MeasureGrid : public QTableView {
  Q_OBJECT

 public:
  /// REQUIRES: the model outlives the grid.
  explicit MeasureGrid(SheetModel& model, QWidget* parent = nullptr);

  /// Shows only rows whose name or note has all words of `text`; an empty one shows all, groups folded as they were.
  void find(const QString& text);
  /// Goes to a measure and shows it, unfolding its group; false when there is none.
  bool go_to(const std::string& name, int column);
  void fold(int heading, bool folded);
  bool is_folded(int heading) const;

  void copy();
  void paste();
  void clear_cells();
  void carry_across();

 signals:
  void current_moved(const QModelIndex& cell);

 protected:
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void currentChanged(const QModelIndex& current, const QModelIndex& previous) override;

 private:
  void lay_out();
  void fit_columns();
  void show_rows();

  SheetModel& model_;
  std::set<std::string> folded_;
  QStringList wanted_;
  bool fitting_ = false, by_hand_ = false;  // of columns: drawn wider by whoever works here
};

}  // namespace pommel::ui
