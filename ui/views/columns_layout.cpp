#include "ui/views/columns_layout.h"

#include <algorithm>

namespace pommel::ui {

QLayoutItem* ColumnsLayout::takeAt(int i) {
  if (!itemAt(i)) return nullptr;
  QLayoutItem* const out = items_[static_cast<std::size_t>(i)].release();
  items_.erase(items_.begin() + i);
  return out;
}

int ColumnsLayout::widest() const {
  int out = 0;
  for (const auto& item : items_) out = std::max(out, item->minimumSize().width());
  return out;
}

QSize ColumnsLayout::sizeHint() const {
  int widest = 0;
  for (const auto& item : items_) widest = std::max(widest, item->sizeHint().width());
  const QMargins edge = contentsMargins();
  const int width = most_ * (widest + spacing()) - spacing() + edge.left() + edge.right();
  return {width, heightForWidth(width)};
}

QSize ColumnsLayout::minimumSize() const {
  const QMargins edge = contentsMargins();
  return {widest() + edge.left() + edge.right(), 0};
}

int ColumnsLayout::placed(const QRect& room, std::vector<QRect>* places) const {
  const QRect inner = room.marginsRemoved(contentsMargins());
  const int gap = std::max(0, spacing()), columns = std::clamp((inner.width() + gap) / std::max(1, widest() + gap), 1, most_);
  const int width = (inner.width() - (columns - 1) * gap) / columns;
  std::vector<int> foot(static_cast<std::size_t>(columns), inner.top());
  for (const auto& item : items_) {
    const auto column = std::min_element(foot.begin(), foot.end());
    const int height = item->hasHeightForWidth() ? item->heightForWidth(width) : item->sizeHint().height();
    if (places) places->emplace_back(inner.left() + static_cast<int>(column - foot.begin()) * (width + gap), *column, width, height);
    *column += height + gap;
  }
  return *std::max_element(foot.begin(), foot.end()) - gap - room.top() + contentsMargins().bottom();
}

void ColumnsLayout::setGeometry(const QRect& room) {
  QLayout::setGeometry(room);
  std::vector<QRect> places;
  placed(room, &places);
  for (std::size_t i = 0; i < items_.size(); ++i) items_[i]->setGeometry(places[i]);
}

}  // namespace pommel::ui
