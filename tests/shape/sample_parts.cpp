#include "shape/sample_parts.h"

#include <algorithm>

namespace pommel::shape {
namespace {

// Kinds that may stand between two turned diameters.
constexpr ElementKind kTurned[] = {
    ElementKind::fillet,  ElementKind::bead,       ElementKind::cove,         ElementKind::ovolo, ElementKind::scotia,
    ElementKind::torus,   ElementKind::cyma_recta, ElementKind::cyma_reversa, ElementKind::taper, ElementKind::cylinder,
    ElementKind::entasis, ElementKind::vase,       ElementKind::ball,         ElementKind::vee};

double other_diameter(Random& random, double from, double stock) {
  double to = from;
  while (std::fabs(to - from) < 1) to = random.between(stock * 0.35, stock * 0.95);
  return to;
}

// A square of 40 to 90 mm, a pommel, turned elements, perhaps a second square at the foot.
std::vector<ElementSpec> random_specs(Random& random, double stock) {
  std::vector<ElementSpec> specs{element(ElementKind::square, random.between(40, 160))};
  double d = random.between(stock * 0.5, stock * 0.95);
  ElementSpec pommel = element(ElementKind::pommel, random.between(4, 40));
  pommel.cut = static_cast<PommelCut>(random.below(4));
  pommel.end = d;
  specs.push_back(pommel);
  int count = 2 + random.below(7);
  for (int i = 0; i < count; ++i) {
    double to = d;
    specs.push_back(random_element(random, d, stock, to));
    d = to;
  }
  ElementSpec last = shared(ElementKind::taper, 1);
  last.end = other_diameter(random, d, stock);
  specs.push_back(last);
  if (random.below(3) == 0) {
    ElementSpec up = element(ElementKind::pommel, random.between(4, 40));
    up.cut = static_cast<PommelCut>(random.below(4));
    specs.push_back(up);
    specs.push_back(element(ElementKind::square, random.between(20, 60)));
  }
  return specs;
}

Profile scaled(Profile profile, double by) {
  for (Piece& p : profile.pieces) {
    for (double* v : {&p.x0, &p.x1, &p.r0, &p.r1, &p.cx, &p.cr, &p.rho, &p.c[0]}) *v *= by;
    p.c[2] /= by, p.c[3] /= by * by;
  }
  return profile;
}

}  // namespace

ElementSpec random_element(Random& random, double from, double stock, double& to) {
  ElementKind kind = kTurned[random.below(static_cast<int>(std::size(kTurned)))];
  ElementSpec spec = element(kind, random.between(3, 12));
  to = from;
  switch (kind) {
    case ElementKind::torus:
      spec.greatest = random.between(stock * 0.7, stock * 0.98);
      spec.step = true;
      to = *spec.greatest - *spec.length;
      break;
    case ElementKind::bead:
      if (random.below(2) == 0) spec.greatest = from + *spec.length * random.between(0.2, 0.99);
      break;
    case ElementKind::cove:
    case ElementKind::vee:
      break;
    case ElementKind::fillet:
    case ElementKind::cylinder:
      to = other_diameter(random, from, stock);
      spec.start = to;
      spec.step = true;
      break;
    case ElementKind::ball:
      spec.length = random.between(10, 25);
      to = other_diameter(random, from, stock);
      spec.end = to;
      break;
    case ElementKind::scotia: {
      to = std::max(stock * 0.35, from - random.between(1, 5));
      spec.end = to;
      spec.length = (from - to) / 2 + random.between(4, 12);
      break;
    }
    case ElementKind::vase:
      to = other_diameter(random, from, stock);
      spec.length = random.between(60, 160);
      spec.end = to;
      spec.stations = {{random.between(0.2, 0.45), random.between(stock * 0.5, stock * 0.9)},
                       {random.between(0.55, 0.8), random.between(stock * 0.4, stock * 0.8)}};
      break;
    default:
      to = other_diameter(random, from, stock);
      spec.end = to;
      spec.length = random.between(3, 60);
      break;
  }
  return spec;
}

Part random_part(std::uint64_t start, double shortest, double longest) {
  Random random(start);
  for (;;) {
    double stock = random.between(40, 90);
    Part part;
    part.length = random.between(shortest, longest);
    int make = random.below(4);
    StockSection section = make == 0 ? StockSection::polygon(8, stock) : StockSection::square(stock);
    Result<BuiltOutline> built = build_outline(random_specs(random, stock), part.length, section);
    if (!built.ok()) continue;  // a vase that overshoots, a groove too deep: the builder's own tests look at those
    part.outline = built->outline;
    part.elements = built->elements;
    part.faces = polygon_faces(make == 0 ? 8 : 4, stock, part.length);
    if (make == 1) {
      Result<std::vector<Face>> two =
          tapered(part.faces, {{0, 1}, part.length * 0.3, part.length * 0.9, stock * random.between(0.3, 0.5)});
      if (two.ok()) part.faces = *two;
    }
    return part;
  }
}

Part scaled(const Part& part, double by) {
  Part out = part;
  out.length *= by;
  out.outline = scaled(part.outline, by);
  for (Face& face : out.faces) face.d = scaled(face.d, by);
  for (ElementMark& mark : out.elements)
    for (double* v : {&mark.x0, &mark.x1, &mark.d_start, &mark.d_end, &mark.d_least, &mark.d_greatest}) *v *= by;
  for (Flute& flute : out.flutes) flute.radius *= by, flute.centre = scaled(flute.centre, by);
  for (Reeding& reeding : out.reedings) reeding.radius *= by, reeding.centre = scaled(reeding.centre, by);
  for (Twist& twist : out.twists)
    for (double* v : {&twist.x0, &twist.x1, &twist.pitch, &twist.depth, &twist.fade0, &twist.fade1}) *v *= by;
  return out;
}

}  // namespace pommel::shape
