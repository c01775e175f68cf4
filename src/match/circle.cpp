#include "match/circle.h"

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
  for (const Sample& s : samples) {
    const Row row = row_of(c, s);
    sum += row.e * row.e * row.w * row.w;
  }
  return sum;
}

/// Gauss and Newton over cx, (cr,) rho.
bool settle(Circle& c, std::span<const Sample> samples, bool on_axis, int rounds) {
  const std::size_t n = on_axis ? 2 : 3;
  c.cost = cost_of(c, samples);
  for (int round = 0; round < rounds; ++round) {
    Matrix normal(n);
    std::vector<double> right(n, 0);
    for (const Sample& s : samples) {
      const Row row = row_of(c, s);
      const double j3[3] = {-row.nx * row.w, -row.nr * row.w, -row.w}, j2[2] = {-row.nx * row.w, -row.w};
      const double* j = on_axis ? j2 : j3;
      for (std::size_t a = 0; a < n; ++a) {
        right[a] -= j[a] * row.e * row.w;
        for (std::size_t b = 0; b <= a; ++b) normal.at(a, b) += j[a] * j[b];
      }
    }
    Matrix factor = normal;
    if (!factor.factor()) return false;
    std::vector<double> move = right;
    factor.solve(move);
    Circle next = c;
    double share = 1;
    for (int halves = 0; halves < 5; ++halves, share /= 2) {
      next.cx = c.cx + share * move[0];
      next.cr = on_axis ? 0 : c.cr + share * move[1];
      next.rho = c.rho + share * move[n - 1];
      next.cost = cost_of(next, samples);
      if (next.cost <= c.cost) break;
    }
    const bool settled = c.cost - next.cost <= 1e-12 * (1 + c.cost);
    if (next.cost <= c.cost) c = next;
    if (!(c.rho > 0) || c.rho > kFlattest) return false;
    if (settled || round + 1 == rounds) {
      std::vector<double> e(n, 0);
      double* sds[3] = {&c.sd_cx, on_axis ? &c.sd_rho : &c.sd_cr, &c.sd_rho};
      for (std::size_t a = 0; a < n; ++a) {
        std::fill(e.begin(), e.end(), 0.0);
        e[a] = 1;
        factor.solve(e);
        *sds[a] = std::sqrt(e[a]);
      }
      return true;
    }
  }
  return true;
}

}  // namespace

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
  if (!c || !settle(*c, samples, false, rounds)) return std::nullopt;
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
  if (!settle(c, samples, true, rounds)) return std::nullopt;
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
  for (const Sample& s : samples) {
    const double e = s.r - line.a - line.b * s.x;
    line.cost += e * e / (s.sr * s.sr + line.b * line.b * s.sx * s.sx);
  }
  return line;
}

}  // namespace pommel::match
