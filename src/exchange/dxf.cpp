#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "base/text.h"
#include "exchange/drawing.h"

namespace pommel::exchange {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

struct Pair {
  int code = 0;
  std::string_view value;
  int line = 0;
};

// A corner of an old polyline has seven pairs or eight.
constexpr std::size_t kMostPairs = 8 * kMostDots;

struct Entity {
  std::string kind;
  std::vector<Pair> pairs;
  int line = 0;
};

class Reader {
 public:
  Reader(std::string_view text, const std::string& file, std::optional<LengthUnit> asked) : file_(file), asked_(asked) { split_pairs(text); }

  Result<Drawing> read() {
    if (bad_) return Failure(*bad_);
    for (std::size_t i = 0; i + 1 < pairs_.size(); ++i) {
      if (pairs_[i].code == 9 && pairs_[i].value == "$INSUNITS") take_unit(pairs_[i + 1]);
    }
    std::size_t i = 0;
    while (i < pairs_.size() && !(pairs_[i].code == 2 && pairs_[i].value == "ENTITIES")) ++i;
    if (i == pairs_.size()) return failure("dxf.not-dxf", "the file has no section ENTITIES", "write it as an ASCII DXF file", 0);
    bool ended = false;
    for (++i; i < pairs_.size() && !ended;) {
      if (pairs_[i].code != 0) { ++i; continue; }
      Entity e{std::string(pairs_[i].value), {}, pairs_[i].line};
      for (++i; i < pairs_.size() && pairs_[i].code != 0; ++i) e.pairs.push_back(pairs_[i]);
      if (e.kind == "ENDSEC") ended = true;
      else take(e);
      if (bad_) return Failure(*bad_);
    }
    if (!ended) return failure("dxf.truncated", "the section ENTITIES does not end", "the file was cut off: write it again", 0);
    return std::move(out_);
  }

 private:
  Failure failure(std::string id, std::string message, std::string remedy, int line) const { return fail(std::move(id), std::move(message), std::move(remedy), {file_, line, line > 0 ? 1 : 0}); }
  void refuse(std::string id, std::string message, int line) {
    if (!bad_) bad_ = failure(std::move(id), std::move(message), "write the drawing again as an ASCII DXF file", line).reasons.front();
  }

  void split_pairs(std::string_view text) {
    int line = 0;
    for (std::size_t at = 0; text.find('\n', at) != std::string_view::npos; line += 2) {
      if (pairs_.size() == kMostPairs) return void(bad_ = too_many_dots({file_, line + 1, 1}).reasons.front());
      const auto code = parse_number(line_at(text, at));
      if (!code || *code != std::floor(*code) || std::fabs(*code) > 2000) return refuse("dxf.not-dxf", "line " + std::to_string(line + 1) + " is no group code: this is no ASCII DXF file", line + 1);
      pairs_.push_back({static_cast<int>(*code), line_at(text, at), line + 2});
    }
  }

  // Without blanks at its ends; `at` goes on to the next one.
  static std::string_view line_at(std::string_view text, std::size_t& at) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string_view line = trimmed(text.substr(at, end - at));
    at = std::min(end + 1, text.size());
    return line;
  }

  void take_unit(const Pair& p) {
    if (p.value == "1") out_.unit = LengthUnit::inch;
    if (p.value == "2") out_.unit = LengthUnit::foot;
    if (p.value == "4") out_.unit = LengthUnit::millimetre;
    if (p.value == "5") out_.unit = LengthUnit::centimetre;
    if (p.value == "6") out_.unit = LengthUnit::metre;
  }

  double number(const Pair& p) {
    const auto v = parse_number(p.value);
    if (v && std::fabs(*v) <= 1e9) return *v;
    refuse("dxf.number", in_quotes(p.value) + (v ? " is too large for a drawing" : " is no number"), p.line);
    return 0;
  }
  double value(const Entity& e, int code, double otherwise = 0) {
    for (const Pair& p : e.pairs) {
      if (p.code == code) return number(p);
    }
    return otherwise;
  }
  /// One without which the entity is nowhere.
  double needed(const Entity& e, int code) {
    if (std::none_of(e.pairs.begin(), e.pairs.end(), [&](const Pair& p) { return p.code == code; }))
      refuse("dxf.missing", "this " + e.kind + " has no group " + std::to_string(code), e.line);
    return value(e, code);
  }
  std::vector<double> values(const Entity& e, int code) {
    std::vector<double> all;
    for (const Pair& p : e.pairs) {
      if (p.code == code) all.push_back(number(p));
    }
    return all;
  }

