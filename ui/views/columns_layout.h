// Groups of fields beside and below one another: as many columns as the room is wide for, each group at the foot of the column that is shortest so far. Where letters
// are large there are fewer columns, and nothing has to be scrolled sideways.
#pragma once

#include "ui/views/placed_layout.h"

namespace pommel::ui {

class ColumnsLayout : public PlacedLayout {
 public:
  /// `most`: no more columns than this, however wide.
  explicit ColumnsLayout(int most, QWidget* parent) : PlacedLayout(parent), most_(most) {}

  QSize sizeHint() const override;
  /// One column.
  QSize minimumSize() const override;

 private:
  int widest() const;
  int placed(const QRect& room, std::vector<QRect>* places) const override;

  int most_;
};

}  // namespace pommel::ui
