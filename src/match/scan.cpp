#include "match/scan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"

namespace pommel::match {
namespace {

using exchange::Mesh;
using exchange::Vector;

constexpr int kSectors = 36;
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kWidest = 0.05;     // radians: wider pieces of a section are taken in parts
constexpr double kSquare = 0.03;     // fourth harmonic over mean radius: a square has 0.06 and more until its round reaches the flats
constexpr double kRough = 0.04;      // what is left of a section over its mean radius: more is no turning
constexpr double kRidge = 0.03;      // harmonic over mean radius: less is no ridge to be followed
constexpr double kOneWay = 0.8;      // of all that the crests turn, by one hand: less is a scan's roughness
constexpr std::size_t kCoarse = 200, kFine = 2000;

double dot(const Vector& a, const Vector& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
Vector minus(const Vector& a, const Vector& b) { return {a[0] - b[0], a[1] - b[1], a[2] - b[2]}; }
Vector cross(const Vector& a, const Vector& b) { return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]}; }
Vector unit(const Vector& a) {
  const double l = std::sqrt(dot(a, a));
  return {a[0] / l, a[1] / l, a[2] / l};
}

/// Right-handed, x along the piece.
struct Pose {
  Vector origin{}, x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};

  static Pose along(const Vector& origin, const Vector& direction) {
    Pose p;
    p.origin = origin;
    p.x = unit(direction);
    const std::size_t thin = std::fabs(p.x[0]) < 0.6 ? 0 : 1;
    Vector other{};
    other[thin] = 1;
    p.y = unit(cross(p.x, other));
    p.z = cross(p.x, p.y);
    return p;
  }
  Vector at(const Vector& v) const {
    const Vector d = minus(v, origin);
    return {dot(d, x), dot(d, y), dot(d, z)};
  }
};

/// The greatest spread of the skin, by powers of its covariance.
Pose principal(const Mesh& mesh) {
  double m = 0;
  Vector s{};
  std::array<Vector, 3> c{};
  for (int pass = 0; pass < 2; ++pass) {
    for (const auto& t : mesh.triangles) {
      const Vector &a = mesh.points[t[0]], &b = mesh.points[t[1]], &d = mesh.points[t[2]];
      const Vector n = cross(minus(b, a), minus(d, a));
      const double area = std::sqrt(dot(n, n));
      const Vector mid{(a[0] + b[0] + d[0]) / 3, (a[1] + b[1] + d[1]) / 3, (a[2] + b[2] + d[2]) / 3};
      for (std::size_t i = 0; i < 3; ++i) {
        if (pass == 0) s[i] += area * mid[i];
        else for (std::size_t j = 0; j < 3; ++j) c[i][j] += area * (mid[i] - s[i]) * (mid[j] - s[j]);
      }
      if (pass == 0) m += area;
    }
    if (pass == 0) for (double& v : s) v /= m;
  }
  Vector v = unit({1, 0.7, 0.4});
  for (int i = 0; i < 200; ++i) v = unit({dot(c[0], v), dot(c[1], v), dot(c[2], v)});
  return Pose::along(s, v);
}

struct Sums {
  double turn = 0, r = 0, rr = 0, c1 = 0, s1 = 0, c2 = 0, s2 = 0, c3 = 0, s3 = 0, c4 = 0, s4 = 0, most = 0;
  std::array<float, kSectors> in{}, over{};
};

class Slicer {
 public:
  Slicer(const Mesh& mesh, const Pose& pose, std::size_t count) : mesh_(mesh), sums_(count) {
    laid_.reserve(mesh.points.size());
    for (const Vector& p : mesh.points) {
      laid_.push_back(pose.at(p));
      low_ = std::min(low_, laid_.back()[0]), high_ = std::max(high_, laid_.back()[0]);
    }
    step_ = (high_ - low_) / static_cast<double>(count);
  }

  std::vector<Section> run() {
    for (const auto& t : mesh_.triangles) cut(laid_[t[0]], laid_[t[1]], laid_[t[2]]);
    std::vector<Section> out;
    for (std::size_t k = 0; k < sums_.size(); ++k) out.push_back(section(k));
    return out;
  }
  double low() const { return low_; }
  double high() const { return high_; }

 private:
  double place(std::size_t k) const { return low_ + (static_cast<double>(k) + 0.5) * step_; }

