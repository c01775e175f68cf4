#include "match/outline.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"

namespace pommel::match {
namespace {

using exchange::Dot;
using exchange::Path;

constexpr double kBack = 0.01;       // mm by which x may run back: rounding of a file
constexpr double kMirror = 0.004;    // of the length: how well a whole outline mirrors itself
constexpr std::size_t kMost = 150;   // vertices of the simplified line

double apart(const Dot& a, const Dot& b) { return std::hypot(a[0] - b[0], a[1] - b[1]); }

struct Axis {
  Dot at{};
  double cos = 1, sin = 0;
  Dot lay(const Dot& d) const {
    const double x = d[0] - at[0], y = d[1] - at[1];
    return {x * cos + y * sin, -x * sin + y * cos};
  }
};

struct Box {
  Dot low{1e30, 1e30}, high{-1e30, -1e30};
  void add(const Dot& d) {
    for (std::size_t k = 0; k < 2; ++k) low[k] = std::min(low[k], d[k]), high[k] = std::max(high[k], d[k]);
  }
  double wide() const { return high[0] - low[0]; }
  double tall() const { return high[1] - low[1]; }
};

Box box_of(const std::vector<Path>& paths, const Axis& axis = {}) {
  Box box;
  for (const Path& p : paths) {
    for (const Dot& d : p.dots) box.add(axis.lay(d));
  }
  return box;
}

Axis along(const Dot& a, const Dot& b) {
  const double l = apart(a, b);
  return {a, (b[0] - a[0]) / l, (b[1] - a[1]) / l};
}

/// Through the middle of the line's mass, along its greatest spread.
Axis principal(const std::vector<Path>& paths) {
  double m = 0, sx = 0, sy = 0, xx = 0, xy = 0, yy = 0;
  const auto each = [&](const auto& f) {
    for (const Path& p : paths) {
      for (std::size_t i = 0; i + (p.closed ? 0 : 1) < p.dots.size(); ++i) f(p.dots[i], p.dots[(i + 1) % p.dots.size()]);
    }
  };
  each([&](const Dot& a, const Dot& b) {
    const double l = apart(a, b);
    m += l, sx += l * (a[0] + b[0]) / 2, sy += l * (a[1] + b[1]) / 2;
  });
  Axis axis;
  axis.at = {sx / m, sy / m};
  each([&](const Dot& a, const Dot& b) {
    const double l = apart(a, b), ax = a[0] - axis.at[0], ay = a[1] - axis.at[1], bx = b[0] - axis.at[0], by = b[1] - axis.at[1];
    xx += l * (ax * ax + ax * bx + bx * bx) / 3, yy += l * (ay * ay + ay * by + by * by) / 3, xy += l * (2 * ax * ay + ax * by + ay * bx + 2 * bx * by) / 6;
  });
  const double t = std::atan2(2 * xy, xx - yy) / 2;
  axis.cos = std::cos(t), axis.sin = std::sin(t);
  return axis;
}

/// How far the upper reach and the lower reach of the line differ, over places along the axis.
double unlike_mirror(const std::vector<Path>& paths, const Axis& axis) {
  constexpr std::size_t kBins = 200;
  const Box box = box_of(paths, axis);
  std::vector<double> up(kBins, 0), down(kBins, 0);
  for (const Path& p : paths) {
    for (std::size_t i = 0; i + (p.closed ? 0 : 1) < p.dots.size(); ++i) {
      const Dot a = axis.lay(p.dots[i]), b = axis.lay(p.dots[(i + 1) % p.dots.size()]);
      const int n = 1 + static_cast<int>(std::fabs(b[0] - a[0]) / box.wide() * 2 * kBins);
      for (int k = 0; k <= n; ++k) {
        const double x = a[0] + (b[0] - a[0]) * k / n, r = a[1] + (b[1] - a[1]) * k / n;
        const auto bin = std::min(kBins - 1, static_cast<std::size_t>((x - box.low[0]) / box.wide() * kBins));
        up[bin] = std::max(up[bin], r), down[bin] = std::max(down[bin], -r);
      }
    }
  }
  std::vector<double> differ;
  for (std::size_t i = 0; i < kBins; ++i) differ.push_back(std::fabs(up[i] - down[i]));
  std::nth_element(differ.begin(), differ.begin() + kBins * 9 / 10, differ.end());
  return differ[kBins * 9 / 10];
}

class Layer {
 public:
  Layer(const exchange::Drawing& drawing, const LayOptions& options) : drawing_(drawing), options_(options) {}

