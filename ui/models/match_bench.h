// An existing turning on the bench: its readings, perhaps a drawing or a scan of it, and what was recognised of them.
//
// After each edit all is recognised again in a thread of its own; the newest request stops the one before, within some tens of milliseconds, and nothing waits. What was seen before stays
// to be looked at, and says that it is stale. What the maker knows better about elements stands in the table as rows with notes (match/notes.h), so it is
// seen, undone and saved like the readings.
//
// Thread rule: the window's thread.
#pragma once

#include <QObject>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "job/match_input.h"
#include "match/recognise.h"
#include "ui/models/newest_work.h"
#include "ui/models/readings_model.h"

namespace pommel::ui {

/// How numbers without a unit, squares and uncertainties are taken.
struct MatchHow {
  job::MatchInput input;   ///< unit: of plain numbers in the table; the file is not looked at
  std::string drawn_unit;  ///< of a drawing or scan; empty: as its file says
  bool as_read = false;    ///< no round numbers and repeated sizes
};

/// A drawing or a scan, as its file had it when it was opened; a file that was changed since is opened again.
struct DrawnSource {
  std::filesystem::path file;
  std::shared_ptr<const std::string> bytes;
};

/// What was recognised, ready to be shown.
struct Fitted {
  job::MatchRead read;
  match::Recognition found;
  std::vector<shape::Pieces> pieces;  ///< of each element; places from the head
  std::vector<double> off;            ///< of each measure, mm square to the outline, outside above 0; not a number on squares and past the ends
};

class MatchBench : public QObject {
  Q_OBJECT

 public:
  explicit MatchBench(QObject* parent = nullptr);

  ReadingsModel& readings() { return readings_; }
  const MatchHow& how() const { return how_; }
  void take_how(MatchHow how);
  const DrawnSource* drawn() const { return drawn_.get(); }
  /// How often a drawing or scan was read for what was answered last: an edit of the readings beside it reads none.
  int drawn_was_read() const { return drawn_was_read_; }

  /// A file of readings goes into the table, as one step; any other form is laid on the bench as the drawing. Fails, and changes nothing, with the
  /// disk's reasons and those of a table's form.
  Result<Done> open(const FileSystem& files, const std::filesystem::path& file);
  void put_drawn_away();
  /// Nobody looks any more: what is being recognised is stopped. wake() goes on with it.
  void rest();
  void wake();

  /// What was recognised last; nullptr before the first time.
  std::shared_ptr<const Fitted> fitted() const { return fitted_; }
  /// Whether that is of the readings as they are now.
  bool stale() const { return stale_; }
  bool working() const { return working_; }
  /// What stands in the way; empty when nothing does. Those of cells stand in the table, too.
  const std::vector<Diagnostic>& problems() const { return problems_; }
  /// What could be read, to be shown where nothing was recognised yet.
  const job::MatchRead& read() const { return read_; }
  const std::vector<match::Measure>& measures() const { return read_.measures; }
  /// The readings as a file that is read again as they are here.
  std::string text_to_save() const;

  /// The table's row at a place; nothing for a place in the drawing or elsewhere.
  static std::optional<int> row_of(const Place& place);

  /// The element is to stay as it is: its edges and its kind. This and the next three are rows of the table, one step. REQUIRES: fitted(), an element of it.
  void pin(std::size_t element);
  /// An edge at x, mm from the head.
  void split(double x);
  /// The element and the one after it are one.
  void merge_with_next(std::size_t element);
  void change_kind(std::size_t element, const std::string& word);

 signals:
  void changed();

 private:
  struct Answer {
    std::vector<Diagnostic> problems;
    job::MatchRead read;
    std::shared_ptr<const Fitted> fitted;
    int drawn_was_read = 0;
  };
  static Answer answer(const MatchHow& how, const DrawnSource* drawn, job::ReadOnce& kept, const std::string& table, std::stop_token stop);
  void ask();
  void take(const Answer& answer);
  void show_rows();
  ReadingsModel::Row note_at(double x, const QString& note) const;
  void note(const QString& what, const ReadingsModel::Rows& added, double from, double to, const QString& instead);

  ReadingsModel readings_;
  MatchHow how_;
  bool stale_ = false, working_ = false, resting_ = false;
  std::shared_ptr<const DrawnSource> drawn_;
  std::shared_ptr<const Fitted> fitted_;
  std::vector<Diagnostic> problems_;
  job::MatchRead read_;
  int drawn_was_read_ = 0;
  job::ReadOnce drawn_read_;  // the worker's alone
  NewestWork work_;           // last: its worker ends before what it uses
};

}  // namespace pommel::ui
