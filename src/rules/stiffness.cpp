#include "rules/stiffness.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.h"
#include "shape/ring.h"

namespace pommel::rules {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kRays = 720;          // a multiple of 16: arrises of squares and octagons stand on even rays
constexpr double kMuch = 0.1;       // mm that a piece may give before it is said
constexpr double kNearTone = 0.25;  // share by which the teeth may be off the first tone and still ring it
constexpr double kShearShare = 1.0 / 8, kShearModulus = 1.0 / 16;

Slice round_slice(double r) {
  const double r2 = r * r;
  return {0, 0, kPi * r2, kPi * r2 * r2 / 4, kPi * r2 * r2 / 2, r};
}

// Integrals over the section in polar form by Simpson's rule: A = R²/2, I = R⁴/4 sin², with the least principal one.
Slice section_at(const shape::Part& part, double x) {
  Slice s;
  double yy = 0, zz = 0, yz = 0, least = std::numeric_limits<double>::infinity();
  const double step = 2 * kPi / kRays;
  const shape::Ring ring = shape::ring_at(part, x, shape::Side::before);
  for (int i = 0; i < kRays; ++i) {
    const double t = step * i, r = ring.radius(t), weight = step / 3 * (i % 2 ? 4 : 2);
    const double r4 = weight * r * r * r * r / 4;
    s.area += weight * r * r / 2;
    yy += r4 * std::cos(t) * std::cos(t), zz += r4 * std::sin(t) * std::sin(t), yz += r4 * std::sin(t) * std::cos(t);
    s.radius = std::max(s.radius, r), least = std::min(least, r);
  }
  s.inertia = (yy + zz) / 2 - std::hypot((yy - zz) / 2, yz);
  s.torsion = round_slice(least).torsion;
  return s;
}

/// f(x, slice) over the bar, exact for cubics on each slice; `split`: a place where f has a kink.
template <class F>
double over(const Bar& bar, double split, const F& f) {
  double sum = 0;
  auto piece = [&](const Slice& s, double a, double b) {
    const double middle = (a + b) / 2, off = (b - a) / 2 / std::sqrt(3.0);
    sum += (b - a) / 2 * (f(middle - off, s) + f(middle + off, s));
  };
  for (const Slice& s : bar.slices) {
    if (split > s.x0 && split < s.x1) {
      piece(s, s.x0, split);
      piece(s, split, s.x1);
    } else {
      piece(s, s.x0, s.x1);
    }
  }
  return sum;
}

// What the centre holds against a force at `at`.
double reaction(const Bar& bar, double at, double force) {
  const double length = bar.length();
  auto arm = [&](double x) { return length - x; };
  const double pushed = over(bar, at, [&](double x, const Slice& s) { return force * std::max(0.0, at - x) * arm(x) / s.inertia; });
  const double held = over(bar, at, [&](double x, const Slice& s) { return arm(x) * arm(x) / s.inertia; });
  return pushed / held;
}

std::string mm(double value) {
  return format_number(value, 3) + " mm";
}

}  // namespace

Bar bar_of(const shape::Part& turned, const Holding& held, double step) {
  Bar bar;
  auto from_chuck = [&](double x) { return held.chuck_at_head ? x - held.head_face : held.foot_face - x; };
  auto add = [&](Slice s, double a, double b) {
    if (b - a < 1e-9) return;
    s.x0 = std::min(from_chuck(a), from_chuck(b)), s.x1 = std::max(from_chuck(a), from_chuck(b));
    bar.slices.push_back(s);
  };
  auto end = [&](double stub, double x) { return stub > 0 ? round_slice(stub / 2) : section_at(turned, x); };
  add(end(held.head_stub, std::min(1e-6, turned.length)), held.head_face, 0);
  const double pieces = std::max(1.0, std::ceil(turned.length / step));
  for (double k = 0; k < pieces; ++k) {
    const double a = turned.length * k / pieces, b = turned.length * (k + 1) / pieces;
    add(section_at(turned, (a + b) / 2), a, b);
  }
  add(end(held.foot_stub, turned.length), turned.length, held.foot_face);
  if (!held.chuck_at_head) std::reverse(bar.slices.begin(), bar.slices.end());
  return bar;
}

