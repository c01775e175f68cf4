// Adaptive Gauss-Legendre quadrature for integrands that may begin and end like a square root. Inside shape/ only.
#pragma once

#include <array>
#include <cmath>

namespace pommel::shape {

namespace quadrature_detail {

// Ten-point Gauss-Legendre rule on [-1, 1] (Abramowitz & Stegun, table 25.4).
inline constexpr std::array<double, 5> kNode = {0.1488743389816312, 0.4333953941292472, 0.6794095682990244,
                                                0.8650633666889845, 0.9739065285171717};
inline constexpr std::array<double, 5> kWeight = {0.2955242247147529, 0.2692667193099964, 0.2190863625159820,
                                                  0.1494513491505806, 0.0666713443086881};

template <class F>
double ten_points(const F& f, double a, double b) {
  double middle = (a + b) / 2, half = (b - a) / 2, sum = 0;
  for (std::size_t i = 0; i < kNode.size(); ++i)
    sum += kWeight[i] * (f(middle - half * kNode[i]) + f(middle + half * kNode[i]));
  return sum * half;
}

template <class F>
double halved(const F& f, double a, double b, double whole, double tolerance, double floor, int depth) {
  double middle = (a + b) / 2;
  double left = ten_points(f, a, middle), right = ten_points(f, middle, b);
  if (depth == 0 || std::fabs(left + right - whole) <= tolerance) return left + right;
  double each = tolerance / 2 < floor ? floor : tolerance / 2;
  return halved(f, a, middle, left, each, floor, depth - 1) + halved(f, middle, b, right, each, floor, depth - 1);
}

}  // namespace quadrature_detail

/// The integral of f over [a, b]; `tolerance` is the absolute error aimed at. f is not called at a and b themselves. The
/// substitution x = a + (b - a) s² (3 - 2 s) makes sqrt(x - a) and 1/sqrt(x - a) smooth in s, and so at b. No halving asks for less
/// than `floor`: above 0 where f has kinks at places not known beforehand, towards which halving goes on without end; each kink then
/// costs at most some floors. `depth` bounds the halvings.
template <class F>
double integral(const F& f, double a, double b, double tolerance, double floor = 0, int depth = 24) {
  auto eased = [&](double s) { return f(a + (b - a) * (s * s * (3 - 2 * s))) * (b - a) * 6 * s * (1 - s); };
  double whole = quadrature_detail::ten_points(eased, 0.0, 1.0);
  return quadrature_detail::halved(eased, 0.0, 1.0, whole, tolerance, floor, depth);
}

}  // namespace pommel::shape
