// How far the wood of a blank reaches from the rotary axis before anything is cut, however the blank lies.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "proof/grid.h"

namespace pommel::proof {

/// How the blank lies between the centres.
struct Lie {
  std::string name;
  double oversize = 0;    ///< mm more on each flat, or on the radius
  double off_centre = 0;  ///< mm: its axis beside the rotary axis, all along
  double bow = 0;         ///< mm: its axis beside the rotary axis at mid-length, nothing at its ends; a parabola between
  /// Where it is off or bowed to, radians. Without one: the union over all directions, since nobody knows how the maker
  /// will put the blank in.
  std::optional<double> direction;
};

/// As planned, off centre, bowed, oversize.
std::vector<Lie> lies(const shape::BlankTolerance& tolerance);

/// Distance from the rotary axis to the far side of the wood along theta at x, mm; 0 outside the blank's ends or where the
/// axis lies outside the wood. A square blank's flats look along 0, 90, 180, 270 degrees. Exact: a ray against the moved
/// section, or against the section grown by a disc (its corners rounded) for the union over all directions.
double start_radius(const shape::Blank& blank, const Lie& lie, double x, double theta);

/// start_radius on the rays of a grid. What is the same all along is kept once for all rows; of a bowed blank each ray is worked out when it
/// is asked for. Keeps a reference to `grid`.
class Start {
 public:
  Start(const Grid& grid, const shape::Blank& blank, const Lie& lie);

  /// Of the k-th ray of a row, mm.
  float at(std::size_t row, std::size_t k) const;
  /// The greatest of a row's rays, or a little more.
  float highest(std::size_t row) const { return highest_[row]; }
  /// The greatest on a column and on a crease ray (counted through all rows), wherever along the piece.
  const std::vector<float>& most() const { return columns_; }
  const std::vector<float>& most_crease() const { return creases_; }
  /// The row's columns and its creases; `into` is used where they are not kept.
  const float* columns_of(std::size_t row, std::vector<float>& into) const;
  const float* creases_of(std::size_t row, std::vector<float>& into) const;

 private:
  const Grid& grid_;
  shape::Blank blank_;
  Lie lie_;
  bool same_all_along_;
  std::vector<float> columns_, creases_;  // at the greatest bow
  std::vector<float> highest_;            // of a row
};

}  // namespace pommel::proof