double deflection(const Bar& bar, double at, double force, double moe) {
  const double hold = reaction(bar, at, force), length = bar.length();
  return over(bar, at, [&](double x, const Slice& s) {
           const double arm = std::max(0.0, at - x);
           return (force * arm - hold * (length - x)) * arm / s.inertia;
         }) /
         moe;
}

double moment_at_chuck(const Bar& bar, double at, double force) {
  return std::fabs(force * at - reaction(bar, at, force) * bar.length());
}

double wind_up(const Bar& bar, double to, double torque, double shear_modulus) {
  double sum = 0;
  for (const Slice& s : bar.slices) sum += std::max(0.0, std::min(to, s.x1) - s.x0) / s.torsion;
  return torque * sum / shear_modulus;
}

// Stodola: load the bar with its own inertia in the last shape, take the deflection as the next shape. On a fine even grid,
// by summing from the centre (moments) and from the chuck (slopes, deflections).
double first_tone(const Bar& bar, double moe, double density) {
  constexpr std::size_t kCells = 1000;
  const double h = bar.length() / kCells, mass_scale = density * 1e-12;  // t/mm³
  std::vector<double> inertia(kCells), mass(kCells), shape(kCells);
  std::size_t slice = 0;
  for (std::size_t i = 0; i < kCells; ++i) {
    const double x = h * (static_cast<double>(i) + 0.5);
    while (slice + 1 < bar.slices.size() && x > bar.slices[slice].x1) ++slice;
    inertia[i] = bar.slices[slice].inertia, mass[i] = mass_scale * bar.slices[slice].area;
    shape[i] = std::sin(kPi * x / bar.length()) * x;
  }
  // deflections at the cells' middles of a moment given there, with slope and deflection 0 at the chuck
  auto bent = [&](const std::vector<double>& moment) {
    std::vector<double> y(kCells);
    double slope = 0, here = 0;
    for (std::size_t i = 0; i < kCells; ++i) {
      const double curve = moment[i] / (moe * inertia[i]);
      y[i] = here + slope * h / 2 + curve * h * h / 8;
      here += slope * h + curve * h * h / 2;
      slope += curve * h;
    }
    y.push_back(here);  // at the centre
    return y;
  };
  std::vector<double> arm(kCells), moment(kCells);
  for (std::size_t i = 0; i < kCells; ++i) arm[i] = bar.length() - h * (static_cast<double>(i) + 0.5);
  const std::vector<double> by_centre = bent(arm);
  double tone = 0;
  for (int round = 0; round < 40; ++round) {
    double force = 0, turning = 0;  // of the load beyond the cell, and its moment about the cell's middle
    for (std::size_t i = kCells; i-- > 0;) {
      moment[i] = turning + force * h / 2;
      const double load = mass[i] * shape[i] * h;
      turning += force * h + load * h / 2;
      force += load;
    }
    std::vector<double> next = bent(moment);
    const double hold = next.back() / by_centre.back();
    double work = 0, energy = 0, most = 0;
    for (std::size_t i = 0; i < kCells; ++i) {
      next[i] -= hold * by_centre[i];
      work += mass[i] * shape[i] * next[i], energy += mass[i] * next[i] * next[i];
      most = std::max(most, std::fabs(next[i]));
    }
    const double last = tone;
    tone = std::sqrt(work / energy) / (2 * kPi);
    for (std::size_t i = 0; i < kCells; ++i) shape[i] = next[i] / most;
    if (std::fabs(tone - last) < 1e-9 * tone) break;
  }
  return tone;
}

