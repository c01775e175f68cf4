// A sound program harmed in each of thirty-odd ways. Each must be caught, as a failure to read or as a fault, or stand in the table with the
// reason why nobody can tell it from the text. The table is printed.
#include "mutations.h"

#include "base/number.h"

namespace pommel::proof {
namespace {

using namespace testing;

constexpr int kPasses = 250;

// For a machine with its rotary in degrees, G93, finishing a rod of 20 mm from a round blank of 46 mm. Lines are as a shop has them: one
// statement each, so that a line can be dropped or doubled.
std::string sound_text() {
  std::string all = "%\n(cutter: ball)\nG21 G90 G17 G40 G54\nM6 T1\nS12000 M3\nG4 P4\nG0 Z30.\nG0 X-4. A0.\nG93\n(stage: finish)\n";
  for (int i = 0; i < kPasses; ++i) {
    all += "G0 A" + format_fixed(-i * 1.44, 3) + "\nG1 Z20.000 F200.\nG1 X64.000 F29.4118\nG0 Z30.\nG0 X-4.\n";
  }
  return all + "M5\nM30\n%\n";
}

std::vector<Mutation> mutations() {
  const char* mid = "A-180.000";
  return {
      {"a digit of a depth, 20 to 10", swap("Z20.000", "Z10.000", mid), {}},
      {"a digit of a depth, 20.000 to 19.950", swap("Z20.000", "Z19.950", mid), {}},
      {"a digit of a length, 64 to 54", swap("X64.000", "X54.000", mid), {}},
      {"a digit of a rapid height, 30 to 20", swap("Z30.", "Z20.", mid), {}},
      {"a digit of an angle, 180 to 170", swap("A-180.000", "A-170.000"), {}},
      {"a digit of a feed, 29 to 92", every("F29.4118", "F92.4118"), {}},
      {"the sign of a depth", swap("Z20.000", "Z-20.000", mid), {}},
      {"the sign of an angle", swap("A-180.000", "A180.000"), {},
       "180 and -180 degrees are one direction, reached by another way round"},
      {"the sign of an angle, elsewhere", swap("A-90.720", "A90.720"), {}},
      {"the sign of a start", swap("X-4.", "X4.", mid), {}},
      {"a flat cut over the stub, beside the head", swap("M5\n", "G0 A0.\nG1 Z17.000 F200.\nG0 Z30.\nM5\n"), {}},
      {"a decimal point moved in a depth", swap("Z20.000", "Z2.0000", mid), {}},
      {"a decimal point lost in a length", swap("X64.000", "X64000", mid), {}},
      {"a decimal point doubled", swap("X64.000", "X64.0.00", mid), {}},
      {"a line dropped: the plunge", swap("G1 Z20.000 F200.\n", "", mid), {}},
      {"a line dropped: the pass", swap("G1 X64.000 F29.4118\n", "", mid), {}},
      {"a line dropped: the lift", swap("G0 Z30.\n", "", mid), {}},
      {"a line dropped: the turn", swap("G0 A-180.000\n", "", ""), {}},
      {"a line doubled: the lift", swap("G0 Z30.\n", "G0 Z30.\nG0 Z30.\n", mid), {}, "going where the cutter stands moves nothing"},
      {"two lines in the other order: plunge and pass", swap("G1 Z20.000 F200.\nG1 X64.000 F29.4118\n", "G1 X64.000 F29.4118\nG1 Z20.000 F200.\n", mid), {}},
      {"two lines in the other order: lift and way back", swap("G0 Z30.\nG0 X-4.\n", "G0 X-4.\nG0 Z30.\n", mid), {},
       "the way back then runs in the groove just cut and meets no wood"},
      {"lift before the turn lost", swap("G0 Z30.\nG0 X-4.\n", "G0 X-4.\n", mid), {}},
      {"feed move made a rapid", swap("G1 X64.000 F29.4118", "G0 X64.000", mid), {}},
      {"rapid made a feed move", swap("G0 X-4.", "G1 X-4.", mid), {}},
      {"wrong units", swap("G21", "G20"), {}},
      {"no units", swap("G21 ", ""), {}},
      {"steps instead of places", swap("G90", "G91"), {}},
      {"no distance mode", swap("G90 ", ""), {}},
      {"feed per minute instead of inverse time", swap("G93", "G94"), {},
       "the same places at 29 mm a minute: slow, and no fault of place"},
      {"no feed mode", swap("G93\n", ""), {}},
      {"spindle off", swap("S12000 M3", "S12000 M5"), {}},
      {"spindle backwards", swap("M3", "M4"), {}},
      {"spindle too fast", swap("S12000", "S32000"), {}},
      {"header gone", [](const std::string& text) { return text.substr(text.find("G0 Z30.")); }, {}},
      {"cutter's name changed", swap("(cutter: ball)", "(cutter: vee)"), {}},
      {"another cutter in the spindle: larger", {}, [](Setting& s) { s.cutters[0].diameter = 12; }, 
       "lengthwise over a rod the larger ball leaves less and gouges nothing: the piece is sound, and only the maker sees the cutter"},
      {"another cutter in the spindle: smaller", {}, [](Setting& s) { s.cutters[0].diameter = 1; },
       "the ridges it leaves, 0.07 mm, are less than the check's own error for so small a ball (Proof::reach_error)"},
      {"zero shifted by a word", swap("G54", "G55"), {}},
      {"zero shifted by G92", swap("G93\n", "G92 X1.\nG93\n"), {}},
      {"another machine: shorter", {}, [](Setting& s) { s.machine.x_max = 50; }},
      {"another machine: rotary unrolled on Y", {}, [](Setting& s) { s.machine.rotary = shop::Machine::Rotary::unrolled_mm, s.machine.rotary_word = "Y", s.machine.unrolled_diameter = 50; }},
      {"the other sense of the rotary", {}, [](Setting& s) { s.machine.rotary_sense = 1; },
       "a rod looks the same turned the other way; a piece with faces or flutes does too when it is its own mirror image"},
      {"rotary reset missing: turns go on beyond the rotary's", swap("A-180.000", "A-1260.000"), [](Setting& s) { s.machine.rotary_limit_turns = 2; }},
      {"the blank is the next size", {}, [](Setting& s) { s.blank.size = 52; }},
      {"end gone", swap("M5\nM30\n", ""), {}, "all the wood is cut by then; the spindle runs on until the maker stops it"},
      {"a letter changed, X to Q", swap("X64.000", "Q64.000", mid), {}},
      {"a bracket lost", swap("(stage: finish)", "(stage: finish"), {}},
  };
}

TEST(Mutations, EachIsCaughtOrExplained) {
  const std::string sound = sound_text();
  shape::Part part = rod(20, 60);
  Settings settings;
  settings.cusp = 0.02;  // the passes leave ridges of 0.012 mm, one that is missing 0.045
  auto judge = [&](const std::string& text, const Setting& setting) {
    return prove(text, setting.part, setting.blank, {}, setting.cutters, setting.machine, settings, {});
  };
  Setting plain;
  plain.part = part;
  plain.blank = blank_for(part, shape::Blank::Section::round, 46, 12);
  plain.cutters[0].max_depth_of_cut = 4;
  plain.machine.max_rpm = 24000;
  auto good = judge(sound, plain);
  ASSERT_TRUE(good.ok()) << render(good.reasons());
  ASSERT_TRUE(good->passed()) << report(*good);
  EXPECT_GE(hold_mutations(mutations(), sound, *good, plain, judge).caught, 30);
}

}  // namespace
}  // namespace pommel::proof
