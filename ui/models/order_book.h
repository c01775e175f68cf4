// The order that the window works on: its sheet with any number of sizes side by side, undone and redone without end.
//
// Column 0 is the catalogue's and is only read here; column 1 is this order's; further columns are sizes that are tried beside it.
// What the user decides is a value (Sizes): which columns there are, and the entries of their own. Each edit is one step from one such
// value to the next, so undoing is going back to the value before, whatever the step was.
//
// Thread rule: the window's thread.
#pragma once

#include <QObject>
#include <QUndoStack>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "job/load.h"
#include "sheet/sheet.h"

namespace pommel::ui {

/// The user's own entries: by column from the order's on, by measure.
struct Sizes {
  struct Column {
    std::string name;
    std::map<std::string, std::string> own;

    bool operator==(const Column&) const = default;
  };
  std::vector<Column> columns;

  bool operator==(const Sizes&) const = default;
};

/// One cell's new entry; nothing: it takes the catalogue's again.
struct CellEdit {
  std::string measure;
  std::size_t column = 0;
  std::optional<std::string> text;
};

class OrderBook : public QObject {
  Q_OBJECT

 public:
  /// REQUIRES: `loaded` has an order; `sheet` is its settled sheet.
  OrderBook(job::Loaded loaded, sheet::Sheet sheet, QObject* parent = nullptr);

  const job::Loaded& loaded() const { return loaded_; }
  const sheet::Sheet& sheet() const { return sheet_; }
  const Sizes& sizes() const { return sizes_; }
  QUndoStack& undo() { return undo_; }

  /// How the whole window writes values; the sheet itself keeps what was typed.
  const sheet::Settings& shown() const { return shown_; }
  void show_lengths(const LengthFormat& lengths);

  /// One step, `what` in bench words for undo ("table height"). Nothing happens where nothing would change.
  /// REQUIRES: measures of the sheet, columns from the order's on.
  void edit(const QString& what, const std::vector<CellEdit>& edits);
  /// A further column with the entries of `from`; its index.
  std::size_t try_another_size(std::size_t from);
  /// REQUIRES: a column after the order's.
  void drop_size(std::size_t column);

  void set_outcomes(std::size_t column, const std::vector<std::pair<std::string, sheet::Value>>& values);

  /// The order with the entries of one column in place of its own: what a job folder is made of.
  job::Loaded order_of(std::size_t column) const;

 signals:
  /// Entries changed in these columns; their outcomes are gone.
  void edited(const std::vector<std::size_t>& columns);
  /// There are other columns than before; all outcomes but those of kept columns are gone.
  void reshaped();
  void outcomes_changed(std::size_t column);
  void shown_changed();

 private:
  friend class SizesStep;
  void become(const Sizes& sizes);
  void rebuild(const Sizes& sizes);

  job::Loaded loaded_;
  sheet::Sheet plain_;  ///< with the catalogue's entries alone
  sheet::Sheet sheet_;
  Sizes sizes_;
  sheet::Settings shown_;
  QUndoStack undo_;
};

}  // namespace pommel::ui
