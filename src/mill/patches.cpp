#include "mill/patches.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "mill/smooth.h"
#include "shape/angle.h"

namespace pommel::mill {
namespace {

using shape::kTurn;
using shape::Maker;

// Shares of the tolerance: a centre line's chords, and strips between rulings.
constexpr double kAlong = 0.4, kAcross = 0.55;

std::vector<shape::Piece> chords_in(const Cell& cell, const shape::Piece& centre, double tolerance, bool& curved) {
  std::vector<shape::Piece> found;
  shape::Profile line;
  line.pieces = {centre};
  for (const shape::Piece& piece : shape::pieces_within(line, std::max(cell.x0, centre.x0), std::min(cell.x1, centre.x1))) {
    for (shape::Piece& chord : chords_over(piece, tolerance)) found.push_back(std::move(chord));
  }
  curved = centre.kind != shape::Piece::Kind::line;
  return found;
}

/// The circle of a groove or reed over one chord of its centre line: nodes at centre + side * radius * (cos p, sin p).
struct Channel {
  double cos = 1, sin = 0;  // of its direction
  double side = 1, radius = 0, from = 0, to = 0;  // radians about the centre
  int strips = 1;
};

Patch patch_over(const shape::Piece& chord, const Channel& channel) {
  Patch patch;
  patch.x = {chord.x0, chord.x1};
  patch.across = static_cast<std::size_t>(channel.strips) + 1;
  patch.turn = (channel.to - channel.from) / channel.strips;
  for (auto [x, c] : {std::pair{chord.x0, chord.r0}, std::pair{chord.x1, chord.r1}}) {
    for (int k = 0; k <= channel.strips; ++k) {
      const double p = channel.from + (channel.to - channel.from) * k / channel.strips;
      const double along = c + channel.side * channel.radius * std::cos(p), across = channel.side * channel.radius * std::sin(p);
      patch.nodes.push_back({x, along * channel.cos - across * channel.sin, along * channel.sin + across * channel.cos});
    }
  }
  return patch;
}

// Strips over `angle` of a circle of radius g, each with its middle no farther than `sag` from its sides.
int strips_over(double angle, double g, double sag) {
  return std::max(1, static_cast<int>(std::ceil(angle / (2 * std::acos(1 - std::min(0.5, sag / g))))));
}

void add_groove(const Cell& cell, std::size_t which, double tolerance, std::vector<Patch>& into) {
  const CellGroove& groove = cell.treatments.grooves[which];
  bool curved = false;
  for (const shape::Piece& chord : chords_in(cell, groove.centre, kAlong * tolerance, curved)) {
    const double low = std::min(chord.r0, chord.r1), g = groove.radius;
    if (low - g > cell.reach) continue;
    // as far round as wood can stand, and not past the rays from the axis that touch the circle
    const double wood = (low * low + (g - cell.reach) * (g + cell.reach)) / (2 * low * g), touching = g / low;
    const double half = std::acos(std::min(1.0, std::max(wood - 0.01, touching + 1e-6)));
    Channel channel{groove.cos, groove.sin, -1, g, -half, half, strips_over(2 * half, g, kAcross * tolerance)};
    Patch patch = patch_over(chord, channel);
    patch.owner = {Maker::flute, which};
    patch.rims = curved;
    into.push_back(std::move(patch));
  }
}

void add_reeds(const Cell& cell, std::size_t which, double tolerance, std::vector<Patch>& into) {
  const CellReeds& reeds = cell.treatments.reeds[which];
  bool curved = false;
  for (const shape::Piece& chord : chords_in(cell, reeds.centre, kAlong * tolerance, curved)) {
    const double high = std::max(chord.r0, chord.r1), share = kTurn / reeds.count / 2;
    const double half = share + std::asin(std::min(1.0, high * std::sin(share) / reeds.radius));
    const int strips = strips_over(2 * half, reeds.radius, kAcross * tolerance);
    for (int k = 0; k < reeds.count; ++k) {
      const shape::SinCos turn = shape::sin_cos(reeds.crown(k));
      // strips that touch the circle in their middles
      Patch patch = patch_over(chord, {turn.cos, turn.sin, 1, reeds.radius / std::cos(half / strips), -half, half, strips});
      patch.owner = {Maker::reed, which};
      patch.rims = curved, patch.ridges = true;
      patch.crown = reeds.crown(k), patch.half_sector = share;
      into.push_back(std::move(patch));
    }
  }
}

/// The twisted surface of a cell, its nodes along the strands.
class TwistLattice {
 public:
  TwistLattice(const Cell& cell, double tolerance) : cell_(cell), twist_(*cell.treatments.twist), tolerance_(tolerance) {}

