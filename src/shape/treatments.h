// Treatments as a maker asks for them, cut into a turned part: flutes, reeds, an octagon or another polygon with stops, a twist.
//
// Each takes a sound part and returns it with the treatment, or says in plain words why it cannot be. What comes back has no
// problems(). Sizes are mm and radians; x runs from the head. A stretch x0..x1 holds the run-outs, stops and fades: outside it nothing
// is cut.
#pragma once

#include "base/result.h"
#include "shape/part.h"

namespace pommel::shape {

/// How a flute or a reed leaves the wood where it ends: along an arc that is level where it begins to rise (as a round cutter is lifted
/// in an arc), or straight up a slope.
enum class RunOut { round, straight };

/// Grooves alike all round. Their bottom runs parallel to the outline: `depth` below it, measured square to the axis.
struct FluteWish {
  double x0 = 0, x1 = 0;
  int count = 0;           ///< at least 1; or 0, and then as many as come nearest to `spacing` round the skin
  double spacing = 0;      ///< mm from groove to groove along the arc of the skin in the middle of the stretch
  double width = 0;        ///< mm, straight across the groove from edge to edge, in the middle of the stretch
  double depth = 0;        ///< mm below the skin
  double phase = 0;        ///< radians: direction of the first, counted from face A
  double run_out0 = 0, run_out1 = 0;  ///< mm of length over which the ends rise; at least the depth where round
  RunOut ends = RunOut::round;

  bool operator==(const FluteWish&) const = default;
};

/// Where nothing is turned the grooves must look along faces (an octagon's flats). Fails with "treatment.stretch" (ends out of order or
/// out of the piece, run-outs longer than the stretch), "treatment.size" (count, width, depth), "treatment.step" (the outline jumps in
/// the stretch, or is turned on a part of it only), "treatment.deep" (deeper than half round), "treatment.pitch" (wider than their
/// share of the round at the thinnest place), "treatment.face", "treatment.run-out" (too short for an arc), or with a problem of the
/// part ("shape.flute-...").
Result<Part> fluted(Part part, const FluteWish& wish);

/// Ribs alike all round, whose crowns stand at the outline.
struct ReedWish {
  double x0 = 0, x1 = 0;
  int count = 0;      ///< at least 3
  double depth = 0;   ///< mm from crown to valley, where the outline is thinnest on the stretch
  double phase = 0;   ///< radians: direction of the first crown, counted from face A
  double run_out0 = 0, run_out1 = 0;  ///< mm
  RunOut ends = RunOut::round;

  bool operator==(const ReedWish&) const = default;
};

/// Reeds of one radius rise out of the round at their ends only while the radius is at least r sin(pi / count), so this is as deep as
/// they can be: deepest_reeds(). Fails with the ids of fluted(); deeper ones with "treatment.deep", which names that depth.
Result<Part> reeded(Part part, const ReedWish& wish);
/// mm, on a round of radius r: r - v with v the valley of reeds of radius r sin(pi / count) whose crowns stand at r.
double deepest_reeds(double r, int count);

/// What ends a face that is cut on a stretch only.
enum class Stop {
  none,     ///< square: a wall where the stretch ends
  chamfer,  ///< straight
  cove,     ///< a hollow arc, level at the face
  ogee      ///< lamb's tongue: hollow at the face, bulging where it leaves
};

struct PolygonWish {
  double x0 = 0, x1 = 0;
  int sides = 8;          ///< 4 to 24
  double across0 = 0, across1 = 0;  ///< mm across the flats where the first stop ends and where the last begins: straight between
  Stop stop0 = Stop::ogee, stop1 = Stop::ogee;
  double length0 = 0, length1 = 0;  ///< mm of each stop; none has no length

  bool operator==(const PolygonWish&) const = default;
};

/// The first flat looks along face A. Faces that are there already and look along a flat go down to it and come back; the others stay and
/// must clear the polygon. Fails with "treatment.stretch", "treatment.size", "treatment.stop" (a round stop shorter than it is deep),
/// "treatment.fit" (the section is too small for the polygon, or a face that stays cuts its corners), or with a problem of the part.
Result<Part> polygoned(Part part, const PolygonWish& wish);

struct TwistWish {
  double x0 = 0, x1 = 0;
  int starts = 2;
  double pitch = 0;   ///< mm for one turn; or 0, and then `turns`
  double turns = 0;   ///< from x0 to x1
  bool right_hand = true;  ///< theta grows with x
  double depth = 0;   ///< mm, crest to hollow
  double fade0 = 0, fade1 = 0;  ///< mm
  double phase = 0;   ///< radians: direction of a crest at x0, counted from face A

  bool operator==(const TwistWish&) const = default;
};

/// Fails with "treatment.size" (neither or both of pitch and turns ...), "treatment.step" (the outline jumps in the stretch), or with a
/// problem of the part ("shape.twist-...").
Result<Part> twisted(Part part, const TwistWish& wish);

/// The words of the family file.
std::vector<std::string> run_out_words();
std::vector<std::string> stop_words();

}  // namespace pommel::shape
