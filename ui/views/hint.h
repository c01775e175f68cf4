// What may be written into an empty field.
#pragma once

#include <QLineEdit>
#include <QPalette>

#include "ui/views/tones.h"

namespace pommel::ui {

/// Readable: the desktop's own colour for it is too faint.
inline void show_hint(QLineEdit& field, const QString& hint) {
  field.setPlaceholderText(hint);
  QPalette colours = field.palette();
  colours.setColor(QPalette::PlaceholderText, tones().inherited);
  field.setPalette(colours);
}

}  // namespace pommel::ui
