// What follows from the measures, to be read: what is different from the catalogue and what the cut check found; the wood, its cut list and the cutting
// plan drawn; the price line by line.
#pragma once

#include <QLabel>
#include <QPlainTextEdit>
#include <QSvgRenderer>
#include <QTabWidget>
#include <QTableWidget>
#include <memory>

#include "job/column.h"

namespace pommel::ui {

/// The cutting plan as wide as the widget, in its own proportion.
class PlanPicture : public QWidget {
  Q_OBJECT

 public:
  explicit PlanPicture(QWidget* parent = nullptr);
  void show_plan(const QByteArray& svg);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

 private:
  void take_height();

  QByteArray svg_;
  QSvgRenderer drawing_;
};

class FollowsView : public QTabWidget {
  Q_OBJECT

 public:
  explicit FollowsView(QWidget* parent = nullptr);

  void show_differences(const QString& text);
  /// nullptr: not worked out yet; what is seen says so.
  void show_column(std::shared_ptr<const job::Column> column, const LengthFormat& lengths);
  QString told() const { return told_->toPlainText(); }
  QTableWidget& cut_list() { return *cut_list_; }
  QTableWidget& price() { return *price_; }
  PlanPicture& plan() { return *plan_; }

 private:
  void fill_wood();
  void fill_price();

  QPlainTextEdit* told_;
  QTableWidget *cut_list_, *price_;
  QLabel* bought_;
  PlanPicture* plan_;
  std::shared_ptr<const job::Column> column_;
  LengthFormat lengths_;
};

}  // namespace pommel::ui
