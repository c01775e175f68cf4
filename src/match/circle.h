// The circle of least squared distances to points, and the straight line of least squares.
#pragma once

#include <array>
#include <optional>
#include <span>

#include "match/chain.h"

namespace pommel::match {

struct Circle {
  double cx = 0, cr = 0, rho = 0;
  double cost = 0;                      ///< sum of squared deviations (chain.h)
  double sd_cx = 0, sd_cr = 0, sd_rho = 0;
};

/// Of a sample from the circle, as its cost counts it.
double squared_deviation(const Circle& circle, const Sample& sample);

/// Through three points, its cost and uncertainties unknown. Nothing for points on one line.
std::optional<Circle> circle_through(const Sample& a, const Sample& b, const Sample& c);

/// Algebraic: least sum of (x² + r² - 2 cx x - 2 cr r - c)². Kasa, "A curve fitting procedure and its error analysis", IEEE Trans. Instrum.
/// Meas. 25 (1976). Nothing for points on one line, or fewer than three.
std::optional<Circle> algebraic_circle(std::span<const Sample> samples);

/// Geometric: least sum of squared distances, each over its sample's uncertainty in that direction, by Gauss and Newton from the algebraic one.
/// Gander, Golub and Strebel, "Least-squares fitting of circles and ellipses", BIT 34 (1994), section 3.
/// Nothing where it does not settle: points as good as on a line.
std::optional<Circle> geometric_circle(std::span<const Sample> samples, int rounds = 12);

/// A sphere on the axis: the same with cr = 0.
std::optional<Circle> circle_on_axis(std::span<const Sample> samples, int rounds = 12);

struct Line {
  double a = 0, b = 0;  ///< r = a + b x
  double cost = 0;
};
/// Of a sample from the line, as its cost counts it.
double squared_deviation(const Line& line, const Sample& sample);
/// Weighted by sr² + b² sx² (effective variance). REQUIRES: at least one sample; with one, or all at one place, level.
Line fitted_line(std::span<const Sample> samples);
/// The same with b = 0.
Line fitted_level(std::span<const Sample> samples);

}  // namespace pommel::match
