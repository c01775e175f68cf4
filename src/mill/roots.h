// Where a function of one variable changes its sign: for the few places where line, arc and cubic pieces meet.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace pommel::mill {

/// The root between a and b by halving. REQUIRES: f(a) and f(b) differ in sign (0 counts as positive).
template <class F>
double halved(const F& f, double a, double b) {
  const bool below = f(a) < 0;
  for (int step = 0; step < 100; ++step) {
    const double m = a + (b - a) / 2;
    if (m <= a || m >= b) break;
    ((f(m) < 0) == below ? a : b) = m;
  }
  return a + (b - a) / 2;
}

/// The place of the extreme of sign * f between a and b by golden section (f has one there).
template <class F>
double summit(const F& f, double a, double b, double sign) {
  constexpr double kGolden = 0.6180339887498949;
  double p = b - kGolden * (b - a), q = a + kGolden * (b - a);
  double fp = sign * f(p), fq = sign * f(q);
  for (int step = 0; step < 60; ++step) {
    if (fp > fq) {
      b = q, q = p, fq = fp;
      p = b - kGolden * (b - a), fp = sign * f(p);
    } else {
      a = p, p = q, fp = fq;
      q = a + kGolden * (b - a), fq = sign * f(q);
    }
  }
  return (a + b) / 2;
}

/// All sign changes of f inside (a, b), growing. Samples crowd towards the ends, where arcs may be plumb. A swing
/// through zero and back between two samples is found at the extreme between them, so a short excursion is not missed.
template <class F>
std::vector<double> sign_changes(const F& f, double a, double b) {
  constexpr int kSteps = 48;
  std::array<double, kSteps + 1> x{}, y{};
  for (int i = 0; i <= kSteps; ++i) {
    x[i] = i == kSteps ? b : a + (b - a) * (1 - std::cos(std::numbers::pi * i / kSteps)) / 2;
    y[i] = f(x[i]);
  }
  std::vector<double> found;
  auto step = [&](double p, double q) {
    const double root = halved(f, p, q);
    if (root > a && root < b) found.push_back(root);
  };
  for (int i = 0; i < kSteps; ++i) {
    if ((y[i] < 0) != (y[i + 1] < 0)) {
      step(x[i], x[i + 1]);
      continue;
    }
    // both on one side: does f come back through zero between them? Only where it leans towards zero from both ends
    const double sign = y[i] < 0 ? 1 : -1;
    const double before = i > 0 ? sign * (y[i] - y[i - 1]) : 1;
    const double after = i + 2 <= kSteps ? sign * (y[i + 1] - y[i + 2]) : 1;
    if (before < 0 || after < 0) continue;
    const double top = summit(f, x[i], x[i + 1], sign);
    if ((f(top) < 0) == (y[i] < 0)) continue;
    step(x[i], top);
    step(top, x[i + 1]);
  }
  return found;
}

}  // namespace pommel::mill
