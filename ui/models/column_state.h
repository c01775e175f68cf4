// What is known of one column of the sheet by now.
#pragma once

#include <memory>
#include <vector>

#include "ui/models/follower.h"

namespace pommel::ui {

struct ColumnState {
  std::shared_ptr<const family::Made> made;       ///< the pieces and their frame, the last that could be made
  std::shared_ptr<const job::Column> followed;    ///< blank, time, price
  std::shared_ptr<const Checked> checked;         ///< the cut check
  std::vector<Diagnostic> reasons;                ///< why there is no piece, or nothing that follows
  bool stale = true;                              ///< the measures have changed since `made`

  /// After an edit: the piece stays to be seen, as one of yesterday; what followed is no longer true.
  void measures_changed() {
    followed.reset();
    checked.reset();
    reasons.clear();
    stale = true;
  }
};

}  // namespace pommel::ui