  void cut(const Vector& a, const Vector& b, const Vector& c) {
    const double least = std::min({a[0], b[0], c[0]}), most = std::max({a[0], b[0], c[0]});
    const double first = std::ceil((least - low_) / step_ - 0.5), end = std::floor((most - low_) / step_ - 0.5);
    for (double k = std::max(0.0, first); k <= end && k < static_cast<double>(sums_.size()); ++k) {
      const double x = place(static_cast<std::size_t>(k));
      std::array<std::array<double, 2>, 3> met{};
      std::size_t n = 0;
      const Vector* corners[3] = {&a, &b, &c};
      for (std::size_t i = 0; i < 3 && n < 2; ++i) {
        const Vector &p = *corners[i], &q = *corners[(i + 1) % 3];
        if ((p[0] < x) == (q[0] < x)) continue;
        const double t = (x - p[0]) / (q[0] - p[0]);
        met[n++] = {p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])};
      }
      if (n == 2) add(sums_[static_cast<std::size_t>(k)], met[0], met[1]);
    }
  }

  static void add(Sums& s, const std::array<double, 2>& p, const std::array<double, 2>& q) {
    const double turned = std::fabs(std::atan2(p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]));
    const int parts = 1 + static_cast<int>(turned / kWidest);
    s.most = std::max({s.most, std::hypot(p[0], p[1]), std::hypot(q[0], q[1])});
    std::array<double, 2> from = p;
    for (int i = 1; i <= parts; ++i) {
      const double t = static_cast<double>(i) / parts;
      const std::array<double, 2> to{p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])};
      const double y = (from[0] + to[0]) / 2, z = (from[1] + to[1]) / 2, r = std::sqrt(y * y + z * z);
      const double w = parts == 1 ? turned : std::fabs(std::atan2(from[0] * to[1] - from[1] * to[0], from[0] * to[0] + from[1] * to[1]));
      from = to;
      if (!(r > 0)) continue;
      const double c = y / r, sn = z / r, c2 = c * c - sn * sn, s2 = 2 * c * sn;
      s.turn += w, s.r += w * r, s.rr += w * r * r;
      s.c1 += w * r * c, s.s1 += w * r * sn, s.c2 += w * r * c2, s.s2 += w * r * s2, s.c3 += w * r * (c2 * c - s2 * sn), s.s3 += w * r * (s2 * c + c2 * sn), s.c4 += w * r * (c2 * c2 - s2 * s2), s.s4 += w * r * 2 * c2 * s2;
      double a = std::atan2(z, y);
      if (a < 0) a += kTurn;
      const auto sector = std::min<std::size_t>(kSectors - 1, static_cast<std::size_t>(a / kTurn * kSectors));
      s.in[sector] += static_cast<float>(w), s.over[sector] += static_cast<float>(w * r);
    }
  }

  Section section(std::size_t k) const {
    const Sums& s = sums_[k];
    Section out;
    out.x = place(k);
    if (!(s.turn > 0)) return out;
    const double w = s.turn;
    out.mean = s.r / w;
    out.off_y = 2 * s.c1 / w, out.off_z = 2 * s.s1 / w;
    const double cosines[4] = {s.c1, s.c2, s.c3, s.c4}, sines[4] = {s.s1, s.s2, s.s3, s.s4};
    for (std::size_t m = 0; m < 4; ++m) {
      out.wave[m] = 2 * std::hypot(cosines[m], sines[m]) / w;
      out.at[m] = std::atan2(sines[m], cosines[m]) / static_cast<double>(m + 1);
    }
    out.oval = 4 * out.wave[1];
    const auto square = [&](std::size_t m) { return out.wave[m] * out.wave[m]; };
    out.rest = std::sqrt(std::max(0.0, s.rr / w - out.mean * out.mean - (square(0) + square(1) + square(3)) / 2));
    out.most = s.most;
    int met = 0;
    for (std::size_t i = 0; i < kSectors; ++i) met += s.in[i] > 0;
    out.covered = met >= kSectors - 2 && std::fabs(w - kTurn) < 0.1 * kTurn;
    out.across = across_flats(s);
    return out;
  }

  // A flat at the distance h that looks towards f has r = h / cos(theta - f), whose mean over a sector from a to b is h (G(b - f) - G(a - f)) / (b - a)
  // with G(u) = ln(sec u + tan u). The fourth harmonic is least where flats look; an eased arris is far from the sectors that are taken.
  static double across_flats(const Sums& s) {
    const auto g = [](double u) { return std::log(1 / std::cos(u) + std::tan(u)); };
    constexpr double kSector = kTurn / kSectors;
    const double flat = (std::atan2(s.s4, s.c4) + std::numbers::pi) / 4;
    std::array<double, 4> distance{};
    for (std::size_t face = 0; face < 4; ++face) {
      double sum = 0, weight = 0;
      for (std::size_t i = 0; i < kSectors; ++i) {
        const double b = std::remainder((static_cast<double>(i) + 0.5) * kSector - flat - static_cast<double>(face) * kTurn / 4, kTurn);
        if (!(s.in[i] > 0) || std::fabs(b) > kSector) continue;
        sum += s.over[i] * kSector / (g(b + kSector / 2) - g(b - kSector / 2)), weight += s.in[i];
      }
      distance[face] = weight > 0 ? sum / weight : 0;
    }
    return std::min(distance[0] + distance[2], distance[1] + distance[3]);
  }

  const Mesh& mesh_;
  std::vector<Vector> laid_;
  std::vector<Sums> sums_;
  double low_ = 1e30, high_ = -1e30, step_ = 1;
};

