// Texts that cut one piece in turn, a file a cutter: the same judgement as of one text with the change of cutter in it, told of each file, with
// faults at their file and line.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/files.h"
#include "base/number.h"
#include "pieces.h"
#include "proof/cut_states.h"
#include "proof/proof.h"

namespace pommel::proof {
namespace {

using namespace testing;

// Programs by hand for a machine with the rotary in degrees that falls as a grows, G93.
const std::string kOpening = "G21 G90 G17 G40 G54\n";

std::string round_the_rod(double z) {
  std::string all = "(cutter: wide)\nM6 T1\nS12000 M3\nG0 Z30.\nG0 X-4. A0.\nG93\n(stage: finish)\n";
  for (int i = 0; i < 250; ++i) {
    all += "G0 A" + format_fixed(-i * 1.44, 3) + "\nG1 Z" + format_fixed(z, 3) + " F200.\nG1 X44. F29.4118\nG0 Z30.\nG0 X-4.\n";
  }
  return all;
}

// One turn in a groove 2 mm wide; the rotary has come to -358.56 degrees before.
std::string into_the_groove(double z) {
  return "(cutter: narrow)\nM6 T2\nS12000 M3\nG0 Z30.\nG0 X19. A-360.\nG93\n(stage: fine)\nG1 Z" + format_fixed(z, 3) + " F200.\nG1 A-720. F2.\nG1 X19.4 F200.\nG1 A-1080. F2.\nG0 Z30.\n";
}

const std::string kEnd = "M5\nM30\n";

struct Bench {
  shape::Part part = with_pieces({shape::line_piece(0, 20, 18, 20), shape::line_piece(18, 18, 20.4, 18), shape::line_piece(20.4, 20, 40, 20)});
  shape::Blank blank = blank_for(part, shape::Blank::Section::round, 46, 12);
  std::vector<shop::Cutter> cutters{ball(8), ball(2)};

