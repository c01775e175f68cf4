#include "ui/views/rows_layout.h"

#include <algorithm>

namespace pommel::ui {

QSize RowsLayout::sizeHint() const {
  QSize out;
  for (const auto& item : items()) out = QSize(out.width() + item->sizeHint().width() + gap(), std::max(out.height(), item->sizeHint().height()));
  return out + edges();
}

QSize RowsLayout::minimumSize() const {
  QSize out;
  for (const auto& item : items()) out = out.expandedTo(item->sizeHint());
  return out + edges();
}

int RowsLayout::placed(const QRect& room, std::vector<QRect>* places) const {
  const QRect inner = room.marginsRemoved(contentsMargins());
  const int gap = this->gap();
  int x = inner.left(), y = inner.top(), tall = 0;
  for (const auto& item : items()) {
    const QSize size = item->sizeHint();
    if (x > inner.left() && x + size.width() > inner.left() + inner.width()) x = inner.left(), y += tall + gap, tall = 0;
    const bool last = item == items().back();
    if (places) places->emplace_back(last ? std::max(x, inner.left() + inner.width() - size.width()) : x, y, size.width(), size.height());
    x += size.width() + gap, tall = std::max(tall, size.height());
  }
  return y + tall - room.top() + contentsMargins().bottom();
}

}  // namespace pommel::ui