  void take(const Entity& e) {
    if (e.kind == "LINE") return add({{{needed(e, 10), needed(e, 20)}, {needed(e, 11), needed(e, 21)}}, false});
    if (e.kind == "ARC" || e.kind == "CIRCLE") return arc(e);
    if (e.kind == "LWPOLYLINE") return polyline(e);
    if (e.kind == "POLYLINE") { old_ = Entity{"LWPOLYLINE", {}, e.line}; old_closed_ = (static_cast<int>(value(e, 70)) & 1) != 0; return; }
    if (e.kind == "VERTEX") return vertex(e);
    if (e.kind == "SEQEND") { close_old_ = old_closed_; polyline(old_); close_old_ = false; old_ = {}; return; }
    if (e.kind == "SPLINE") return spline(e);
    if (std::find(out_.passed_over.begin(), out_.passed_over.end(), e.kind) == out_.passed_over.end()) out_.passed_over.push_back(e.kind);
  }

  void vertex(const Entity& e) {
    for (const Pair& p : e.pairs) {
      if (p.code == 10 || p.code == 20 || p.code == 42) old_.pairs.push_back(p);
    }
  }

  void add(Path p) {
    const bool somewhere = std::any_of(p.dots.begin(), p.dots.end(), [&](const Dot& d) { return d != p.dots.front(); });
    dots_ += p.dots.size();
    if (somewhere) out_.paths.push_back(std::move(p));
  }

  /// Whether there is room for the dots of this path so far.
  bool has_room(const Path& path, const Entity& e) {
    if (dots_ + path.dots.size() > kMostDots && !bad_) bad_ = too_many_dots({file_, e.line, 1}).reasons.front();
    return !bad_;
  }

  double sag() const {
    const auto unit = asked_ ? asked_ : out_.unit;
    return kSag / (unit ? millimetres(*unit) : 1);
  }

  void arc(const Entity& e) {
    const double cx = needed(e, 10), cy = needed(e, 20), r = needed(e, 40);
    if (!(r > 0)) return refuse("dxf.number", "this " + e.kind + " has the radius " + format_number(r, 3), e.line);
    const bool whole = e.kind == "CIRCLE";
    const double a0 = whole ? 0 : needed(e, 50) * kDegree;
    double sweep = whole ? 2 * std::numbers::pi : needed(e, 51) * kDegree - a0;
    if (sweep <= 0) sweep += 2 * std::numbers::pi;
    Path p{{{cx + r * std::cos(a0), cy + r * std::sin(a0)}}, whole};
    add_arc(p.dots, cx, cy, r, a0, sweep, sag());
    if (whole) p.dots.pop_back();
    if (has_room(p, e)) add(std::move(p));
  }

  void polyline(const Entity& e) {
    struct Corner { Dot at{}; double bulge = 0; };
    std::vector<Corner> corners;
    for (const Pair& p : e.pairs) {
      if (p.code == 10) corners.push_back({{number(p), 0}, 0});
      else if (corners.empty()) continue;
      else if (p.code == 20) corners.back().at[1] = number(p);
      else if (p.code == 42) corners.back().bulge = number(p);
    }
    const double said = value(e, 90, static_cast<double>(corners.size()));
    if (said != static_cast<double>(corners.size()))
      return refuse("dxf.missing", "this LWPOLYLINE says that it has " + format_number(said, 0) + " corners, and has " + std::to_string(corners.size()), e.line);
    const bool closed = close_old_ || (static_cast<int>(value(e, 70)) & 1) != 0;
    Path path;
    path.closed = closed;
    if (!corners.empty()) path.dots.push_back(corners[0].at);
    for (std::size_t i = 0; i + (closed ? 0 : 1) < corners.size() && has_room(path, e); ++i) bulged(path.dots, corners[i].at, corners[(i + 1) % corners.size()].at, corners[i].bulge);
    if (closed && path.dots.size() > 1) path.dots.pop_back();
    if (has_room(path, e)) add(std::move(path));
  }

