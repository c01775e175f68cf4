// Parts for the tests: one leg by hand, and random ones with fixed seeds.
#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "shape/angle.h"
#include "shape/faces.h"
#include "shape/outline.h"
#include "shape/part.h"

namespace pommel::shape {

inline ElementSpec element(ElementKind kind, double length, std::string label = {}) {
  ElementSpec spec;
  spec.kind = kind;
  spec.length = length;
  spec.label = std::move(label);
  return spec;
}

inline ElementSpec shared(ElementKind kind, double share, std::string label = {}) {
  ElementSpec spec;
  spec.kind = kind;
  spec.share = share;
  spec.label = std::move(label);
  return spec;
}

/// All text of a failure, for messages of tests.
inline std::string reasons_text(const std::vector<Diagnostic>& reasons) {
  return render(reasons);
}

/// A table leg with most kinds of elements in it, in a 60 mm square.
inline std::vector<ElementSpec> leg_specs() {
  std::vector<ElementSpec> specs;
  specs.push_back(element(ElementKind::square, 130.1, "head"));
  ElementSpec pommel = element(ElementKind::pommel, 14.3, "shoulder");
  pommel.cut = PommelCut::ogee;
  pommel.end = 44;
  specs.push_back(pommel);
  specs.push_back(element(ElementKind::fillet, 3.7));
  ElementSpec bead = element(ElementKind::bead, 9.1, "ring");
  bead.greatest = 52;
  specs.push_back(bead);
  ElementSpec cove = element(ElementKind::cove, 11.9);
  cove.end = 38;
  specs.push_back(cove);
  ElementSpec vase = shared(ElementKind::vase, 3, "vase");
  vase.stations = {{0, 38}, {0.35, 56}, {0.8, 31}, {1, 33}};
  specs.push_back(vase);
  specs.push_back(element(ElementKind::vee, 4.4));
  ElementSpec ovolo = element(ElementKind::ovolo, 6.3);
  ovolo.end = 44;
  specs.push_back(ovolo);
  ElementSpec reversa = element(ElementKind::cyma_reversa, 12.7);
  reversa.end = 36;
  specs.push_back(reversa);
  ElementSpec taper = shared(ElementKind::taper, 2, "long taper");
  taper.end = 24;
  specs.push_back(taper);
  ElementSpec scotia = element(ElementKind::scotia, 10.3);
  scotia.end = 27;
  scotia.least = 19;
  specs.push_back(scotia);
  ElementSpec torus = element(ElementKind::torus, 8.2, "foot ring");
  torus.greatest = 40;
  torus.step = true;
  specs.push_back(torus);
  ElementSpec foot = element(ElementKind::taper, 21.6, "foot");
  foot.start = 30;
  foot.end = 22;
  foot.step = true;
  specs.push_back(foot);
  return specs;
}

inline Part leg(double length = 717.9) {
  Result<BuiltOutline> built = build_outline(leg_specs(), length, StockSection::square(60));
  Part part;
  if (!built.ok()) return part;
  part.name = "leg";
  part.length = length;
  part.outline = built->outline;
  part.elements = built->elements;
  part.faces = square_faces(60, length);
  part.mortises.push_back({"long-rail", "long rail", 0, 12, 112, -20, -12, 38, 4, 0, 0});
  part.mortises.push_back({"short-rail", "short rail", kQuarterTurn, 14, 104, 11, 19.5, 30, 0, 8, 9});
  return part;
}

/// Portable random numbers: the standard's engine, our own scaling (its distributions differ between libraries).
class Random {
 public:
  explicit Random(std::uint64_t start) : engine_(start) {}
  double between(double a, double b) { return a + (b - a) * static_cast<double>(engine_() >> 11) * 0x1p-53; }
  int below(int n) { return static_cast<int>(between(0, n)); }

 private:
  std::mt19937_64 engine_;
};

/// One random element that leads from diameter `from` to the returned spec's end (its start where it returns there).
ElementSpec random_element(Random& random, double from, double stock, double& to);
/// A random part that is sound: square, octagon or two-sided taper with turned stretches of all kinds; lengths in mm.
Part random_part(std::uint64_t start, double shortest = 500, double longest = 1100);
/// The turned part drawn `by` times as large, treatments too, without joints.
Part scaled(const Part& part, double by);

}  // namespace pommel::shape
