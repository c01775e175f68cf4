// Buttons beside one another, going on below where the room is not wide enough. The last one stands at the right.
#pragma once

#include <QLayout>
#include <memory>
#include <vector>

namespace pommel::ui {

class RowsLayout : public QLayout {
 public:
  using QLayout::QLayout;

  void addItem(QLayoutItem* item) override { items_.emplace_back(item); }
  int count() const override { return static_cast<int>(items_.size()); }
  QLayoutItem* itemAt(int i) const override { return i >= 0 && i < count() ? items_[static_cast<std::size_t>(i)].get() : nullptr; }
  QLayoutItem* takeAt(int i) override;

  bool hasHeightForWidth() const override { return true; }
  int heightForWidth(int width) const override { return placed(QRect(0, 0, width, 0), nullptr); }
  /// All in one row.
  QSize sizeHint() const override;
  /// One below the other.
  QSize minimumSize() const override;
  void setGeometry(const QRect& room) override;
  Qt::Orientations expandingDirections() const override { return Qt::Horizontal; }

 private:
  /// The height that is needed; `places`, where given, gets the place of each.
  int placed(const QRect& room, std::vector<QRect>* places) const;

  std::vector<std::unique_ptr<QLayoutItem>> items_;
};

}  // namespace pommel::ui