  /// From a to b with a bulge: the centre lies on the left of the chord for a counter-clockwise arc of less than half a turn.
  void bulged(std::vector<Dot>& dots, const Dot& a, const Dot& b, double bulge) const {
    const double dx = b[0] - a[0], dy = b[1] - a[1], c = std::hypot(dx, dy);
    if (bulge == 0 || c == 0) return dots.push_back(b);
    const double r = c * (1 + bulge * bulge) / (4 * std::fabs(bulge)), sweep = 4 * std::atan(bulge);
    const double up = c * (1 - bulge * bulge) / (4 * bulge);  // from the chord's middle to the centre, to the left
    const double cx = (a[0] + b[0]) / 2 - dy / c * up, cy = (a[1] + b[1]) / 2 + dx / c * up;
    add_arc(dots, cx, cy, r, std::atan2(a[1] - cy, a[0] - cx), sweep, sag());
    dots.back() = b;
  }

  void spline(const Entity& e) {
    const auto degree = static_cast<std::size_t>(std::clamp(value(e, 71, 3), 0.0, 100.0));
    const auto knots = values(e, 40), x = values(e, 10), y = values(e, 20);
    auto w = values(e, 41);
    const std::size_t n = x.size();
    if (w.empty()) w.assign(n, 1);
    if (degree < 1 || degree > 20 || n <= degree || y.size() != n || w.size() != n || knots.size() != n + degree + 1 || !std::is_sorted(knots.begin(), knots.end()) || n > 100000)
      return refuse("dxf.spline", "a spline has " + std::to_string(n) + " control points and " + std::to_string(knots.size()) + " knots, which do not go together at degree " + std::to_string(degree), e.line);
    if (std::any_of(w.begin(), w.end(), [](double v) { return !(v > 0); })) return refuse("dxf.spline", "a spline has a weight that is not above 0", e.line);
    Path path;
    for (std::size_t k = degree; k < n && has_room(path, e); ++k) {
      if (!(knots[k] < knots[k + 1])) continue;
      const int pieces = 64;
      for (int i = path.dots.empty() ? 0 : 1; i <= pieces; ++i) path.dots.push_back(de_boor(degree, knots, x, y, w, k, knots[k] + (knots[k + 1] - knots[k]) * i / pieces));
    }
    if (has_room(path, e)) add(std::move(path));
  }

  static Dot de_boor(std::size_t p, const std::vector<double>& t, const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& w, std::size_t k, double u) {
    std::vector<std::array<double, 3>> d;
    for (std::size_t j = 0; j <= p; ++j) {
      const std::size_t i = k - p + j;
      d.push_back({x[i] * w[i], y[i] * w[i], w[i]});
    }
    for (std::size_t r = 1; r <= p; ++r) {
      for (std::size_t j = p; j >= r; --j) {
        const std::size_t i = k - p + j;
        const double span = t[i + p - r + 1] - t[i], a = span > 0 ? (u - t[i]) / span : 0;
        for (std::size_t c = 0; c < 3; ++c) d[j][c] = (1 - a) * d[j - 1][c] + a * d[j][c];
      }
    }
    return {d[p][0] / d[p][2], d[p][1] / d[p][2]};
  }

  std::string file_;
  std::optional<LengthUnit> asked_;
  std::vector<Pair> pairs_;
  std::optional<Diagnostic> bad_;
  Drawing out_;
  std::size_t dots_ = 0;  // in all paths so far
  Entity old_;
  bool old_closed_ = false, close_old_ = false;
};

}  // namespace

Result<Drawing> read_dxf(std::string_view text, const std::string& file, std::optional<LengthUnit> unit) {
  auto drawing = Reader(text, file, unit).read();
  if (!drawing.ok()) return drawing;
  return in_millimetres(std::move(drawing).value(), unit, file);
}

}  // namespace pommel::exchange
