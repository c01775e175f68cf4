// The elements of a turning, drawn as they would stand, to be put into the outline beside the element under the hairline; that element's sizes as
// written, and the ways to move it and to take it out.
#pragma once

#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QTableWidget>
#include <QWidget>
#include <optional>

#include "ui/models/outline_editor.h"

namespace pommel::ui {

class OutlinePalette : public QWidget {
  Q_OBJECT

 public:
  explicit OutlinePalette(OrderBook& book, QWidget* parent = nullptr);

  /// What the hairline stands on: the element, the diameter at its end, its name. Nothing: no element, or one that cannot be changed, and why.
  void show_element(const std::optional<ElementAt>& at, double diameter, const QString& name, const QString& why_not);

  QListWidget& shapes() { return *shapes_; }
  QTableWidget& sizes() { return *sizes_; }
  QPushButton& button(const char* name) { return *findChild<QPushButton*>(name); }
  QString told() const { return told_->text(); }

 private:
  QPushButton* add_button(const char* name, const QString& words, std::function<Result<Done>()> run);
  void run(const std::function<Result<Done>()>& change);
  void fill_sizes();
  void take_size(int row);

  OrderBook& book_;
  std::optional<ElementAt> at_;
  double diameter_ = 0;
  QString name_;
  QListWidget* shapes_;
  QTableWidget* sizes_;
  QLabel* told_;
  std::vector<QPushButton*> buttons_;
  std::vector<std::string> size_names_;  // beside the rows
};

}  // namespace pommel::ui