  Result<Laid> run() {
    auto joined = exchange::joined_paths(drawing_.paths, options_.gap);
    if (!joined.ok()) return Failure(joined.reasons());
    paths_ = std::move(joined).value();
    find_axis();
    auto meridian = one_line();
    if (!meridian.ok()) return Failure(meridian.reasons());
    Meridian line = std::move(meridian).value();
    if (options_.end_for_end) turn(line);
    const double head = line.front()[0];
    for (Dot& d : line) d[0] -= head;
    Laid out;
    out.remarks = std::move(remarks_);
    out.wishes.head = 0, out.wishes.foot = line.back()[0];
    out.measures = measures_along(line, options_.uncertainty);
    if (options_.square) squares(line, out);
    if (!drawing_.passed_over.empty()) out.remarks.push_back("passed over in the drawing: " + listed_kinds());
    return out;
  }

 private:
  std::string listed_kinds() const {
    std::string text;
    for (const std::string& kind : drawing_.passed_over) text += (text.empty() ? "" : ", ") + kind;
    return text;
  }

  static void turn(Meridian& line) {
    std::reverse(line.begin(), line.end());
    for (Dot& d : line) d[0] = -d[0];
  }

  void find_axis() {
    const Box box = box_of(paths_);
    const double longest = std::max(box.wide(), box.tall());
    for (std::size_t i = 0; i < paths_.size() && paths_.size() > 1; ++i) {
      const Path& p = paths_[i];
      if (p.closed || p.dots.size() != 2 || apart(p.dots[0], p.dots[1]) < 0.9 * longest) continue;
      axis_ = along(p.dots[0], p.dots[1]);
      paths_.erase(paths_.begin() + static_cast<std::ptrdiff_t>(i));
      remarks_.push_back("the straight line beside the outline was taken as its axis");
      return;
    }
    const Axis middle = principal(paths_);
    const bool closed = paths_.size() == 1 && paths_[0].closed;
    if ((closed || paths_.size() == 2) && unlike_mirror(paths_, middle) < kMirror * longest) {
      axis_ = middle;
      remarks_.push_back("the outline is whole: its axis was found, and the half above it taken");
      return;
    }
    if (closed && straight_side(longest)) return;
    if (box.tall() > box.wide()) axis_ = {{0, 0}, 0, 1};
    remarks_.push_back(std::string("half an outline, over the ") + (box.tall() > box.wide() ? "y" : "x") + " axis of the drawing");
  }

  /// A closed half: the straight side that is as long as the piece is on the axis.
  bool straight_side(double longest) {
    auto& dots = paths_[0].dots;
    for (std::size_t i = 0; i < dots.size(); ++i) {
      const std::size_t j = (i + 1) % dots.size();
      if (apart(dots[i], dots[j]) < 0.9 * longest) continue;
      axis_ = along(dots[i], dots[j]);
      std::rotate(dots.begin(), dots.begin() + static_cast<std::ptrdiff_t>(j), dots.end());
      paths_[0].closed = false;
      remarks_.push_back("the outline is a closed half: its straight side was taken as the axis");
      return true;
    }
    return false;
  }

