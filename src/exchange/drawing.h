// Outlines that others drew, as chains of points.
//
// Curves are laid down as points so close that no chord lies farther than kSag off its curve. Ends that stand within the gap asked for become one; the
// order and direction of the file's parts do not count. What cannot be one line is refused with its place: three ends that meet, a line drawn twice.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"

namespace pommel::exchange {

using Dot = std::array<double, 2>;

/// mm (of the file's numbers: units) by which a chord may lie off its curve.
inline constexpr double kSag = 0.002;

/// What an outline cannot have: a file with more is refused before it fills the memory. A long leg drawn with a dot every 0.01 mm has 100,000.
inline constexpr std::size_t kMostDots = 500'000;
/// Lines to be joined, each held against every other.
inline constexpr std::size_t kMostPaths = 5'000;

struct Path {
  std::vector<Dot> dots;  ///< at least two
  bool closed = false;    ///< the last dot is not the first again
};

struct Drawing {
  std::vector<Path> paths;             ///< as the file has them, in mm
  std::optional<LengthUnit> unit;      ///< what the file says its numbers are; nothing when it does not
  std::vector<std::string> passed_over;  ///< kinds of things in the file that are no lines: "TEXT", "DIMENSION"
};

/// Reads the entities LINE, ARC, CIRCLE, LWPOLYLINE (with bulges), POLYLINE and SPLINE of an ASCII DXF file; the unit is $INSUNITS. A bulge is the tangent of
/// a quarter of the arc's angle, negative clockwise; R = c (1 + b²)/(4 |b|) over a chord c. A spline is evaluated by de Boor's recursion with its weights.
/// Fails with "dxf.not-dxf", "dxf.number", "dxf.missing", "dxf.truncated", "dxf.spline", "drawing.too-large", "drawing.no-unit" (the message has the size in millimetres and in inches),
/// "drawing.empty". `unit` overrides what the file says.
Result<Drawing> read_dxf(std::string_view text, const std::string& file, std::optional<LengthUnit> unit);

/// Reads path, line, polyline, polygon and rect of an SVG file, with the transforms around them. A unit is taken from width and viewBox where width has one
/// (mm, cm, in); pixels are no unit. y is turned up. Fails with "svg.not-svg", "svg.truncated", "svg.path", "svg.number", "svg.transform", "drawing.too-large", "drawing.no-unit", "drawing.empty".
Result<Drawing> read_svg(std::string_view text, const std::string& file, std::optional<LengthUnit> unit);

/// Joins the paths of a drawing into as few as possible, ends within `gap` mm. Fails with "drawing.branch" (three ends or more meet) and
/// "drawing.doubled" (the same line twice), each with its place, and with "drawing.too-large" (over kMostPaths).
Result<std::vector<Path>> joined_paths(const std::vector<Path>& paths, double gap);

/// Dots along the arc about (cx, cy) from angle a0 over `sweep` radians, the first left out.
void add_arc(std::vector<Dot>& dots, double cx, double cy, double radius, double a0, double sweep, double sag);

/// "drawing.too-large": over kMostDots.
Failure too_many_dots(const Place& place);

/// Scales a drawing into mm, or refuses it for want of a unit.
Result<Drawing> in_millimetres(Drawing drawing, std::optional<LengthUnit> asked, const std::string& file);

}  // namespace pommel::exchange
