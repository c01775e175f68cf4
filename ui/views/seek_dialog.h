// "Find the measure that gives ...": a figure that is wished, the measure that may move, and what comes out.
#pragma once

#include <QComboBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <optional>

#include "ui/models/order_book.h"
#include "ui/models/seeker.h"

namespace pommel::ui {

class SeekDialog : public QDialog {
  Q_OBJECT

 public:
  /// For one column of the book, which outlives the dialog. `wished`: the row that is looked at, proposed first.
  SeekDialog(OrderBook& book, std::size_t column, const std::string& wished, QWidget* parent = nullptr);

  QComboBox& wished() { return *wished_; }
  QComboBox& moving() { return *moving_; }
  QLineEdit& value() { return *value_; }
  void find();
  /// Takes what was found into the sheet, as one step of undo.
  void take();
  bool busy() const { return seeker_.busy(); }
  QString told() const { return told_->text(); }

 private:
  void fill(const std::string& wished);
  void tell_now();

  OrderBook& book_;
  std::size_t column_;
  Seeker seeker_;
  QComboBox *wished_, *moving_;
  QLineEdit* value_;
  QLabel *now_, *told_;
  QPushButton *find_, *take_;
  std::string moved_;
  std::optional<sheet::Sought> sought_;
};

}  // namespace pommel::ui
