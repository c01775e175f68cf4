// One order: the piece across the top, the measures and what follows below it, problems in plain words at the foot.
#pragma once

#include <QLabel>
#include <QMainWindow>
#include <QTableView>
#include <memory>

#include "job/load.h"
#include "ui/models/follower.h"
#include "ui/models/sheet_model.h"
#include "ui/views/leg_strip.h"

namespace pommel::ui {

class OrderWindow : public QMainWindow {
  Q_OBJECT

 public:
  /// REQUIRES: `loaded` has an order and outlives the window; `sheet` is its sheet, without errors.
  OrderWindow(const job::Loaded& loaded, sheet::Sheet sheet, QWidget* parent = nullptr);

  SheetModel& model() { return *model_; }
  /// Whether all that was asked has been answered.
  bool settled() const { return waiting_ == 0; }

 signals:
  /// Everything shown is up to date again.
  void followed_up();

 private:
  void ask(std::vector<std::size_t> columns);
  void take(const Followed& answer);
  void say(const QStringList& problems, const QString& otherwise);

  SheetModel* model_;
  Follower* follower_;
  LegStrip* strip_;
  QTableView* grid_;
  QLabel* foot_;
  std::size_t waiting_ = 0;
};

}  // namespace pommel::ui
