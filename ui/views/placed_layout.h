// What a layout of ours needs beside where it places things: it keeps its items and asks for as much height as they take in a width.
#pragma once

#include <QLayout>
#include <algorithm>
#include <memory>
#include <vector>

namespace pommel::ui {

class PlacedLayout : public QLayout {
 public:
  using QLayout::QLayout;

  void addItem(QLayoutItem* item) override { items_.emplace_back(item); }
  int count() const override { return static_cast<int>(items_.size()); }
  QLayoutItem* itemAt(int i) const override { return i >= 0 && i < count() ? items_[static_cast<std::size_t>(i)].get() : nullptr; }
  QLayoutItem* takeAt(int i) override;

  bool hasHeightForWidth() const override { return true; }
  int heightForWidth(int width) const override { return placed(QRect(0, 0, width, 0), nullptr); }
  void setGeometry(const QRect& room) override;
  Qt::Orientations expandingDirections() const override { return Qt::Horizontal; }

 protected:
  /// The height that is needed; `places`, where given, gets the place of each item.
  virtual int placed(const QRect& room, std::vector<QRect>* places) const = 0;
  const std::vector<std::unique_ptr<QLayoutItem>>& items() const { return items_; }
  int gap() const { return std::max(0, spacing()); }
  /// What the margins take.
  QSize edges() const;

 private:
  std::vector<std::unique_ptr<QLayoutItem>> items_;
};

}  // namespace pommel::ui
