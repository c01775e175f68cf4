// The lists `treatments:` and `joints:`: read, computed by a sheet, and done to a turned piece; each fault said where it stands.
#include "family/treatments.h"

#include <gtest/gtest.h>

#include "shape/faces.h"
#include "shape/outline.h"
#include "sheet/sheet.h"
#include "yaml/document.h"

namespace pommel::family {
namespace {

constexpr const char* kWritten = R"(treatments:
  - flutes: {from: shaft, from_plus: 12 mm, until: shaft, until_plus: = -thick / 6, count: 8, width: 9 mm, depth: 3 mm, run_out: 15 mm, run_out_foot: 20 mm, phase: 22.5 deg}
  - polygon: {from: head, from_plus: 40 mm, until: 160 mm, across: = thick * 1.2, stop: ogee, stop_length: 30 mm, stop_foot: cove}
  - taper: {faces: CD, from: foot block, until: foot, width: = thick}
  - twist: {from: rope, until: rope, pitch: 90 mm, hand: left, depth: 6 mm, fade: 20 mm}
joints:
  - bore: {name: bolt, mate: rail, face: B, at: foot block, across: 5 mm, diameter: 10 mm, seat_diameter: 25 mm, seat_depth: 12 mm}
  - axial bore: {name: wire, diameter: 10 mm}
  - end cut: {end: foot, at: foot, at_plus: -20 mm, angle: 10 deg, towards: C}
  - mortise: {name: stretcher, face: A, from: foot block, from_plus: 60 mm, until: foot block, until_plus: -30 mm, width: 12 mm, depth: 15 mm}
)";

struct Lists {
  std::vector<WorkText> treatments, joints;
};

Lists read(const std::string& text, Sink& sink) {
  Lists lists;
  const auto root = yaml::read(text, "f.yaml", sink);
  if (!root) return lists;
  yaml::MapReader document(*root, "family", sink);
  lists.treatments = read_treatments(document, "treatments", sink);
  lists.joints = read_joints(document, "joints", sink);
  document.finish();
  return lists;
}

// A column of 1,000 mm: 200 mm of square, a shaft of 60 mm, a rope of 50 mm, a square foot block of 150 mm.
shape::Part column() {
  std::vector<shape::ElementSpec> specs(4);
  const auto set = [&](std::size_t i, shape::ElementKind kind, const char* label, double length, double diameter) {
    specs[i].kind = kind;
    specs[i].label = label;
    specs[i].length = length;
    if (diameter > 0) specs[i].start = diameter;
    specs[i].step = i > 0;
  };
  set(0, shape::ElementKind::square, "", 200, 0);
  set(1, shape::ElementKind::cylinder, "shaft", 400, 60);
  set(2, shape::ElementKind::cylinder, "rope", 250, 50);
  set(3, shape::ElementKind::square, "foot block", 150, 0);
  const auto built = shape::build_outline(specs, 1000, shape::StockSection::square(80));
  EXPECT_TRUE(built.ok()) << render(built.reasons());
  shape::Part part;
  part.length = 1000;
  part.outline = built->outline;
  part.elements = built->elements;
  part.faces = shape::square_faces(80, 1000);
  return part;
}

std::vector<std::string> labels() { return {"", "shaft", "rope", "foot block"}; }

sheet::Sheet sheet_of(const Lists& lists, Sink& sink) {
  sheet::Sheet book("catalogue", {});
  sheet::Parameter thick;
  thick.name = "thick";
  thick.entry = sheet::Entry{"60 mm", {}, {}};
  book.add(thick);
  for (const sheet::Use& use : treatment_uses("", lists.treatments)) book.add(use);
  for (const sheet::Use& use : joint_uses("", lists.joints)) book.add(use);
  book.settle();
  sink.add(book.diagnostics());
  return book;
}

Numbers numbers_of(const sheet::Sheet& book) {
  return [&book](const std::string& use) -> std::optional<double> {
    const auto found = book.need_use(use, 0);
    return found.ok() ? std::optional<double>(found->number()) : std::nullopt;
  };
}

TEST(Treatments, AreReadComputedAndCut) {
  Sink sink;
  const Lists lists = read(kWritten, sink);
  ASSERT_EQ(lists.treatments.size(), 4u);
  ASSERT_EQ(lists.joints.size(), 4u);
  check_places(lists.treatments, labels(), sink);
  check_places(lists.joints, labels(), sink);
  const sheet::Sheet book = sheet_of(lists, sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  const auto cut = with_treatments(column(), "", lists.treatments, numbers_of(book));
  ASSERT_TRUE(cut.ok()) << render(cut.reasons());
  ASSERT_EQ(cut->flutes.size(), 8u);
  EXPECT_NEAR(cut->flutes[0].theta, 3.14159265358979 / 8, 1e-12);
  EXPECT_EQ(cut->flutes[0].centre.pieces[1].x0, 212);
  EXPECT_EQ(cut->flutes[0].centre.pieces[1].x1, 227);
  EXPECT_EQ(cut->flutes[0].centre.pieces.back().x0, 590);
  EXPECT_EQ(cut->flutes[0].centre.pieces.back().x0 - cut->flutes[0].centre.pieces[3].x0, 20);
  EXPECT_EQ(cut->faces.size(), 8u);
  EXPECT_EQ(cut->faces[0].d.value(100, shape::Side::after), 36);
  EXPECT_EQ(cut->faces[2].d.value(1000, shape::Side::before), 30);
  EXPECT_EQ(cut->faces[1].d.value(1000, shape::Side::before), 40);
  ASSERT_EQ(cut->twists.size(), 1u);
  EXPECT_EQ(cut->twists[0].pitch, -90);
  EXPECT_EQ(cut->twists[0].x0, 600);
  EXPECT_EQ(cut->twists[0].x1, 850);
  const auto made = with_joints(*cut, "", lists.joints, numbers_of(book));
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  ASSERT_EQ(made->bores.size(), 1u);
  EXPECT_EQ(made->bores[0].x, 925);
  EXPECT_EQ(made->bores[0].mate, "rail");
  EXPECT_NEAR(made->bores[0].phi, 1.5707963267948966, 0);
  EXPECT_EQ(made->axial_bores[0].x1, 1000);
  EXPECT_EQ(made->end_cuts[0].x, 980);
  EXPECT_EQ(made->mortises[0].x0, 910);
  EXPECT_EQ(made->mortises[0].x1, 970);
  EXPECT_EQ(made->mortises[0].t0, -6);
}

// When the outline grows, what stands by names of elements and by formulas goes with it.
TEST(Treatments, FollowTheElementsTheyAreNamedBy) {
  Sink sink;
  const Lists lists = read(kWritten, sink);
  const sheet::Sheet book = sheet_of(lists, sink);
  shape::Part longer = column();
  longer.elements[1].x1 = 550;
  const auto cut = with_treatments(longer, "", {lists.treatments[0]}, numbers_of(book));
  ASSERT_TRUE(cut.ok()) << render(cut.reasons());
  EXPECT_EQ(cut->flutes[0].centre.pieces.back().x0, 540);
}

TEST(Treatments, AllFaultsOfAFileAtOnceEachWhereItStands) {
  Sink sink;
  read(R"(treatments:
  - fluts: {}
  - flutes: {from: shaft, until: shaft, width: 9 mm, deepth: 3 mm}
  - twist: {from: [1, 2], until: 9 mm, depth: 3 mm, hand: rigth}
  - taper: {from: 0 mm, until: 9 mm, width: 3 mm, faces: EE}
  - just words
joints:
  - bore: {name: b, face: AB, at: 5 mm, diameter: 6 mm}
  - end cut: {end: heal, at: 5 mm}
)", sink);
  EXPECT_EQ(render(sink.all()),
            R"(f.yaml:2:5: error: 'fluts' is nothing that is done to a piece here [family.unknown-work]
    2 |   - fluts: {}
      |     ^~~~~
   do: did you mean 'flutes'?
f.yaml:3:13: error: this 'flutes' has no 'depth' [yaml.missing-key]
    3 |   - flutes: {from: shaft, until: shaft, width: 9 mm, deepth: 3 mm}
      |             ^
   do: add 'depth:' its size or formula
f.yaml:3:54: error: 'deepth' is no entry of a 'flutes' [yaml.unknown-key]
    3 |   - flutes: {from: shaft, until: shaft, width: 9 mm, deepth: 3 mm}
      |                                                      ^~~~~~
   do: did you mean 'depth'?
f.yaml:4:19: error: a value or a formula is needed here [family.entry]
    4 |   - twist: {from: [1, 2], until: 9 mm, depth: 3 mm, hand: rigth}
      |                   ^
   do: write a place: a length from the head, or the name of an element
f.yaml:4:59: error: 'rigth' is no choice for 'hand' [family.work-word]
    4 |   - twist: {from: [1, 2], until: 9 mm, depth: 3 mm, hand: rigth}
      |                                                           ^~~~~
   do: did you mean 'right'?
f.yaml:5:58: error: 'EE' are no faces of a square [family.work-face]
    5 |   - taper: {from: 0 mm, until: 9 mm, width: 3 mm, faces: EE}
      |                                                          ^~
   do: use letters of A, B, C, D, each once
f.yaml:6:5: error: an entry is one name with its sizes [family.work]
    6 |   - just words
      |     ^~~~~~~~~~
   do: write - flutes: {...}
f.yaml:8:27: error: 'AB' is no face of a square [family.work-face]
    8 |   - bore: {name: b, face: AB, at: 5 mm, diameter: 6 mm}
      |                           ^~
   do: use letters of A, B, C, D, each once
f.yaml:9:20: error: 'heal' is no choice for 'end' [family.work-word]
    9 |   - end cut: {end: heal, at: 5 mm}
      |                    ^~~~
   do: did you mean 'head'?
)");
}

TEST(Treatments, WhatCannotBeCutIsSaidAtItsEntry) {
  Sink sink;
  const Lists lists = read(R"(treatments:
  - flutes: {from: shaft, until: rope, count: 8, width: 9 mm, depth: 3 mm, run_out: 15 mm}
  - twist: {from: rope, until: rope, turns: 2, depth: 70 mm, fade: 20 mm}
)", sink);
  const sheet::Sheet book = sheet_of(lists, sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  const auto cut = with_treatments(column(), "", lists.treatments, numbers_of(book));
  ASSERT_FALSE(cut.ok());
  EXPECT_EQ(render(cut.reasons()),
            R"(f.yaml:2:5: error: the flutes run over a step of 5 mm at 600 mm, where the cylinder begins [treatment.step]
    2 |   - flutes: {from: shaft, until: rope, count: 8, width: 9 mm, depth: 3 mm, run_out: 15 mm}
      |     ^~~~~~
   do: end them before it
f.yaml:3:5: error: the twist's hollow reaches the axis at 610 mm [shape.twist-axis]
    3 |   - twist: {from: rope, until: rope, turns: 2, depth: 70 mm, fade: 20 mm}
      |     ^~~~~
   do: make it less deep, or the round thicker
)");
}

TEST(Treatments, PlacesThatNoElementHasAreSaidWithTheNearest) {
  Sink sink;
  const Lists lists = read("treatments:\n  - twist: {from: shaf, until: 300 mm, pitch: 90 mm, depth: 6 mm, fade: 20 mm}\n", sink);
  check_places(lists.treatments, labels(), sink);
  EXPECT_EQ(render(sink.all()),
            "f.yaml:2:19: error: 'shaf' is no element of the outline that has a name [family.unknown-place]\n"
            "    2 |   - twist: {from: shaf, until: 300 mm, pitch: 90 mm, depth: 6 mm, fade: 20 mm}\n"
            "      |                   ^~~~\n"
            "   do: did you mean 'shaft'?\n");
  const sheet::Sheet book = sheet_of(lists, sink);
  EXPECT_FALSE(with_treatments(column(), "", lists.treatments, numbers_of(book)).ok());
}

// Sizes are held to their kinds by the sheet.
TEST(Treatments, AWrongKindIsTheSheetsToSay) {
  Sink sink;
  const Lists lists = read("treatments:\n  - twist: {from: rope, until: rope, pitch: 90 mm, depth: 6 deg, fade: 20 mm}\n", sink);
  ASSERT_TRUE(sink.all().empty());
  sheet_of(lists, sink);
  ASSERT_EQ(sink.all().size(), 1u) << render(sink.all());
  EXPECT_EQ(sink.all().front().place, (Place{"f.yaml", 2, 61}));
}

}  // namespace
}  // namespace pommel::family
