// How values of the sheet and joints are written on the job's pages.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "frame/member.h"
#include "sheet/sheet.h"

namespace pommel::job {

/// The value of a cell for reading, "-" when there is none; plain ratios with at most three decimals.
std::string shown(const sheet::Sheet& sheet, const std::string& name, std::size_t column);

/// Whether the piece, its blank, its fittings or a check reads this measure, itself or through others: a family has measures (of flutes, of a
/// twist) that a design may have no use for.
bool is_of_use(const sheet::Sheet& sheet, const std::string& name, std::size_t column);

/// A size as a maker writes it, for a value of that kind: lengths with their unit, other numbers plain. Nothing for what is no such size,
/// and for kinds that are no numbers.
std::optional<double> size_of(std::string_view text, const sheet::Kind& kind);

/// A mortise as a maker marks it out: "face D, for rail-front: 9/16" to 3 5/8" from the head, 13/32" wide, 15/32" in from face A,
/// 1 1/8" deep; haunch 9/16" long and 11/32" deep above it". REQUIRES: the mortise is on one of the four faces of a square.
std::string mortise_text(const shape::Mortise& mortise, double square, const LengthFormat& lengths);

/// A bore likewise: "face A, for rail-left: hole 10 mm through, its middle 300 mm from the head, 24 mm in from face B; seat 28 mm wide, 15 mm deep".
/// REQUIRES: as mortise_text().
std::string bore_text(const shape::Bore& bore, double square, const LengthFormat& lengths);
/// "in the end, along the middle: hole 20 mm wide, 0 mm to 42 mm from the head".
std::string axial_bore_text(const shape::AxialBore& bore, const LengthFormat& lengths);

/// A sawn end: "head sawn to 35.3 deg: long point on face D at the end itself, short side on face B 1 1/8" from the head". `length`: of the piece.
/// REQUIRES: it leans towards one of the four faces of a square.
std::string end_cut_text(const shape::EndCut& cut, double length, double square, const LengthFormat& lengths);

}  // namespace pommel::job
