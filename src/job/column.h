// A column of the sheet taken through the rooms: the set, the blanks, the cut list, the turnings, the quote.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <utility>
#include <vector>

#include "family/family.h"
#include "job/joints.h"
#include "job/load.h"
#include "job/turning.h"
#include "quote/quote.h"
#include "rules/piece.h"
#include "sheet/sheet.h"
#include "stock/blank.h"
#include "stock/cut_list.h"

namespace pommel::job {

/// Called as a stage begins: "mill", "the order"; from the thread that runs the job.
using Progress = std::function<void(const std::string& stage, const std::string& of)>;

struct StageTime {
  std::string stage, of;
  double seconds = 0;
};

struct Options {
  std::stop_token stop;
  Progress progress;                       ///< may be empty
  std::vector<StageTime>* times = nullptr; ///< appended to when given
  TurningMemo* memo = nullptr;             ///< kept from one call to the next when given
  bool boards = true;                      ///< false: for a quick look no cutting plan is made, and outcomes that hang on it are absent
};

struct Column {
  family::Made made;
  std::vector<stock::TurnedBlanks> blanks;                ///< beside made.pieces
  stock::CutList cuts;
  std::vector<rules::PieceReport> reports;                ///< beside made.pieces; empty lines where the wood's figures do not cover the room
  std::vector<std::string> rule_lines;                    ///< movement, strength and bond of pieces, rails and glue-ups, in words
  std::vector<TurningRequest> requests;                   ///< one for each distinct turning
  std::vector<std::shared_ptr<const Turning>> turnings;   ///< beside it
  std::vector<JointWork> joints;                          ///< one for each kind of Set::jointed_kinds that has joints
  quote::Work work;
  quote::Quote quote;
  std::vector<std::pair<std::string, sheet::Value>> outcomes;  ///< for the sheet's foot and the checks

  std::optional<frame::LoadReport> load;                  ///< where a published load is known for the frame and the wood's strength is
  double thinnest_diameter = 0, least_wall = 0, board_feet = 0;
  int hand_places = 0;
  double minutes_each = 0;  ///< of one turned piece, the mean of all
  double joint_minutes = 0; ///< of all pieces together
  int cutter_changes = 0;   ///< of all pieces together; each is turned and jointed in one hold, then its first cutter comes back for the next
  int bench_joints = 0;     ///< mortises and bores of all pieces that are left to the bench

  /// Which of made.pieces a turning is of.
  std::size_t piece_of_turning(std::size_t turning) const;
};

/// Runs frame, stock, mill and quote for one column of the settled sheet. Fails with the reasons of the stage that could not go on.
Result<Column> run_column(const Loaded& loaded, const sheet::Sheet& sheet, std::size_t column, const Options& options);

/// The outcomes that are known before mill and quote.
std::vector<std::pair<std::string, sheet::Value>> outcomes_to_stock(const Column& column);

/// Only the stages before mill, for `pommel solid` and quick looks: made, blanks, cuts.
Result<Column> run_to_stock(const Loaded& loaded, const sheet::Sheet& sheet, std::size_t column, const Options& options);

/// The boards of a column that was run to the stock without them (Options::boards false): then it is as if it had been run with them.
Result<Done> add_boards(const Loaded& loaded, const sheet::Sheet& sheet, Column& column);

}  // namespace pommel::job
