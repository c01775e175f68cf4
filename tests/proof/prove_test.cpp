// From a text, or motions, to the verdict: each fault is put in on purpose and must be found, where it is and as deep as it is.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/number.h"
#include "pieces.h"

namespace pommel::proof {
namespace {

using namespace testing;
using ::testing::HasSubstr;
using Section = shape::Blank::Section;

// A rod of 20 mm radius from a round blank, 250 lengthwise passes: ridges of 0.011 mm.
struct Rod {
  shape::Part part = rod(20, 60);
  shape::Blank blank = blank_for(part, Section::round, 46, 12);
  shop::Cutter cutter = ball(6);
  shop::Machine machine = open_machine();
  shape::BlankTolerance tolerance;
  Settings settings;
  motion::Path path = lengthwise(-4, 64, 20, 250, 30);

  Result<Proof> prove() const { return prove_path(path, part, blank, tolerance, cutter, machine, settings, {}); }
  Proof proved() const {
    auto result = prove();
    EXPECT_TRUE(result.ok()) << render(result.ok() ? std::vector<Diagnostic>{} : result.reasons());
    return std::move(result).value();
  }
};

const Finding* finding(const Proof& proof, const std::string& id) {
  for (const Finding& f : proof.findings) {
    if (f.id == id) return &f;
  }
  return nullptr;
}

TEST(Prove, AGoodPathPasses) {
  Proof proof = Rod{}.proved();
  EXPECT_TRUE(proof.passed()) << report(proof);
  EXPECT_TRUE(proof.findings.empty());
  EXPECT_LT(proof.gouge.amount, 1e-3);
  EXPECT_TRUE(proof.hand_work.empty());
  ASSERT_EQ(proof.blanks.size(), 4u);
  EXPECT_NEAR(proof.greatest_depth, 3, 1e-3);
  EXPECT_EQ(proof.moves, 1250u);
}

TEST(Prove, AGoodPathHasAMapWithinItsRidges) {
  Proof proof = Rod{}.proved();
  EXPECT_EQ(proof.map.rows, 336);  // not more than there are rows of rays
  EXPECT_EQ(proof.map.columns, 180);
  double highest = -1, lowest = 1;
  std::size_t bare = 0;
  for (float v : proof.map.deviation) {
    if (std::isnan(v)) {
      ++bare;
      continue;
    }
    highest = std::max(highest, static_cast<double>(v));
    lowest = std::min(lowest, static_cast<double>(v));
  }
  EXPECT_LT(highest, 0.0122);  // (s²/8)(1/3 + 1/20) at s = 0.503
  EXPECT_GT(highest, 0.011);
  EXPECT_GE(lowest, -1e-3);
  EXPECT_NEAR(static_cast<double>(bare) / static_cast<double>(proof.map.deviation.size()), 24.0 / 84, 0.02);
}

TEST(Prove, AWholePathTooDeepIsFoundWithItsDepth) {
  for (double fault : {0.021, 0.03, 0.05}) {
    Rod rod;
    rod.path = lengthwise(-4, 64, 20 - fault, 250, 30);
    Proof proof = rod.proved();
    EXPECT_FALSE(proof.passed());
    EXPECT_NEAR(proof.gouge.amount, fault, 1e-3);
    ASSERT_NE(finding(proof, "proof.gouge"), nullptr);
    ASSERT_EQ(proof.gouges.size(), 1u);
    EXPECT_TRUE(proof.gouges[0].all_round);
  }
  Rod shallow;  // 0.019 is under the limit
  shallow.path = lengthwise(-4, 64, 20 - 0.019, 250, 30);
  EXPECT_TRUE(shallow.proved().passed());
}

TEST(Prove, OnePassTooDeepIsFoundWithItsLineAndPass) {
  Rod rod;
  rod.path.stages = {{"first half", 0, 625}, {"second half", 625, 625}};
  int pass = 180;
  for (std::size_t i = 5u * 180 + 1; i < 5u * 180 + 3; ++i) rod.path.moves[i].to.z -= 0.05;
  Proof proof = rod.proved();
  const Finding* gouge = finding(proof, "proof.gouge");
  ASSERT_NE(gouge, nullptr);
  double degrees = pass * 360.0 / 250;
  EXPECT_NEAR(proof.gouge.amount, 0.05, 0.005);
  EXPECT_NEAR(proof.gouge.degrees, degrees, 0.5);
  EXPECT_EQ(gouge->stage, "second half");
  EXPECT_GE(gouge->line, 5 * 180 + 2);
  EXPECT_LE(gouge->line, 5 * 180 + 4);
  ASSERT_EQ(proof.gouges.size(), 1u);
  EXPECT_LT(proof.gouges[0].x0, 1);
  EXPECT_GT(proof.gouges[0].x1, 59);
  EXPECT_THAT(gouge->message, HasSubstr("mm into the part at x "));
  EXPECT_THAT(gouge->message, HasSubstr("(piece 1), line " + std::to_string(gouge->line) + ", pass 'second half'"));
}

// The rod's waste holds it: 0.55 of 20 mm may go no thinner, at either end. What is thicker is a groove all round: cut from one side it would be refused as such (stub_test.cpp).
TEST(Prove, WasteThatIsCutStaysThickEnoughToHoldThePiece) {
  for (const auto& [x, end] : {std::pair{-6.0, "head"}, std::pair{66.0, "foot"}}) {
    for (double z : {11.2, 10.8}) {
      Rod rod;
      const double clear = 30, a = 0.25 * kPi;
      PathMaker notch({x, 0, clear, a});
      notch.stage("notch").feed(x, z, a);
      if (z > 11) notch.feed(x, z, a + 2 * kPi);
      notch.rapid(x, clear, notch.path.moves.back().to.a);
      rod.path.moves.insert(rod.path.moves.end(), {{{x, 0, clear, rod.path.moves.back().to.a}, true, 0, 0}, {{x, 0, clear, a}, true, 0, 0}});
      rod.path.stages.push_back({"notch", rod.path.moves.size(), notch.path.moves.size()});
      rod.path.moves.insert(rod.path.moves.end(), notch.path.moves.begin(), notch.path.moves.end());
      const Proof proof = rod.proved();
      EXPECT_EQ(proof.passed(), z > 11) << report(proof);
      if (z > 11) continue;
      const Finding* waste = finding(proof, "proof.waste");
      ASSERT_NE(waste, nullptr);
      EXPECT_EQ(waste->stage, "notch");
      EXPECT_THAT(waste->message, HasSubstr(std::string("the cutter leaves 10.8 mm of radius in the waste beside the ") + end + ", where 11 mm hold the piece, at x " + format_number(x, 0)));
      EXPECT_THAT(waste->message, HasSubstr(" mm, 45 deg, "));
    }
  }
}

TEST(Prove, APatchOverZeroDegreesIsOnePatch) {
  Rod rod;
  for (std::size_t i = 1; i < 3; ++i) rod.path.moves[i].to.z -= 0.05;
  Proof proof = rod.proved();
  ASSERT_EQ(proof.gouges.size(), 1u);
  const Patch& patch = proof.gouges[0];
  EXPECT_FALSE(patch.all_round);
  EXPECT_NEAR(patch.degrees0, 359, 0.5);
  EXPECT_NEAR(patch.degrees1, 361, 0.5);
  EXPECT_EQ(patch.worst.degrees, 0);
  // seen from the axis: its rays' columns times its length
  double columns = std::round((patch.degrees1 - patch.degrees0) / 0.5) + 1;
  EXPECT_NEAR(patch.area, columns * 0.5 * kPi / 180 * 20 * (patch.x1 - patch.x0 + 0.25), 0.5);
}

TEST(Prove, AShortDipOfOneMoveIsFound) {
  Rod rod;
  motion::Path path;
  path.cutter = "ball";
  path.rpm = 12000;
  path.start = rod.path.start;
  for (std::size_t i = 0; i < rod.path.moves.size(); ++i) {
    if (i == 5u * 100 + 2) {  // on its way it dips by 0.05 at x = 31.37
      motion::Move dip = rod.path.moves[i];
      for (auto [x, z] : {std::pair{31.17, 20.0}, std::pair{31.37, 19.95}, std::pair{31.57, 20.0}}) {
        dip.to.x = x;
        dip.to.z = z;
        path.moves.push_back(dip);
      }
    }
    path.moves.push_back(rod.path.moves[i]);
  }
  rod.path = path;
  Proof proof = rod.proved();
  EXPECT_NEAR(proof.gouge.amount, 0.05, 0.005);
  EXPECT_LE(proof.gouge.amount, 0.0501);
  EXPECT_NEAR(proof.gouge.x, 31.37, 0.26);
  EXPECT_EQ(proof.gouge.line, 503);
}

TEST(Prove, AMissingPassIsFoundAsWoodThatTheCutterReaches) {
  Rod rod;
  double a = 2 * kPi * 75 / 250;  // 108 degrees, where a ray stands on the ridge
  std::erase_if(rod.path.moves, [&](const motion::Move& m) { return std::fabs(m.to.a - a) < 1e-9; });
  rod.path.stages.clear();
  Proof proof = rod.proved();
  EXPECT_EQ(proof.findings.size(), 0u);  // a ridge of 0.045 is under the cusp of 0.05
  rod.settings.cusp = 0.02;
  proof = rod.proved();
  const Finding* left = finding(proof, "proof.leftover");
  ASSERT_NE(left, nullptr) << report(proof);
  double half = 2 * kPi / 250, ridge = 23 * std::cos(half) - std::sqrt(9 - std::pow(23 * std::sin(half), 2)) - 20;
  EXPECT_NEAR(proof.leftover.amount, ridge, 1e-4);
  EXPECT_NEAR(proof.leftover.degrees, 108, 1e-9);
}

TEST(Prove, WhatNobodyCutsIsLeftover) {
  Rod rod;
  rod.path = lengthwise(-4, 30, 20, 250, 30);
  Proof proof = rod.proved();
  const Finding* left = finding(proof, "proof.leftover");
  ASSERT_NE(left, nullptr);
  EXPECT_THAT(left->message, HasSubstr("at least 3 mm"));
  ASSERT_EQ(proof.left.size(), 1u);
  EXPECT_TRUE(proof.left[0].all_round);
  EXPECT_NEAR(proof.left[0].x0, 31, 1.5);
  EXPECT_EQ(proof.left[0].x1, 60);
}

TEST(Prove, AQuirkTooNarrowForTheBallIsHandWorkAndNoFault) {
  Rod rod;
  // 0.8 mm wide: a ball on its edges goes 3 - sqrt(9 - 0.4²) = 0.027 mm into it, less than the cusp
  auto with_groove = [](double width) {
    return with_pieces({shape::line_piece(0, 20, 28, 20), shape::line_piece(28, 18, 28 + width, 18),
                        shape::line_piece(28 + width, 20, 60, 20)});
  };
  rod.part = with_groove(0.8);
  Proof proof = rod.proved();
  EXPECT_TRUE(proof.passed()) << report(proof);
  ASSERT_EQ(proof.hand_work.size(), 1u);
  const Patch& quirk = proof.hand_work[0];
  EXPECT_TRUE(quirk.all_round);
  EXPECT_GE(quirk.x0, 28);
  EXPECT_LE(quirk.x1, 28.8);
  EXPECT_EQ(quirk.element, "piece 2");
  EXPECT_NEAR(quirk.worst.amount, 0.4, 1e-3);  // half-way between its walls the skin is nearest
  // wider ones the ball could have entered: a fault, and by how much
  double ridge = 0.0122;
  for (double width : {2.0, 4.0}) {
    rod.part = with_groove(width);
    proof = rod.proved();
    ASSERT_NE(finding(proof, "proof.leftover"), nullptr);
    double within = 3 - std::sqrt(9 - width * width / 4);
    EXPECT_GE(proof.leftover.amount, within - 0.001);
    EXPECT_LE(proof.leftover.amount, within + ridge + 0.001);
    EXPECT_NEAR(proof.leftover.x, 28 + width / 2, 0.3);
  }
}

TEST(Prove, RapidsThroughWoodAreFoundForEveryLieOfTheBlank) {
  Rod rod;
  rod.path = lengthwise(-4, 64, 20, 12, 23.3);  // 0.3 mm over the blank as planned; turns by 30 degrees between lines
  Proof proof = rod.proved();
  EXPECT_EQ(proof.blanks[0].rapids_in_wood, 0u);
  for (std::size_t b : {1u, 2u, 3u}) {
    EXPECT_GT(proof.blanks[b].rapids_in_wood, 0u) << proof.blanks[b].name;
  }
  EXPECT_NEAR(proof.blanks[1].rapid.amount, 0.5, 0.005);   // 23.8 - 23.3
  double bow_at_4 = 4 * (8.0 / 84) * (76.0 / 84);           // mm at x = -4, where the rapids turn
  EXPECT_NEAR(proof.blanks[2].rapid.amount, bow_at_4 - 0.3, 0.005);
  EXPECT_NEAR(proof.blanks[3].rapid.amount, 0.5, 0.005);
  const Finding* rapid = finding(proof, "proof.rapid");
  ASSERT_NE(rapid, nullptr);
  EXPECT_THAT(rapid->message, HasSubstr("with the blank off centre, a rapid goes through 0.5"));
  EXPECT_GT(rapid->line, 0);
  rod.path = lengthwise(-4, 64, 20, 12, 22);
  EXPECT_NEAR(rod.proved().blanks[0].rapid.amount, 1, 0.01);
}

TEST(Prove, ShankAndColletInWoodAreFound) {
  Rod rod;
  rod.cutter.flute_length = 20;
  rod.cutter.shank_diameter = 6;
  rod.cutter.shank_length = 40;
  rod.cutter.collet_diameter = 28;
  rod.cutter.collet_length = 30;
  EXPECT_TRUE(rod.proved().passed()) << report(rod.proved());
  rod.cutter.flute_length = 3;
  rod.cutter.shank_diameter = 10;  // 3 mm above the tip: 23 mm from the axis, where a blank as planned just ends
  Proof proof = rod.proved();
  EXPECT_EQ(proof.blanks[0].shank_in_wood, 0u);
  EXPECT_GT(proof.blanks[3].shank_in_wood, 0u);
  EXPECT_NEAR(proof.blanks[3].shank.amount, 0.8, 0.05);
  ASSERT_NE(finding(proof, "proof.shank"), nullptr);
}

TEST(Prove, ABlankTooSmallIsAFault) {
  Rod rod;
  rod.blank.size = 39;
  Proof proof = rod.proved();
  ASSERT_NE(finding(proof, "proof.blank-too-small"), nullptr);
  EXPECT_NEAR(proof.lacking.amount, 0.5, 1e-4);
}

TEST(Prove, DeepCutsAreFaultsOrWarningsAsTold) {
  Rod rod;
  rod.cutter.max_depth_of_cut = 2;
  Proof proof = rod.proved();
  ASSERT_NE(finding(proof, "proof.depth"), nullptr);
  EXPECT_FALSE(proof.passed());
  EXPECT_THAT(finding(proof, "proof.depth")->message, HasSubstr("the cutter meets 3 mm of standing wood in one move, it is meant for 2 mm"));
  rod.settings.over_depth = Severity::warning;
  EXPECT_TRUE(rod.proved().passed());
  rod.cutter.max_depth_of_cut = 3;
  EXPECT_EQ(finding(rod.proved(), "proof.depth"), nullptr);
}

TEST(Prove, TheMachinesLimitsAreKept) {
  struct Case {
    const char* id;
    void (*set)(Rod&);
  };
  for (const Case& one : {Case{"proof.travel", [](Rod& r) { r.machine.x_max = 50; }},
                          Case{"proof.travel", [](Rod& r) { r.machine.z_max = 25; }},
                          Case{"proof.turns", [](Rod& r) { r.machine.rotary_limit_turns = 0.9; }},
                          Case{"proof.feed", [](Rod& r) { r.machine.feed_max = 1500; }},
                          Case{"proof.feed", [](Rod& r) { r.machine.rapid_x = 1500; }},
                          Case{"proof.speed", [](Rod& r) { r.machine.max_rpm = 8000; }},
                          Case{"proof.speed", [](Rod& r) { r.cutter.rpm = 8000; }},
                          Case{"proof.speed", [](Rod& r) { r.path.rpm = 0; }},
                          Case{"proof.wrong-cutter", [](Rod& r) { r.path.cutter = "another"; }},
                          Case{"proof.chuck", [](Rod& r) { r.machine.jaw_swing = 25, r.machine.chuck_grip = 6; }},
                          Case{"proof.chuck", [](Rod& r) { r.machine.tailstock_top = 25, r.machine.centre_grip = 6; }},
                          Case{"proof.swing", [](Rod& r) { r.machine.max_swing = 45; }},
                          Case{"proof.swing", [](Rod& r) { r.machine.max_between_centres = 80; }}}) {
    Rod rod;
    one.set(rod);
    Proof proof = rod.proved();
    EXPECT_NE(finding(proof, one.id), nullptr) << one.id << "\n" << report(proof);
    EXPECT_FALSE(proof.passed());
  }
}

TEST(Prove, TimeIsTheSumOfMinutesAndRapids) {
  Rod rod;
  Proof proof = rod.proved();
  // each pass: 10 mm down and 68 mm along at 2000 mm/min; 10 mm up and 68 mm back at 6000, a turn of 1/250 at 20 a minute
  EXPECT_NEAR(proof.feed_minutes, 250 * 78 / 2000.0, 1e-9);
  EXPECT_NEAR(proof.rapid_minutes, 250 * 78 / 6000.0 + 249 / 250.0 / 20, 1e-9);
}

TEST(Prove, WhatMakesNoSenseIsAFailureWithAReason) {
  struct Case {
    const char* id;
    void (*set)(Rod&);
  };
  for (const Case& one : {Case{"proof.off-axis", [](Rod& r) { r.path.moves[3].to.y = 0.1; }},
                          Case{"proof.position", [](Rod& r) { r.path.moves[3].to.x = std::nan(""); }},
                          Case{"proof.position", [](Rod& r) { r.path.moves[3].to.a = 1e300; }},
                          Case{"proof.position", [](Rod& r) { r.path.moves[1].minutes = -1; }},
                          Case{"proof.empty", [](Rod& r) { r.path.moves.clear(); }},
                          Case{"proof.blank", [](Rod& r) { r.blank.size = 0; }},
                          Case{"proof.blank", [](Rod& r) { r.blank.x1 = 50; }},
                          Case{"proof.blank", [](Rod& r) { r.tolerance.bow = -1; }},
                          Case{"proof.cutter", [](Rod& r) { r.cutter.diameter = 0; }},
                          Case{"proof.cutter", [](Rod& r) { r.cutter.flute_length = 1; }},
                          Case{"proof.settings", [](Rod& r) { r.settings.columns = 721; }},
                          Case{"proof.settings", [](Rod& r) { r.settings.row_step = 0; }},
                          Case{"proof.too-much", [](Rod& r) { r.settings.row_step = 0.01, r.settings.columns = 36000; }},
                          Case{"proof.part", [](Rod& r) { r.part.outline.pieces.clear(); }},
                          Case{"proof.part", [](Rod& r) { r.part.outline.pieces[0].r1 = std::nan(""); }}}) {
    Rod rod;
    one.set(rod);
    auto result = rod.prove();
    ASSERT_FALSE(result.ok()) << one.id;
    EXPECT_EQ(result.reasons()[0].id, one.id);
  }
}

TEST(Prove, StopsWhenAsked) {
  Rod rod;
  std::stop_source source;
  source.request_stop();
  auto result = prove_path(rod.path, rod.part, rod.blank, rod.tolerance, rod.cutter, rod.machine, rod.settings, source.get_token());
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.reasons()[0].id, "cancelled");
}

TEST(Prove, MovesThatCutBelowTheAxisDestroyThePartAndDoNotCrash) {
  Rod rod;
  rod.path.moves[2].to.z = -8;
  Proof proof = rod.proved();
  EXPECT_FALSE(proof.passed());
  EXPECT_GT(proof.gouge.amount, 15);
}

// --- the text ----------------------------------------------------------------------------------------------------------

// A program by hand for a machine with the rotary in degrees that falls as a grows, G93.
std::string text(double z) {
  std::string all = "G21 G90 G17 G40 G54\n(cutter: ball)\nM6 T1\nS12000 M3\nG0 Z30.\nG0 X-4. A0.\nG93\n(stage: finish)\n";
  for (int i = 0; i < 250; ++i) {
    std::string a = format_fixed(-i * 1.44, 3);
    all += "G0 A" + a + "\nG1 Z" + format_fixed(z, 3) + " F200.\nG1 X64. F29.4118\nG0 Z30.\nG0 X-4.\n";
  }
  return all + "M5\nM30\n";
}

Result<Proof> prove_text(const Rod& rod, const std::string& program) {
  return prove(program, rod.part, rod.blank, rod.tolerance, rod.cutter, rod.machine, rod.settings, {});
}

TEST(Text, IsReadProvedAndReleased) {
  Rod rod;
  std::string program = text(20);
  auto proof = prove_text(rod, program);
  ASSERT_TRUE(proof.ok()) << render(proof.reasons());
  EXPECT_TRUE(proof->passed()) << report(*proof);
  EXPECT_EQ(proof->text_sha256.size(), 64u);
  EXPECT_TRUE(released(program, *proof).ok());
}

TEST(Text, OneDigitChangedAfterTheProofIsNotReleased) {
  Rod rod;
  std::string program = text(20);
  auto proof = prove_text(rod, program);
  ASSERT_TRUE(proof.ok());
  std::string changed = program;
  changed[changed.find("X64.") + 2] = '5';
  auto release = released(changed, *proof);
  ASSERT_FALSE(release.ok());
  EXPECT_EQ(release.reasons()[0].id, "proof.other-text");
  EXPECT_FALSE(released(program + "\n", *proof).ok());
}

TEST(Text, AFaultyTextIsNotReleasedEvenAsItself) {
  Rod rod;
  std::string program = text(20);
  std::size_t at = program.find("G1 Z20.000", program.find("A-180"));
  program.replace(at, 10, "G1 Z19.950");
  auto proof = prove_text(rod, program);
  ASSERT_TRUE(proof.ok());
  EXPECT_NEAR(proof->gouge.amount, 0.05, 0.005);
  EXPECT_NEAR(proof->gouge.degrees, 180, 0.5);
  EXPECT_EQ(proof->gouge.stage, "finish");
  auto line = 1 + std::count(program.begin(), program.begin() + static_cast<std::ptrdiff_t>(at), '\n');
  EXPECT_GE(proof->gouge.line, line);
  EXPECT_LE(proof->gouge.line, line + 1);
  auto release = released(program, *proof);
  ASSERT_FALSE(release.ok());
  EXPECT_EQ(release.reasons()[0].id, "proof.not-passed");
  EXPECT_THAT(release.reasons()[0].message, HasSubstr("into the part"));
}

TEST(Text, AProofOfMotionsReleasesNoText) {
  Rod rod;
  auto release = released(text(20), rod.proved());
  ASSERT_FALSE(release.ok());
  EXPECT_EQ(release.reasons()[0].id, "proof.other-text");
}

TEST(Text, WhatCannotBeReadIsAFailureWithTheLine) {
  auto proof = prove_text(Rod{}, "G21 G90\nG1 X1e5\n");
  ASSERT_FALSE(proof.ok());
  EXPECT_EQ(proof.reasons()[0].place.line, 2);
}

TEST(Text, TheReportSaysTheConclusionFirst) {
  Rod rod;
  auto good = prove_text(rod, text(20));
  ASSERT_TRUE(good.ok());
  EXPECT_EQ(report(*good),
            "PASSED: no gouge over 0.02 mm, no wood left that the cutter reaches, no wood met at rapid.\n"
            "This checks the text against this design on a rigid blank and the machine as described, not your set-up.\n"
            "Figures\n"
            "  greatest gouge: none\n"
            "  deepest cut in one move: 3 mm\n"
            "  blank as planned: clear at rapid, shank clear\n"
            "  blank off centre: clear at rapid, shank clear\n"
            "  blank bowed: clear at rapid, shank clear\n"
            "  blank oversize: clear at rapid, shank clear\n"
            "  time, speeding up and slowing down not counted: 13.0 min (cutting 9.7, rapids 3.3), 1249 moves\n"
            "  between the rays a gouge could be 0.006 mm deeper than what was seen; the reach is known to 0.013 mm\n"
            "  cutter: ball\n"
            "  text checked (sha256): " + good->text_sha256 + "\n");
  auto bad = prove_text(rod, text(19.9));
  ASSERT_TRUE(bad.ok());
  std::string said = report(*bad);
  EXPECT_EQ(said.substr(0, said.find('\n')), "NOT PASSED: 1 fault, do not cut with this program.");
  EXPECT_THAT(said, HasSubstr("\nGouges\n  x 0 to 60 mm, all round, piece 1: 0.1 mm\nFigures\n"));
}

// --- the reach ---------------------------------------------------------------------------------------------------------

TEST(Reach, OverARodTheCentreStandsOnTheRod) {
  shape::Part part = rod(20, 60);
  shape::Blank blank = blank_for(part, Section::round, 46);
  Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
  std::vector<float> body(grid.rays());
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    bool inside = grid.x[row] >= 0 && grid.x[row] <= 60;
    for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i) body[i] = inside ? 20 : 0;
  }
  Reach reach(grid, body, tool_of(ball(6)).value(), -1e9, 1e9);
  auto place_at = [&](double x) {
    std::size_t p = 0;
    while (reach.places()[p] < x - 1e-9) ++p;
    return p;
  };
  EXPECT_NEAR(reach.tip_height(place_at(30), 17), 20, 1e-5);
  EXPECT_NEAR(reach.tip_height(place_at(62), 17), 17 + std::sqrt(9 - 4.0), 1e-4);  // past the end: on its edge
  EXPECT_NEAR(reach.tip_height(place_at(64), 17), 0, 1e-5);                        // clear of it: tip on the axis
  EXPECT_NEAR(reach.depth_within_reach(30.1, 1.001, 20.5), 0.5, reach_error(3, 0.25, grid.column_step(), 20.5));
  EXPECT_NEAR(reach.depth_within_reach(30.1, 1.001, 20), 0, 1e-6);
  EXPECT_NEAR(reach.depth_within_reach(30, 0, 30), 3, 0.02);  // deep in the open: as deep as a ball is
}

}  // namespace
}  // namespace pommel::proof
