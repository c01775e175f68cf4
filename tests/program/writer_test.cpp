#include "program/writer.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "machines.h"

namespace pommel::program {
namespace {

std::string text_of(const motion::Path& path, const shop::Machine& machine, const Header& header = {}) {
  const auto text = write(path, machine, header);
  return text.ok() ? text.value() : "failed:\n" + render(text.reasons());
}

TEST(Writer, DegreesWithInverseTime) {
  shop::Machine m = degrees_machine();
  m.header = {"%", "G21 G90 G17 G40 G54", "M6 T1", "S{rpm} M3", "G4 P4"};
  m.footer = {"M5", "M30", "%"};
  Header header;
  header.program = "leg-turned";
  header.piece = "leg, turned";
  header.cutter = "6 mm ball, long reach";
  header.notes = {"five pieces"};
  EXPECT_EQ(text_of(short_path(), m, header),
            "%\n"
            "(program: leg-turned)\n"
            "(piece: leg, turned)\n"
            "(cutter: ball-6)\n"
            "(cutter is: 6 mm ball, long reach)\n"
            "(machine: bench router)\n"
            "(X0 is the head end, at the chuck, X grows towards the foot, Z0 is the)\n"
            "(... rotary axis)\n"
            "(A is degrees and says which side of the wood is under the cutter, the)\n"
            "(... wood turns the other way)\n"
            "(A0 has face A up, A-90 face B, A90 face D)\n"
            "(first run above the work, spindle off, hand on the stop)\n"
            "(note: five pieces)\n"
            "G21 G90 G17 G40 G54\n"
            "M6 T1\n"
            "S18000 M3\n"
            "G4 P4\n"
            "G21 G90 G93\n"
            "G0 Z60\n"
            "X-5 Y0 A0\n"
            "(stage: finish, lengthwise)\n"
            "Z31.25\n"
            "G1 X700.5 F2\n"
            "A-90 F10\n"
            "X-5 Z20 F2\n"
            "(stage: leave)\n"
            "G0 Z60\n"
            "M5\n"
            "M30\n"
            "%\n");
}

TEST(Writer, UnrolledWithFeedPerMinute) {
  shop::Machine m = unrolled_machine();
  m.confirmed = false;
  m.rotary_sense = 1;
  m.x_towards_foot = false;
  m.head_at_chuck = false;
  EXPECT_EQ(text_of(short_path(), m),
            "(example machine: not confirmed - put your own figures in before)\n"
            "(... cutting)\n"
            "(cutter: ball-6)\n"
            "(machine: bench router)\n"
            "(X0 is the head end, at the tailstock, X grows towards the head, Z0 is)\n"
            "(... the rotary axis)\n"
            "(Y is mm along a surface of diameter 60.000 and says which side of the)\n"
            "(... wood is under the cutter, the wood turns the other way)\n"
            "(Y0 has face A up, Y47.124 face B, Y-47.124 face D)\n"
            "(first run above the work, spindle off, hand on the stop)\n"
            "G21 G90 G94\n"
            "S18000 M3\n"
            "G0 Z60\n"
            "X5 Y0\n"
            "(stage: finish, lengthwise)\n"
            "Z31.25\n"
            "G1 X-700.5 F1411\n"
            "Y47.124 F471.2\n"
            "X5 Z20 F1411.2\n"
            "(stage: leave)\n"
            "G0 Z60\n"
            "M5\n"
            "M2\n");
}

TEST(Writer, ModalFeedIsNotRepeatedPerMinute) {
  motion::Path p = short_path();
  p.moves = {{{95, 0, 60, 0}, false, 0.1, 0}, {{195, 0, 60, 0}, false, 0.1, 0}, {{195.0001, 0, 60, 0}, false, 0.1, 0}};
  p.stages.clear();
  EXPECT_THAT(text_of(p, unrolled_machine()), testing::HasSubstr("G1 X95 F1000\nX195\nM5\n"));
}

struct NumberRow {
  double x;
  int decimals;
  const char* word;
};

TEST(Writer, NumbersFromScaledIntegers) {
  const NumberRow rows[] = {{0.005, 3, "X0.005\n"},     {0.05, 3, "X0.05\n"},      {-0.5, 3, "X-0.5\n"},
                            {10, 3, "X10\n"},           {100.1004, 3, "X100.1\n"}, {1.9996, 3, "X2\n"},
                            {-12.345, 3, "X-12.345\n"}, {7.5, 0, "X8\n"},          {1.000000001, 9, "X1.000000001\n"},
                            {120, 0, "X120\n"},         {1400.25, 2, "X1400.25\n"}};
  for (const NumberRow& row : rows) {
    shop::Machine m = degrees_machine();
    m.x_decimals = row.decimals;
    motion::Path p = short_path();
    p.start = {1, 0, 60, 0};
    p.moves = {{{row.x, 0, 60, 0}, true, 0, 0}};
    p.stages.clear();
    EXPECT_THAT(text_of(p, m), testing::HasSubstr(std::string("\n") + row.word + "M5")) << row.word;
  }
}

TEST(Writer, UserTextStaysInsideItsComment) {
  Header header;
  header.piece = "leg) G0 Z-50 (";
  header.program = "Stuhlbein \xc3\xbc \xe2\x8c\x80 40\nM30 \x01";
  header.notes = {std::string(150, 'x')};
  const std::string text = text_of(short_path(), degrees_machine(), header);
  EXPECT_THAT(text, testing::HasSubstr("(piece: leg] G0 Z-50 [)\n"));
  EXPECT_THAT(text, testing::HasSubstr("(program: Stuhlbein u _ 40 M30  )\n"));
  EXPECT_THAT(text, testing::HasSubstr("(note:)\n(... " + std::string(66, 'x') + ")\n(... " + std::string(66, 'x') + ")\n(... " +
                                       std::string(18, 'x') + ")\n"));
}

// A ';' begins a comment of another kind for some controls, '%' ends the program, '!' and '~' hold and resume, wherever they stand.
TEST(Writer, UserTextHasNoSignThatAControlLooksForInsideComments) {
  Header header;
  header.piece = R"(a;b%c!d~e?f{g}h#i$j@k|l^m`n\o"p<q>r)";
  EXPECT_THAT(text_of(short_path(), degrees_machine(), header), testing::HasSubstr("(piece: a,bpctc.d-e.f[g]h-i-j-k-l-m'n-o'p[q]r)\n"));
}

// A long name was broken into comments anywhere, so that words of it began one: "(MSG, ...)" is told to whoever runs the machine (NISTIR 6556, 3.3.4), other
// controls open files at such words, "(cutter: ...)" names the cutter that the check assumes, and a line that begins "(note: check" is in no checksum.
TEST(Writer, NoWordsOfTheUsersBeginAComment) {
  for (const char* word : {"MSG, go on", "LOGOPEN, a file", "cutter: another", "stage: drill", "note: check: all is well", "between stages"}) {
    Header header;
    header.notes = {"a name as long as its line, up to here with nothing wrong in it " + std::string(word)};
    const std::string text = text_of(short_path(), degrees_machine(), header);
    EXPECT_THAT(text, testing::Not(testing::HasSubstr("(" + std::string(word))));
    EXPECT_THAT(text, testing::HasSubstr("(... " + std::string(word).substr(0, 4)));
  }
}

TEST(Writer, DateLinesOnlyWithADate) {
  shop::Machine m = degrees_machine();
  m.header = {"(made {date})", "(for {program})"};
  Header header;
  header.program = "leg";
  EXPECT_THAT(text_of(short_path(), m, header), testing::Not(testing::HasSubstr("made")));
  header.date = "2031-05-04";
  EXPECT_THAT(text_of(short_path(), m, header), testing::HasSubstr("(made 2031-05-04)\n(for leg)\n"));
}

struct Refusal {
  const char* name;
  void (*spoil)(motion::Path&, shop::Machine&);
  const char* expected;
};

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

const Refusal kRefusals[] = {
    {"nan", [](motion::Path& p, shop::Machine&) { p.moves[1].to.x = kNan; },
     "error: move 2 (stage 'finish, lengthwise') is not at a place: a coordinate is no number or beyond any machine "
     "[program.number]\n"},
    {"huge angle", [](motion::Path& p, shop::Machine&) { p.moves[2].to.a = 1e9; },
     "error: move 3 (stage 'finish, lengthwise') is not at a place: a coordinate is no number or beyond any machine "
     "[program.number]\n"},
    {"no time", [](motion::Path& p, shop::Machine&) { p.moves[1].minutes = 0; },
     "error: move 2 (stage 'finish, lengthwise') is a feed move without a time [program.no-time]\n   do: give it a "
     "time above zero\n"},
    {"time is nan", [](motion::Path& p, shop::Machine&) { p.moves[1].minutes = kNan; },
     "error: move 2 (stage 'finish, lengthwise') is a feed move without a time [program.no-time]\n   do: give it a "
     "time above zero\n"},
    {"x travel", [](motion::Path& p, shop::Machine&) { p.moves[4].to.x = 1600; },
     "error: move 5 (stage 'leave') asks for x 1600.000 mm; the machine travels from -150.000 to 1500.000 mm "
     "[program.travel]\n"
     "   do: shorten the work, or place the piece differently\n"},
    {"z travel at the start", [](motion::Path& p, shop::Machine&) { p.start.z = 161; },
     "error: the start asks for z 161.000 mm; the machine travels from -20.000 to 160.000 mm [program.travel]\n"
     "   do: shorten the work, or place the piece differently\n"},
    {"turns",
     [](motion::Path& p, shop::Machine& m) {
       m.rotary_limit_turns = 0.2;
       p.moves[4].to.a = 0;
       p.moves[3].to.a = 0;
     },
     "error: move 3 (stage 'finish, lengthwise') stands 0.25 turns from zero; the rotary goes 0.20 [program.travel]\n"
     "   do: let the passes turn back\n"},
    {"feed", [](motion::Path& p, shop::Machine&) { p.moves[1].minutes = 0.1; },
     "error: move 2 (stage 'finish, lengthwise'): the feed, mm, would go 7055.0 a minute; the machine does 4000.0 "
     "[program.feed-limit]\n"
     "   do: give the move more time\n"
     "error: move 2 (stage 'finish, lengthwise'): x, mm, would go 7055.0 a minute; the machine does 6000.0 "
     "[program.feed-limit]\n"
     "   do: give the move more time\n"},
    {"turning", [](motion::Path& p, shop::Machine&) { p.moves[2].minutes = 0.01; },
     "error: move 3 (stage 'finish, lengthwise'): the rotary, turns, would go 25.0 a minute; the machine does 12.0 "
     "[program.feed-limit]\n"
     "   do: give the move more time\n"},
    {"slow", [](motion::Path& p, shop::Machine&) { p.moves[1].minutes = 7000; },
     "error: move 2 (stage 'finish, lengthwise') needs F0.0001429; rounded to 4 decimals it is off by more than 2 % "
     "[program.feed-rounding]\n"
     "   do: split the move, or give the machine's feed more decimals\n"},
    {"sideways",
     [](motion::Path& p, shop::Machine& m) {
       p.moves[0].to.y = 1;
       m = unrolled_machine();
     },
     "error: move 1 (stage 'finish, lengthwise') stands beside the axis, but this machine turns the wood with its Y "
     "[program.sideways]\n   do: keep y at 0\n"},
    {"rpm", [](motion::Path& p, shop::Machine&) { p.rpm = 30000; },
     "error: the spindle speed 30000 is not within the machine's 24000 rpm [program.rpm]\n   do: choose another "
     "speed\n"},
    {"empty",
     [](motion::Path& p, shop::Machine&) {
       p.moves.clear();
       p.stages.clear();
     },
     "error: there are no moves to write [program.empty]\n"},
    {"stages", [](motion::Path& p, shop::Machine&) { p.stages[1].first = 3; },
     "error: stage 'leave' overlaps another or reaches past the last move [program.stages]\n"},
    {"stage past the end",
     [](motion::Path& p, shop::Machine&) { p.stages[1].count = std::numeric_limits<std::size_t>::max(); },
     "error: stage 'leave' overlaps another or reaches past the last move [program.stages]\n"},
    {"field", [](motion::Path&, shop::Machine& m) { m.header = {"(cut by {spindel})"}; },
     "error: the machine's line '[cut by [spindel]]' cannot be written [program.header-field]\n"
     "   do: use {program}, {cutter}, {tool}, {rpm} and {date}, plain ASCII, at most 256 characters\n"},
    {"words", [](motion::Path&, shop::Machine& m) { m.rotary_word = "Y"; },
     "error: the machine's words are not three different axes [program.machine]\n   do: a rotary in degrees takes A, B "
     "or C\n"},
    {"diameter",
     [](motion::Path&, shop::Machine& m) {
       m = unrolled_machine();
       m.unrolled_diameter = 0;
     },
     "error: machine 'bench': an unrolled rotary needs the diameter its millimetres are counted on [program.machine]\n"
     "   do: put its figure into the shop's list of machines\n"},
    {"sense", [](motion::Path&, shop::Machine& m) { m.rotary_sense = 0; },
     "error: machine 'bench': the sense of its rotary word is not stated [program.machine]\n"
     "   do: put its figure into the shop's list of machines\n"},
};

TEST(Writer, RefusesAndNamesTheMove) {
  for (const Refusal& row : kRefusals) {
    motion::Path p = short_path();
    shop::Machine m = degrees_machine();
    row.spoil(p, m);
    const auto text = write(p, m, {});
    ASSERT_FALSE(text.ok()) << row.name;
    EXPECT_EQ(render(text.reasons()), row.expected) << row.name;
  }
}

TEST(RotaryDrawing, SaysWhichSideIsUp) {
  EXPECT_EQ(rotary_drawing(degrees_machine()),
            "  A0: face A is up                  A90: face D is up\n"
            "           | |                               | |\n"
            "           | | cutter                        | | cutter\n"
            "           \\_/                               \\_/\n"
            "        +---A---+                         +---D---+\n"
            "      B |   o   | D                     A |   o   | C\n"
            "        +---C---+                         +---B---+\n"
            "  Seen from the foot end of the piece, looking at its head (from the tailstock).\n"
            "  As A grows the wood turns counter-clockwise in this view: the other way\n"
            "  than the side under the cutter moves along the wood.\n");
  shop::Machine m = unrolled_machine();
  m.rotary_sense = 1;
  m.head_at_chuck = false;
  EXPECT_EQ(rotary_drawing(m),
            "  Y0: face A is up                  Y47.124: face B is up\n"
            "           | |                               | |\n"
            "           | | cutter                        | | cutter\n"
            "           \\_/                               \\_/\n"
            "        +---A---+                         +---B---+\n"
            "      B |   o   | D                     C |   o   | A\n"
            "        +---C---+                         +---D---+\n"
            "  Seen from the foot end of the piece, looking at its head (from the chuck).\n"
            "  As Y grows the wood turns clockwise in this view: the other way\n"
            "  than the side under the cutter moves along the wood.\n");
}

}  // namespace
}  // namespace pommel::program
