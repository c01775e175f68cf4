// A ball on the smooth surfaces of flutes, reeds and twists, where it fits into every hollow of them: then each direction has one place
// on each surface, found by a few steps towards it.
//
// With the outward unit normal n at a point P of the surface the ball's centre is P + rho n. For a groove or a reed of radius g about the centre
// line C(x), psi round that centre, with s = -1 for a groove, which the ball touches from within, and +1 for a reed:
//     k = 1 / sqrt(1 + C'² cos² psi),      x = x0 + rho k C' cos psi,      q = s g + rho k,      sin(psi - a) = C sin a / q,
// and for a twist R(x, theta):
//     k = 1 / sqrt(1 + R_x² + (R_theta / R)²),    x = x0 + rho R_x k,    theta = a + atan2(rho R_theta k / R, R + rho k).
// Whatever the steps end at is a point of the surface, and what is returned is how high the ball stands over that very point: so a
// place that is a little off costs its square, on the low side, and never lifts the ball. Where the last step was still long, single directions
// are looked at again: grooves and reeds over their facets, twists by climbing. Immutable. Inside mill/ only.
#pragma once

#include <vector>

#include "mill/columns.h"
#include "mill/curve.h"
#include "mill/facets.h"

namespace pommel::mill {

class Smooth {
 public:
  /// Takes over from `facets` the surfaces into whose hollows the ball fits. REQUIRES: both of the same cells.
  Smooth(const std::vector<Cell>& cells, double rho, Facets& facets);

  bool empty() const { return surfaces_.empty(); }

  /// Raises the row to the heights of the ball's centre, less `drop`.
  void raise(const Facets::Over& over, const Facets& facets, double drop, double x0, const Columns& columns, float* row) const;
  double height_at(const Facets::Over& over, const Facets& facets, double drop, double x0, double a) const;

 private:
  struct Surface {
    std::size_t cell = 0;
    Owner owner;
    double x0 = 0, x1 = 0;                        // where it is there
    double theta = 0, cos = 1, sin = 0;           // of a groove or reed
    double side = 0, radius = 0;                  // side 0: a twist
    double half = 0;                              // the ball's centre stands no farther than this from theta; 0: all round
    double sector = 0;                            // tan of a reed's share; 0: no reed
    shape::Piece line;                            // its centre line; the outline of a twist
    std::vector<std::size_t> faces, grooves;      // of the cell, that may cut it
    bool asked_singly = false;                    // other makers may, too
  };
  template <class V>
  struct Stand;
  template <class V>
  Stand<V> stand(const Surface& s, const Cell& cell, double rho, double x0, const V& cos_a, const V& sin_a, int steps) const;
  template <class V>
  Stand<V> stand_on_channel(const Surface& s, const Cell& cell, double rho, double x0, const V& cos_a, const V& sin_a, int steps) const;
  template <class V>
  Stand<V> stand_on_twist(const Surface& s, const Cell& cell, double rho, double x0, const V& cos_a, const V& sin_a, int steps) const;
  double singly(const Surface& s, const Facets::Over& over, const Facets& facets, double drop, double x0, double a) const;
  void add_channels(const std::vector<Cell>& cells, std::size_t at, Facets& facets);
  void add_twist(const std::vector<Cell>& cells, std::size_t at);

  double rho_ = 0;
  std::vector<Surface> surfaces_;
};

/// Whether a ball of radius rho fits into every hollow of the twist, so that no lattice is needed for it.
bool fits_twist(const Cell& cell, double rho);

}  // namespace pommel::mill
