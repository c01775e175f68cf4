#include "properties/drawn_parts.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <numbers>

#include "mill/rough.h"
#include "shape/ring.h"
#include "shape/treated_parts.h"
#include "whole/coarse.h"
#include "whole/sampled_sheets.h"

namespace pommel::properties {
namespace {

const shop::Shop& the_shop() {
  static const shop::Shop shop = whole::loaded("farmhouse-vase").shop;
  return shop;
}

bool is_treated(std::size_t number) { return number % 20 == 19; }

// Room to run out beside chuck and tailstock at both ends, turned or not.
shape::Blank blank_for(const shape::Part& part, const shop::Cutter& cutter, const shop::Machine& machine) {
  shape::Blank blank;
  for (const shape::Face& face : part.faces)
    for (const shape::Piece& piece : face.d.pieces)
      if (piece.kind != shape::Piece::Kind::clear) blank.size = std::max(blank.size, 2 * std::max(piece.r0, piece.r1));
  blank.chuck_waste = machine.chuck_grip, blank.centre_waste = machine.centre_grip;
  const double corner = (blank.size / 2 + machine.blank_oversize) * std::numbers::sqrt2 + machine.blank_off_centre + machine.blank_bow;
  const double thinnest = shape::least_radius(part).radius;
  blank.x0 = -mill::waste_beyond_end(corner, thinnest, machine.jaw_swing, {}, {cutter}, machine) - machine.chuck_grip;
  blank.x1 = part.length + mill::waste_beyond_end(corner, thinnest, machine.tailstock_top, {}, {cutter}, machine) + machine.centre_grip;
  return blank;
}

}  // namespace

shape::Part drawn_part(std::size_t number) {
  if (!is_treated(number)) return shape::random_part(7'000 + number, 250, 500);
  return shape::treated_part(7'000 + number, 1 + static_cast<int>(number / 20 % 15));
}

job::TurningRequest request_for(const shape::Part& part, const std::string& cutter_id) {
  const shop::Machine& machine = the_shop().machines.at("rotary-degrees");
  const shop::Cutter& cutter = the_shop().cutters.at(cutter_id);
  job::TurningRequest request{part, blank_for(part, cutter, machine), {machine.blank_off_centre, machine.blank_bow, machine.blank_oversize}, cutter, machine};
  request.cusp = whole::kCoarseRidge;
  return request;
}

job::TurningRequest drawn_request(std::size_t number) {
  constexpr std::array kBalls = {"ball-12", "ball-10", "ball-8"};
  return request_for(drawn_part(number), is_treated(number) ? "ball-6" : kBalls[number % 3]);
}

std::string program_of(const job::TurningRequest& request) {
  const auto turning = job::plan_turning(request, {});
  if (!turning.ok()) return ADD_FAILURE() << render(turning.reasons()), "";
  auto texts = program::write_all(turning->paths, request.machine, {});
  if (!texts.ok()) return ADD_FAILURE() << render(texts.reasons()), "";
  return texts->front();
}

}  // namespace pommel::properties
