// Buttons beside one another, going on below where the room is not wide enough. The last one stands at the right.
#pragma once

#include "ui/views/placed_layout.h"

namespace pommel::ui {

class RowsLayout : public PlacedLayout {
 public:
  using PlacedLayout::PlacedLayout;

  /// All in one row.
  QSize sizeHint() const override;
  /// One below the other.
  QSize minimumSize() const override;

 private:
  int placed(const QRect& room, std::vector<QRect>* places) const override;
};

}  // namespace pommel::ui
