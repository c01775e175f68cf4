#include "exchange/drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"

namespace pommel::exchange {
namespace {

double apart(const Dot& a, const Dot& b) { return std::hypot(a[0] - b[0], a[1] - b[1]); }
std::string placed(const Dot& d) { return "(" + format_number(d[0], 2) + ", " + format_number(d[1], 2) + ") mm"; }

/// Two paths that run through the same places, either way round.
bool same_line(const Path& a, const Path& b, double gap) {
  if (a.closed != b.closed || a.dots.size() != b.dots.size()) return false;
  const auto near = [&](bool turned) {
    for (std::size_t i = 0; i < a.dots.size(); ++i) {
      if (apart(a.dots[i], b.dots[turned ? b.dots.size() - 1 - i : i]) > gap) return false;
    }
    return true;
  };
  return near(false) || near(true);
}

class Joiner {
 public:
  Joiner(const std::vector<Path>& paths, double gap) : gap_(gap) {
    for (const Path& p : paths) {
      if (p.dots.size() >= 2) paths_.push_back(p);
    }
  }

  Result<std::vector<Path>> run() {
    if (paths_.size() > kMostPaths)
      return fail("drawing.too-large", "the drawing has " + std::to_string(paths_.size()) + " lines, and an outline has " + std::to_string(kMostPaths) + " at most",
                  "leave out what is no outline, or draw it as one polyline");
    std::vector<Diagnostic> found;
    for (std::size_t i = 0; i < paths_.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (same_line(paths_[i], paths_[j], gap_)) {
          found.push_back(fail("drawing.doubled", "the line at " + placed(paths_[i].dots.front()) + " is drawn twice", "delete one of the two").reasons.front());
          break;
        }
      }
    }
    if (!found.empty()) return Failure(std::move(found));
    find_branches(found);
    if (!found.empty()) return Failure(std::move(found));
    while (join_one()) {}
    for (Path& p : paths_) {
      if (!p.closed && p.dots.size() > 2 && apart(p.dots.front(), p.dots.back()) <= gap_) p.dots.pop_back(), p.closed = true;
    }
    return std::move(paths_);
  }

 private:
  void find_branches(std::vector<Diagnostic>& found) const {
    std::vector<Dot> ends;
    for (const Path& p : paths_) {
      if (!p.closed) ends.push_back(p.dots.front()), ends.push_back(p.dots.back());
    }
    std::sort(ends.begin(), ends.end());
    std::vector<char> told(ends.size(), 0);
    for (std::size_t i = 0; i < ends.size(); ++i) {
      std::vector<std::size_t> near;
      for (std::size_t j = i; j < ends.size() && ends[j][0] <= ends[i][0] + gap_; ++j) {
        if (apart(ends[i], ends[j]) <= gap_) near.push_back(j);
      }
      if (near.size() < 3 || told[i] != 0) continue;
      for (std::size_t j : near) told[j] = 1;
      found.push_back(fail("drawing.branch", std::to_string(near.size()) + " lines end at " + placed(ends[i]) + ": an outline is one line", "delete what does not belong to it, or give a smaller --gap").reasons.front());
    }
  }

  /// Nearest two ends of different open paths become one.
  bool join_one() {
    for (std::size_t i = 0; i < paths_.size(); ++i) {
      for (std::size_t j = i + 1; j < paths_.size() && !paths_[i].closed; ++j) {
        if (paths_[j].closed) continue;
        for (int way = 0; way < 4; ++way) {
          const Dot& a = way & 1 ? paths_[i].dots.front() : paths_[i].dots.back();
          const Dot& b = way & 2 ? paths_[j].dots.back() : paths_[j].dots.front();
          if (apart(a, b) > gap_) continue;
          if (way & 1) std::reverse(paths_[i].dots.begin(), paths_[i].dots.end());
          if (way & 2) std::reverse(paths_[j].dots.begin(), paths_[j].dots.end());
          paths_[i].dots.insert(paths_[i].dots.end(), paths_[j].dots.begin() + 1, paths_[j].dots.end());
          paths_.erase(paths_.begin() + static_cast<std::ptrdiff_t>(j));
          return true;
        }
      }
    }
    return false;
  }

  std::vector<Path> paths_;
  double gap_;
};

}  // namespace

Result<std::vector<Path>> joined_paths(const std::vector<Path>& paths, double gap) { return Joiner(paths, gap).run(); }

void add_arc(std::vector<Dot>& dots, double cx, double cy, double radius, double a0, double sweep, double sag) {
  const double most = 2 * std::acos(std::max(0.0, 1 - std::min(1.0, sag / radius)));
  const int n = std::clamp(static_cast<int>(std::ceil(std::fabs(sweep) / std::max(most, 1e-3))), 1, 20000);
  for (int i = 1; i <= n; ++i) {
    const double a = a0 + sweep * i / n;
    dots.push_back({cx + radius * std::cos(a), cy + radius * std::sin(a)});
  }
}

Failure too_many_dots(const Place& place) {
  return fail("drawing.too-large", "here the drawing goes beyond " + std::to_string(kMostDots) + " dots, the most that is read",
              "leave out what is no outline, or draw it with fewer curves", place);
}

Result<Drawing> in_millimetres(Drawing drawing, std::optional<LengthUnit> asked, const std::string& file) {
  Place place;
  place.file = file;
  if (drawing.paths.empty()) return fail("drawing.empty", "there are no lines in the drawing", "draw the outline as lines, arcs or one polyline", place);
  if (asked) drawing.unit = asked;
  if (!drawing.unit) {
    Dot low = drawing.paths[0].dots[0], high = low;
    for (const Path& p : drawing.paths) {
      for (const Dot& d : p.dots) {
        for (std::size_t k = 0; k < 2; ++k) low[k] = std::min(low[k], d[k]), high[k] = std::max(high[k], d[k]);
      }
    }
    const double longest = std::max(high[0] - low[0], high[1] - low[1]);
    return fail("drawing.no-unit", "the drawing does not say its unit: it is " + format_number(longest, 1) + " mm or " + format_number(longest, 1) + " in long", "say --unit mm or --unit in", place);
  }
  const double scale = millimetres(*drawing.unit);
  for (Path& p : drawing.paths) {
    for (Dot& d : p.dots) d[0] *= scale, d[1] *= scale;
  }
  return drawing;
}

}  // namespace pommel::exchange