  /// The line above the axis from one end to the other.
  Result<Meridian> one_line() {
    std::vector<Meridian> parts;
    for (const Path& p : paths_) {
      Meridian now;
      const auto finish = [&] {
        if (now.size() >= 2) parts.push_back(now);
        now.clear();
      };
      Meridian laid;
      for (const Dot& d : p.dots) laid.push_back(axis_.lay(d));
      double sum = 0;
      for (const Dot& d : laid) sum += d[1];
      if (!p.closed && paths_.size() == 1 && sum < 0) {
        for (Dot& d : laid) d[1] = -d[1];
      }
      if (p.closed) {  // begin below the axis
        const auto low = std::min_element(laid.begin(), laid.end(), [](const Dot& a, const Dot& b) { return a[1] < b[1]; });
        std::rotate(laid.begin(), low, laid.end());
        laid.push_back(laid.front());
      }
      for (std::size_t i = 0; i < laid.size(); ++i) {
        if (i > 0 && (laid[i - 1][1] > 0) != (laid[i][1] > 0)) {
          const double t = laid[i - 1][1] / (laid[i - 1][1] - laid[i][1]);
          const Dot on{laid[i - 1][0] + t * (laid[i][0] - laid[i - 1][0]), 0};
          now.push_back(on);
          if (!(laid[i][1] > 0)) finish();
        }
        if (laid[i][1] > 0) now.push_back(laid[i]);
      }
      finish();
    }
    std::sort(parts.begin(), parts.end(), [](const Meridian& a, const Meridian& b) { return std::fabs(a.back()[0] - a.front()[0]) > std::fabs(b.back()[0] - b.front()[0]); });
    if (parts.empty()) return fail("outline.axis", "nothing of the outline stands above its axis", "draw it above the x axis, or draw the axis with it");
    if (parts.size() > 1)
      return fail("outline.parts", "the outline is in " + std::to_string(parts.size()) + " parts; the second begins at " + format_number(parts[1].front()[0], 2) + " mm along the axis", "close the gaps, or say a larger --gap");
    return upright(std::move(parts.front()));
  }

  static Result<Meridian> upright(Meridian line) {
    if (line.front()[0] > line.back()[0]) std::reverse(line.begin(), line.end());
    const auto wall = [](const Dot& a, const Dot& b) { return std::fabs(a[0] - b[0]) < kBack; };
    while (line.size() > 2 && wall(line[0], line[1])) line.erase(line.begin());
    while (line.size() > 2 && wall(line[line.size() - 1], line[line.size() - 2])) line.pop_back();
    std::vector<Diagnostic> found;
    double reached = line.front()[0];
    bool back = false;
    for (const Dot& d : line) {
      const bool now = d[0] < reached - kBack;
      if (now && !back)
        found.push_back(fail("outline.overhang", "the outline runs back under itself at " + format_number(reached - line.front()[0], 2) + " mm from its beginning, at a diameter of " + format_number(2 * d[1], 2) + " mm: no lathe-like cut reaches there",
                             "draw it without the undercut").reasons.front());
      back = now;
      reached = std::max(reached, d[0]);
    }
    if (!found.empty()) return Failure(std::move(found));
    for (std::size_t i = 1; i < line.size(); ++i) line[i][0] = std::max(line[i][0], line[i - 1][0]);
    return line;
  }

  /// Level stretches at half the square's width.
  void squares(const Meridian& line, Laid& out) const {
    const double half = *options_.square / 2;
    out.wishes.square = options_.square;
    for (std::size_t i = 0; i + 1 < line.size();) {
      std::size_t j = i;
      while (j < line.size() && std::fabs(line[j][1] - half) < 0.15) ++j;
      if (j > i + 1 && line[j - 1][0] - line[i][0] > 0.25 * half) out.wishes.squares.push_back({line[i][0], line[j - 1][0], true, true});
      i = std::max(j, i + 1);
    }
    for (const Between& s : out.wishes.squares) {
      std::erase_if(out.measures, [&](const Measure& m) { return m.x > s.from - 0.02 && m.x < s.to + 0.02; });
    }
  }

