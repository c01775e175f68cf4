// For this room only: the vase that lies nearest to readings when the places of its stations are given. Its radii are a linear least-squares problem then,
// so that what the fit costs without any one or two of the readings follows from the fit to all of them.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "match/chain.h"

namespace pommel::match {

inline constexpr int kMostStations = 4;  ///< inner ones

/// One way to spread a vase's inner stations, and the natural spline's pieces for a unit radius at each of its stations.
struct Layout {
  std::vector<double> at;  ///< 0, the inner ones, 1
  std::vector<shape::Pieces> units;
};

Layout layout_of(std::vector<double> inner);
/// Ways to spread one, two ... stations, from which the places are then fitted.
const std::vector<Layout>& layouts(int stations);

/// The vase of a layout that lies nearest, put into `s` (its ends are known): linear least squares over its radii. False when it has none.
bool spread(const Layout& layout, std::span<const Sample> samples, Stroke& s);

/// Readings to be left out, and what a vase costs without them: its sum of squares plus kOutlier for each.
struct LeftOut {
  double total = 1e30;  ///< 1e30: there are none such
  std::vector<std::size_t> which;
};
/// The cheapest for none, one, and two or more left out. All ways to leave out one or two are compared, and more follow where two are. At most an eighth of the
/// readings and one more are left out, and `held_by` stay. REQUIRES: the ends of `s` are known.
std::array<LeftOut, 3> best_left_out(const Layout& layout, std::span<const Sample> samples, const Stroke& s, std::size_t held_by);

}  // namespace pommel::match
