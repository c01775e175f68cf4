// The set-up text that goes with a program: what a maker reads at the machine before pressing start. Plain text, 80
// columns; our own words are ASCII, the maker's pass through as they are. The same fields give the same bytes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "shop/shop.h"

namespace pommel::program {

/// A stretch along the piece where the cutter must not go.
struct KeepOut {
  std::string what;         ///< "chuck jaws"
  double from = 0, to = 0;  ///< mm from the head
};

/// One run of the program.
struct StageTime {
  std::string name;
  double minutes = 0;
  int line = 0;  ///< of the program's text where it begins, from 1; 0: not said
};

/// A cutter that the program brings after the first.
struct FurtherCutter {
  std::string label;
  double diameter = 0, stick_out = 0, rpm = 0;
};

/// A level place in the waste of a round blank, square to face A's direction.
struct WitnessFlat {
  double from = 0, to = 0;  ///< mm from the head
  double width = 0;         ///< mm across, at least
  double height = 0;        ///< mm above the axis
};

/// Plain fields; lengths in mm, times in minutes. Empty text and empty lists leave their lines out.
struct SetupSheet {
  std::string program;       ///< file name of the program
  std::string order, piece;  ///< "harvest table", "leg, turned"
  std::string pieces;        ///< which pieces it cuts: "5 pieces: four legs and a spare"
  std::string date;
  std::string cutter;  ///< what the maker calls it
  double cutter_diameter = 0;
  double stick_out = 0;  ///< tip to collet nut
  double rpm = 0;
  std::vector<FurtherCutter> further;  ///< in their order
  std::string blank;  ///< wood and make: "cherry, from 12/4 rough"
  double blank_length = 0;
  double blank_width = 0, blank_thickness = 0;
  std::string waste_goes = "after turning";  ///< when the waste at both ends is cut off
  double head_waste = 0, foot_waste = 0;  ///< of the blank's length, before x = 0 and behind the foot
  bool square = false;                    ///< the blank's section: its faces stay in the waste beside the chuck
  std::optional<WitnessFlat> witness = {};  ///< of a round blank, where its waste has room for one
  std::string rings;                      ///< a wish for the grain: "rings from corner to corner"
  double clear_height = 0;                ///< z at which the cutter crosses the piece, above the rotary axis
  std::vector<KeepOut> keep_outs;
  std::vector<StageTime> stages;
  double minutes = 0;                 ///< estimated for one piece
  double change_minutes = 0;          ///< on top of them for each change of cutter
  std::vector<std::string> order_of_work;  ///< what comes before and after, and why
  std::vector<std::string> bench;     ///< work left for the bench: mortises, quirks
  std::vector<std::string> checked;   ///< what the check of the text found
  std::vector<std::string> warnings;  ///< of this job
};

/// The text, in the order a maker needs it: what it is for, machine, cutter, blank, zero with the drawing of the
/// rotary, keep-outs, running, bench work, what was and was not checked, cautions. An unconfirmed machine is called an
/// example at the top. `format` shows lengths; millimetres are added in brackets where it does not.
std::string setup_text(const SetupSheet& sheet, const shop::Machine& machine, const LengthFormat& format = {});

}  // namespace pommel::program
