// The catalog with pictures, found by words: which design a new order is of, and what stands on its papers; or which other one an order shall be of.
#pragma once

#include <QDialog>
#include <QFormLayout>
#include <QLineEdit>
#include <QLabel>
#include <QListWidget>
#include <memory>
#include <optional>

#include "base/files.h"
#include "family/save_order.h"
#include "job/catalog.h"
#include "ui/models/newest_work.h"

namespace pommel::ui {

class DesignChooser : public QDialog {
  Q_OBJECT

 public:
  enum class For { new_order, the_order };
  /// The designs of the house that `loaded` stands in; machine, cutter and unit of a new order are taken from its order, whose design is the one that is shown first
  /// where another is wanted for that order itself. REQUIRES: `files` outlives the dialog.
  DesignChooser(const FileSystem& files, const job::Loaded& loaded, QWidget* parent = nullptr, For wanted = For::new_order);

  /// What was chosen. REQUIRES: a design is chosen.
  std::string design() const;
  family::NewOrder order() const;
  QListWidget& designs() { return *designs_; }
  QLineEdit& words() { return *words_; }
  QLineEdit& measures() { return *measures_; }
  /// Hides, when they have been tried in the background, the designs that would not do with what is written in measures(): "table_height = 750 mm; thinnest_diameter >= 28 mm".
  void find_by_measures();
  QString told() const { return told_->text(); }
  bool busy() const { return busy_; }

 private:
  QFormLayout* papers();
  void fill(const FileSystem& files);
  void point_at(const std::string& design);
  void find(const QString& words);

  void take(const std::vector<std::optional<QString>>& why_not, bool wished);

  const FileSystem& files_;
  const job::Loaded& loaded_;
  std::shared_ptr<const job::CatalogTrials> trials_;  ///< from the first question on
  QString asked_;
  bool busy_ = false;
  QLineEdit *words_, *measures_, *name_, *number_, *client_;
  QLabel* told_;
  NewestWork worker_{*this};  // last: it goes first
  QListWidget* designs_;
};

}  // namespace pommel::ui
