// The order that the window works on: its sheet with any number of sizes side by side, undone and redone without end.
//
// Column 0 is the catalogue's and is only read here; column 1 is this order's; further columns are sizes that are tried beside it.
// What the user decides is a value (Sizes): which columns there are, the entries of their own, and the texts of the order (what stands on its
// papers, machine, cutters) and of its design (the outline). Each edit is one step from one such value to the next, so undoing is going back to the
// value before, whatever the step was: over a design that was saved, too. What was saved stays on the disk, and what is shown is held against it by
// the design's name in the order's text: so it is unsaved again, and a revision's number is the next of those on the disk.
//
// Thread rule: the window's thread.
#pragma once

#include <QObject>
#include <QUndoStack>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/files.h"
#include "job/save_design.h"
#include "job/sources.h"
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
  std::string order;       ///< the order's text; what its `sheet:` says is of no meaning, see columns
  std::string design;      ///< the design's text
  std::string catalogued;  ///< and as the catalog had it when the order came to stand on it: what the order is held beside

  bool operator==(const Sizes&) const = default;
};

struct OtherDesign {
  std::string name;
  std::map<std::string, std::string> unknown;  ///< entries whose measures it does not have
};

/// What columns are worked out from.
struct Basis {
  std::shared_ptr<const job::Loaded> loaded;
  sheet::Sheet sheet{"catalogue"};
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
  /// REQUIRES: `loaded` has an order; `sheet` is its settled sheet; `sources` are its texts (without them only measures can be changed).
  OrderBook(job::Loaded loaded, sheet::Sheet sheet, job::Sources sources = {}, QObject* parent = nullptr);

  const job::Loaded& loaded() const { return *loaded_; }
  /// As they are on the disk: the order's file, and the design that the order as it is now is of.
  const job::Sources& sources() const { return sources_; }
  /// Of the order's columns, and of the catalogue's, which keeps the design as it is catalogued.
  Basis basis() const { return {loaded_, sheet_}; }
  Basis catalogued() const { return {catalogued_, catalogued_sheet_}; }
  /// Whether the design that is shown is another than the catalog has, so that an order that is saved would not stand on it.
  bool design_changed() const { return design_changed_; }
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

  /// Another text of the order (its sheet aside), or of its design, as one step. Nothing is changed where the text has errors or does not go with the
  /// measures: fails with all reasons. Where the order's text names another design, the order stands on that as the catalog has it; entries that
  /// other_design() says it does not know go.
  Result<Done> write_order(const QString& what, const std::string& text);
  Result<Done> write_design(const QString& what, const std::string& text);
  /// The order's text, or another one of it, naming another design of the catalog. Fails where there is none of that name.
  Result<std::string> order_of_design(const std::string& order, const std::string& design) const;
  /// What another design would be for the order and the sizes beside it. Fails where the order cannot stand on it.
  Result<OtherDesign> other_design(const std::string& id) const;
  /// Whether the order's column could be made with that text of its design: else all reasons.
  Result<Done> try_design(const std::string& text, std::size_t column) const;
  /// The maker's own note on a measure of the order, and another one; only a measure with an entry of the order's own can have one.
  QString note(const std::string& measure) const;
  Result<Done> write_note(const std::string& measure, const QString& note);
  /// The order's text as it is to be saved.
  Result<std::string> order_text() const;
  /// The design was saved: the order stands on it from now on, as one step. Undo goes back to what was shown before and leaves what was saved.
  Result<Done> design_saved(const job::SavedDesign& saved);
  /// The shop's files have changed.
  Result<Done> read_shop_again();
  /// All that an ended session had decided, as one step.
  Result<Done> take_over(const QString& what, const std::string& order, const std::string& design);

  void set_outcomes(std::size_t column, const std::vector<std::pair<std::string, sheet::Value>>& values);

  /// The order with the entries of one column in place of its own: what a job folder is made of.
  job::Loaded order_of(std::size_t column) const;

 signals:
  /// Entries changed in these columns; their outcomes are gone.
  void edited(const std::vector<std::size_t>& columns);
  /// There are other columns than before; all outcomes but those of kept columns are gone.
  void reshaped();
  /// The order's text, its design or the shop is another: so is everything that follows, and all outcomes are gone.
  void rewritten();
  void outcomes_changed(std::size_t column);
  void shown_changed();
  /// A step of undo or redo that could not be taken, and why: what is shown is what was.
  void stuck(const std::vector<pommel::Diagnostic>& reasons);

 private:
  friend class SizesStep;
  struct Ground;
  using Catalogued = std::shared_ptr<const job::DesignFile>;
  Result<Catalogued> design_of(const std::string& name) const;
  Result<Ground> ground_of(const Sizes& sizes) const;
  Result<Done> step_to(const QString& what, Sizes after);
  std::string design_named_in(const std::string& order, Sink& told) const;
  struct Standing {
    Sizes sizes;
    std::string name;  // of the design
  };
  Result<Standing> on_its_design(Sizes sizes) const;
  void become(const Sizes& sizes);
  void stand_on(Ground ground);
  void rebuild(const Sizes& sizes);
  void read_notes();

  std::unique_ptr<FileSystem> files_;
  job::Sources sources_;
  std::map<std::string, Catalogued> stood_on_;  ///< designs of this session's orders by the name that the order has for them
  bool design_changed_ = false;
  std::shared_ptr<const job::Loaded> loaded_, catalogued_;
  sheet::Sheet plain_;  ///< with the catalogue's entries alone
  sheet::Sheet catalogued_sheet_;
  sheet::Sheet sheet_;
  Sizes sizes_;
  sheet::Settings shown_;
  std::map<std::string, std::string> notes_;  ///< of sizes_.order
  QUndoStack undo_;
};

}  // namespace pommel::ui
