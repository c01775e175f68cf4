// The catalog with pictures, found by words: which design a new order is of, and what stands on its papers.
#pragma once

#include <QDialog>
#include <QLineEdit>
#include <QLabel>
#include <QListWidget>
#include <optional>

#include "base/files.h"
#include "family/save_order.h"
#include "job/catalog.h"

namespace pommel::ui {

class DesignChooser : public QDialog {
  Q_OBJECT

 public:
  /// The designs of the house that `loaded` stands in; machine, cutter and unit are taken from its order. REQUIRES: `files` outlives the dialog.
  DesignChooser(const FileSystem& files, const job::Loaded& loaded, QWidget* parent = nullptr);

  /// What was chosen. REQUIRES: a design is chosen.
  family::NewOrder order() const;
  QListWidget& designs() { return *designs_; }
  QLineEdit& words() { return *words_; }
  QLineEdit& measures() { return *measures_; }
  /// Hides the designs that would not do with what is written in measures(): "table_height = 750 mm; thinnest_diameter >= 28 mm".
  void find_by_measures();
  QString told() const { return told_->text(); }

 private:
  void fill(const FileSystem& files);
  void find(const QString& words);

  std::optional<QString> why_not(const std::string& id, const std::vector<job::Condition>& wished);

  const FileSystem& files_;
  const job::Loaded& loaded_;
  std::optional<job::CatalogTrials> trials_;  ///< from the first question on
  QLineEdit *words_, *measures_, *name_, *number_, *client_;
  QLabel* told_;
  QListWidget* designs_;
};

}  // namespace pommel::ui
