// Groups of fields beside and below one another: as many columns as the room is wide for, each group at the foot of the column that is shortest so far. Where letters
// are large there are fewer columns, and nothing has to be scrolled sideways.
#pragma once

#include <QLayout>
#include <memory>
#include <vector>

namespace pommel::ui {

class ColumnsLayout : public QLayout {
 public:
  /// `most`: no more columns than this, however wide.
  explicit ColumnsLayout(int most, QWidget* parent) : QLayout(parent), most_(most) {}

  void addItem(QLayoutItem* item) override { items_.emplace_back(item); }
  int count() const override { return static_cast<int>(items_.size()); }
  QLayoutItem* itemAt(int i) const override { return i >= 0 && i < count() ? items_[static_cast<std::size_t>(i)].get() : nullptr; }
  QLayoutItem* takeAt(int i) override;

  bool hasHeightForWidth() const override { return true; }
  int heightForWidth(int width) const override { return placed(QRect(0, 0, width, 0), nullptr); }
  QSize sizeHint() const override;
  /// One column.
  QSize minimumSize() const override;
  void setGeometry(const QRect& room) override;
  Qt::Orientations expandingDirections() const override { return Qt::Horizontal; }

 private:
  int widest() const;
  /// The height that is needed; `places`, where given, gets the place of each group.
  int placed(const QRect& room, std::vector<QRect>* places) const;

  int most_;
  std::vector<std::unique_ptr<QLayoutItem>> items_;
};

}  // namespace pommel::ui