/// A straight line through what the sections say of y or z: value at x = a + b x.
struct Straight {
  double a = 0, b = 0;
};
Straight through(const std::vector<Section>& sections, double Section::* value) {
  double n = 0, x = 0, v = 0, xx = 0, xv = 0;
  for (const Section& s : sections) {
    if (s.covered) n += 1, x += s.x, v += s.*value, xx += s.x * s.x, xv += s.x * s.*value;
  }
  const double det = n * xx - x * x;
  if (!(det > 0)) return {};
  const double b = (n * xv - x * v) / det;
  return {(v - b * x) / n, b};
}

Pose straightened(const Mesh& mesh, Pose pose) {
  for (int pass = 0; pass < 3; ++pass) {
    const auto sections = Slicer(mesh, pose, kCoarse).run();
    const Straight y = through(sections, &Section::off_y), z = through(sections, &Section::off_z);
    Vector origin = pose.origin, direction = pose.x;
    for (std::size_t i = 0; i < 3; ++i) origin[i] += y.a * pose.y[i] + z.a * pose.z[i], direction[i] += y.b * pose.y[i] + z.b * pose.z[i];
    pose = Pose::along(origin, direction);
  }
  return pose;
}

/// The value that this share of them does not exceed. REQUIRES: some.
double at_share(std::vector<double>& values, double share) {
  const auto place = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), place, values.end());
  return *place;
}

bool squarish(const Section& s) { return s.covered && s.wave[3] > kSquare * s.mean; }

void bow_and_oval(Scan& scan) {
  const Section *first = nullptr, *last = nullptr;
  for (const Section& s : scan.sections) {
    if (!s.covered) continue;
    if (!first) first = &s;
    last = &s;
  }
  for (const Section& s : scan.sections) {
    if (!s.covered || last->x <= first->x) continue;
    const double t = (s.x - first->x) / (last->x - first->x);
    const double off = std::hypot(s.off_y - first->off_y - t * (last->off_y - first->off_y), s.off_z - first->off_z - t * (last->off_z - first->off_z));
    if (off > scan.bow) scan.bow = off, scan.bow_at = s.x;
    if (!squarish(s) && s.oval > scan.oval) scan.oval = s.oval, scan.oval_at = s.x;
  }
}

/// Of ridges that many a turn. Neighbouring sections are so close that a crest never comes near the place of the next one.
std::optional<Winding> winding_of(const std::vector<Section>& sections, std::size_t ridges) {
  double turned = 0, both_ways = 0;
  Winding out{static_cast<int>(ridges), 0, 0, 0};
  const Section* before = nullptr;
  for (const Section& s : sections) {
    const bool ridged = s.covered && s.wave[ridges - 1] > kRidge * s.mean;
    if (ridged && before) {
      const double d = std::remainder(s.at[ridges - 1] - before->at[ridges - 1], kTurn / static_cast<double>(ridges));
      if (both_ways == 0) out.from = before->x;
      turned += d, both_ways += std::fabs(d), out.to = s.x;
    }
    before = ridged ? &s : nullptr;
  }
  if (std::fabs(turned) < kTurn / 8 || std::fabs(turned) < kOneWay * both_ways) return std::nullopt;
  out.pitch = (out.to - out.from) * kTurn / turned;
  return out;
}

std::string in_words(const Winding& w, double head) {
  const std::string ridges = w.ridges == 1 ? "a ridge winds" : std::to_string(w.ridges) + " ridges wind";
  return "; " + ridges + " to the " + (w.pitch > 0 ? "right" : "left") + " from " + format_number(w.from - head, 0) + " to " + format_number(w.to - head, 0) + " mm, a turn in about " +
         format_number(std::fabs(w.pitch), 0) + " mm";
}

}  // namespace

// A twist of two strands has harmonics 2 and 4: the lower one that winds is the number of its ridges.
std::optional<Winding> winding_of(const std::vector<Section>& sections) {
  for (std::size_t ridges = 1; ridges <= 4; ++ridges) {
    if (const auto found = winding_of(sections, ridges)) return found;
  }
  return std::nullopt;
}

