#include "mill/smooth.h"

#include <cmath>
#include <limits>
#include <numbers>

#include "mill/contact.h"
#include "shape/angle.h"

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kFits = 0.93;     // of the ball's radius times a hollow's curvature: beyond it the steps grow slow
constexpr double kNear = 0.008;    // mm: a last step no longer than this leaves at most its square over twice the ball's radius
constexpr float kLeft = 2e-5f;     // mm outside another maker that still counts as left by it, in single precision
constexpr int kSteps = 5, kMoreSteps = 24, kStepsAlone = 90;

using One = lanes::simd<double, lanes::simd_abi::scalar>;
using shape::Maker;

double angle_between(double a, double b) { return std::fabs(std::remainder(a - b, kTurn)); }

// How far round from its own direction a groove can cut wood, radians.
double groove_share(const CellGroove& groove, double low, double reach) {
  const double g = groove.radius, across = (reach * reach + (low - g) * (low + g)) / (2 * reach * low);
  return std::min(std::asin(std::min(1.0, g / low)), std::acos(std::clamp(across, -1.0, 1.0))) + 1e-3;
}

double least_of(const shape::Piece& piece, double a, double b) {
  double least = std::min(piece.value(a), piece.value(b));
  for (double x : shape::level_points(piece))
    if (x > a && x < b) least = std::min(least, piece.value(x));
  return least;
}

double greatest_of(const shape::Piece& piece, double a, double b) {
  double most = std::max(piece.value(a), piece.value(b));
  for (double x : shape::level_points(piece))
    if (x > a && x < b) most = std::max(most, piece.value(x));
  return most;
}

}  // namespace

Bends bends_of(const shape::Piece& piece, double a, double b) {
  Bends found;
  auto take = [&](double x) {
    const auto at = Curve(piece, x).at(One(0.0));
    const double slope = at.slope[0], bend = at.bend[0] / std::pow(1 + slope * slope, 1.5);
    found.hollow = std::max(found.hollow, bend), found.bulge = std::max(found.bulge, -bend);
  };
  if (piece.kind == shape::Piece::Kind::clear || piece.kind == shape::Piece::Kind::line) return found;
  for (int i = 0; i <= 32; ++i) take(a + (b - a) * i / 32);
  found.hollow *= 1.02, found.bulge *= 1.02;  // between the places looked at
  return found;
}

namespace {

struct Vector {
  double x = 0, y = 0, z = 0;
};

Vector on_twist(const Cell& cell, double x, double theta) {
  const double r = cell.round_at(x, theta);
  return {x, r * std::cos(theta), r * std::sin(theta)};
}

// The greatest hollow curvature of the twisted surface at one place, 1/mm, by differences over a hundredth of a millimetre.
double hollow_at(const Cell& cell, double x, double theta) {
  constexpr double h = 0.01;
  const double turn = h / cell.round_at(x, theta);
  Vector at[3][3];
  for (int i = 0; i < 3; ++i)
    for (int k = 0; k < 3; ++k) at[i][k] = on_twist(cell, x + (i - 1) * h, theta + (k - 1) * turn);
  auto mixed = [](const Vector& a, const Vector& b, const Vector& c, const Vector& d, double per) {  // a - b - c + d
    return Vector{(a.x - b.x - c.x + d.x) * per, (a.y - b.y - c.y + d.y) * per, (a.z - b.z - c.z + d.z) * per};
  };
  const Vector none{}, u = mixed(at[2][1], at[0][1], none, none, 1 / (2 * h)), v = mixed(at[1][2], at[1][0], none, none, 1 / (2 * h));
  const Vector uu = mixed(at[2][1], at[1][1], at[1][1], at[0][1], 1 / (h * h)), vv = mixed(at[1][2], at[1][1], at[1][1], at[1][0], 1 / (h * h));
  const Vector uv = mixed(at[2][2], at[2][0], at[0][2], at[0][0], 1 / (4 * h * h));
  auto dot = [](const Vector& a, const Vector& b) { return a.x * b.x + a.y * b.y + a.z * b.z; };
  Vector n{u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z, u.x * v.y - u.y * v.x};
  const double length = std::sqrt(dot(n, n)) * (n.y * at[1][1].y + n.z * at[1][1].z < 0 ? -1 : 1);
  n = {n.x / length, n.y / length, n.z / length};
  const double e = dot(u, u), f = dot(u, v), g = dot(v, v), l = dot(uu, n), m = dot(uv, n), k = dot(vv, n), area = e * g - f * f;
  const double mean = (e * k - 2 * f * m + g * l) / (2 * area), gauss = (l * k - m * m) / area;
  return mean + std::sqrt(std::max(0.0, mean * mean - gauss));
}

}  // namespace

