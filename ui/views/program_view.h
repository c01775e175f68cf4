// A checked program, line by line: its passes with cutter and time, its text, and what the check found; a line is found on the piece by the
// hairline, and the place under the hairline in the text.
#pragma once

#include <QAbstractListModel>
#include <QLabel>
#include <QListView>
#include <QTableWidget>
#include <QWidget>
#include <memory>
#include <string_view>
#include <vector>

#include "job/line_places.h"
#include "job/turning.h"
#include "ui/views/length_axis.h"

namespace pommel::ui {

/// The text's lines without a copy of them: programs run to hundreds of thousands.
class LinesModel : public QAbstractListModel {
  Q_OBJECT

 public:
  using QAbstractListModel::QAbstractListModel;
  void show(std::shared_ptr<const job::Programs> programs);
  int rowCount(const QModelIndex& parent = {}) const override { return parent.isValid() ? 0 : static_cast<int>(lines_.size()); }
  QVariant data(const QModelIndex& at, int role) const override;
  /// Of a row, as the text itself counts its lines; of several files with the file's before it, "2/114".
  QString number(int row) const;

 private:
  std::shared_ptr<const job::Programs> programs_;
  std::vector<std::string_view> lines_;  ///< of all files, one after the other
  std::vector<int> before_;              ///< of each file: lines that stand before its own
};

class ProgramView : public QWidget {
  Q_OBJECT

 public:
  /// A window of its own over `parent`. REQUIRES: the axis outlives it.
  ProgramView(LengthAxis& axis, QWidget* parent);

  /// nullptr: there is no program yet. Lines of several files are counted through; each is shown with its file and the number it has there.
  void show_program(std::shared_ptr<const job::Programs> programs, const shop::Machine& machine, const QString& piece, const LengthFormat& lengths);
  void go_to_line(int line);
  /// The next line after the current one that passes the hairline; false when there is none.
  bool find_hairline();
  int line() const { return text_->currentIndex().row() + 1; }
  QString told() const { return told_->text(); }
  QLabel& verdict_shown() { return *verdict_; }
  QTableWidget& passes() { return *passes_; }

 signals:
  /// Gone to by the hand.
  void line_chosen(int line);

 private:
  void tell_line();
  void fill_passes();
  QString verdict() const;

  LengthAxis& axis_;
  LinesModel* lines_;
  QListView* text_;
  QTableWidget* passes_;
  QLabel *verdict_, *told_;
  std::shared_ptr<const job::Programs> programs_;
  job::LinePlaces places_;
  LengthFormat lengths_;
};

}  // namespace pommel::ui
