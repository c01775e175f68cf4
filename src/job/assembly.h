// The frame as it stands: every turned piece and every straight one as a solid in its place, in the room's own coordinates (frame/member.h:
// x to the right, y to the back, z up from the floor, millimetres).
//
// It has what the shop makes. Straight pieces carry their tenons, bolt holes and plates' recesses as the posts' and legs' joints say, less the
// relief at the bottom. A bolt's hole ends in the middle of its nut: the nut's own hole is as wide as the nut bought, which no measure says.
// A stair's treads and a table's top are others' work.
#pragma once

#include <stop_token>
#include <vector>

#include "job/column.h"
#include "solid/step.h"

namespace pommel::job {

/// The first member of a jointed kind.
const frame::Member& first_of_kind(const frame::Set& set, std::size_t kind);

/// The turned solids beside column.made.pieces. Fails as solid::turned().
Result<std::vector<solid::Solid>> turned_solids(const Column& column, std::stop_token stop = {});
/// One solid for each of Set::jointed_kinds, its first member in its own coordinates: cut from its turned solid where that is the same
/// turning, else built anew. Fails as solid::jointed().
Result<std::vector<solid::Solid>> kind_solids(const Column& column, const std::vector<solid::Solid>& turnings, std::stop_token stop = {});

/// Members in their order, spares left out, then the straight pieces, each under its label: "front left leg", "front apron rail". Fails
/// as solid::placed() and solid::straight(). REQUIRES: `kinds` from kind_solids().
Result<std::vector<solid::NamedSolid>> assembled(const Column& column, const std::vector<solid::Solid>& kinds, std::stop_token stop = {});

}  // namespace pommel::job
