// A proof goes over to a text that differs in notes alone, and to no other.
#include <gtest/gtest.h>

#include "base/files.h"
#include "proof/proof.h"
#include "proof/read.h"

namespace pommel::proof {
namespace {

const std::string kChecked = "%\n(cutter: ball)\n(note: check 1)\nG21 G90 G93\nG0 Z50.\n(note: check 2)\nM2\n";

Proof proof_of(const std::string& text) {
  Proof proof;
  proof.text_sha256 = sha256(text);
  return proof;
}

TEST(Restated, NotesMayDiffer) {
  const std::string text = "%\n(cutter: ball)\n(note: deepest cut 0.004 mm)\nG21 G90 G93\nG0 Z50.\n(note: )\nM2\n";
  const auto same = restated(kChecked, text, proof_of(kChecked));
  ASSERT_TRUE(same.ok()) << render(same.reasons());
  EXPECT_TRUE(released(text, *same).ok());
  EXPECT_FALSE(released(kChecked, *same).ok());
}

TEST(Restated, NothingElseMay) {
  struct Case {
    const char *what, *from, *to;
  };
  for (const Case& one : {Case{"a word", "Z50.", "Z49."}, Case{"a line more", "G0 Z50.\n", "G0 Z50.\nG0 X1.\n"}, Case{"a line less", "M2\n", ""},
                          Case{"a blank", "G0 Z50.", "G0  Z50."}, Case{"the cutter's comment", "(cutter: ball)", "(cutter: vee)"},
                          Case{"a note that becomes a word", "(note: check 2)", "G0 X5."}, Case{"a word after the note", "(note: check 2)", "(note: ok) G0 X5."},
                          Case{"two comments in one line", "(note: check 2)", "(note: a)(cutter: vee)"}, Case{"a note that is not closed", "(note: check 2)", "(note: check 2"},
                          Case{"a note that becomes another comment", "(note: check 2)", "(MSG, stop)"}, Case{"a note that is deleted when a switch is on", "(note: check 2)", "/(note: x)"}}) {
    std::string text = kChecked;
    text.replace(text.find(one.from), std::string(one.from).size(), one.to);
    const auto other = restated(kChecked, text, proof_of(kChecked));
    ASSERT_FALSE(other.ok()) << one.what;
    EXPECT_EQ(other.reasons().front().id, "proof.other-text") << one.what;
  }
}

TEST(Restated, AProofOfAnotherTextOrAFaultGoesOverToNothing) {
  EXPECT_FALSE(restated(kChecked, kChecked, proof_of("another")).ok());
  Proof bad = proof_of(kChecked);
  bad.findings.push_back({Severity::error, "proof.gouge", "", "", 0, {}});
  EXPECT_EQ(restated(kChecked, kChecked, bad).reasons().front().id, "proof.not-passed");
}

TEST(CuttersFor, ByNameTheOnlyOneOrEachInItsTurn) {
  std::vector<motion::Path> paths(2);
  std::vector<shop::Cutter> two(2);
  two[0].id = "a", two[1].id = "b";
  const auto in_turn = cutters_for(paths, two);
  ASSERT_TRUE(in_turn.ok());
  EXPECT_EQ((*in_turn)[0]->id + (*in_turn)[1]->id, "ab");
  paths[0].cutter = "b", paths[1].cutter = "a";
  const auto named = cutters_for(paths, two);
  ASSERT_TRUE(named.ok());
  EXPECT_EQ((*named)[0]->id + (*named)[1]->id, "ba");
  const std::vector<shop::Cutter> one{two[0]};
  EXPECT_TRUE(cutters_for(paths, one).ok());
  paths[1].cutter = "c";
  EXPECT_EQ(cutters_for(paths, two).reasons().front().id, "proof.which-cutter");
  paths[0].cutter = paths[1].cutter = "";
  paths.resize(1);
  EXPECT_EQ(cutters_for(paths, two).reasons().front().id, "proof.which-cutter");
}

}  // namespace
}  // namespace pommel::proof
