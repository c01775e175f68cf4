// A sound program for joints harmed in many ways: mutations.h.
#include "mutations.h"

#include "base/number.h"
#include "proof/joints.h"

namespace pommel::proof {
namespace {

using namespace testing;

// A mortise 40 by 10 and 9 deep, 3 mm beside the middle of face B, corners of 4 mm, with a cutter of 8; then, with one of 6, a hole 12 deep in
// face A. For a machine with a free Y, its rotary in degrees and falling, X towards the foot: y = -t.
std::string sound_text() {
  std::string all = "%\n(cutter: flat-8)\nG21 G90 G17 G40 G54\nM6 T1\nS12000 M3\nG4 P4\nG93\nG0 Z50.\nG0 X84. Y-2. A-90.\n(stage: the mortise, face B)\nG0 Z31.\n";
  for (int z : {27, 24, 21}) {
    all += "G1 X116. Y-2. Z" + format_fixed(z, 3) + " F20.\nG1 X84. F20.\nG1 Y-4. F20.\nG1 X116. F20.\nG1 Y-2. F20.\nG1 X84. F20.\n";
  }
  all += "G0 Z50.\n(cutter: flat-6)\nM5\nM6 T2\nS14000 M3\nG4 P4\nG0 Z50.\nG0 X150. Y0. A0.\n(stage: the bore, face A)\nG0 Z31.\n";
  for (int z : {27, 24, 21, 18}) all += "G1 Z" + format_fixed(z, 3) + " F20.\nG1 Z32. F20.\n";
  return all + "G0 Z50.\nM5\nM30\n%\n";
}

shop::Cutter flat(const std::string& id, double diameter) {
  shop::Cutter cutter = ball(diameter, 40);
  cutter.id = id;
  cutter.form = shop::Cutter::Form::flat;
  cutter.max_depth_of_cut = 3;
  return cutter;
}

Setting setting() {
  Setting plain;
  plain.part = with_pieces({shape::clear_piece(0, 200)});
  plain.part.faces = shape::square_faces(60, 200);
  shape::Mortise m;
  m.id = "rail";
  m.phi = kPi / 2;
  m.x0 = 80, m.x1 = 120, m.t0 = -2, m.t1 = 8, m.depth = 9, m.corner_radius = 4;
  plain.part.mortises = {m};
  shape::Bore bore;
  bore.id = "bolt";
  bore.x = 150, bore.diameter = 6, bore.depth = 12;
  plain.part.bores = {bore};
  plain.blank = blank_for(plain.part, shape::Blank::Section::square, 60, 20);
  plain.cutters = {flat("flat-8", 8), flat("flat-6", 6)};
  plain.machine.y_word = "Y";
  plain.machine.y_min = -60, plain.machine.y_max = 60, plain.machine.rapid_y = 6000;
  return plain;
}

std::vector<Mutation> mutations() {
  const char* bore = "the bore";
  return {
      {"a digit of the mortise's depth, 21.000 to 20.900", swap("Z21.000", "Z20.900"), {}},
      {"a digit of the mortise's depth, 21.000 to 21.100", swap("Z21.000", "Z21.100"), {}},
      {"a digit of the bore's depth, 18 to 16", swap("Z18.000", "Z16.000", bore), {}},
      {"a digit of a layer's depth, 24 to 20", swap("Z24.000", "Z20.000"), {}},
      {"a digit of the mortise's length, 116 to 118", swap("X116.", "X118."), {}},
      {"a digit of the mortise's length, 116 to 115.5 everywhere", every("X116.", "X115.5"), {}},
      {"a digit of the bore's place, 150 to 151", swap("X150.", "X151."), {}},
      {"a digit of a rapid height, 31 to 29", swap("Z31.", "Z29."), {}},
      {"the wrong face: A for B", swap("A-90.", "A0."), {}},
      {"the wrong face: D for B", swap("A-90.", "A90."), {}},
      {"the wrong face: the bore in B", swap("Y0. A0.", "Y0. A-90."), {}},
      {"a face that is a tenth of a degree off", swap("A-90.", "A-90.1"), {}},
      {"the wrong side of the middle", [](const std::string& text) { return all_replaced(all_replaced(text, "Y-2.", "Y2."), "Y-4.", "Y4."); }, {}},
      {"the wrong side of the middle, one line", swap("Y-4.", "Y4."), {}},
      {"the sign of a depth", swap("Z24.000", "Z-24.000"), {}},
      {"a line dropped: one side of a ring", swap("G1 X116. F20.\n", ""), {}},
      {"a line dropped: the last ring's far side", swap("G1 Y-4. F20.\n", "", "Z21.000"), {}},
      {"a layer dropped", swap("G1 X116. Y-2. Z24.000 F20.\n", ""), {}},
      {"lines dropped: the last layer", [](const std::string& text) { return text.substr(0, text.find("G1 X116. Y-2. Z21.000")) + text.substr(text.find("G0 Z50.\n(cutter: flat-6)")); }, {}},
      {"a line dropped: the lift before the turn", swap("G0 Z50.\n(cutter: flat-6)", "(cutter: flat-6)"), {},
       "the text lifts to the clear height itself after the change of cutter, before it turns"},
      {"lines dropped: every lift before the turn", [&](const std::string& text) { return replaced(all_replaced(text, "G0 Z50.\n", ""), "G4 P4\nG93\n", "G4 P4\nG93\nG0 Z50.\n"); }, {}},
      {"a line dropped: the turn", swap("G0 X150. Y0. A0.\n", "G0 X150. Y0.\n"), {}},
      {"a line dropped: a peck's lift", swap("G1 Z32. F20.\n", "", bore), {}, "chips are not simulated: lifting them out changes no wood"},
      {"a line dropped: the bore's last peck", swap("G1 Z18.000 F20.\n", "", bore), {}},
      {"a feed move made a rapid", swap("G1 X84. F20.", "G0 X84.", "Z24.000"), {}},
      {"a plunge made a rapid", swap("G1 Z24.000 F20.", "G0 Z24.000", bore), {}},
      {"the wrong cutter: 10 for 8", {}, [](Setting& s) { s.cutters[0].diameter = 10; }},
      {"the wrong cutter: 7 for 8", {}, [](Setting& s) { s.cutters[0].diameter = 7; }},
      {"the wrong cutter: a ball", {}, [](Setting& s) { s.cutters[0].form = shop::Cutter::Form::ball; }},
      {"the cutters change places in the text", [](const std::string& text) { return all_replaced(all_replaced(all_replaced(text, "flat-8", "flat-0"), "flat-6", "flat-8"), "flat-0", "flat-6"); }, {}},
      {"the second cutter's name dropped", swap("(cutter: flat-6)\n", ""), {}},
      {"the second cutter's slot, T2 to T1", swap("T2", "T1"), {}, "which cutter stands in which slot is the maker's set-up"},
      {"flutes too short, shank too wide", {}, [](Setting& s) { s.cutters[0].flute_length = 6, s.cutters[0].shank_diameter = 12; }},
      {"the spindle stands after the change", swap("S14000 M3\n", ""), {}},
      {"wrong units", swap("G21", "G20"), {}},
      {"steps instead of places", swap("G90", "G91"), {}},
      {"another machine: X towards the head", {}, [](Setting& s) { s.machine.x_towards_foot = false; }},
      {"another machine: the rotary grows", {}, [](Setting& s) { s.machine.rotary_sense = 1; }},
      {"another machine: no free Y", {}, [](Setting& s) { s.machine.y_word.clear(); }},
      {"another machine: Y too short", {}, [](Setting& s) { s.machine.y_min = -3; }},
      {"another piece: the mirrored one", {}, [](Setting& s) { s.part = shape::mirrored(s.part); }},
      {"another piece: its mortise 1 mm nearer to the head", {}, [](Setting& s) { s.part.mortises[0].x0 -= 1, s.part.mortises[0].x1 -= 1; }},
  };
}

TEST(JointMutations, EachIsCaughtOrExplained) {
  const std::string sound = sound_text();
  auto judge = [](const std::string& text, const Setting& s) { return prove_joints(text, s.part, s.blank, s.cutters, s.machine, {}, {}); };
  auto good = judge(sound, setting());
  ASSERT_TRUE(good.ok()) << render(good.reasons());
  ASSERT_TRUE(good->passed()) << report(*good);
  EXPECT_GE(hold_mutations(mutations(), sound, *good, setting(), judge).caught, 30);
}

}  // namespace
}  // namespace pommel::proof
