// A file of the shop as a form: its figures under a drawing in which the one that is being typed is shown. What the maker wrote beside them stays. What holds
// where the file says nothing stands dim in its field: typing states it in the file, an empty field takes it out again. What stands in it is ShopEntries' value, so
// undo works as it does there: on the whole form, whichever field has the keys, and the field that changes shows itself.
//
// A file that has not been confirmed makes papers and programs say "example". Confirming is an act of its own: it is never ticked by the form but where undo goes back
// to figures that were confirmed, and another figure takes it back.
#pragma once

#include <QCheckBox>
#include <QComboBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <utility>
#include <vector>

#include "ui/models/shop_entries.h"

class QDialogButtonBox;
class QFormLayout;
class QScrollArea;

namespace pommel::ui {

/// A drawing that can show one of its parts.
class FormDrawing : public QWidget {
  Q_OBJECT

 public:
  using QWidget::QWidget;
  void show_part(const QString& part, const QString& value);

 protected:
  const QString& part() const { return part_; }
  const QString& value() const { return value_; }

 private:
  QString part_, value_;
};

struct FormField {
  QString label;
  job::ShopKeys keys;
  QString part;  ///< of the drawing
  QString usual{};  ///< what holds where the file does not state it; empty: it must
  std::vector<std::pair<QString, QString>> choices{};  ///< as the file says it, and in bench words; none: a text
  bool lines = false;  ///< a list of program lines
};
struct FormGroup {
  QString title;
  std::vector<FormField> fields;
};

class ShopForm : public QDialog {
  Q_OBJECT

 public:
  /// Reads the file into `entries`. Fields that the file does not state are left out where nothing is usual. `act`: what whoever confirms says. REQUIRES: entries
  /// outlives the form.
  ShopForm(ShopEntries& entries, const QString& title, const std::vector<FormGroup>& groups, FormDrawing* drawing, const QString& act, QWidget* parent = nullptr);

  /// Writes the file; false, and told beside the fields and at the foot, where it cannot be.
  bool take();
  /// What is not written is given up, as one step that can be undone when the form is opened again.
  void reject() override;
  /// A field by its keys within the file or the machine: "swing", "rapid x", "travel x 0".
  QLineEdit* line(const char* keys) const { return findChild<QLineEdit*>(keys); }
  QComboBox* choice(const char* keys) const { return findChild<QComboBox*>(keys); }
  QPlainTextEdit* program_lines(const char* keys) const { return findChild<QPlainTextEdit*>(keys); }
  QCheckBox& confirmed() { return *confirmed_; }
  QString told() const { return told_->text(); }
  /// What stands beside a field that is not right; empty where nothing does.
  QString told_beside(const char* keys) const;
  ShopEntries& entries() { return entries_; }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  struct Row {
    FormField field;
    QWidget* edit;
    QLabel* wrong;  // below it
  };
  QWidget* group_of(const FormGroup& group);
  QWidget* edit_of(const FormField& field, std::size_t entry);
  QWidget* line_of(const FormField& field, std::size_t entry);
  QWidget* choice_of(const FormField& field, std::size_t entry);
  QWidget* lines_of(const FormField& field, std::size_t entry);
  QDialogButtonBox* buttons();
  void edited(std::size_t entry, const QString& value, bool typed);
  void show_entries();
  bool show_entry(std::size_t entry);
  void show_row(const Row& row);
  void show_where();
  void show_wrong(const std::vector<Diagnostic>& reasons);
  void show_menu(QLineEdit& edit, const QPoint& at);

  ShopEntries& entries_;
  FormDrawing* drawing_;
  QScrollArea* scroll_;
  QAction *undo_, *redo_;
  std::vector<Row> rows_;  // one for each entry
  QCheckBox* confirmed_;
  QLabel* told_;
  bool showing_ = false;  // what changes in a field is not typed
};

}  // namespace pommel::ui
