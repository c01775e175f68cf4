#include "proof/tool.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.h"
#include "proof/length.h"

namespace pommel::proof {
namespace {

constexpr double kLargest = 1000;  // mm

bool within(double v, double least) { return std::isfinite(v) && v >= least && v < kLargest; }

// Distance of (s, h) from the meridian below the radius and from the upright side above its end.
double to_surface(const Tool& tool, double s, double h) {
  double least = std::numeric_limits<double>::infinity();
  auto segment = [&](double s0, double h0, double s1, double h1) {
    double ds = s1 - s0, dh = h1 - h0, m = ds * ds + dh * dh;
    double u = m > 0 ? std::clamp(((s - s0) * ds + (h - h0) * dh) / m, 0.0, 1.0) : 0;
    least = std::min(least, length_of(s0 + u * ds - s, h0 + u * dh - h));
  };
  if (tool.disc > 0) segment(0, 0, tool.disc, 0);
  if (tool.corner > 0) {
    double u = s - tool.disc, v = h - tool.corner, from = length_of(u, v);
    // on the arc when it lies in the sector between straight down and the flank's normal
    bool in_sector = from > 0 && u >= 0 && v <= 0 && u <= from * (tool.corner_end - tool.disc) / tool.corner + 1e-12;
    if (in_sector) least = std::min(least, std::fabs(from - tool.corner));
    double end_u = tool.corner_end - tool.disc - u, end_v = tool.corner_height - h;
    least = std::min({least, length_of(u, h), length_of(end_u, end_v)});
  }
  double top = tool.height(tool.radius);
  if (tool.corner_end < tool.radius) segment(tool.corner_end, tool.corner_height, tool.radius, top);
  double over = std::max(0.0, top - h);
  return std::min(least, length_of(tool.radius - s, over));
}

Failure wrong(const shop::Cutter& cutter) {
  return fail("proof.cutter", "cutter '" + cutter.id + "' cannot be simulated: " + format_number(cutter.diameter, 3) + " mm across with flutes of " +
              format_number(cutter.flute_length, 3) + " mm", "give a diameter, its form's radius or angle, and flutes at least as long as the form is high");
}

}  // namespace

double Tool::height(double s) const {
  if (s <= disc) return 0;
  if (s <= corner_end) {
    double u = s - disc;
    return corner - std::sqrt(std::max(0.0, corner * corner - u * u));
  }
  return corner_height + (s - corner_end) * rise;
}

double Tool::slope(double s) const {
  if (s < disc) return 0;
  if (s < corner_end) {
    double u = s - disc;
    return u / std::sqrt(std::max(1e-18, corner * corner - u * u));
  }
  return corner_end < radius ? rise : std::numeric_limits<double>::infinity();
}

double Tool::depth_inside(double s, double h) const {
  if (s >= radius || h <= height(s)) return 0;
  return to_surface(*this, s, h);
}

double Tool::distance_outside(double s, double h) const {
  if (s < radius && h >= height(s)) return 0;
  return to_surface(*this, s, h);
}

Result<Tool> tool_of(const shop::Cutter& cutter) {
  using Form = shop::Cutter::Form;
  bool sound = within(cutter.diameter, 1e-3) && within(cutter.flute_length, 1e-3);
  for (double v : {cutter.tip_radius, cutter.tip_flat, cutter.shank_diameter, cutter.shank_length, cutter.collet_diameter, cutter.collet_length,
                   cutter.holder_diameter, cutter.holder_length, cutter.max_depth_of_cut, cutter.ramp}) {
    sound = sound && within(v, 0);
  }
  bool leans = cutter.form == Form::tapered_ball || cutter.form == Form::vee;
  sound = sound && (!leans || (std::isfinite(cutter.half_angle) && cutter.half_angle > 1e-4 && cutter.half_angle < std::numbers::pi / 2 - 1e-4));
  sound = sound && cutter.ramp < std::numbers::pi / 2;
  if (!sound) return wrong(cutter);
  Tool tool;
  tool.id = cutter.id;
  tool.radius = cutter.diameter / 2;
  tool.flute = cutter.flute_length;
  tool.max_depth = cutter.max_depth_of_cut;
  tool.fall = std::tan(cutter.ramp);
  double angle = leans ? cutter.half_angle : 0;
  switch (cutter.form) {
    case Form::ball: tool.corner = tool.radius; break;
    case Form::flat: tool.disc = tool.radius; break;
    case Form::bull_nose:
      tool.corner = cutter.tip_radius;
      tool.disc = tool.radius - tool.corner;
      break;
    case Form::tapered_ball: tool.corner = cutter.tip_radius; break;
    case Form::vee:
      tool.disc = cutter.tip_flat / 2;
      tool.corner = cutter.tip_radius;
      break;
  }
  tool.corner_end = leans ? tool.disc + tool.corner * std::cos(angle) : tool.radius;
  tool.corner_height = leans ? tool.corner * (1 - std::sin(angle)) : tool.corner;
  if (leans) tool.rise = 1 / std::tan(angle);
  if (cutter.form == Form::flat) tool.corner_end = tool.radius, tool.corner_height = 0;
  bool has_corner = cutter.form == Form::bull_nose || cutter.form == Form::tapered_ball;
  if (tool.disc < 0 || tool.corner_end > tool.radius + 1e-12 || (has_corner && !(tool.corner > 0))) return wrong(cutter);
  if (tool.height(tool.radius) > tool.flute + 1e-9) return wrong(cutter);
  tool.widest = tool.radius;
  double bottom = tool.flute;
  auto add = [&](const char* name, double diameter, double from) {
    bottom = std::max(bottom, from);
    if (!(diameter > 0)) return;
    tool.shafts.push_back({diameter / 2, bottom, name});
    tool.widest = std::max(tool.widest, diameter / 2);
  };
  add("shank", cutter.shank_diameter, cutter.flute_length);
  if (cutter.shank_length > 0) {
    add("collet nut", cutter.collet_diameter, cutter.shank_length);
    add("holder", cutter.holder_diameter, cutter.shank_length + cutter.collet_length);
  }
  return tool;
}

}  // namespace pommel::proof
