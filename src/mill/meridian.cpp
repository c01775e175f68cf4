#include "mill/meridian.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pommel::mill {

double CutterBody::rise(double q) const {
  if (q > outer) return std::numeric_limits<double>::infinity();
  const double past = std::max(0.0, q - flat);
  if (kind == Kind::cone) return z + past * slope;
  return z + corner - std::sqrt(std::max(0.0, (corner - past) * (corner + past)));
}

CutterBody CutterBody::grown(double by) const {
  if (kind == Kind::cone) return mitred(by);
  CutterBody out = *this;
  out.z -= by, out.corner += by, out.outer += by;
  return out;
}

CutterBody CutterBody::mitred(double by) const {
  if (kind == Kind::rounded && corner > 0) return grown(by);
  CutterBody out = *this;
  out.z -= by, out.outer += by;
  // the flank moved square to itself meets the level moved down by the same
  const double turn = kind == Kind::cone ? std::atan(slope) : std::numbers::pi / 2;
  out.flat += by * std::tan(turn / 2);
  if (kind == Kind::rounded) out.flat = out.outer;
  return out;
}

CutterBody ball_body(double radius) {
  return {CutterBody::Kind::rounded, Holding::cutting, 0, 0, radius, radius, 0};
}

namespace {

using Form = shop::Cutter::Form;

bool makes_sense(const shop::Cutter& c) {
  for (double v : {c.diameter, c.tip_radius, c.half_angle, c.tip_flat, c.flute_length, c.shank_diameter, c.shank_length, c.collet_diameter,
                   c.collet_length, c.holder_diameter, c.holder_length}) {
    if (!(v >= 0 && v < 2000)) return false;
  }
  if (!(c.diameter > 0)) return false;
  const bool pointed = c.form == Form::tapered_ball || c.form == Form::vee;
  if (pointed && !(c.half_angle > 1e-3 && c.half_angle < std::numbers::pi / 2 - 1e-3)) return false;
  if (c.form == Form::tapered_ball && !(c.tip_radius > 0)) return false;
  if (c.form == Form::bull_nose && !(c.tip_radius > 0)) return false;
  const double flat = c.form == Form::vee ? c.tip_flat / 2 : 0;
  return flat + c.tip_radius <= c.diameter / 2;
}

// What is above the cutting length: cylinders, of which only the lower end can meet wood first.
void add_behind(std::vector<CutterBody>& bodies, Holding part, double diameter, double z) {
  const double r = diameter / 2;
  double widest = 0;
  for (const CutterBody& body : bodies) widest = std::max(widest, body.outer);
  if (r > widest + 1e-9) bodies.push_back({CutterBody::Kind::rounded, part, z, r, 0, r, 0});
}

// Disc, corner and flank as shop.h states them. The corner is a whole quarter turn: what of it a flank covers lies within the flank.
void add_cutting(const shop::Cutter& c, std::vector<CutterBody>& bodies) {
  const double r = c.diameter / 2;
  const double corner = c.form == Form::ball ? r : c.form == Form::flat ? 0 : c.tip_radius;
  const double flat = c.form == Form::flat        ? r
                      : c.form == Form::bull_nose ? r - corner
                      : c.form == Form::vee       ? c.tip_flat / 2
                                                  : 0;
  bodies.push_back({CutterBody::Kind::rounded, Holding::cutting, 0, flat, corner, flat + corner, 0});
  if (c.form != Form::tapered_ball && c.form != Form::vee) return;
  const double foot = flat + corner * std::cos(c.half_angle);
  if (foot < r)
    bodies.push_back({CutterBody::Kind::cone, Holding::cutting, corner * (1 - std::sin(c.half_angle)), foot, 0, r, 1 / std::tan(c.half_angle)});
}

}  // namespace

Result<std::vector<CutterBody>> bodies_of(const shop::Cutter& cutter, double allowance) {
  if (!makes_sense(cutter) || !(allowance >= 0 && allowance < 1000)) {
    return fail("mill.cutter-form", "the figures of the cutter '" + cutter.id + "' do not make a cutter of its form",
                "check its diameter, tip and angle");
  }
  std::vector<CutterBody> bodies;
  add_cutting(cutter, bodies);
  add_behind(bodies, Holding::shank, cutter.shank_diameter, cutter.flute_length);
  add_behind(bodies, Holding::collet, cutter.collet_diameter, cutter.shank_length);
  add_behind(bodies, Holding::holder, cutter.holder_diameter, cutter.shank_length + cutter.collet_length);
  for (CutterBody& body : bodies) body = body.grown(allowance);
  return bodies;
}

}  // namespace pommel::mill