bool fits_twist(const Cell& cell, double rho) {
  constexpr int kPlaces = 24;
  const shape::Twist& twist = *cell.treatments.twist;
  const double share = kTurn / twist.starts, start = twist.phase - kTurn * twist.x0 / twist.pitch;
  const int rows = std::clamp(static_cast<int>((cell.x1 - cell.x0) / 0.5), 8, 80);
  double most = 0;
  for (int i = 0; i <= rows; ++i) {
    const double x = cell.x0 + 0.02 + (cell.x1 - cell.x0 - 0.04) * i / rows;
    for (int k = 0; k < kPlaces; ++k) most = std::max(most, hollow_at(cell, x, start + kTurn * x / twist.pitch + share * k / kPlaces));
  }
  return 1.03 * rho * most < kFits;  // between the places looked at
}

template <class V>
struct Smooth::Stand {
  V height;        // of the ball's centre; -infinity where it stands beside
  V x, y, z;       // the place, x from the ball's
  V step;          // mm: how long the last step was
};

Smooth::Smooth(const std::vector<Cell>& cells, double rho, Facets& facets) : rho_(rho) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (cells[i].treated()) add_channels(cells, i, facets);
    if (cells[i].treatments.twist && fits_twist(cells[i], rho)) add_twist(cells, i);
  }
}

void Smooth::add_channels(const std::vector<Cell>& cells, std::size_t at, Facets& facets) {
  const Cell& cell = cells[at];
  const Treatments& there = cell.treatments;
  auto prepared = [&](const Owner& owner, const shape::Piece& centre, double side, double radius) {
    Surface s;
    s.cell = at, s.owner = owner, s.side = side, s.radius = radius, s.line = centre;
    s.x0 = std::max(cell.x0, centre.x0), s.x1 = std::min(cell.x1, centre.x1);
    for (std::size_t f = 0; f < cell.faces.size(); ++f)
      if (cell.faces[f].shows) s.faces.push_back(f);
    s.asked_singly = there.twist.has_value() || there.reeds.size() > (owner.maker == Maker::reed ? 1u : 0u);
    return s;
  };
  auto gentle = [&](const Surface& s) { return rho_ * bends_of(s.line, s.x0, s.x1).hollow < kFits; };
  for (std::size_t k = 0; k < there.grooves.size(); ++k) {
    const CellGroove& groove = there.grooves[k];
    Surface s = prepared({Maker::flute, k}, groove.centre, -1, groove.radius);
    const double low = least_of(groove.centre, s.x0, s.x1);
    if (!gentle(s) || low <= groove.radius) continue;
    facets.leave_to_ball(at, s.owner);
    if (low - groove.radius > cell.reach) continue;
    s.theta = groove.theta, s.cos = groove.cos, s.sin = groove.sin;
    s.half = std::asin(std::min(1.0, groove.radius / low));
    for (std::size_t j = 0; j < there.grooves.size(); ++j) {
      const CellGroove& other = there.grooves[j];
      if (j == k) continue;
      const double other_low = std::max(other.radius, least_of(other.centre, std::max(cell.x0, other.centre.x0), std::min(cell.x1, other.centre.x1)));
      if (angle_between(other.theta, groove.theta) < groove_share(groove, low, cell.reach) + groove_share(other, other_low, cell.reach)) s.grooves.push_back(j);
    }
    surfaces_.push_back(std::move(s));
  }
  for (std::size_t k = 0; k < there.reeds.size(); ++k) {
    const CellReeds& reeds = there.reeds[k];
    Surface s = prepared({Maker::reed, k}, reeds.centre, 1, reeds.radius);
    if (!gentle(s)) continue;
    facets.leave_to_ball(at, s.owner);
    for (std::size_t j = 0; j < there.grooves.size(); ++j) s.grooves.push_back(j);
    const double share = kTurn / reeds.count / 2, high = greatest_of(reeds.centre, s.x0, s.x1);
    const double valley = share + std::asin(std::min(1.0, high * std::sin(share) / reeds.radius)), q = reeds.radius + rho_;
    s.half = std::max(share, std::atan2(q * std::sin(valley), least_of(reeds.centre, s.x0, s.x1) + q * std::cos(valley))) + 0.02;
    s.sector = std::tan(share);
    for (int reed = 0; reed < reeds.count; ++reed) {
      s.theta = reeds.crown(reed);
      const shape::SinCos turn = shape::sin_cos(s.theta);
      s.cos = turn.cos, s.sin = turn.sin;
      surfaces_.push_back(s);
    }
  }
}

