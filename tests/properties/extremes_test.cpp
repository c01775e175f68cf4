// Pieces as long and as small as anybody might ask for. What is made is held as every drawn part is: the boundary by the field's volume, the program by its
// own text, cut in simulation; what is not, is refused in words that say what to change.
#include <gtest/gtest.h>

#include "properties/drawn_parts.h"
#include "shape/faces.h"
#include "shape/sample_parts.h"
#include "solid/solid.h"

namespace pommel::properties {
namespace {

// A square of 60 mm throughout but for what is turned between the two places.
shape::Part post(double length, double from, double until) {
  shape::Part part;
  part.name = "post", part.length = length;
  if (from > 0) part.outline.pieces.push_back(shape::clear_piece(0, from));
  part.outline.pieces.push_back(shape::line_piece(from, 25, until, 20));
  if (until < length) part.outline.pieces.push_back(shape::clear_piece(until, length));
  part.faces = shape::square_faces(60, length);
  return part;
}

void expect_volume(const shape::Part& part) {
  ASSERT_TRUE(shape::problems(part).empty()) << render(shape::problems(part));
  const auto solid = solid::turned(part);
  ASSERT_TRUE(solid.ok()) << render(solid.reasons());
  EXPECT_NEAR(solid::volume(*solid), shape::turned_volume(part), 1e-6 * shape::turned_volume(part));
}

// "" where the text of its program passes its check; else what was said first.
std::string said_of(const job::TurningRequest& request) {
  const auto turning = job::plan_turning(request, {});
  if (!turning.ok()) return turning.reasons().front().id + ": " + turning.reasons().front().message + " | " + turning.reasons().front().remedy;
  const auto texts = program::write_all(turning->paths, request.machine, {});
  if (!texts.ok()) return texts.reasons().front().id + ": " + texts.reasons().front().message + " | " + texts.reasons().front().remedy;
  proof::Settings settings;
  settings.cusp = request.agreed_cusp(), settings.row_step = 0.5, settings.columns = 360, settings.threads = 1;
  const auto proof = proof::prove(texts->front(), request.turned, request.blank, request.tolerance, request.cutter, request.machine, settings, {});
  if (!proof.ok()) return proof.reasons().front().id + ": " + proof.reasons().front().message;
  return proof->passed() ? "" : proof->findings.front().id + ": " + proof->findings.front().message;
}

shop::Machine longer(shop::Machine machine, double by) {
  machine.x_max += by, machine.max_between_centres += by;
  return machine;
}

TEST(Extremes, APieceOfSixMetresIsRefusedByAMachineThatIsShorter) {
  const shape::Part part = post(6000, 2900, 3100);
  expect_volume(part);
  EXPECT_EQ(said_of(request_for(part, "ball-12")),
            "mill.between-centres: the blank is 6139.57 mm long and the machine 'rotary-degrees' takes 1400 mm | shorten the waste, or take another machine");
}

TEST(Extremes, APieceOfSixMetresIsMadeWhereTheMachineIsAsLong) {
  job::TurningRequest request = request_for(post(6000, 2900, 3100), "ball-12");
  request.machine = longer(request.machine, 5000);
  EXPECT_EQ(said_of(request), "");
}

TEST(Extremes, APieceOfTwoMillimetresLengthIsMade) {
  const shape::Part part = post(2, 0, 2);
  expect_volume(part);
  EXPECT_EQ(said_of(request_for(part, "ball-6")), "");
}

// As a rigid piece: that such a rod gives under the cutter is what rules/stiffness says of an order.
TEST(Extremes, APieceTwoMillimetresThickIsMade) {
  shape::Part part = post(60, 0, 60);
  part.outline.pieces = {shape::line_piece(0, 1, 60, 1)};
  part.faces = shape::square_faces(4, 60);
  expect_volume(part);
  EXPECT_EQ(said_of(request_for(part, "ball-6")), "");
}

}  // namespace
}  // namespace pommel::properties
