#include "proof/sweep.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/length.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kWidest = 0.0872664625997165;  // 5 degrees
constexpr double kSolved = 1e-7;                // mm of height
constexpr int kMostSteps = 30;

}  // namespace

Sweep::Sweep(const Tool& tool, const motion::Position& from, const motion::Position& to)
    : tool_(tool), from_(from), to_(to), dx_(to.x - from.x), dz_(to.z - from.z), da_(to.a - from.a) {
  if (da_ == 0 && dx_ != 0) slope_ = std::fabs(dz_ / dx_);
}

// How far ahead of the ray's plane the cutter's axis stands where it is lowest over the lateral distance l as it slides: where its surface
// leans as the move does. Closed for an arc about the axis; else bisected, since the lean grows outwards.
double Sweep::ahead(double l, double half) const {
  if (slope_ == 0) return 0;
  if (tool_.disc == tool_.radius) return half;
  if (tool_.disc == 0 && tool_.corner > l) {
    double d = slope_ * std::sqrt((tool_.corner * tool_.corner - l * l) / (1 + slope_ * slope_));
    if (std::sqrt(d * d + l * l) <= tool_.corner_end) return std::min(d, half);
  }
  double low = 0, high = half;
  for (int i = 0; i < 26; ++i) {
    double middle = (low + high) / 2, s = length_of(middle, l);
    bool steeper = s > 0 && tool_.slope(s) * middle >= slope_ * s;
    (steeper ? high : low) = middle;
  }
  return high > half * (1 - 1e-6) ? half : (low + high) / 2;
}

// The exit of the cutter standing at z, d along x from the ray: its flank, its upright side or the end of its flutes.
std::optional<Meeting> Sweep::leaving(double entry, double d, double z, double sine, double cosine) const {
  double side = std::fabs(sine), chord = std::sqrt(std::max(0.0, tool_.radius * tool_.radius - d * d));
  double out = side > 1e-9 ? chord / side : 1e9;
  if (cosine > 1e-9) out = std::min(out, (z + tool_.flute) / cosine);
  // below the flank the ray may have left before it comes to the side
  auto inside = [&](double p) { return p * cosine - z - tool_.height(std::min(tool_.radius, length_of(d, p * side))); };
  if (out < 1e8 && inside(out) < -kSolved) {
    double in = entry, gone = out;
    for (int i = 0; i < 30; ++i) {
      double middle = (in + gone) / 2;
      (inside(middle) >= 0 ? in : gone) = middle;
    }
    out = in;
  }
  return Meeting{entry, std::max(entry, out), z};
}

// Lowest height of what slides along the whole move, over the lateral distance l; d and z: where the cutter then stands.
double Sweep::lowest_at(double dx, double l, double& d, double& z) const {
  double half = std::sqrt(std::max(0.0, tool_.radius * tool_.radius - l * l));
  // the ray's plane is d ahead of the cutter; going up, the cutter is lowest where it comes from: the plane at its back
  d = (dz_ / dx_ > 0 ? 1 : -1) * ahead(l, half);
  double low = std::min(dx, dx - dx_), high = std::max(dx, dx - dx_);
  d = std::clamp(d, low, high);
  z = from_.z + dz_ * (dx - d) / dx_;
  double s = length_of(d, l);
  return s <= tool_.radius * (1 + 1e-9) ? z + tool_.height(std::min(s, tool_.radius)) : 1e9;
}

std::optional<Meeting> Sweep::straight(double dx, double phi) const {
  double cosine = std::cos(phi), side = std::fabs(std::sin(phi));
  double d = 0, z = 0;
  double low = lowest_at(dx, 0, d, z);
  if (low >= 1e8) return {};
  if (low <= 0) return leaving(0, d, z, side, cosine);
  if (cosine <= 1e-9) return {};
  double p = low / cosine;
  for (int i = 0; i < kMostSteps; ++i) {
    double l = p * side;
    if (l >= tool_.radius) return {};
    double t = lowest_at(dx, l, d, z);
    if (t >= 1e8) return {};
    double over = p * cosine - t;
    if (over >= -kSolved) return leaving(p, d, z, side, cosine);
    // at the edge the place moves inwards as l grows, and its height with it
    double s = length_of(d, l), leans = s < tool_.radius * (1 - 1e-9) ? tool_.slope(s) * l / std::max(s, 1e-12) : slope_ * l / std::max(std::fabs(d), 1e-12);
    double grows = cosine - leans * side;
    if (!(grows > 1e-12)) return {};
    p -= over / grows;
  }
  return {};
}

