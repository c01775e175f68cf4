#include "ui/views/rows_layout.h"

#include <algorithm>

namespace pommel::ui {

QLayoutItem* RowsLayout::takeAt(int i) {
  if (!itemAt(i)) return nullptr;
  QLayoutItem* const out = items_[static_cast<std::size_t>(i)].release();
  items_.erase(items_.begin() + i);
  return out;
}

QSize RowsLayout::sizeHint() const {
  QSize out;
  for (const auto& item : items_) out = QSize(out.width() + item->sizeHint().width() + std::max(0, spacing()), std::max(out.height(), item->sizeHint().height()));
  const QMargins edge = contentsMargins();
  return out + QSize(edge.left() + edge.right(), edge.top() + edge.bottom());
}

QSize RowsLayout::minimumSize() const {
  QSize out;
  for (const auto& item : items_) out = out.expandedTo(item->sizeHint());
  const QMargins edge = contentsMargins();
  return out + QSize(edge.left() + edge.right(), edge.top() + edge.bottom());
}

int RowsLayout::placed(const QRect& room, std::vector<QRect>* places) const {
  const QRect inner = room.marginsRemoved(contentsMargins());
  const int gap = std::max(0, spacing());
  int x = inner.left(), y = inner.top(), tall = 0;
  for (const auto& item : items_) {
    const QSize size = item->sizeHint();
    if (x > inner.left() && x + size.width() > inner.left() + inner.width()) x = inner.left(), y += tall + gap, tall = 0;
    const bool last = item == items_.back();
    if (places) places->emplace_back(last ? std::max(x, inner.left() + inner.width() - size.width()) : x, y, size.width(), size.height());
    x += size.width() + gap, tall = std::max(tall, size.height());
  }
  return y + tall - room.top() + contentsMargins().bottom();
}

void RowsLayout::setGeometry(const QRect& room) {
  QLayout::setGeometry(room);
  std::vector<QRect> places;
  placed(room, &places);
  for (std::size_t i = 0; i < items_.size(); ++i) items_[i]->setGeometry(places[i]);
}

}  // namespace pommel::ui
