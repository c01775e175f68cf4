// Colours of the window that the palette does not have, for light and dark. Text on its ground has at least 4.5 : 1, marks 3 : 1
// (WCAG 2.1, 1.4.3 and 1.4.11; tests/ui computes them).
#pragma once

#include <QColor>

namespace pommel::ui {

struct Tones {
  QColor wrong;      ///< text of what is wrong
  QColor inherited;  ///< text of values that come from the catalogue
  QColor group;      ///< ground of a group's heading
  QColor follows;    ///< ground of what follows
  QColor mark;       ///< hairline and other marks on the piece's ground
};

/// For the palette that the application has now.
Tones tones();
Tones tones(bool dark);

}  // namespace pommel::ui