void Smooth::add_twist(const std::vector<Cell>& cells, std::size_t at) {
  const Cell& cell = cells[at];
  Surface s;
  s.cell = at, s.owner = {Maker::round, 0}, s.line = cell.round.piece(), s.x0 = cell.x0, s.x1 = cell.x1;
  for (std::size_t f = 0; f < cell.faces.size(); ++f)
    if (cell.faces[f].shows) s.faces.push_back(f);
  for (std::size_t k = 0; k < cell.treatments.grooves.size(); ++k) s.grooves.push_back(k);
  s.asked_singly = !cell.treatments.reeds.empty();
  surfaces_.push_back(std::move(s));
}

template <class V>
Smooth::Stand<V> Smooth::stand_on_channel(const Surface& s, const Cell&, double rho_wide, double x0, const V& cos_a, const V& sin_a, int steps) const {
  using T = typename V::value_type;
  const Curve line(s.line, x0);
  const T rho = static_cast<T>(rho_wide), g = static_cast<T>(s.side * s.radius), from = static_cast<T>(s.x0 - x0), to = static_cast<T>(s.x1 - x0);
  const T tc = static_cast<T>(s.cos), ts = static_cast<T>(s.sin);
  const V ca = cos_a * tc + sin_a * ts, sa = sin_a * tc - cos_a * ts;
  V x = lanes::min(lanes::max(V(T(0)), V(from)), V(to)), cos = ca, sin = sa, step = T(0), tight = T(0);
  Curve::At<V> c = line.at(x);
  for (int i = 0; i < steps; ++i) {
    const V lean = c.slope * cos, k = T(1) / lanes::sqrt(T(1) + lean * lean);
    // along the piece as Newton would go, were psi to stay
    const V straight = rho * k * lean, damped = T(1) / lanes::max(V(T(0.2)), T(1) - rho * c.bend * k * k * k * cos);
    const V next = lanes::min(lanes::max(x + (straight - x) * damped, V(from)), V(to)), old = cos;
    c = line.at(next);
    const V q = g + rho * k, wide = c.value * sa / q, across = lanes::min(lanes::max(wide, V(T(-1))), V(T(1)));
    const V root = lanes::sqrt(lanes::max(V(T(0)), T(1) - across * across));
    cos = root * ca - across * sa, sin = root * sa + across * ca;
    step = lanes::max(lanes::abs(next - x), std::fabs(g) * lanes::abs(cos - old));
    tight = lanes::abs(wide);
    where(g * q < V(T(0)), tight) = T(2);  // the ball is wider than the groove there
    x = next;
  }
  Stand<V> out;
  const V along = c.value + g * cos, over = g * sin, l = over * ca - along * sa, v = rho * rho - x * x - l * l;
  out.height = along * ca + over * sa + lanes::sqrt(lanes::max(v, V(T(0))));
  out.x = x, out.y = along * tc - over * ts, out.z = along * ts + over * tc;
  out.step = step;
  where(tight > V(T(1.02)), out.step) = T(0);
  auto beside = v < V(T(0)) || along <= V(T(0));
  if (s.side > 0) beside = beside || lanes::abs(over) > along * static_cast<T>(s.sector) + static_cast<T>(kLeft);
  where(beside, out.height) = -std::numeric_limits<T>::infinity();
  return out;
}

