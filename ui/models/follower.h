// Works out what follows from the measures, off the window's thread, in the order in which a maker wants to see it: first the piece and
// its frame (milliseconds), then blank, time and price, then the cut check of the program's own text.
//
// The newest request wins: an older one is asked to stop, and what it still says is thrown away. Nothing here waits for the worker but the
// destructor, so typing is never held up. What was planned or checked once is at hand when the same measures come back (undo).
#pragma once

#include <QObject>
#include <map>
#include <memory>
#include <optional>

#include "job/column.h"
#include "job/load.h"
#include "ui/models/newest_work.h"
#include "ui/models/order_book.h"

namespace pommel::ui {

/// The pieces and the frame, before anything is milled; nothing and the reasons where the measures make none.
struct Sketched {
  std::size_t column = 0;
  std::shared_ptr<const family::Made> made;
  std::vector<Diagnostic> reasons;
};

/// All but the check.
struct Followed {
  std::size_t column = 0;
  std::shared_ptr<const job::Column> result;
  std::vector<Diagnostic> reasons;
};

/// One turning's programs and their proof.
struct CheckedTurning {
  std::string piece;  ///< "leg"
  std::shared_ptr<const job::Programs> programs;  ///< of one judgement; nothing where they could not be written or read
  std::vector<Diagnostic> reasons;
};

struct Checked {
  std::size_t column = 0;
  std::vector<CheckedTurning> turnings;
};

class Follower : public QObject {
  Q_OBJECT

 public:
  using QObject::QObject;

  /// Begins again with copies: the catalogue's column is worked out from `catalogued`, the others from `order`. Answers come in the window's thread:
  /// sketched() and followed() for each column, then checked() for `check`, then rested().
  void follow(Basis order, Basis catalogued, std::vector<std::size_t> columns, std::optional<std::size_t> check);
  /// Gives up what is going on; no answer comes any more.
  void give_up() { worker_.give_up(); }

 signals:
  void sketched(std::shared_ptr<const pommel::ui::Sketched> answer);
  void followed(std::shared_ptr<const pommel::ui::Followed> answer);
  void checked(std::shared_ptr<const pommel::ui::Checked> answer);
  void rested();

 private:
  struct Request {
    Basis order, catalogued;
    std::vector<std::size_t> columns;
    std::optional<std::size_t> check;
    const Basis& of(std::size_t column) const { return column == family::kCatalogue ? catalogued : order; }
  };
  void answer(const Request& request, const NewestWork::Asked& asked);
  std::shared_ptr<const Sketched> sketch(const Request& request, std::size_t column) const;
  std::shared_ptr<const Checked> check(const Request& request, const NewestWork::Asked& asked, const job::Column& column, std::size_t index);

  job::TurningMemo memo_;                                                    // the worker's
  std::map<std::string, std::shared_ptr<const job::Programs>> known_checks_;  // the worker's
  NewestWork worker_{*this, NewestWork::Pace::behind};                       // last: it goes first
};

}  // namespace pommel::ui