  Patch patch() {
    const double top = cell_.reach, depth = twist_.depth, n = twist_.starts;
    const double bend = depth / 2 * n * n / std::pow(std::max(1.0, top - depth), 2) + 1 / std::max(1.0, top - depth);
    const double step = std::sqrt(8 * 0.6 * tolerance_ / bend);
    across_ = std::clamp(std::ceil(kTurn * top / step), 24.0, 4000.0);
    along_ = std::clamp(std::ceil((cell_.x1 - cell_.x0) / step), 2.0, 20000.0);
    for (int look = 0; look < 6 && !close_enough(); ++look) {
    }
    Patch patch;
    patch.owner = {Maker::round, 0};
    patch.planar = false, patch.closed = true, patch.ridges = true;
    patch.across = static_cast<std::size_t>(across_);
    patch.turn = kTurn / across_;
    for (double i = 0; i <= along_; ++i) {
      const double x = i == along_ ? cell_.x1 : cell_.x0 + (cell_.x1 - cell_.x0) * i / along_;
      patch.x.push_back(x);
      for (double k = 0; k < across_; ++k) patch.nodes.push_back(at(i, k));
    }
    return patch;
  }

 private:
  Point at(double i, double k) const {
    const double x = std::min(cell_.x1, cell_.x0 + (cell_.x1 - cell_.x0) * i / along_);
    const double theta = twist_.phase + kTurn * (x - twist_.x0) / twist_.pitch + kTurn * k / across_, r = cell_.round_at(x, theta);
    return {x, r * std::cos(theta), r * std::sin(theta)};
  }

  // How far the surface in the middle of a chord from node (i, k) leaves it.
  double sag(double i, double k, double di, double dk) const {
    return distance_to_chord(at(i + di / 2, k + dk / 2), at(i, k), at(i + di, k + dk));
  }

  // Looks at chords all over; where one kind leaves the surface too far its count is raised and nothing is said yet.
  bool close_enough() {
    double along = 0, round = 0, slanting = 0;
    const double rows = std::min(along_, 60.0), places = std::min(across_, 48.0);
    for (double i = 0; i < rows; ++i) {
      for (double k = 0; k < places; ++k) {
        const double row = std::floor(i * along_ / rows), place = std::floor(k * across_ / places);
        along = std::max(along, sag(row, place, 1, 0));
        round = std::max(round, sag(row, place, 0, 1));
        slanting = std::max(slanting, sag(row + 1, place, -1, 1));
      }
    }
    // what is between the three sides of a triangle leaves it by no more than they do together
    const double goal = 0.4 * tolerance_;
    if (along <= goal && round <= goal && slanting <= 2 * goal) return true;
    auto more = [&](double count, double seen) { return std::ceil(count * std::clamp(1.05 * std::sqrt(seen / goal), 1.0, 4.0)); };
    if (along <= goal && round <= goal) along = round = slanting / 1.9;
    along_ = std::min(20000.0, more(along_, along));
    across_ = std::min(4000.0, more(across_, round));
    return false;
  }

  const Cell& cell_;
  const shape::Twist& twist_;
  double tolerance_;
  double along_ = 1, across_ = 3;
};

}  // namespace

std::vector<Patch> patches_of(const std::vector<Cell>& cells, double tolerance, double ball) {
  std::vector<Patch> found;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const std::size_t before = found.size();
    for (std::size_t k = 0; k < cells[i].treatments.grooves.size(); ++k) add_groove(cells[i], k, tolerance, found);
    for (std::size_t k = 0; k < cells[i].treatments.reeds.size(); ++k) add_reeds(cells[i], k, tolerance, found);
    if (cells[i].treatments.twist && !(ball > 0 && fits_twist(cells[i], ball))) found.push_back(TwistLattice(cells[i], tolerance).patch());
    for (std::size_t p = before; p < found.size(); ++p) found[p].cell = i;
  }
  return found;
}

}  // namespace pommel::mill