  const exchange::Drawing& drawing_;
  LayOptions options_;
  std::vector<Path> paths_;
  Axis axis_;
  std::vector<std::string> remarks_;
};

/// Marks the vertices that a line within `tolerance` needs. Douglas and Peucker, "Algorithms for the reduction of the number of points required to
/// represent a digitized line", Canadian Cartographer 10 (1973).
std::vector<std::size_t> needed(const Meridian& line, double tolerance) {
  std::vector<char> keep(line.size(), 0);
  keep.front() = keep.back() = 1;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, line.size() - 1}};
  while (!open.empty()) {
    const auto [a, b] = open.back();
    open.pop_back();
    const double l = apart(line[a], line[b]);
    double most = tolerance;
    std::size_t at = 0;
    for (std::size_t i = a + 1; i < b; ++i) {
      const double d = l > 0 ? std::fabs((line[i][0] - line[a][0]) * (line[b][1] - line[a][1]) - (line[i][1] - line[a][1]) * (line[b][0] - line[a][0])) / l : apart(line[i], line[a]);
      if (d > most) most = d, at = i;
    }
    if (at == 0) continue;
    keep[at] = 1;
    open.emplace_back(a, at);
    open.emplace_back(at, b);
  }
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i]) out.push_back(i);
  }
  return out;
}

/// A point of the line by the length along it.
class Along {
 public:
  explicit Along(const Meridian& line) : line_(line), at_(line.size(), 0) {
    for (std::size_t i = 1; i < line.size(); ++i) at_[i] = at_[i - 1] + apart(line[i], line[i - 1]);
  }
  double of(std::size_t i) const { return at_[i]; }
  double whole() const { return at_.back(); }
  Dot point(double s) const {
    const auto i = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(std::upper_bound(at_.begin(), at_.end(), s) - at_.begin(), 1, static_cast<std::ptrdiff_t>(at_.size()) - 1));
    const double l = at_[i] - at_[i - 1], t = l > 0 ? std::clamp((s - at_[i - 1]) / l, 0.0, 1.0) : 0;
    return {line_[i - 1][0] + t * (line_[i][0] - line_[i - 1][0]), line_[i - 1][1] + t * (line_[i][1] - line_[i - 1][1])};
  }
  double direction(double from, double to) const {
    const Dot a = point(from), b = point(to);
    return std::atan2(b[1] - a[1], b[0] - a[0]);
  }

 private:
  const Meridian& line_;
  std::vector<double> at_;
};

}  // namespace

Result<Laid> laid(const exchange::Drawing& drawing, const LayOptions& options) { return Layer(drawing, options).run(); }

std::vector<Measure> measures_along(const Meridian& line, double u, double narrow) {
  constexpr double kCorner = 0.25;  // radians
  const Along along(line);
  double tolerance = u;
  std::vector<std::size_t> vertices = needed(line, tolerance);
  while (vertices.size() > kMost) vertices = needed(line, tolerance *= 1.5);
  const double window = std::max(0.25, 5 * u), inset = std::max(0.08, 2 * u);
  std::vector<double> corners{0};
  std::vector<std::size_t> between{0};
  for (std::size_t k = 1; k + 1 < vertices.size(); ++k) {
    const double s = along.of(vertices[k]);
    double turn = std::fabs(along.direction(s, s + window) - along.direction(s - window, s));
    if (turn > std::numbers::pi) turn = 2 * std::numbers::pi - turn;
    if (turn > kCorner && s - corners.back() > 0.3) corners.push_back(s), between.push_back(0);
    else ++between.back();
  }
  corners.push_back(along.whole());
  std::vector<Measure> out;
  for (std::size_t k = 0; k + 1 < corners.size(); ++k) {
    const double from = corners[k] + std::min(inset, (corners[k + 1] - corners[k]) / 6), to = corners[k + 1] - (from - corners[k]);
    if (std::fabs(along.point(corners[k + 1])[0] - along.point(corners[k])[0]) < narrow) continue;  // a wall
    const int n = static_cast<int>(std::clamp<std::size_t>(2 * between[k] + 3, 3, 24));
    for (int i = 0; i < n; ++i) {
      const Dot d = along.point(from + (to - from) * i / (n - 1));
      Measure m;
      m.x = d[0], m.diameter = 2 * d[1], m.sd_x = u, m.sd = 2 * u;
      out.push_back(m);
    }
  }
  return out;
}

}  // namespace pommel::match