template <class V>
Smooth::Stand<V> Smooth::stand_on_twist(const Surface& s, const Cell& cell, double rho_wide, double x0, const V& cos_a, const V& sin_a, int steps) const {
  using T = typename V::value_type;
  const shape::Twist& twist = *cell.treatments.twist;
  const Curve line(s.line, x0);
  const T rho = static_cast<T>(rho_wide), from = static_cast<T>(s.x0 - x0), to = static_cast<T>(s.x1 - x0);
  const T n = static_cast<T>(twist.starts), depth = static_cast<T>(twist.depth), wind = static_cast<T>(twist.starts * kTurn / twist.pitch);
  const double psi = twist.phase + kTurn * std::remainder(x0 - twist.x0, twist.pitch) / twist.pitch;
  // cos and sin of n (a - psi), by turning from start to start
  const T pc = static_cast<T>(std::cos(psi)), ps = static_cast<T>(std::sin(psi));
  const V c1 = cos_a * pc + sin_a * ps, s1 = sin_a * pc - cos_a * ps;
  V cn = c1, sn = s1;
  for (int i = 1; i < twist.starts; ++i) {
    const V turned = cn * c1 - sn * s1;
    sn = sn * c1 + cn * s1, cn = turned;
  }
  const T rise0 = static_cast<T>((x0 - twist.x0) / twist.fade0), rise1 = static_cast<T>((twist.x1 - x0) / twist.fade1);
  const T per0 = static_cast<T>(1 / twist.fade0), per1 = static_cast<T>(1 / twist.fade1);
  auto eased = [](const V& u, V& slope) {
    const V t = lanes::min(lanes::max(u, V(T(0))), V(T(1)));
    slope = T(6) * t * (T(1) - t);
    return V(t * t * (T(3) - T(2) * t));
  };
  V x = lanes::min(lanes::max(V(T(0)), V(from)), V(to)), off = T(0), r = T(0), rx = T(0), st = T(0), step = T(0);
  auto surface = [&] {
    const Curve::At<V> at = line.at(x);
    V slope0, slope1;
    const V f0 = eased(rise0 + x * per0, slope0), f1 = eased(rise1 - x * per1, slope1);
    const V swing = depth * T(0.5) * f0 * f1, swing_x = depth * T(0.5) * (slope0 * per0 * f1 - f0 * slope1 * per1);
    const V u = n * off - wind * x, cu = lanes::cos(u), su = lanes::sin(u), co = cn * cu - sn * su, si = sn * cu + cn * su;
    r = at.value - swing * (T(1) - co);
    rx = at.slope - swing_x * (T(1) - co) + swing * si * wind;
    st = -swing * n * si / r;
  };
  surface();
  for (int i = 0; i < steps; ++i) {
    const V k = T(1) / lanes::sqrt(T(1) + rx * rx + st * st);
    const V next = lanes::min(lanes::max(rho * rx * k, V(from)), V(to));
    const V side = rho * st * k / (r + rho * k), turn = side * (T(1) - side * side * T(1.0 / 3));  // the arc to the third order: a place, no height
    step = lanes::max(lanes::abs(next - x), r * lanes::abs(turn - off));
    x = next, off = turn;
    surface();
  }
  Stand<V> out;
  const V ct = lanes::cos(off), st_off = lanes::sin(off), l = r * st_off, v = rho * rho - x * x - l * l;
  out.height = r * ct + lanes::sqrt(lanes::max(v, V(T(0))));
  out.x = x, out.y = r * (cos_a * ct - sin_a * st_off), out.z = r * (sin_a * ct + cos_a * st_off);
  out.step = step;
  where(v < V(T(0)), out.height) = -std::numeric_limits<T>::infinity();
  return out;
}

template <class V>
Smooth::Stand<V> Smooth::stand(const Surface& s, const Cell& cell, double rho, double x0, const V& cos_a, const V& sin_a, int steps) const {
  using T = typename V::value_type;
  Stand<V> out = s.side == 0 ? stand_on_twist(s, cell, rho, x0, cos_a, sin_a, steps) : stand_on_channel(s, cell, rho, x0, cos_a, sin_a, steps);
  const T slack = static_cast<T>(kLeft);
  auto gone = out.x != out.x;
  if (s.side != 0 && !cell.round.clear() && !cell.treatments.twist) {
    const V r = Curve(cell.round.piece(), x0).at(out.x).value + slack;
    gone = gone || out.y * out.y + out.z * out.z > r * r;
  }
  for (std::size_t f : s.faces) {
    const CellFace& face = cell.faces[f];
    gone = gone || out.y * static_cast<T>(face.cos) + out.z * static_cast<T>(face.sin) > Curve(face.d.piece(), x0).at(out.x).value + slack;
  }
  for (std::size_t k : s.grooves) {
    const CellGroove& groove = cell.treatments.grooves[k];
    const V along = out.y * static_cast<T>(groove.cos) + out.z * static_cast<T>(groove.sin), across = out.z * static_cast<T>(groove.cos) - out.y * static_cast<T>(groove.sin);
    const V aside = along - Curve(groove.centre, x0).at(out.x).value;
    const T least = static_cast<T>(groove.radius) - slack;
    gone = gone || (along > V(T(0)) && aside * aside + across * across < V(least * least));
  }
  where(gone, out.height) = -std::numeric_limits<T>::infinity();
  return out;
}

