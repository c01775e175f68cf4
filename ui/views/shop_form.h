// A file of the shop as a form: its figures under a drawing in which the one that is being typed is shown. What the maker wrote beside them stays. What holds
// where the file says nothing stands dim in its field: typing states it in the file, an empty field takes it out again.
//
// A file that has not been confirmed makes papers and programs say "example". Confirming is an act of its own: it is never ticked by the form, and
// another figure takes it back.
#pragma once

#include <QCheckBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <filesystem>
#include <vector>

#include "base/files.h"
#include "job/shop_files.h"

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
};
struct FormGroup {
  QString title;
  std::vector<FormField> fields;
};

class ShopForm : public QDialog {
  Q_OBJECT

 public:
  /// Fields that the file does not state are left out where nothing is usual. `act`: what whoever confirms says. REQUIRES: files outlives the form.
  ShopForm(FileSystem& files, std::filesystem::path file, const QString& title, const std::vector<FormGroup>& groups, FormDrawing* drawing, job::ShopKeys confirmed,
           const QString& act, QWidget* parent = nullptr);

  /// Writes the file; false, and told, where it cannot be.
  bool take();
  /// A field by its last key; of a list the key and the index: "swing", "x 0".
  QLineEdit* line(const char* key) const { return findChild<QLineEdit*>(key); }
  QCheckBox& confirmed() { return *confirmed_; }
  QString told() const { return told_->text(); }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  struct Line {
    FormField field;
    QLineEdit* edit;
    std::string before;
  };
  QWidget* group_of(const FormGroup& group);

  FileSystem& files_;
  std::filesystem::path file_;
  std::string text_;
  FormDrawing* drawing_;
  job::ShopKeys confirmed_keys_;
  std::vector<Line> lines_;
  QCheckBox* confirmed_;
  QLabel* told_;
};

}  // namespace pommel::ui
