#include "ui/views/placed_layout.h"

namespace pommel::ui {

QLayoutItem* PlacedLayout::takeAt(int i) {
  if (!itemAt(i)) return nullptr;
  QLayoutItem* const out = items_[static_cast<std::size_t>(i)].release();
  items_.erase(items_.begin() + i);
  return out;
}

void PlacedLayout::setGeometry(const QRect& room) {
  QLayout::setGeometry(room);
  std::vector<QRect> places;
  placed(room, &places);
  for (std::size_t i = 0; i < items_.size(); ++i) items_[i]->setGeometry(places[i]);
}

QSize PlacedLayout::edges() const {
  const QMargins edge = contentsMargins();
  return {edge.left() + edge.right(), edge.top() + edge.bottom()};
}

}  // namespace pommel::ui
