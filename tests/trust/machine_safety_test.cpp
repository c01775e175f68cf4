// What would break a machine, a cutter or a hand is refused: one table, a program or a set-up a row, with the exact words. The check is one for all machines, and it
// looks at nothing but the program's text, the piece, the blank, the cutters and the machine's entry.
#include <gtest/gtest.h>

#include <fstream>
#include <functional>

#include "base/number.h"
#include "base/text.h"
#include "job/stated.h"
#include "proof/pieces.h"
#include "proof/proof.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::trust {
namespace {

using namespace proof;
using namespace proof::testing;

// A rod of 20 mm radius out of a round blank, in 250 lengthwise passes, on a machine whose rotary word falls as the wood turns on; by hand.
std::string sound_text() {
  std::string all = "G21 G90 G17 G40 G54\n(cutter: ball)\nM6 T1\nS12000 M3\nG0 Z30.\nG0 X-4. A0.\nG93\n";
  for (int i = 0; i < 250; ++i) all += "G0 A" + format_fixed(-i * 1.44, 3) + "\nG1 Z20.000 F200.\nG1 X64. F29.4118\nG0 Z30.\nG0 X-4.\n";
  return all + "M5\nM30\n";
}

struct Bench {
  std::string text = sound_text();
  shape::Part part = rod(20, 60);
  shape::Blank blank = blank_for(part, shape::Blank::Section::round, 46, 12);
  shop::Cutter cutter = ball(6);
  shop::Machine machine = open_machine();
};

void swap(Bench& s, const std::string& from, const std::string& to) {
  const std::size_t at = s.text.find(from);
  ASSERT_NE(at, s.text.npos) << from;
  s.text.replace(at, from.size(), to);
}

// The first thing that is said, of `id` where one is named, and how many more there are.
std::string said(const Bench& s, const std::string& id = {}) {
  const auto proof = prove(s.text, s.part, s.blank, shape::BlankTolerance{}, s.cutter, s.machine, Settings{}, {});
  std::vector<std::string> all;
  if (!proof.ok()) {
    for (const Diagnostic& one : proof.reasons()) all.push_back("line " + std::to_string(one.place.line) + ": " + one.message + " [" + one.id + "] do: " + one.remedy);
  } else {
    for (const Finding& one : proof->findings)
      if (one.severity == Severity::error && (id.empty() || one.id == id)) all.push_back(one.message + " [" + one.id + "] do: " + one.remedy);
  }
  return all.empty() ? "" : all.front() + (all.size() > 1 ? " (and " + std::to_string(all.size() - 1) + " more)" : "");
}

struct Row {
  const char* what;
  std::function<void(Bench&)> harm;
  const char* says;
  const char* of = "";  ///< the fault that is looked at, where others stand before it
};

const Row kRows[] = {
    {"nothing", [](Bench&) {}, ""},
    {"a rapid along the wood", [](Bench& s) { swap(s, "G1 X64. F29.4118", "G0 X64."); },
     "with the blank as planned, a rapid goes through 3 mm of wood at x -1 mm, 0 deg, line 10 [proof.rapid] do: lift the cutter higher between passes (and 3 more)"},
    {"a rapid down into the wood", [](Bench& s) { swap(s, "G1 Z20.000 F200.", "G0 Z20.000"); },
     "with the blank as planned, a rapid goes through 3 mm of wood at x -4 mm, 0 deg, line 9 [proof.rapid] do: lift the cutter higher between passes (and 3 more)"},
    {"a rapid that turns in the wood", [](Bench& s) { swap(s, "G0 Z30.\nG0 X-4.\nG0 A-1.440", "G0 A-1.440"); },
     "with the blank as planned, a rapid goes through 1.89 mm of wood at x 64 mm, 7.5 deg, line 11 [proof.rapid] do: lift the cutter higher between passes (and 3 more)"},
    {"deeper at once than the cutter is meant for", [](Bench& s) { s.cutter.max_depth_of_cut = 2; },
     "the cutter meets 3 mm of standing wood in one move, it is meant for 2 mm, at x -4 mm, 4 deg, line 9 (2 moves in all) [proof.depth] do: rough the blank first, or cut in more layers"},
    {"straight down with a cutter that has no teeth in its middle", [](Bench& s) { s.cutter.ramp = 0.05; },
     "the cutter sinks into 3 mm of standing wood more steeply than it bears, at x -4 mm, 4 deg, line 9 (243 moves in all) [proof.plunge] do: come down along a ramp, beside the wood, or with a cutter that plunges"},
    {"deeper than its flutes are long: the shank", [](Bench& s) { s.cutter.flute_length = 3, s.cutter.shank_diameter = 10, s.cutter.shank_length = 40; },
     "with the blank off centre, shank, collet nut or holder meets wood that stands 0.8 mm above its lower end, at x -8.75 mm, 0 deg, line 9 (738 moves in all) [proof.shank] do: take a cutter with longer flutes, or rough the blank first (and 2 more)", "proof.shank"},
    {"deeper than it stands out of the collet", [](Bench& s) { s.cutter.flute_length = 3, s.cutter.shank_diameter = 6, s.cutter.shank_length = 0, s.cutter.collet_diameter = 28, s.cutter.collet_length = 30; },
     "with the blank off centre, shank, collet nut or holder meets wood that stands 0.509 mm above its lower end, at x 66.75 mm, 36 deg, line 125 (247 moves in all) [proof.shank] do: take a cutter with longer flutes, or rough the blank first (and 2 more)", "proof.shank"},
    {"deeper than the design", [](Bench& s) { swap(s, "G1 Z20.000", "G1 Z19.000"); },
     "the cutter goes 1 mm into the part at x 1 mm, 0 deg (piece 1), line 10 [proof.gouge] do: do not cut with this program; make it again"},
    {"a flat over the stub that holds the piece", [](Bench& s) { swap(s, "M5\n", "G0 A0.\nG1 Z17.000 F200.\nG0 Z30.\nM5\n"); },
     "a flat or notch lies over the stub beside the head: it leaves 17 mm of radius on one side, where all round 20.003 mm hold the piece, at x -4 mm, 0 deg, line 1259 [proof.stub] do: cut the witness flat nearer to the chuck, where the waste is as thick as the blank"},
    {"below the axis", [](Bench& s) { swap(s, "G1 Z20.000 F200.", "G1 Z-8.000 F100."); },
     "the cutter goes 20 mm into the part at x 20 mm, 0 deg (piece 1), line 10 [proof.gouge] do: do not cut with this program; make it again (and 2 more)"},
    {"along, beyond the travel", [](Bench& s) { s.machine.x_max = 50; },
     "line 10: x 64 mm is beyond the machine's travel, -500 to 50 mm [program.travel] do: shorten the work, or place the piece differently (and 49 more)"},
    {"up, beyond the travel", [](Bench& s) { s.machine.z_max = 25; },
     "line 6: z 30 mm is beyond the machine's travel, -10 to 25 mm [program.travel] do: shorten the work, or place the piece differently (and 49 more)"},
    {"down, beyond the travel", [](Bench& s) { s.machine.z_min = 25; },
     "line 9: z 20 mm is beyond the machine's travel, 25 to 300 mm [program.travel] do: shorten the work, or place the piece differently (and 49 more)"},
    {"sideways, on a machine without that axis", [](Bench& s) { swap(s, "G1 X64. F29.4118", "G1 X64. Y2. F29.4118"); },
     "line 10: this machine has no such axis [program.axis] do: it has X, Z and A"},
    {"more turns than the rotary has", [](Bench& s) { s.machine.rotary_limit_turns = 0.9; },
     "line 1138: 0.9 turns from zero are beyond the rotary's 0.9 [program.travel] do: let the passes turn back (and 49 more)"},
    {"a word of another axis", [](Bench& s) { swap(s, "G0 A-1.440", "G0 B-1.440"); },
     "line 13: this machine has no such axis [program.axis] do: it has X, Z and A"},
    {"faster than the machine feeds", [](Bench& s) { s.machine.feed_max = 1500; },
     "line 9: the feed would have to do 2000 mm a minute; the machine does 1500 [program.feed-limit] do: give the move more time (and 49 more)"},
    {"faster than an axis goes", [](Bench& s) { s.machine.rapid_x = 1500; },
     "line 10: x would have to do 2000 mm a minute; the machine does 1500 [program.feed-limit] do: give the move more time (and 49 more)"},
    {"a spindle faster than the machine's", [](Bench& s) { s.machine.max_rpm = 8000; },
     "line 9: the spindle turns faster than the machine can at a feed move [program.spindle] do: write S8000 or less"},
    {"a spindle faster than the cutter may", [](Bench& s) { s.cutter.rpm = 8000; },
     "the program runs cutter 'ball' at 12000 rpm, it is meant for 8000 [proof.speed] do: take the cutter's speed"},
    {"a spindle that stands still", [](Bench& s) { swap(s, "M3", "M5"); },
     "line 9: the spindle stands still at a feed move [program.spindle] do: write S and M3 before it"},
    {"a spindle that turns backwards", [](Bench& s) { swap(s, "M3", "M4"); },
     "line 9: the spindle turns backwards at a feed move [program.spindle] do: write M3 instead of M4"},
    {"another cutter than the program's", [](Bench& s) { swap(s, "(cutter: ball)", "(cutter: vee)"); },
     "the program is for cutter 'vee', the check is for 'ball' [proof.wrong-cutter] do: check with the cutter that the program names"},
    {"into the chuck's jaws", [](Bench& s) { s.machine.jaw_swing = 25, s.machine.chuck_grip = 9; },
     "the cutter comes too near to the chuck: x -4 mm, line 9 (500 moves in all, this is the worst) [proof.chuck] do: leave more waste at that end of the blank, or begin farther away from it"},
    {"into the tail centre", [](Bench& s) { s.machine.tailstock_top = 25, s.machine.centre_grip = 9; },
     "the cutter comes too near to the tail centre: x 64 mm, line 10 (500 moves in all, this is the worst) [proof.chuck] do: leave more waste at that end of the blank, or begin farther away from it"},
    {"a blank thicker than the machine swings", [](Bench& s) { s.machine.max_swing = 45; },
     "the blank swings 46 mm and the machine 45 [proof.swing] do: take a thinner blank or another machine"},
    {"a blank longer than the machine takes", [](Bench& s) { s.machine.max_between_centres = 80; },
     "the blank is 84 mm long and the machine takes 80 [proof.swing] do: cut the waste shorter or take another machine"},
    {"inches, in a text of millimetres", [](Bench& s) { swap(s, "G21", "G20"); },
     "line 6: z 762 mm is beyond the machine's travel, -10 to 300 mm [program.travel] do: shorten the work, or place the piece differently (and 49 more)"},
    {"places counted on, in a text of places", [](Bench& s) { swap(s, "G90", "G91"); },
     "line 5: an increment (G91) from a place nobody knows [program.unknown-start] do: give this axis an absolute place (G90) first (and 50 more)"},
    {"a zero that is moved", [](Bench& s) { swap(s, "G93\n", "G92 X10.\nG93\n"); },
     "line 7: the program moves the zero of an axis that does not turn [program.zero-shift] do: set the zero at the machine, and leave G92 out"},
    {"a cutter compensation", [](Bench& s) { swap(s, "G40", "G41"); },
     "line 1: cutter compensation moves the path by an unknown amount [program.compensation] do: program the cutter's own path (and 50 more)"},
    {"a text that was cut off", [](Bench& s) { s.text.resize(s.text.find("G0 A-180")); },
     "line 632: the program has no end: neither M2 nor M30 nor '%' lines around it [program.no-end] do: write M2 at its end; the file may have been cut short"},
};

TEST(MachineSafety, EachIsRefusedInTheseWords) {
  for (const Row& row : kRows) {
    Bench bench;
    row.harm(bench);
    EXPECT_EQ(said(bench, row.of), row.says) << row.what;
  }
}

// What the two tests below harm: the job folder of the small table, made by the command.
class CheckedPrograms : public ::testing::Test {
 protected:
  CheckedPrograms() {
    const whole::House house;
    for (const auto& [name, text] : house.files.files()) {
      std::filesystem::create_directories((scratch / "house" / name).parent_path());
      std::ofstream(scratch / "house" / name, std::ios::binary) << text;
    }
    const whole::Ended made = whole::pommel({"make", order(), "--into", (scratch / "job").string()});
    EXPECT_EQ(made.code, 0) << made.out << made.err;
  }
  std::string order() const { return (scratch / "house/catalog/orders/low-table.yaml").string(); }
  whole::Ended proved(const std::string& name) const { return whole::pommel({"prove", (scratch / "job/programs" / name).string(), "--for", order()}); }
  void change(const std::filesystem::path& file, const std::string& from, const std::string& to) const {
    std::string text = *real_files()->read(scratch / file);
    ASSERT_NE(text.find(from), text.npos) << from;
    text.replace(text.find(from), from.size(), to);
    std::ofstream(scratch / file, std::ios::binary) << text;
  }

