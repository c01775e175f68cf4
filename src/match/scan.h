// From a mesh of a turning in any pose to its meridian: axis, sections, squares, and how far it is from being round and straight.
//
// Axis: first the principal axis of the skin (each triangle by its area), then the straight line through the middles of its sections, twice. Sections are
// cut square to it, so close that a piece has about two thousand. A section's mean radius, over the angle, and its harmonics say what it is: two humps
// and hollows a turn are an oval (or a section off square to the axis), four are a square, one is a middle off the axis, which bends along a bowed piece.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "exchange/mesh.h"
#include "exchange/stl.h"
#include "match/outline.h"

namespace pommel::match {

struct ScanOptions {
  std::optional<exchange::Axis> axis;  ///< of the file; else it is found
  double uncertainty = 0.05;           ///< mm, square to the skin
  bool end_for_end = false;
};

struct Section {
  double x = 0;                  ///< mm along the axis
  double mean = 0;               ///< mm, of the radius over the angle
  double most = 0;               ///< mm, greatest radius
  double across = 0;             ///< mm, between opposite flats, the lesser of both pairs, of a section that is a square; else of no meaning
  double off_y = 0, off_z = 0;   ///< of its middle from the axis
  double oval = 0;               ///< greatest less least diameter of its second harmonic, mm
  std::array<double, 4> wave{};  ///< amplitude of its first four harmonics, mm
  std::array<double, 4> at{};    ///< where a crest of each stands, radians about the axis by the right hand
  double rest = 0;               ///< root of the mean square of what mean and harmonics 1, 2 and 4 leave, mm
  bool covered = false;          ///< met all round
};

struct Scan {
  std::vector<Section> sections;   ///< x growing from the head
  double length = 0;               ///< mm
  double bow = 0, bow_at = 0;      ///< farthest middle of a section from the straight line between the ends, mm, and where
  double oval = 0, oval_at = 0;    ///< greatest difference of diameters on a round stretch, mm
};

/// What winds about the axis: a twisted piece, which is of one hand or the other however it lies.
struct Winding {
  int ridges = 0;
  double from = 0, to = 0;  ///< mm along the axis
  double pitch = 0;         ///< mm for a whole turn; above 0: by the right hand (the crests' angle grows along the axis, whichever way that is walked)
};

/// Nothing where sections do not turn by an eighth of a turn and more with ridges of some height.
std::optional<Winding> winding_of(const std::vector<Section>& sections);

/// Fails with "scan.open" (too much of the skin is missing), "scan.not-round": the piece is no turning, and stays a surface for the envelope; says where
/// and by how much, and of which hand a twist is. A head with a square stands first where only one end has one.
Result<Scan> scanned(const exchange::Mesh& mesh, const ScanOptions& options);

/// Measures and squares of a scan, as from an outline.
Laid laid(const Scan& scan, const ScanOptions& options);

}  // namespace pommel::match
