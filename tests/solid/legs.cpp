#include "solid/legs.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::solid::testing {

using shape::Part;
using shape::Piece;
using shape::Profile;

Turning& Turning::add(Piece piece) {
  x_ = piece.x1;
  if (piece.kind != Piece::Kind::clear) r_ = piece.r1;
  profile_.pieces.push_back(piece);
  return *this;
}

Turning& Turning::wall(double r) {
  r_ = r;
  return *this;
}
Turning& Turning::clear(double length, double after) {
  add(shape::clear_piece(x_, x_ + length));
  return wall(after);
}
Turning& Turning::line(double length, double r) {
  return add(shape::line_piece(x_, r_, x_ + length, r));
}
Turning& Turning::bulge(double length, double r, double rho) {
  return add(shape::arc_piece(x_, r_, x_ + length, r, rho, 1));
}
Turning& Turning::hollow(double length, double r, double rho) {
  return add(shape::arc_piece(x_, r_, x_ + length, r, rho, -1));
}
Turning& Turning::crest(double length, double rise) {
  return bulge(length, r_, (length * length / 4 + rise * rise) / (2 * rise));
}
Turning& Turning::dip(double length, double depth) {
  return hollow(length, r_, (length * length / 4 + depth * depth) / (2 * depth));
}

Turning& Turning::cubic(double length, double r, double slope0, double slope1) {
  Piece piece;
  piece.kind = Piece::Kind::cubic;
  piece.x0 = x_, piece.x1 = x_ + length, piece.r0 = r_, piece.r1 = r;
  const double h = piece.x1 - piece.x0, rise = (r - r_) / h;
  piece.c = {r_, slope0, (3 * rise - 2 * slope0 - slope1) / h, (slope0 + slope1 - 2 * rise) / (h * h)};
  return add(piece);
}

Turning& Turning::shoulder(Shoulder kind, double length, double from, double to) {
  wall(from);
  const double drop = std::abs(from - to);
  // an arc that lies level at its greater end, rho = (l² + h²) / 2h; where that would overhang, plumb at its smaller
  // one
  const double level = (length * length + drop * drop) / (2 * std::min(drop, length));
  const bool falls = to < from;
  if (drop < 1e-9) return cylinder(length);
  switch (kind) {
    case Shoulder::square_cut:
      wall(to);
      return cylinder(length);
    case Shoulder::sloped:
      return line(length, to);
    case Shoulder::rounded:
      return bulge(length, to, level);
    case Shoulder::ogee:
      break;
  }
  const double half = level / 2;
  return falls ? bulge(length / 2, (from + to) / 2, half).hollow(length / 2, to, half)
               : hollow(length / 2, (from + to) / 2, half).bulge(length / 2, to, half);
}

Profile constant(double length, double d) {
  return {{shape::line_piece(0, d, length, d)}};
}

Part part_of(const Turning& turning, int sides, double d, double phi) {
  Part part;
  part.name = "test piece";
  part.length = turning.x();
  part.outline = turning.profile();
  for (int i = 0; i < sides; ++i) {
    const double turn = 2 * std::numbers::pi;
    part.faces.push_back({std::fmod(phi + turn * i / sides, turn), constant(part.length, d)});
  }
  return part;
}

namespace {

// Sizes of a random leg. `pick` now and then lands on a degenerate radius.
class Dice {
 public:
  Dice(unsigned seed, double half) : engine_(seed), half_(half) {}
  double between(double a, double b) { return a + (b - a) * (static_cast<double>(engine_()) / 4294967296.0); }
  bool chance(double p) { return between(0, 1) < p; }
  double radius(double most) {
    if (chance(0.15)) return half_;
    if (chance(0.1) && most >= half_ * std::numbers::sqrt2) return half_ * std::numbers::sqrt2;
    return between(0.35 * half_, most);
  }