// The cutter standing at `share` of the move. growth > 0: later on it comes nearer.
std::optional<Meeting> Sweep::at(double share, double dx, double phi, double& growth) const {
  double d = dx - dx_ * share, z = from_.z + dz_ * share, angle = phi - da_ * share;
  double cosine = std::cos(angle), sine = std::sin(angle);
  double chord2 = tool_.radius * tool_.radius - d * d;
  auto growth_at = [&](double p) {
    double l = p * sine, s = length_of(d, l);
    double slope = s > 0 ? std::min(tool_.slope(std::min(s, tool_.radius)), 1e6) : 0;
    growth = p * sine * da_ - dz_ + (s > 0 ? slope * (d * dx_ + l * p * cosine * da_) / s : 0);
  };
  if (chord2 <= 0) {
    growth = d * dx_;
    return {};
  }
  double low = z + tool_.height(std::fabs(d));
  if (low <= 0) {
    growth = -dz_;
    return leaving(0, d, z, sine, cosine);
  }
  double most = std::fabs(sine) > 1e-9 ? std::sqrt(chord2) / std::fabs(sine) : 1e9;
  if (cosine <= 1e-9) {
    growth_at(std::min(most, tool_.radius));
    return {};
  }
  double p = low / cosine;
  for (int i = 0; i < kMostSteps && p < most; ++i) {
    double l = p * sine, s = length_of(d, l), over = p * cosine - z - tool_.height(s);
    if (over >= -kSolved) {
      growth_at(p);
      return leaving(p, d, z, sine, cosine);
    }
    double grows = cosine - (s > 0 ? tool_.slope(s) * l / s : 0) * sine;
    if (!(grows > 1e-12)) break;
    p -= over / grows;
  }
  growth_at(std::min(p, most));
  return {};
}

std::optional<Meeting> Sweep::turning(double dx, double phi) const {
  double low = 0, high = 1;
  if (dx_ != 0) {  // while the plane of the ray is within the cutter
    double a = (dx - tool_.radius) / dx_, b = (dx + tool_.radius) / dx_;
    low = std::max(low, std::min(a, b));
    high = std::min(high, std::max(a, b));
  } else if (std::fabs(dx) >= tool_.radius) {
    return {};
  }
  if (low > high) return {};
  std::optional<Meeting> best;
  auto look = [&](double share) {
    double growth = 0;
    auto met = at(share, dx, phi, growth);
    if (met && (!best || met->entry < best->entry)) best = met;
    return growth;
  };
  // a few places first: where some meet the ray, the least lies beside the best of them
  constexpr int kPlaces = 8;
  double from = low, width = high - low, nearest = -1, entry = 1e300;
  for (int i = 0; i <= kPlaces; ++i) {
    double share = from + width * i / kPlaces;
    double grows = look(share);
    if (best && best->entry < entry) {
      entry = best->entry;
      nearest = share;
    } else if (!best && grows > 0) {
      low = share;
    }
  }
  if (nearest >= 0) {
    low = std::max(from, nearest - width / kPlaces);
    high = std::min(from + width, nearest + width / kPlaces);
  }
  for (int i = 0; i < 24 && (high - low) > 1e-7; ++i) {
    double middle = (low + high) / 2;
    (look(middle) > 0 ? low : high) = middle;
  }
  return best;
}

std::optional<Meeting> Sweep::meet(double x, double theta) const {
  double dx = x - from_.x, phi = std::remainder(theta - from_.a, kTurn);
  if (std::max(0.0, std::max(-dx + std::min(0.0, dx_), dx - std::max(0.0, dx_))) >= tool_.radius) return {};
  if (da_ == 0 && dx_ != 0) return straight(dx, phi);
  if (da_ == 0) {  // a plunge: deepest at its lower end, and the flutes have been at its upper end
    double ignored = 0;
    auto met = at(dz_ < 0 ? 1 : 0, dx, phi, ignored);
    double cosine = std::cos(phi), side = std::fabs(std::sin(phi)), chord = std::sqrt(tool_.radius * tool_.radius - dx * dx);
    if (met && cosine > 1e-9) {
      double out = std::min(side > 1e-9 ? chord / side : 1e9, (std::max(from_.z, to_.z) + tool_.flute) / cosine);
      bool by_side = chord * cosine >= side * (met->tip + tool_.height(tool_.radius));  // it leaves through the upright side
      if (by_side) met->exit = std::max(met->exit, out);
    }
    return met;
  }
  return turning(dx, phi);
}

std::optional<Meeting> meet_move(const Tool& tool, const motion::Position& from, const motion::Position& to, double x, double theta) {
  double n = std::max(1.0, std::ceil(std::fabs(to.a - from.a) / kWidest));
  std::optional<Meeting> best;
  motion::Position last = from;
  for (double i = 1; i <= n; ++i) {
    double share = i / n;
    motion::Position next = i == n ? to : motion::Position{from.x + (to.x - from.x) * share, 0, from.z + (to.z - from.z) * share,
                                                           from.a + (to.a - from.a) * share};
    auto met = Sweep(tool, last, next).meet(x, theta);
    if (met && (!best || met->entry < best->entry)) best = met;
    last = next;
  }
  return best;
}

}  // namespace pommel::proof