// One direction where the steps did not settle.
double Smooth::singly(const Surface& s, const Facets::Over& over, const Facets& facets, double drop, double x0, double a) const {
  const Cell& cell = over.cells[s.cell];
  if (s.side != 0) return facets.height_of(over, s.cell, s.owner, x0, a) + drop;
  // a twist: the ball's height over points of its surface has one summit; climb it along and across by turns
  auto height = [&](double x, double theta) {
    const double r = cell.round_at(x, theta), l = r * std::sin(theta - a), v = rho_ * rho_ - (x - x0) * (x - x0) - l * l;
    return v < 0 ? -kInfinity : r * std::cos(theta - a) + std::sqrt(v);
  };
  double x = std::clamp(x0, s.x0, s.x1), theta = a, best = height(x, theta);
  for (double way = rho_ / 2; way > 1e-4;) {
    bool better = false;
    for (auto [dx, dt] : {std::pair{way, 0.0}, {-way, 0.0}, {0.0, way}, {0.0, -way}, {way, way}, {-way, -way}, {way, -way}, {-way, way}}) {
      const double nx = std::clamp(x + dx, s.x0, s.x1), nt = theta + dt / cell.reach;
      if (const double h = height(nx, nt); h > best) best = h, x = nx, theta = nt, better = true;
    }
    if (!better) way /= 2;
  }
  const double r = cell.round_at(x, theta);
  return left_by_others(cell, s.owner, x, r * std::cos(theta), r * std::sin(theta), kLeft) ? best : -kInfinity;
}

void Smooth::raise(const Facets::Over& over, const Facets& facets, double drop, double x0, const Columns& columns, float* row) const {
  const float less = static_cast<float>(drop);
  for (const Surface& s : surfaces_) {
    if (x0 + rho_ < s.x0 || x0 - rho_ > s.x1) continue;
    const Cell& cell = over.cells[s.cell];
    auto settle = [&](std::size_t j, const Stand<Row>& stand, std::size_t lane) {
      if (j >= static_cast<std::size_t>(columns.count)) return;
      const double a = columns.angle(j);
      if (stand.step[lane] > static_cast<float>(kNear)) {
        row[j] = std::max(row[j], static_cast<float>(singly(s, over, facets, drop, x0, a) - drop));
      } else if (stand.height[lane] - less > row[j]) {
        if (!s.asked_singly || left_by_others(cell, s.owner, x0 + stand.x[lane], stand.y[lane], stand.z[lane], kLeft)) row[j] = stand.height[lane] - less;
      }
    };
    auto run = [&](std::size_t first, std::size_t last) {
      for (std::size_t j = first - first % Row::size(); j <= last; j += Row::size()) {
        const Row cos(&columns.cos[j], lanes::element_aligned), sin(&columns.sin[j], lanes::element_aligned), old(row + j, lanes::element_aligned);
        Stand<Row> found = stand<Row>(s, cell, rho_, x0, cos, sin, kSteps);
        if (any_of(found.step > Row(static_cast<float>(kNear)))) found = stand<Row>(s, cell, rho_, x0, cos, sin, kMoreSteps);
        if (!s.asked_singly && none_of(found.step > Row(static_cast<float>(kNear)))) {
          lanes::max(old, found.height - less).copy_to(row + j, lanes::element_aligned);
          continue;
        }
        for (std::size_t lane = 0; lane < Row::size(); ++lane) settle(j + lane, found, lane);
      }
    };
    if (s.half == 0) run(0, static_cast<std::size_t>(columns.count) - 1);
    else columns.each_in({s.theta - s.half, s.theta + s.half}, run);
  }
}

double Smooth::height_at(const Facets::Over& over, const Facets& facets, double drop, double x0, double a) const {
  double height = -kInfinity;
  const One cos = std::cos(a), sin = std::sin(a);
  for (const Surface& s : surfaces_) {
    if (x0 + rho_ < s.x0 || x0 - rho_ > s.x1) continue;
    if (s.half != 0 && !holds({s.theta - s.half, s.theta + s.half}, a)) continue;
    const Cell& cell = over.cells[s.cell];
    const Stand<One> found = stand<One>(s, cell, rho_, x0, cos, sin, kStepsAlone);
    double here = found.height[0];
    if (found.step[0] > kNear) here = singly(s, over, facets, drop, x0, a);
    else if (s.asked_singly && !left_by_others(cell, s.owner, x0 + found.x[0], found.y[0], found.z[0], kLeft)) continue;
    height = std::max(height, here - drop);
  }
  return height;
}

}  // namespace pommel::mill
