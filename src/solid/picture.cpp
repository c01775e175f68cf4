#include "solid/picture.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pommel::solid {

namespace {

constexpr int kFiner = 2;  // samples a pixel each way
constexpr int kGreatestSize = 8192;
constexpr double kGreatestScale = 1000;  // a pixel is a micrometre then
constexpr double kGround[3] = {246, 244, 240};
constexpr double kWood[3] = {206, 172, 128};  // a plain light wood, no species

Point scaled(const Point& p, double k) {
  return {p.x * k, p.y * k, p.z * k};
}
Point cross(const Point& a, const Point& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
double dot(const Point& a, const Point& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
double size(const Point& p) {
  return std::sqrt(dot(p, p));
}

// Right, up and towards the eye.
struct Frame {
  Point right, up, eye;
};

bool make_frame(const View& view, Frame& frame) {
  const double far = size(view.from);
  if (!std::isfinite(far) || !(far > 0)) return false;
  frame.eye = scaled(view.from, 1 / far);
  const Point right = cross(view.up, frame.eye);
  const double across = size(right);
  if (!std::isfinite(across) || !(across > 1e-9 * size(view.up))) return false;
  frame.right = scaled(right, 1 / across);
  frame.up = cross(frame.eye, frame.right);
  return true;
}

// A point in samples from the upper left; depth grows towards the eye.
struct Seen {
  double u = 0, v = 0, depth = 0;
};

struct Canvas {
  int width, height;
  std::vector<float> depth, shade;  // shade < 0: ground

  Canvas(int w, int h)
      : width(w),
        height(h),
        depth(static_cast<std::size_t>(w) * h, -std::numeric_limits<float>::infinity()),
        shade(static_cast<std::size_t>(w) * h, -1) {}

  void fill(const Seen& a, const Seen& b, const Seen& c, float light);
};

double edge(const Seen& a, const Seen& b, double u, double v) {
  return (b.u - a.u) * (v - a.v) - (b.v - a.v) * (u - a.u);
}

void Canvas::fill(const Seen& a, const Seen& b, const Seen& c, float light) {
  const double whole = edge(a, b, c.u, c.v);
  if (whole == 0) return;
  const int u0 = std::max(0, static_cast<int>(std::floor(std::min({a.u, b.u, c.u}))));
  const int u1 = std::min(width - 1, static_cast<int>(std::ceil(std::max({a.u, b.u, c.u}))));
  const int v0 = std::max(0, static_cast<int>(std::floor(std::min({a.v, b.v, c.v}))));
  const int v1 = std::min(height - 1, static_cast<int>(std::ceil(std::max({a.v, b.v, c.v}))));
  for (int v = v0; v <= v1; ++v) {
    for (int u = u0; u <= u1; ++u) {
      const double wa = edge(b, c, u + 0.5, v + 0.5) / whole, wb = edge(c, a, u + 0.5, v + 0.5) / whole,
                   wc = 1 - wa - wb;
      if (wa < 0 || wb < 0 || wc < 0) continue;
      const auto z = static_cast<float>(wa * a.depth + wb * b.depth + wc * c.depth);
      const std::size_t at =
          static_cast<std::size_t>(v) * static_cast<std::size_t>(width) + static_cast<std::size_t>(u);
      if (z <= depth[at]) continue;
      depth[at] = z;
      shade[at] = light;
    }
  }
}

// Two lamps that go with the eye, so that every view is lit alike: a main one from the upper left, a weak one from the
// right.
float light_on(const Point& normal, const Frame& f) {
  const double n = size(normal);
  if (n == 0) return 0.5f;
  const double r = dot(normal, f.right) / n, u = dot(normal, f.up) / n, e = dot(normal, f.eye) / n;
  const double main = std::max(0.0, (-0.45 * r + 0.65 * u + 0.61 * e)),
               fill = std::max(0.0, 0.8 * r - 0.1 * u + 0.59 * e);
  return static_cast<float>(std::min(1.0, 0.34 + 0.58 * main + 0.16 * fill));
}

std::vector<Seen> project(const Mesh& mesh, const Frame& f, const View& view) {
  std::vector<Seen> seen;
  double lo[2] = {1e300, 1e300}, hi[2] = {-1e300, -1e300};
  for (const Point& p : mesh.points) {
    seen.push_back({dot(p, f.right), -dot(p, f.up), dot(p, f.eye)});
    lo[0] = std::min(lo[0], seen.back().u), hi[0] = std::max(hi[0], seen.back().u);
    lo[1] = std::min(lo[1], seen.back().v), hi[1] = std::max(hi[1], seen.back().v);
  }
  const double room = 1 - 2 * view.margin;
  const double w = kFiner * view.width, h = kFiner * view.height;
  const double fits = std::min(room * w / std::max(hi[0] - lo[0], 1e-9), room * h / std::max(hi[1] - lo[1], 1e-9));
  const double scale = view.scale > 0 ? kFiner * view.scale : fits;
  for (Seen& s : seen) {
    s.u = w / 2 + kFiner * view.right + scale * (s.u - (lo[0] + hi[0]) / 2);
    s.v = h / 2 - kFiner * view.higher + scale * (s.v - (lo[1] + hi[1]) / 2);
  }
  return seen;
}

Image averaged(const Canvas& canvas, const View& view) {
  Image image{view.width, view.height, {}};
  image.rgb.reserve(static_cast<std::size_t>(view.width) * static_cast<std::size_t>(view.height) * 3);
  for (int v = 0; v < view.height; ++v) {
    for (int u = 0; u < view.width; ++u) {
      for (int channel = 0; channel < 3; ++channel) {
        double sum = 0;
        for (int k = 0; k < kFiner * kFiner; ++k) {
          const std::size_t row = static_cast<std::size_t>(v * kFiner + k / kFiner);
          const float s = canvas.shade[row * static_cast<std::size_t>(canvas.width) +
                                       static_cast<std::size_t>(u * kFiner + k % kFiner)];
          sum += s < 0 ? kGround[channel] : kWood[channel] * s;
        }
        image.rgb.push_back(static_cast<std::uint8_t>(std::lround(sum / (kFiner * kFiner))));
      }
    }
  }
  return image;
}

}  // namespace

Result<Image> picture(const Mesh& mesh, const View& view) {
  Frame frame;
  const auto fits = [](int n) { return n >= 1 && n <= kGreatestSize; };
  if (!make_frame(view, frame) || !fits(view.width) || !fits(view.height) ||
      !(view.margin >= 0 && view.margin <= 0.4) || !(view.scale >= 0 && view.scale <= kGreatestScale) ||
      !(std::fabs(view.right) <= kGreatestSize) || !(std::fabs(view.higher) <= kGreatestSize)) {
    return fail("picture.view", "the piece cannot be pictured that way",
                "look from a direction that is not the one called up, and ask for 1 to 8192 pixels each way");
  }
  Canvas canvas(view.width * kFiner, view.height * kFiner);
  const std::vector<Seen> seen = project(mesh, frame, view);
  for (const auto& t : mesh.triangles) {
    const Point &a = mesh.points[t[0]], &b = mesh.points[t[1]], &c = mesh.points[t[2]];
    const Point normal = cross({b.x - a.x, b.y - a.y, b.z - a.z}, {c.x - a.x, c.y - a.y, c.z - a.z});
    if (dot(normal, frame.eye) <= 0) continue;  // closed skins: what looks away is hidden
    canvas.fill(seen[t[0]], seen[t[1]], seen[t[2]], light_on(normal, frame));
  }
  return averaged(canvas, view);
}

}  // namespace pommel::solid