 private:
  std::mt19937 engine_;
  double half_;
};

void add_bead(Turning& t, Dice& dice, double half) {
  const double diagonal = half * std::numbers::sqrt2;
  const double length = dice.between(4, 14);
  const double most = std::min(length / 2, diagonal - t.r());
  if (most < 0.2)
    t.cylinder(length);
  else if (dice.chance(0.25) && length / 2 <= diagonal - t.r())
    t.half_round(length);
  // a crest that just touches the flats, or the arrises
  else if (dice.chance(0.3) && half - t.r() > 0.2 && half - t.r() <= most)
    t.crest(length, half - t.r());
  else if (dice.chance(0.2) && diagonal - t.r() <= length / 2)
    t.crest(length, diagonal - t.r());
  else
    t.crest(length, dice.between(0.2, most));
}

void add_cove(Turning& t, Dice& dice) {
  const double length = dice.between(5, 16);
  const double most = std::min(length / 2, t.r() - 4);
  if (most < 0.2)
    t.cylinder(length);
  else if (dice.chance(0.25) && length / 2 <= t.r() - 4)
    t.half_hollow(length);
  else
    t.dip(length, dice.between(0.2, most));
}

void add_vase(Turning& t, Dice& dice, double half) {
  const double belly = dice.radius(half * 1.2), neck = dice.radius(half * 0.8);
  t.cubic(dice.between(20, 60), belly, dice.chance(0.5) ? 0 : dice.between(-0.1, 0.1), 0);
  t.cubic(dice.between(30, 90), neck, 0, dice.chance(0.5) ? 0 : dice.between(-0.15, 0.15));
}

}  // namespace

Part random_leg(unsigned seed, Shoulder kind) {
  Dice start(seed, 1);
  const double half = std::round(start.between(15, 45) * 4) / 4, diagonal = half * std::numbers::sqrt2;
  Dice dice(seed + 7919, half);
  Turning t(0);
  t.clear(dice.between(40, 200), diagonal);
  t.shoulder(kind, dice.between(4, 20), diagonal, dice.radius(0.95 * half));
  const int elements = 3 + static_cast<int>(dice.between(0, 6));
  for (int i = 0; i < elements; ++i) {
    if (dice.chance(0.3)) t.wall(dice.radius(1.1 * half));
    switch (static_cast<int>(dice.between(0, 5))) {
      case 0:
        add_bead(t, dice, half);
        break;
      case 1:
        add_cove(t, dice);
        break;
      case 2:
        add_vase(t, dice, half);
        break;
      case 3:
        t.line(dice.between(20, 150), dice.radius(half));
        break;
      default:
        t.cylinder(dice.between(2, 6));
        break;
    }
  }
  if (dice.chance(0.3)) {  // a square block further down
    t.shoulder(kind, dice.between(4, 15), t.r(), diagonal).clear(dice.between(20, 60), diagonal);
    t.shoulder(kind, dice.between(4, 15), diagonal, dice.radius(0.9 * half));
  }
  t.line(dice.between(80, 300), dice.between(0.35 * half, 0.8 * half));
  return part_of(t, 4, half);
}

Part bench_leg() {
  const double half = 30, diagonal = half * std::numbers::sqrt2;
  Turning t(0);
  t.clear(150, diagonal).shoulder(Shoulder::rounded, 14, diagonal, 27).wall(24).cylinder(3);
  t.half_round(9).wall(21).cylinder(4).dip(12, 3.5).wall(24).cylinder(3).crest(8, 2.5).wall(20);
  t.cubic(60, 28.5, 0.05, 0).cubic(110, 15, 0, -0.02).wall(18).half_round(6).wall(15).cylinder(4);
  t.wall(22).line(260, 14).wall(18).crest(10, 3).wall(12).cylinder(3);
  t.line(720 - t.x(), 16);
  Part part = part_of(t, 4, half);
  part.name = "bench leg";
  return part;
}

Part bench_leg_jointed(double corner_radius, double depth) {
  Part part = bench_leg();
  const double quarter = std::numbers::pi / 2;
  for (int i = 0; i < 2; ++i) {
    shape::Mortise m;
    m.id = i == 0 ? "long-rail" : "short-rail";
    m.phi = i * quarter;
    m.x0 = 40, m.x1 = 120;
    m.t0 = i == 0 ? 6 : -16, m.t1 = m.t0 + 10;
    m.depth = depth;
    m.corner_radius = corner_radius;
    m.haunch_length = 20, m.haunch_depth = 8;
    part.mortises.push_back(m);
  }
  return part;
}

}  // namespace pommel::solid::testing
