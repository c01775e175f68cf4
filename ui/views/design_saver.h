// Saving what was made of a design: as a new one of the catalog, or as its next revision.
#pragma once

#include <QCheckBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QRadioButton>

#include "ui/models/order_book.h"

namespace pommel::ui {

class DesignSaver : public QDialog {
  Q_OBJECT

 public:
  /// For one of the order's columns. REQUIRES: book and files outlive the dialog.
  DesignSaver(OrderBook& book, FileSystem& files, std::size_t column, QWidget* parent = nullptr);

  /// Writes it, and lets the order stand on it; false, and told, where that cannot be.
  bool take();
  QRadioButton& as_new() { return *as_new_; }
  QRadioButton& as_revision() { return *as_revision_; }
  QCheckBox& with_measures() { return *with_measures_; }
  QLineEdit& name() { return *name_; }
  QLineEdit& what() { return *what_; }
  QLineEdit& why() { return *why_; }
  QString told() const { return told_->text(); }

 private:
  void hold();
  Result<Done> save();

  OrderBook& book_;
  FileSystem& files_;
  std::size_t column_;
  QRadioButton *as_new_, *as_revision_;
  QCheckBox* with_measures_;
  QLineEdit *name_, *date_, *what_, *why_;
  QLabel *file_, *told_;
};

}  // namespace pommel::ui
