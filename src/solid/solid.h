// The part as an exact boundary: planes, cylinders, cones, spheres, tori and revolved cubics, trimmed where the turning
// meets the faces and where the mortises are let in. The only room that knows the modelling kernel; no header but
// occt_shape.h (for a viewer) shows it.
//
// The coordinates are the part's own (shape/part.h): X along the piece from the head, face A looks along +Y,
// millimetres.
//
// Every solid that turned() and jointed() hand out has passed the gates: the kernel reports no errors, its own check
// finds the boundary valid, there is exactly one solid, no edge gapes, and its volume agrees with the part's field
// within kVolumeGate. The last gate is not a formality: a boundary can be "valid" and wrong by percents where surfaces
// touch without crossing. A part that fails them is drawn again with its faces moved by 2e-5 to 1e-4 mm (solid.cpp says
// why).
//
// A Solid is a shared handle to something immutable: copying is cheap, and copies may be used from several threads. A
// Probe belongs to one thread at a time.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <stop_token>

#include "base/result.h"
#include "shape/part.h"

namespace pommel::solid {

/// Relative disagreement of volumes that is still let through.
inline constexpr double kVolumeGate = 1e-4;
/// mm that the skin of treated stretches may stand off the field, along a ray from the axis.
inline constexpr double kRadiusGate = 0.02;

struct Point {
  double x = 0, y = 0, z = 0;  ///< mm

  bool operator==(const Point&) const = default;
};

struct Box {
  Point low, high;
};

/// Where a solid stands: point p of the solid comes to origin + p.x * x + p.y * y + p.z * (x cross y).
/// REQUIRES: x and y are unit vectors at right angles.
struct Placement {
  Point origin{};
  Point x{1, 0, 0};
  Point y{0, 1, 0};
};

class Solid {
 public:
  struct Shape;  ///< the kernel's own; see occt_shape.h
  explicit Solid(std::shared_ptr<const Shape> shape) : shape_(std::move(shape)) {}

  const Shape& shape() const { return *shape_; }

 private:
  std::shared_ptr<const Shape> shape_;  // never null
};

// Making

/// The part as turned: outline and faces, no joints. Fails with all of shape::problems(part) when there are any;
/// "cancelled" when the token is stopped; "solid.kernel", "solid.invalid", "solid.pieces", "solid.loose" or
/// "solid.volume" when a gate holds it back.
Result<Solid> turned(const shape::Part& part, std::stop_token stop = {});

/// The part with its mortises, bores and sawn ends. Failures as for turned().
Result<Solid> jointed(const shape::Part& part, std::stop_token stop = {});
/// The same from the turned solid, at a quarter of the cost. REQUIRES: `turned` is of a part with equal turning (what the gate on
/// the volume would mostly find, but need not).
Result<Solid> jointed(const Solid& turned, const shape::Part& part, std::stop_token stop = {});

/// A copy at its place among others.
Result<Solid> placed(const Solid& solid, const Placement& where);

// Measuring

/// mm³ and mm², by adaptive integration over the boundary, relative error below 1e-6.
double volume(const Solid& solid);
double area(const Solid& solid);
/// The least box around the solid, within 1e-3 mm.
Box bounds(const Solid& solid);

/// mm³ of wood that is in both: 0 for pieces that touch only. Relative error below 1e-6; fails with "solid.kernel".
Result<double> shared_volume(const Solid& a, const Solid& b);

/// Counts for messages and tests.
struct Census {
  int solids = 0, shells = 0, faces = 0, edges = 0, vertices = 0;
};
Census census(const Solid& solid);

/// Answers many questions about one solid: built once (milliseconds), then tens of microseconds a question.
class Probe {
 public:
  explicit Probe(const Solid& solid);
  ~Probe();
  Probe(Probe&&) noexcept;
  Probe& operator=(Probe&&) noexcept;

  /// Distance from the axis to the outermost boundary point in direction theta at x, by a ray from the axis; at a wall
  /// the greater of both sides. Nothing when the ray meets no boundary (x outside the piece).
  std::optional<double> radius(double x, double theta);

  /// Distance from the point to the nearest boundary point, mm: positive outside the wood, negative inside. Within 1e-6
  /// mm of the exact boundary on its faces; where two surfaces meet, within the kernel's own tolerance of that edge
  /// (about 1e-5 mm). NaN for a point that is not finite.
  double distance(const Point& from);

  /// The nearest boundary point itself.
  Point nearest(const Point& from);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace pommel::solid
