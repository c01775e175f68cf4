// What may be written into an empty field, and what holds while nothing is.
#pragma once

#include <QComboBox>
#include <QLineEdit>
#include <QPalette>

#include "ui/views/tones.h"

namespace pommel::ui {

/// Readable: the desktop's own colour for it is too faint.
template <class Field>
void show_hint(Field& field, const QString& hint) {
  field.setPlaceholderText(hint);
  QPalette colours = field.palette();
  colours.setColor(QPalette::PlaceholderText, tones().inherited);
  field.setPalette(colours);
}

/// The choice whose id is empty is no statement: it stands dim.
inline void dim_where_unstated(QComboBox& box) {
  const QPalette plain = box.palette();
  QPalette dim = plain;
  for (const auto role : {QPalette::ButtonText, QPalette::Text, QPalette::WindowText}) dim.setColor(role, tones().inherited);
  const auto look = [&box, plain, dim] { box.setPalette(box.currentData().toString().isEmpty() ? dim : plain); };
  QObject::connect(&box, &QComboBox::currentIndexChanged, &box, look);
  look();
}

}  // namespace pommel::ui
