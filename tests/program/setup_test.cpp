#include "program/setup.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/text.h"
#include "machines.h"

namespace pommel::program {
namespace {

SetupSheet sheet() {
  SetupSheet s;
  s.program = "leg-turned.nc";
  s.order = "harvest table";
  s.piece = "leg, turned";
  s.pieces = "5 pieces: four legs and a spare";
  s.cutter = "6 mm ball, long reach";
  s.cutter_diameter = 6;
  s.stick_out = 60;
  s.rpm = 18000;
  s.blank = "cherry, from 12/4 rough";
  s.blank_length = 808;
  s.blank_width = s.blank_thickness = 60;
  s.head_waste = 50;
  s.foot_waste = 30;
  s.rings = "from corner to corner";
  s.clear_height = 55;
  s.keep_outs = {{"chuck jaws", -50, 12}, {"tail centre", 716, 758}};
  s.stages = {{"finish, lengthwise", 12.5}, {"leave", 0.01}};
  s.minutes = 12.51;
  s.bench = {"mortise 'long rail': face A, 12 to 94 mm from the head, 8 mm wide, 40 mm deep",
             "clean the quirk under the bead by hand"};
  s.checked = {"no gouge over 0.02 mm"};
  s.warnings = {"the spare has no mortises"};
  return s;
}

TEST(SetupText, ReadsFromTopToBottom) {
  shop::Machine m = degrees_machine();
  m.confirmed = false;
  EXPECT_EQ(setup_text(sheet(), m),
            R"(SET-UP  leg-turned.nc
=====================
- EXAMPLE MACHINE: NOT CONFIRMED. Put your own machine's figures in, try them
  above the work, then say so in the shop's list of machines.
order         harvest table
piece         leg, turned
for           5 pieces: four legs and a spare

Machine
-------
machine       bench router
rotary        A, degrees
feed          G93, each move with its time

Cutter
------
cutter        6 mm ball, long reach
diameter      6 mm
stick-out     60 mm from the tip to the collet nut, not less
speed         18000 rpm

Blank
-----
blank         cherry, from 12/4 rough
section       60 mm x 60 mm
length        808 mm
head waste    50 mm, cut off after turning
foot waste    30 mm, cut off after turning
rings         from corner to corner
holding       head end in the chuck, foot end on the centre
face up       face A at A0; mark it on the end grain

Zero
----
X0            where the head of the piece begins, 50 mm from that end of the
              blank; X grows towards the foot
Z0            the rotary axis, not the surface: more accurate, and the same for
              every blank
sideways      0 with the cutter over the rotary axis
A0            face A up, level

  A0: face A is up                  A90: face D is up
           | |                               | |
           | | cutter                        | | cutter
           \_/                               \_/
        +---A---+                         +---D---+
      B |   o   | D                     A |   o   | C
        +---C---+                         +---B---+
  Seen from the foot end of the piece, looking at its head (from the tailstock).
  As A grows the wood turns counter-clockwise in this view: the other way
  than the side under the cutter moves along the wood.

Heights and keep-outs
---------------------
clear height  Z 55 mm above the axis
keep out      chuck jaws: from -50 mm to 12 mm from the head
keep out      tail centre: from 716 mm to 758 mm from the head

Running
-------
12 min 30 s  finish, lengthwise
 0 min 01 s  leave
time          12 min 31 s a piece, estimated

At the bench
------------
- mortise 'long rail': face A, 12 to 94 mm from the head, 8 mm wide, 40 mm deep
- clean the quirk under the bead by hand

Checked
-------
- no gouge over 0.02 mm
- The check reads this text against this design, on a rigid blank and the
  machine as described, not your set-up: not the zero you set, the cutter you
  put in, the grip of the chuck or the soundness of the wood.

Warnings of this job
--------------------
- the spare has no mortises

Cautions
--------
- Local rules and licensed practice come first.
- Guards in place. Eyes, ears and dust: glasses, muffs, mask and extraction.
- No gloves, loose sleeves, rings or long hair near turning work.
- Chuck key out before power. Tail centre tight, and tight again after the first
  pass.
- Turn the blank by hand through a full turn: nothing may touch.
- First run above the work: zero raised by the clear height, spindle off, hand
  on the stop.
- Feed hold stops the axes. It does not stop the spindle, nor the wood at once.
- No sanding under power on this set-up. Stop the spindle before hands come
  near.
)");
}

TEST(SetupText, SaysWhatEachChangeOfCutterTakes) {
  SetupSheet s = sheet();
  s.change_minutes = 3;
  EXPECT_THAT(setup_text(s, degrees_machine()), testing::Not(testing::HasSubstr("change of cutter")));
  s.further = {{"3 mm ball", 3, 40, 20000}};
  EXPECT_THAT(setup_text(s, degrees_machine()), testing::HasSubstr("12 min 31 s a piece, estimated; each change of cutter adds 3 min"));
}

TEST(SetupText, SaysHowToGoOnAfterAStopWhereTheLinesAreKnown) {
  SetupSheet s = sheet();
  EXPECT_THAT(setup_text(s, degrees_machine()), testing::Not(testing::HasSubstr("After a stop")));
  for (StageTime& stage : s.stages) stage.line = 40;
  const std::string one = setup_text(s, degrees_machine());
  EXPECT_THAT(one, testing::HasSubstr("After a stop\n------------\n- Leave the piece in the chuck."));
  EXPECT_THAT(one, testing::HasSubstr("The rotary has counted its turns"));
  EXPECT_THAT(one, testing::Not(testing::HasSubstr("later cutter")));
  s.further = {{"3 mm ball", 3, 40, 20000}};
  shop::Machine modulo = degrees_machine();
  modulo.counting = shop::Machine::Counting::modulo;
  const std::string two = setup_text(s, modulo);
  EXPECT_THAT(two, testing::HasSubstr("In a later cutter's stages"));
  EXPECT_THAT(two, testing::Not(testing::HasSubstr("The rotary has counted its turns")));
}

TEST(SetupText, SaysWhatA0ComesBackFrom) {
  SetupSheet s = sheet();
  for (StageTime& stage : s.stages) stage.line = 40;
  const auto said = [&] { return setup_text(s, degrees_machine()); };
  EXPECT_THAT(said(), testing::HasSubstr("If the piece has moved, A0 comes back\n"
                                         "  from the mark on its end grain, no better than that mark is: the waste beside\n"
                                         "  the chuck had no room for a witness flat.\n"));
  EXPECT_THAT(said(), testing::Not(testing::HasSubstr("witness flat  ")));
  s.witness = WitnessFlat{-34.5, -16, 17.2, 32.7};
  EXPECT_THAT(said(), testing::HasSubstr("A0            face A up, level\n"
                                         "witness flat  from -34.5 mm to -16 mm from the head, 17.2 mm wide at least:\n"
                                         "              level at A0, 32.7 mm above the axis\n"));
  EXPECT_THAT(said(), testing::HasSubstr("If the piece has moved, A0 comes back\n"
                                         "  from the witness flat in the waste beside the chuck: level it there, with a\n"
                                         "  dial gauge or a square from the table. Before that flat is whole it comes back\n"
                                         "  from the mark on its end grain, no better than that mark is.\n"));
  s.witness.reset();
  s.square = true;
  EXPECT_THAT(said(), testing::HasSubstr("from face A, where the waste beside the chuck is still square: level it there,\n"));
  EXPECT_THAT(said(), testing::Not(testing::HasSubstr("witness")));
}

TEST(SetupText, StagesSayTheLineTheyBeginAtAndCuttersTheirSettingSurface) {
  SetupSheet s = sheet();
  s.stages = {{"rough, layer 1", 2.5, 26}, {"finish", 12, 1403}};
  shop::Machine m = degrees_machine();
  m.setting_surface = "the block on the tailstock";
  m.setting_height = 40;
  const std::string text = setup_text(s, m, {});
  EXPECT_THAT(text, testing::HasSubstr(" 2 min 30 s  line   26  rough, layer 1\n12 min 00 s  line 1403  finish\n"));
  EXPECT_THAT(text, testing::HasSubstr("each cutter   touches the block on the tailstock; set Z there to 40 mm\n"));
  m.setting_gauge = 0.05;
  EXPECT_THAT(setup_text(s, m, {}), testing::HasSubstr("with the gauge between; set Z\n              there to 40.05 mm\n"));
}

TEST(SetupText, UnrolledMachineInInches) {
  SetupSheet s = sheet();
  s.checked.clear();
  s.warnings.clear();
  s.bench.clear();
  shop::Machine m = unrolled_machine();
  m.head_at_chuck = false;
  m.x_towards_foot = false;
  LengthFormat inches;
  inches.unit = LengthUnit::inch;
  const std::string text = setup_text(s, m, inches);
  EXPECT_THAT(text, testing::Not(testing::HasSubstr("EXAMPLE")));
  EXPECT_THAT(text, testing::HasSubstr("rotary        Y, mm along a surface of diameter 2 3/8\" [60 mm]\n"));
  EXPECT_THAT(text, testing::HasSubstr("holding       head end in the tail centre, foot end in the chuck\n"));
  EXPECT_THAT(text, testing::HasSubstr("X grows towards the head"));
  EXPECT_THAT(text, testing::HasSubstr("  Y0: face A is up                  Y47.124: face D is up\n"));
  EXPECT_THAT(text, testing::Not(testing::HasSubstr("At the bench")));
}

TEST(SetupText, NoLineIsWiderThanThePage) {
  SetupSheet s = sheet();
  s.bench = {std::string(300, 'x'), "a\nb\tc", std::string(40, 'y') + " " + std::string(60, 'z')};
  s.order = std::string(500, 'o');
  const std::string text = setup_text(s, degrees_machine());
  for (const std::string_view line : split(text, '\n')) {
    EXPECT_LE(line.size(), 80u) << line;
    EXPECT_FALSE(line.ends_with(' ')) << line;
  }
  EXPECT_THAT(text, testing::HasSubstr("- a b c\n"));
}

}  // namespace
}  // namespace pommel::program
