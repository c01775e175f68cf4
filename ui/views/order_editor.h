// What stands at the head of an order: its papers, the machine and its cutters, how it is cut. Written into the maker's own text, as one step
// of undo; wrong entries are told here and change nothing.
#pragma once

#include <QComboBox>
#include <QDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>

#include "family/save_order.h"
#include "ui/models/order_book.h"

namespace pommel::ui {

class OrderEditor : public QDialog {
  Q_OBJECT

 public:
  /// REQUIRES: the book outlives the dialog.
  explicit OrderEditor(OrderBook& book, QWidget* parent = nullptr);

  /// What is written in the fields into the order; false, and told, where it cannot stand.
  bool take();
  QString told() const { return told_->text(); }
  /// A field by its key in the file: "client", "machine", "cutters rough" ...
  QLineEdit* line(const char* key) const { return findChild<QLineEdit*>(key); }
  QComboBox* choice(const char* key) const { return findChild<QComboBox*>(key); }

 private:
  QWidget* papers();
  QWidget* machine();
  QWidget* cutting();
  QLineEdit* add_line(QFormLayout* form, const char* key, const QString& label, const std::string& now, const QString& hint = {});
  QComboBox* add_choice(QFormLayout* form, const char* key, const QString& label, const std::vector<std::pair<QString, QString>>& choices, const std::string& now);
  std::vector<std::pair<QString, QString>> cutters(bool none) const;
  std::string now_in(const char* key) const;
  family::HeadEntries changed() const;

  OrderBook& book_;
  std::map<std::string, std::string> before_;  // what the fields showed at first, by key
  QLabel* told_;
};

}  // namespace pommel::ui
