// The wood at moments while a program cuts it, for looking at: the check's own simulation on a coarse grid, stopped now and then. It judges nothing.
#pragma once

#include <stop_token>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "motion/motion.h"
#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::proof {

struct WoodState {
  int line = 0;          ///< of the text, the last that has been cut; 0: nothing has
  double minutes = 0;    ///< of feed so far, as the text says
  double x = 0, height = 0, degrees = 0;  ///< of the cutter's tip: mm from the head, mm above the axis; the wood's direction under it
  std::size_t cutter = 0;                 ///< into CutStates::cutters
  std::vector<float> radius;              ///< mm from the axis, rows * columns, row by row; column j looks along 360 j / columns degrees
};

struct CutStates {
  std::vector<double> x;   ///< of the rows, growing, mm from the head
  int columns = 0;
  double minutes = 0;      ///< all of it
  std::vector<shop::Cutter> cutters;
  std::vector<WoodState> states;  ///< from the whole blank to the end, evenly in time

  /// Index of the last state that is no later; REQUIRES: states.
  std::size_t at_minutes(double minutes) const;
  std::size_t at_line(int line) const;
};

/// `count` (2 to 1000) states. Of several texts that cut one piece in turn the lines are counted through, as though they stood one after the other.
/// Failures as proof::prove_in_turn(), "cancelled" among them. REQUIRES: at least one text; part and blank have no problems.
Result<CutStates> cut_states(const std::vector<std::string_view>& texts, const shape::Part& turned, const shape::Blank& blank, const std::vector<shop::Cutter>& cutters,
                             const shop::Machine& machine, int count, std::stop_token stop);

/// The same for motions that are already there. REQUIRES: not empty.
Result<CutStates> cut_states_of(const std::vector<motion::Path>& paths, const shape::Part& turned, const shape::Blank& blank, const std::vector<shop::Cutter>& cutters,
                                int count, std::stop_token stop);

}  // namespace pommel::proof