  Bench() {
    cutters[0].id = "wide", cutters[1].id = "narrow";
    cutters[1].form = shop::Cutter::Form::flat;
  }
  Result<std::vector<Proof>> in_turn(const std::vector<std::string_view>& texts) const { return prove_in_turn(texts, part, blank, {}, cutters, open_machine(), {}, {}); }
};

TEST(InTurn, FilesAreJudgedAsOneTextWithTheChangeInIt) {
  const Bench bench;
  const std::string wide = kOpening + round_the_rod(20) + kEnd, narrow = kOpening + into_the_groove(18) + kEnd;
  const auto apart = bench.in_turn({wide, narrow});
  const auto whole = prove(kOpening + round_the_rod(20) + into_the_groove(18) + kEnd, bench.part, bench.blank, {}, bench.cutters, open_machine(), {}, {});
  ASSERT_TRUE(apart.ok()) << render(apart.reasons());
  ASSERT_TRUE(whole.ok()) << render(whole.reasons());
  ASSERT_EQ(apart->size(), 2u);
  EXPECT_TRUE(whole->passed()) << report(*whole);
  EXPECT_EQ(whole->files, 1u);
  for (std::size_t file = 0; file < 2; ++file) {
    const Proof& proof = (*apart)[file];
    EXPECT_TRUE(proof.passed()) << report(proof);
    EXPECT_EQ(proof.file, file);
    EXPECT_EQ(proof.files, 2u);
    EXPECT_EQ(proof.gouge.amount, whole->gouge.amount);
    EXPECT_EQ(proof.moves + 1, whole->moves);  // the second file does not know whence its cutter comes
    EXPECT_EQ(proof.hand_work.size(), whole->hand_work.size());
    ASSERT_EQ(proof.after.size(), 2u);
    EXPECT_EQ(proof.after[0].stands.amount, whole->after[0].stands.amount);
    ASSERT_EQ(proof.map.deviation.size(), whole->map.deviation.size());
    EXPECT_TRUE(std::equal(proof.map.deviation.begin(), proof.map.deviation.end(), whole->map.deviation.begin(), [](float p, float q) { return p == q || (p != p && q != q); }));
    EXPECT_EQ(proof.text_sha256, sha256(file == 0 ? wide : narrow));
  }
  // each lets its own text go, and no other
  EXPECT_TRUE(released(wide, (*apart)[0]).ok());
  EXPECT_TRUE(released(narrow, (*apart)[1]).ok());
  EXPECT_FALSE(released(narrow, (*apart)[0]).ok());
  EXPECT_THAT(report((*apart)[1]), ::testing::HasSubstr("This is file 2 of 2: they were cut in turn in one blank"));
}

TEST(InTurn, AFaultInOneFileKeepsAllOfThem) {
  const Bench bench;
  const auto proofs = bench.in_turn({kOpening + round_the_rod(20) + kEnd, kOpening + into_the_groove(17.9) + kEnd});
  ASSERT_TRUE(proofs.ok()) << render(proofs.reasons());
  for (const Proof& proof : *proofs) {
    EXPECT_FALSE(proof.passed());
    const auto fault = std::find_if(proof.findings.begin(), proof.findings.end(), [](const Finding& f) { return f.id == "proof.gouge"; });
    ASSERT_NE(fault, proof.findings.end()) << report(proof);
    EXPECT_EQ(fault->file, 1u);
    EXPECT_NEAR(proof.gouge.amount, 0.1, 0.002);
    EXPECT_THAT(fault->message, ::testing::HasSubstr("file 2, line " + std::to_string(fault->line) + ", pass 'fine'"));
    EXPECT_GT(fault->line, 8);
    EXPECT_LT(fault->line, 14);  // of the second text, which has thirteen lines of its own
  }
}

// The second file alone, or before the first, meets wood that the first would have taken.
TEST(InTurn, OrderAndWholenessMatter) {
  Bench bench;
  bench.cutters[1].max_depth_of_cut = 2.5;
  const std::string wide = kOpening + round_the_rod(20) + kEnd, narrow = kOpening + into_the_groove(18) + kEnd;
  const auto has = [](const Proof& proof, const std::string& id) {
    return std::any_of(proof.findings.begin(), proof.findings.end(), [&](const Finding& f) { return f.id == id && f.severity == Severity::error; });
  };
  const auto right = bench.in_turn({wide, narrow}), wrong = bench.in_turn({narrow, wide}), alone = bench.in_turn({narrow});
  ASSERT_TRUE(right.ok() && wrong.ok() && alone.ok());
  EXPECT_TRUE(right->front().passed()) << report(right->front());
  EXPECT_TRUE(has(wrong->front(), "proof.depth")) << report(wrong->front());
  EXPECT_TRUE(has(alone->front(), "proof.leftover")) << report(alone->front());
}

TEST(InTurn, AFileThatCannotBeReadIsNamed) {
  const Bench bench;
  const auto proofs = bench.in_turn({kOpening + round_the_rod(20) + kEnd, kOpening + "G1 XO5\n"});
  ASSERT_FALSE(proofs.ok());
  EXPECT_EQ(proofs.reasons().front().place.file, "file 2 of 2");
  EXPECT_EQ(proofs.reasons().front().place.line, 2);
}

// It has no part in what the others do, and is not let go with them.
TEST(InTurn, AFileThatMovesNothingIsRefused) {
  const Bench bench;
  const std::string wide = kOpening + round_the_rod(20) + kEnd, narrow = kOpening + into_the_groove(18) + kEnd, nothing = kOpening + "M5\nM30\n";
  for (const auto& texts : {std::vector<std::string_view>{wide, narrow, nothing}, {wide, nothing, narrow}, {nothing}}) {
    const auto proofs = bench.in_turn(texts);
    ASSERT_FALSE(proofs.ok());
    EXPECT_EQ(proofs.reasons().front().id, "program.no-motion");
    const auto which = std::find(texts.begin(), texts.end(), nothing) - texts.begin() + 1;
    EXPECT_EQ(proofs.reasons().front().place.file, texts.size() > 1 ? "file " + std::to_string(which) + " of 3" : "program");
  }
}

// For looking at: lines are counted through, and the wood of the first file is what the second begins with.
TEST(InTurn, StatesGoOnFromFileToFile) {
  const Bench bench;
  const std::string wide = kOpening + round_the_rod(20) + kEnd, narrow = kOpening + into_the_groove(18) + kEnd;
  const int lines = static_cast<int>(std::count(wide.begin(), wide.end(), '\n'));
  const auto states = cut_states({wide, narrow}, bench.part, bench.blank, bench.cutters, open_machine(), 40, {});
  ASSERT_TRUE(states.ok()) << render(states.reasons());
  ASSERT_EQ(states->cutters.size(), 2u);
  EXPECT_GT(states->states.back().line, lines);
  const WoodState& before = states->states[states->at_line(lines)];
  EXPECT_EQ(before.cutter, 0u);
  EXPECT_EQ(states->states.back().cutter, 1u);
  for (std::size_t i = 0; i < before.radius.size(); ++i) ASSERT_LE(states->states.back().radius[i], before.radius[i] + 1e-4f);
}

}  // namespace
}  // namespace pommel::proof
