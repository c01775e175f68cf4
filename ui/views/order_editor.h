// What stands at the head of an order: its design, its papers, the machine and its cutters, how it is cut. Written into the maker's own text, as one step
// of undo; wrong entries are told here and change nothing, and which entries another design does not know is told before it is taken. What holds where the
// order says nothing stands dim; chosen again, it goes from the text.
#pragma once

#include <QComboBox>
#include <QDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>

#include "family/save_order.h"
#include "ui/models/order_book.h"

namespace pommel::ui {

class OrderEditor : public QDialog {
  Q_OBJECT

 public:
  /// REQUIRES: book and files outlive the dialog.
  OrderEditor(OrderBook& book, const FileSystem& files, QWidget* parent = nullptr);

  /// What is written in the fields into the order; false, and told, where it cannot stand.
  bool take();
  QString told() const { return told_->text(); }
  /// Another design of the catalog, as the chooser gives it; false, and told, where the order cannot stand on it.
  bool choose_design(const std::string& id);
  /// The design that is chosen, and what the order loses by it.
  QString design_told() const { return design_->text(); }
  /// A field by its key in the file: "client", "machine", "cutters rough" ...
  QLineEdit* line(const char* key) const { return findChild<QLineEdit*>(key); }
  QComboBox* choice(const char* key) const { return findChild<QComboBox*>(key); }

 private:
  QScrollArea* groups();
  QWidget* design();
  QWidget* papers();
  QWidget* machine();
  bool refused(const std::vector<Diagnostic>& reasons);
  void ask_for_design();
  QWidget* cutting();
  QLineEdit* add_line(QFormLayout* form, const char* key, const QString& label, const std::string& now, const QString& hint = {});
  QComboBox* add_choice(QFormLayout* form, const char* key, const QString& label, const std::vector<std::pair<QString, QString>>& choices, const std::string& now);
  /// One that an order need not state: `usual` of the choices holds then.
  QComboBox* add_usual(QFormLayout* form, const char* key, const QString& label, std::vector<std::pair<QString, QString>> choices, const QString& usual);
  std::string stated(const char* key) const;
  std::vector<std::pair<QString, QString>> cutters(bool none) const;
  std::string now_in(const char* key) const;
  family::HeadEntries changed() const;

  OrderBook& book_;
  const FileSystem& files_;
  std::string design_id_;
  std::map<std::string, std::string> before_;  // what the fields showed at first, by key
  QLabel *design_, *told_;
};

}  // namespace pommel::ui
