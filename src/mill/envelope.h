// The gouge-free envelope: how low a cutter may go over a part that turns on the rotary axis.
//
// The cutter's axis passes through the rotary axis. For the cutter at x0 along the piece with the direction a of the
// wood under it, every point P = (x, theta, R) of the body holds the ball's centre up to
//
//     c(x0, a) = max over P of   h + sqrt(rho² - q²),     h = R cos(theta - a),   q² = (x - x0)² + (R sin(theta - a))²,
//
// over the points with q <= rho. The tip stands at c - rho. Every point of the body gives a lower bound: a candidate
// too many, as long as it lies on the body, never lifts the ball; only a missing one lets it gouge.
//
// Nothing is sampled. The body is a solid of revolution cut by faces, so the highest point is one of three kinds
// (src/mill/offset.h, section.h, crease.h each explain theirs):
//   - on the round: its normal meets the axis, so the contact lies under the cutter (theta = a) and c is the plane
//     offset of the outline: one number for a whole row of angles;
//   - on a face: the face is extruded across, so c = D(x0) / cos(a - phi) with D the plane offset of its d(x);
//   - on a crease (the rim of a knot, an arris, the curve where the round cuts a face): the ball rolls over straight
//     segments; curved creases are split into chords.
//
// Beyond the ends (x0 < 0, x0 > length) the end sections are walls and their rims are creases: the ball comes down past
// them there.
//
// Every other cutter is a few convex bodies of revolution (meridian.h): ball, disc rounded or not, cone. Its height is that of its tip,
// the greatest of what its bodies ask for, shank, collet nut and holder among them: with t(q) the body's height above the tip at
// the lateral distance q, tip(x0, a) = max over P of h - t(q). contact.h and crease.h say how each body stands on each kind of skin. Cutters wider
// than the local radius, tips at or past the axis (a height below 0) and places beyond the ends need nothing of their own.
//
// Accuracy, as the distance from the ball's centre to the body against rho: with `never_gouge` the ball is never nearer
// than rho - 0.00005 mm (single precision of a grid; single positions are exact to 1e-9) and never farther than
// rho + 2 * crease_tolerance (bodies with sharp edges likewise, and theirs over curved faces within crease_tolerance); away from curved creases both are the precision of the numbers.
//
// An Envelope is a value: immutable, cheap to copy, free to cross threads.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <stop_token>
#include <vector>

#include "base/result.h"
#include "mill/meridian.h"
#include "shape/part.h"

namespace pommel::mill {

struct EnvelopeSettings {
  double crease_tolerance = 0.0015;  ///< mm: chords of curved creases stay this near to the curve
  bool never_gouge = true;           ///< roll a ball larger by crease_tolerance over chords, so that they never gouge
  double allowance = 0;              ///< mm: wood left all over, as if every body of the cutter were so much larger all round. Of a cutter
                                     ///< only: a ball radius given as such is taken as it is
};

/// Heights of the envelope's reference point (the ball's centre, or a cutter's tip) over rows (places along the piece) and columns (equal angles over one turn). The buffer
/// is kept from one fill() to the next: touching fresh memory costs ten times what the heights do.
class Heights {
 public:
  std::size_t rows() const { return x_.size(); }
  int columns() const { return columns_; }
  double x(std::size_t row) const { return x_[row]; }
  double angle(int column) const;  ///< radians from the first column: column * 2 pi / columns
  /// mm above the rotary axis; -infinity where no part of the body comes within the cutter's reach.
  float at(std::size_t row, int column) const { return values_[row * stride_ + static_cast<std::size_t>(column)]; }

 private:
  friend class Envelope;
  friend class MeshEnvelope;
  std::vector<double> x_;
  int columns_ = 0;
  std::size_t stride_ = 0;
  std::vector<float> values_;
};

class Envelope {
 public:
  /// `turned`: the part without regard to its mortises; `ball_radius` in mm. Fails with
  ///   "mill.ball": a radius that is not a number above 0 and below 1 m;
  ///   "mill.part": a profile without pieces, with gaps, or with numbers that are not finite and positive;
  ///   "mill.open-section": a clear stretch whose faces do not close a ring.
  static Result<Envelope> of(const shape::Part& turned, double ball_radius, const EnvelopeSettings& settings = {});

  /// Of a whole cutter of any form, with shank, collet nut and holder. Heights are those of its tip. Fails with
  ///   "mill.cutter-form": figures that do not make a cutter; and as above but for "mill.ball".
  static Result<Envelope> of(const shape::Part& turned, const shop::Cutter& cutter, const EnvelopeSettings& settings = {});

  /// mm from the tip up to the point whose heights fill() gives: the ball's radius for an envelope of a ball, 0 for one of a cutter.
  double reference() const;
  /// Of the ball; of a cutter half its diameter.
  double ball_radius() const;

  /// Height of the ball's centre at one position, mm above the rotary axis, in double precision. -infinity where no
  /// part of the body comes within the ball's radius. For a cutter: of the point half its diameter above the tip.
  double centre_height(double x0, double a) const;
  /// The lowest the tip may stand at one position; below 0: past the axis.
  double tip_height(double x0, double a) const;

  struct Stand {
    double tip = 0;  ///< mm above the rotary axis
    Holding by = Holding::nothing;
  };
  /// The same with the part of the cutter that holds it up there; of two alike the lower one.
  Stand stand(double x0, double a) const;

  /// The same over a grid. `first`: the direction of the first column in each row, radians; none: 0. Fails with "cancelled" (the grid then holds
  /// nothing of use), "mill.grid".
  /// REQUIRES: rows ascending; columns between 1 and 1,000,000; no `first`, or one for each row.
  Result<Done> fill(std::span<const double> rows, int columns, Heights& into, std::stop_token stop = {}, std::span<const double> first = {}) const;

 private:
  struct Body;
  static Result<Envelope> made(const shape::Part& turned, const std::vector<CutterBody>& bodies, double radius, double reference,
                               const EnvelopeSettings& settings);
  explicit Envelope(std::shared_ptr<const Body> body) : body_(std::move(body)) {}

  std::shared_ptr<const Body> body_;
};

}  // namespace pommel::mill
