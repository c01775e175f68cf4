// The catalog with pictures, found by words: which design a new order is of, and what stands on its papers.
#pragma once

#include <QDialog>
#include <QLineEdit>
#include <QListWidget>

#include "base/files.h"
#include "family/save_order.h"
#include "job/load.h"

namespace pommel::ui {

class DesignChooser : public QDialog {
  Q_OBJECT

 public:
  /// The designs of the house that `loaded` stands in; machine, cutter and unit are taken from its order.
  DesignChooser(const FileSystem& files, const job::Loaded& loaded, QWidget* parent = nullptr);

  /// What was chosen. REQUIRES: a design is chosen.
  family::NewOrder order() const;
  QListWidget& designs() { return *designs_; }
  QLineEdit& words() { return *words_; }

 private:
  void fill(const FileSystem& files);
  void find(const QString& words);

  const job::Loaded& loaded_;
  QLineEdit *words_, *name_, *number_, *client_;
  QListWidget* designs_;
};

}  // namespace pommel::ui