  whole::Scratch scratch;
};

// A mortise for the left rail would be cut into the face that has none. (A turning that is the same from both sides is cut the same.)
TEST_F(CheckedPrograms, AreRefusedOnAMachineWhoseRotaryTurnsTheOtherWay) {
  EXPECT_EQ(proved("leg-piece-1-joints.nc").code, 0);
  change("house/catalog/shop/machines.yaml", "rotary_word: falls", "rotary_word: grows");
  const whole::Ended ended = proved("leg-piece-1-joints.nc");
  EXPECT_EQ(ended.code, 3);
  EXPECT_NE(ended.out.find("  FAULT: outside every joint the cutter goes into the part by 18.587 mm at x 10.6 mm, 5.4 mm beside the middle of the face at 90 deg [proof.joint-side]\n"
                           "    do: look at the joint's place, its width and the cutter's\n"),
            std::string::npos)
      << ended.out;
}

// One figure of a feed, which harms nothing by itself: the header went on saying that this text had been checked.
TEST_F(CheckedPrograms, AreRefusedWhenTheirTextWasChangedAfterwards) {
  const std::string sound = *real_files()->read(scratch / "job/programs/leg-turning.nc");
  const std::size_t feed = sound.find("F864");
  ASSERT_NE(feed, sound.npos);
  change("job/programs/leg-turning.nc", "F864", "F863");
  const std::string changed = *real_files()->read(scratch / "job/programs/leg-turning.nc"), head = "(note: check:   ";
  const whole::Ended ended = proved("leg-turning.nc");
  EXPECT_EQ(ended.code, 6);
  EXPECT_NE(ended.out.find("  FAULT: the text was changed after its check: its header states the sha256 " + sound.substr(sound.find(head) + head.size(), 12) + "..., its lines have " +
                           job::sum_of_other_lines(changed).substr(0, 12) + "... [proof.changed]\n    do: write the program anew; or take the lines '(note: check ...)' out, then it is judged as one that "
                           "nobody has checked\n"),
            std::string::npos)
      << ended.out;
  // without those lines it is anybody's program
  std::string bare;
  for (const std::string_view line : split(changed, '\n'))
    if (!line.starts_with("(note: check")) bare += std::string(line) + "\n";
  std::ofstream(scratch / "job/programs/leg-turning.nc", std::ios::binary) << bare;
  EXPECT_EQ(proved("leg-turning.nc").code, 0);
}

}  // namespace
}  // namespace pommel::trust