Result<Scan> scanned(const Mesh& mesh, const ScanOptions& options) {
  if (mesh.triangles.empty()) return fail("scan.open", "the mesh has no triangles");
  Pose pose = principal(mesh);
  if (options.axis) {
    Vector direction{};
    direction[static_cast<std::size_t>(*options.axis)] = 1;
    pose = Pose::along(pose.origin, direction);
  }
  if (dot(pose.x, {1, 0.01, 0.0001}) < 0) pose = Pose::along(pose.origin, {-pose.x[0], -pose.x[1], -pose.x[2]});
  pose = straightened(mesh, pose);
  Slicer slicer(mesh, pose, kFine);
  Scan scan;
  scan.sections = slicer.run();
  scan.length = slicer.high() - slicer.low();
  std::size_t covered = 0, rough = 0, squares_before = 0, squares_after = 0;
  const Section* worst = nullptr;
  const auto winding = winding_of(scan.sections);
  const auto not_round = [&](const Section& s) {
    const bool winds = winding && s.x >= winding->from && s.x <= winding->to;
    return winds ? std::max(s.rest, s.wave[static_cast<std::size_t>(winding->ridges) - 1] / std::numbers::sqrt2) : squarish(s) ? 0 : s.rest;
  };
  for (const Section& s : scan.sections) {
    if (!s.covered) continue;
    ++covered;
    const bool early = s.x - slicer.low() < scan.length / 4, late = slicer.high() - s.x < scan.length / 4;
    squares_before += early && squarish(s), squares_after += late && squarish(s);
    const bool winds = winding && s.x >= winding->from && s.x <= winding->to;
    if (!winds && not_round(s) < kRough * s.mean) continue;
    ++rough;
    if (!worst || not_round(s) / s.mean > not_round(*worst) / worst->mean) worst = &s;
  }
  if (covered < scan.sections.size() * 4 / 5)
    return fail("scan.open", "only " + std::to_string(covered * 100 / scan.sections.size()) + " % of the sections are met all round: too much of the skin is missing, or it lies across its axis", "scan the missing sides, or say --axis");
  if (rough > covered / 20)
    return fail("scan.not-round", "the piece is no turning: " + std::to_string(rough * 100 / covered) + " % of its sections are not round, worst at " + format_number(worst->x - slicer.low(), 1) + " mm, where the skin lies " + format_number(not_round(*worst), 2) +
                " mm off a circle" + (winding ? in_words(*winding, slicer.low()) : ""), "leave it a surface: it can be cut as a mesh, not as an outline");
  const bool turn = (squares_after > squares_before) != options.end_for_end;
  for (Section& s : scan.sections) s.x = turn ? slicer.high() - s.x : s.x - slicer.low();
  if (turn) std::reverse(scan.sections.begin(), scan.sections.end());
  bow_and_oval(scan);
  return scan;
}

Laid laid(const Scan& scan, const ScanOptions& options) {
  Laid out;
  out.wishes.head = 0, out.wishes.foot = scan.length;
  std::vector<double> flats, arrises;
  for (const Section& s : scan.sections) {
    if (squarish(s)) flats.push_back(s.across), arrises.push_back(s.most);
  }
  const double square = flats.empty() ? 0 : at_share(flats, 0.5);
  if (square > 0) out.wishes.square = square;
  // arrises are eased, and a coarse skin cuts them: whole is what most of the square stretches are
  const double arris = flats.empty() ? 0 : at_share(arrises, 0.75);
  const double whole = std::min(square / std::numbers::sqrt2, arris) - 0.15 - 2 * options.uncertainty, step = scan.sections.size() > 1 ? scan.sections[1].x - scan.sections[0].x : 1;
  std::vector<Meridian> runs(1);
  bool in_square = false;
  for (const Section& s : scan.sections) {
    if (!s.covered) continue;
    const bool squared = squarish(s) && s.most > whole;
    if (squared && !in_square) out.wishes.squares.push_back({s.x - step / 2, 0, true, true}), runs.emplace_back();
    if (squared) out.wishes.squares.back().to = s.x + step / 2;
    in_square = squared;
    if (!squared) runs.back().push_back({s.x, squarish(s) || (square > 0 && s.mean > square / 2) ? s.most : s.mean});
  }
  if (!out.wishes.squares.empty()) {
    Between &first = out.wishes.squares.front(), &last = out.wishes.squares.back();
    if (first.from < 3 * step) first.from = 0;
    if (scan.length - last.to < 3 * step) last.to = scan.length;
  }
  for (const Meridian& run : runs) {
    if (run.size() < 3) continue;
    const auto some = measures_along(run, options.uncertainty, 1.6 * step);
    out.measures.insert(out.measures.end(), some.begin(), some.end());
  }
  out.remarks.push_back("the axis was " + std::string(options.axis ? "given" : "found") + "; the piece is bowed by " + format_number(scan.bow, 2) + " mm (most at " + format_number(scan.bow_at, 0) + " mm) and oval by up to " +
                        format_number(scan.oval, 2) + " mm (at " + format_number(scan.oval_at, 0) + " mm); the outline has the mean round its own middle, straight");
  return out;
}

}  // namespace pommel::match
