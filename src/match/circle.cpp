#include "match/circle.h"

#include <array>
#include <cmath>

#include "match/linear.h"

namespace pommel::match {
namespace {

constexpr double kFlattest = 1e5;  // mm of radius: flatter arcs are lines

struct Middle {
  double x = 0, r = 0;
};

Middle middle_of(std::span<const Sample> samples) {
  Middle m;
  for (const Sample& s : samples) m.x += s.x, m.r += s.r;
  const double n = static_cast<double>(samples.size());
  return {m.x / n, m.r / n};
}

struct Row {
  double e = 0, nx = 0, nr = 0, w = 0;
};

Row row_of(const Circle& c, const Sample& s) {
  const double dx = s.x - c.cx, dr = s.r - c.cr, d = std::sqrt(dx * dx + dr * dr);
  if (d == 0) return {c.rho, 0, 1, 1 / s.sr};
  const double nx = dx / d, nr = dr / d;
  return {d - c.rho, nx, nr, 1 / std::sqrt(nx * nx * s.sx * s.sx + nr * nr * s.sr * s.sr)};
}

double cost_of(const Circle& c, std::span<const Sample> samples) {
  double sum = 0;
  for (const Sample& s : samples) sum += squared_deviation(c, s);
  return sum;
}

/// Which numbers of a circle are free, in the order of the equations.
using Number = double Circle::*;
struct Free {
  Number value, sd;
};
constexpr std::array<Free, 3> kAnywhere = {Free{&Circle::rho, &Circle::sd_rho}, {&Circle::cx, &Circle::sd_cx}, {&Circle::cr, &Circle::sd_cr}};
constexpr std::array<Free, 2> kOnAxis = {kAnywhere[0], kAnywhere[1]};

/// The factor of the normal equations and their right side.
template <std::size_t N>
bool assemble(const Circle& c, std::span<const Sample> samples, SmallMatrix<N>& normal, std::array<double, N>& right) {
  for (const Sample& s : samples) {
    const Row row = row_of(c, s);
    const double slopes[3] = {-row.w, -row.nx * row.w, -row.nr * row.w};
    for (std::size_t a = 0; a < N; ++a) {
      right[a] -= slopes[a] * row.e * row.w;
      for (std::size_t b = 0; b <= a; ++b) normal.at(a, b) += slopes[a] * slopes[b];
    }
  }
  return normal.factor();
}

/// A step of Gauss and Newton, halved until it costs no more. What it gains; below 0 nothing was taken.
template <std::size_t N>
double step(Circle& c, std::span<const Sample> samples, const std::array<Free, N>& free, const std::array<double, N>& move) {
  constexpr int kHalves = 5;
  Circle next = c;
  double share = 1;
  for (int halves = 0; halves < kHalves; ++halves, share /= 2) {
    for (std::size_t a = 0; a < N; ++a) next.*free[a].value = c.*free[a].value + share * move[a];
    next.cost = cost_of(next, samples);
    if (next.cost <= c.cost) break;
  }
  const double gain = c.cost - next.cost;
  if (gain >= 0) c = next;
  return gain;
}

/// Gauss and Newton over the free numbers, with how surely each is known at the end.
template <std::size_t N>
bool settle(Circle& c, std::span<const Sample> samples, const std::array<Free, N>& free, int rounds) {
  constexpr double kSettled = 1e-12;  // of the cost: gains below are rounding
  c.cost = cost_of(c, samples);
  for (int round = 0; round < rounds; ++round) {
    SmallMatrix<N> factor;
    std::array<double, N> move{};
    if (!assemble(c, samples, factor, move)) return false;
    factor.solve(move);
    const double gain = step(c, samples, free, move);
    if (!(c.rho > 0) || c.rho > kFlattest) return false;
    if (gain > kSettled * (1 + c.cost) && round + 1 < rounds) continue;
    for (std::size_t a = 0; a < N; ++a) {
      std::array<double, N> one{};
      one[a] = 1;
      factor.solve(one);
      c.*free[a].sd = std::sqrt(one[a]);
    }
    break;
  }
  return true;
}

}  // namespace

double squared_deviation(const Circle& circle, const Sample& sample) {
  const Row row = row_of(circle, sample);
  return row.e * row.e * row.w * row.w;
}

double squared_deviation(const Line& line, const Sample& sample) {
  const double e = sample.r - line.a - line.b * sample.x;
  return e * e / (sample.sr * sample.sr + line.b * line.b * sample.sx * sample.sx);
}

std::optional<Circle> circle_through(const Sample& a, const Sample& b, const Sample& c) {
  const double bx = b.x - a.x, br = b.r - a.r, cx = c.x - a.x, cr = c.r - a.r, d = 2 * (bx * cr - br * cx);
  if (std::fabs(d) < 1e-9) return std::nullopt;
  const double b2 = bx * bx + br * br, c2 = cx * cx + cr * cr;
  const double ux = (cr * b2 - br * c2) / d, ur = (bx * c2 - cx * b2) / d;
  Circle out;
  out.cx = a.x + ux, out.cr = a.r + ur, out.rho = std::hypot(ux, ur);
  return out;
}

std::optional<Circle> algebraic_circle(std::span<const Sample> samples) {
  if (samples.size() < 3) return std::nullopt;
  const Middle m = middle_of(samples);
  double xx = 0, xr = 0, rr = 0, xz = 0, rz = 0, z1 = 0;
  for (const Sample& s : samples) {
    const double x = s.x - m.x, r = s.r - m.r, z = x * x + r * r;
    xx += x * x, xr += x * r, rr += r * r, xz += x * z, rz += r * z, z1 += z;
  }
  const double det = xx * rr - xr * xr;
  if (!(det > 1e-12 * xx * (xx + rr))) return std::nullopt;
  const double a = (xz * rr - rz * xr) / (2 * det), b = (rz * xx - xz * xr) / (2 * det);
  Circle c;
  c.cx = a + m.x;
  c.cr = b + m.r;
  c.rho = std::sqrt(a * a + b * b + z1 / static_cast<double>(samples.size()));
  if (!(c.rho < kFlattest)) return std::nullopt;
  c.cost = cost_of(c, samples);
  return c;
}

std::optional<Circle> geometric_circle(std::span<const Sample> samples, int rounds) {
  std::optional<Circle> c = algebraic_circle(samples);
  if (!c || !settle(*c, samples, kAnywhere, rounds)) return std::nullopt;
  return c;
}

std::optional<Circle> circle_on_axis(std::span<const Sample> samples, int rounds) {
  if (samples.size() < 2) return std::nullopt;
  // x² + r² = 2 cx x + c: a line through points (x, x² + r²)
  const Middle m = middle_of(samples);
  double xx = 0, xz = 0, zm = 0;
  for (const Sample& s : samples) zm += (s.x - m.x) * (s.x - m.x) + s.r * s.r;
  zm /= static_cast<double>(samples.size());
  for (const Sample& s : samples) {
    const double x = s.x - m.x;
    xx += x * x, xz += x * (x * x + s.r * s.r - zm);
  }
  if (!(xx > 0)) return std::nullopt;
  Circle c;
  const double a = xz / (2 * xx);
  c.cx = a + m.x;
  c.rho = std::sqrt(a * a + zm);
  if (!settle(c, samples, kOnAxis, rounds)) return std::nullopt;
  return c;
}

Line fitted_level(std::span<const Sample> samples) {
  double w = 0, wr = 0;
  for (const Sample& s : samples) w += 1 / (s.sr * s.sr), wr += s.r / (s.sr * s.sr);
  Line line{wr / w, 0, 0};
  for (const Sample& s : samples) line.cost += (s.r - line.a) * (s.r - line.a) / (s.sr * s.sr);
  return line;
}

Line fitted_line(std::span<const Sample> samples) {
  Line line = fitted_level(samples);
  for (int pass = 0; pass < 3; ++pass) {
    double w = 0, x = 0, r = 0, xx = 0, xr = 0;
    const double x0 = samples.front().x;
    for (const Sample& s : samples) {
      const double v = 1 / (s.sr * s.sr + line.b * line.b * s.sx * s.sx), u = s.x - x0;
      w += v, x += v * u, r += v * s.r, xx += v * u * u, xr += v * u * s.r;
    }
    const double det = w * xx - x * x;
    if (!(det > 1e-12 * w * xx)) return fitted_level(samples);
    line.b = (w * xr - x * r) / det;
    line.a = (r - line.b * x) / w - line.b * x0;
  }
  line.cost = 0;
  for (const Sample& s : samples) line.cost += squared_deviation(line, s);
  return line;
}

}  // namespace pommel::match
