#include "ui/views/columns_layout.h"

#include <algorithm>

namespace pommel::ui {

int ColumnsLayout::widest() const {
  int out = 0;
  for (const auto& item : items()) out = std::max(out, item->minimumSize().width());
  return out;
}

QSize ColumnsLayout::sizeHint() const {
  int widest = 0;
  for (const auto& item : items()) widest = std::max(widest, item->sizeHint().width());
  const int width = most_ * (widest + gap()) - gap() + edges().width();
  return {width, heightForWidth(width)};
}

QSize ColumnsLayout::minimumSize() const {
  return {widest() + edges().width(), 0};
}

int ColumnsLayout::placed(const QRect& room, std::vector<QRect>* places) const {
  const QRect inner = room.marginsRemoved(contentsMargins());
  const int gap = this->gap(), columns = std::clamp((inner.width() + gap) / std::max(1, widest() + gap), 1, most_);
  const int width = (inner.width() - (columns - 1) * gap) / columns;
  std::vector<int> foot(static_cast<std::size_t>(columns), inner.top());
  for (const auto& item : items()) {
    const auto column = std::min_element(foot.begin(), foot.end());
    const int height = item->hasHeightForWidth() ? item->heightForWidth(width) : item->sizeHint().height();
    if (places) places->emplace_back(inner.left() + static_cast<int>(column - foot.begin()) * (width + gap), *column, width, height);
    *column += height + gap;
  }
  return *std::max_element(foot.begin(), foot.end()) - gap - room.top() + contentsMargins().bottom();
}

}  // namespace pommel::ui