double least_stub(double torque, double moment, const shop::Wood& wood) {
  const double twisted = std::cbrt(16 * kStubFactor * torque / (kPi * wood.mor_mpa * kShearShare));
  const double bent = std::cbrt(32 * kStubFactor * moment / (kPi * wood.mor_mpa));
  return std::max({kLeastStub, twisted, bent});
}

namespace {

void warn(Stiffness& out, const std::string& id, const std::string& message, const std::string& remedy) {
  Diagnostic d = fail(id, message, remedy).reasons.front();
  d.severity = Severity::warning;
  out.warnings.push_back(std::move(d));
}

void judge(Stiffness& out, const Load& load) {
  if (out.bend > kMuch) {
    warn(out, "rules.bends",
         "at " + format_number(out.bend_at, 0) + " mm from the head the piece gives " + mm(out.bend) + " under " +
             format_number(load.force, 0) + " N",
         "set a steady rest there, take lighter passes, or make it thicker");
  }
  if (out.twist > kMuch) {
    warn(out, "rules.winds-up",
         "at " + format_number(out.twist_at, 0) + " mm from the head the piece winds up by " + mm(out.twist) +
             " at its skin",
         "take lighter passes there, or leave thicker stubs");
  }
  if (load.teeth_per_second > 0 && std::fabs(load.teeth_per_second / out.tone - 1) < kNearTone) {
    warn(out, "rules.rings",
         "the teeth pass " + format_number(load.teeth_per_second, 0) + " times a second, and the piece's first tone is " +
             format_number(out.tone, 0) + " Hz",
         "change the spindle's speed by a third, or set a steady rest");
  }
  if (load.turns_per_second > out.tone / 10) {
    warn(out, "rules.whirls",
         "the rotary may turn " + format_number(60 * load.turns_per_second, 0) +
             " times a minute, over a tenth of the " + format_number(60 * out.tone, 0) + " at which the piece whirls",
         "slow the rotary, or set a steady rest");
  }
}

}  // namespace

Stiffness stiffness(const shape::Part& turned, const Holding& held, const shop::Wood& wood, const Load& load) {
  const Bar bar = bar_of(turned, held, 4);
  Stiffness out;
  const double shear = wood.moe_mpa * kShearModulus;
  auto from_head = [&](double x) { return held.chuck_at_head ? x + held.head_face : held.foot_face - x; };
  double moment = 0, torque = 0;
  for (const Slice& s : bar.slices) {
    const double x = (s.x0 + s.x1) / 2, twisting = load.force * s.radius;
    const double bend = deflection(bar, x, load.force, wood.moe_mpa), twist = wind_up(bar, x, twisting, shear) * s.radius;
    if (bend > out.bend) out.bend = bend, out.bend_at = from_head(x);
    if (twist > out.twist) out.twist = twist, out.twist_at = from_head(x);
    moment = std::max(moment, moment_at_chuck(bar, x, load.force));
    torque = std::max(torque, twisting);
  }
  out.tone = first_tone(bar, wood.moe_mpa, 1120 * wood.specific_gravity);  // G is oven-dry weight on volume at 12 %
  out.stub = least_stub(torque, moment, wood);
  const std::string by = " (" + format_number(load.force, 0) + " N at the cutter: assumed, no source; " + wood.source + ")";
  out.lines = {
      "gives " + mm(out.bend) + " at most, " + format_number(out.bend_at, 0) + " mm from the head" + by,
      "winds up " + mm(out.twist) + " at the skin at most, " + format_number(out.twist_at, 0) +
          " mm from the head (G = E/16, from memory)",
      "first tone " + format_number(out.tone, 0) + " Hz; the teeth pass " + format_number(load.teeth_per_second, 0) +
          " times a second",
      "stubs to the waste at least " + format_number(out.stub, 1) +
          " mm thick: torsion and bending with a factor of 3, never below 20 mm (shear strength MOR/8, from memory)"};
  judge(out, load);
  return out;
}

}  // namespace pommel::rules
