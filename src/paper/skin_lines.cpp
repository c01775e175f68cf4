#include "paper/skin_lines.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "paper/skin_section.h"
#include "shape/crease.h"

namespace pommel::paper {
namespace {

using shape::kTurn;
using shape::Part;
using shape::RingArc;
using shape::Side;

constexpr int kSteps = 48;           // between two knots: a 60 mm arc of 60 mm radius stays within 0.002 mm of its chords
constexpr int kWaveSteps = 24;       // of each wave of a twist
constexpr double kSamePlace = 1e-6;  // mm
constexpr double kOnEdge = 0.02;     // mm: a line so near to the shadow's edge is that edge
constexpr double kSpeck = 0.3;       // mm: no line is so short
constexpr double kShallow = 0.05;    // mm: a twist less deep shows no hollow
constexpr double kOneLine = 0.3;     // radians that a line may turn from one place to the next
constexpr double kKink = 0.052;      // radians, 3 degrees
constexpr double kBeside = 0.005;    // mm to both sides of a kink

bool same_direction(double a, double b) { return std::fabs(std::remainder(a - b, kTurn)) < 1e-6; }

// What a line or an area is, so that it is found again in the next section.
enum class Trace { crease, turn, fold };
using MakerKey = std::tuple<int, std::size_t, int>;
using Key = std::tuple<Trace, MakerKey, MakerKey>;

MakerKey key_of(const RingArc& arc) { return {static_cast<int>(arc.maker), arc.maker == shape::Maker::round ? 0 : arc.index, arc.reed}; }

struct Feature {
  Key key;
  double theta = 0, t = 0;
  bool seen = false;
};

const RingArc& arc_at(const SkinSection& section, double theta) {
  for (const RingArc& arc : section.arcs()) {
    double from = std::fmod(theta - arc.theta0, kTurn);
    if (from < 0) from += kTurn;
    if (from <= arc.theta1 - arc.theta0) return arc;
  }
  return section.arcs().front();
}

const shape::Ring::Round* twisted(const SkinSection& section) {
  const shape::Ring::Round& round = section.ring().rounds.front();
  return 2 * round.swing > kShallow ? &round : nullptr;
}

// Which of a twist's crests is nearest.
int lobe(const shape::Ring::Round& round, double theta) {
  const int n = static_cast<int>(std::lround((theta - round.psi) * round.starts / kTurn)) % round.starts;
  return n < 0 ? n + round.starts : n;
}

// A section with the lines that pass through it.
class Section {
 public:
  Section(const Part& part, double x, Side side, double phi) : skin(part, x, side, phi) {
    creases(part, phi);
    if (const auto* round = twisted(skin)) turns(*round);
    for (const double theta : skin.folds()) fold(theta);
  }

  const SkinSection skin;
  std::vector<Feature> features;

 private:
  void take(const Key& key, double theta) {
    const double t = skin.t(theta);
    const bool inside = t > skin.low() + kOnEdge && t < skin.high() - kOnEdge;
    features.push_back({key, theta, t, inside && skin.seen(theta)});
  }

  void creases(const Part& part, double phi) {
    const std::vector<RingArc>& arcs = skin.arcs();
    if (arcs.size() < 2) return;
    for (std::size_t i = 0; i < arcs.size(); ++i) {
      const RingArc &a = arcs[i], &b = arcs[(i + 1) % arcs.size()];
      const auto eyes = [&](const RingArc& arc) { return arc.maker == shape::Maker::face && same_direction(part.faces[arc.index].phi, phi); };
      const auto round = [](const RingArc& arc) { return arc.maker == shape::Maker::round; };
      const bool pommel = (eyes(a) && round(b)) || (eyes(b) && round(a));  // traced to a tolerance elsewhere
      if (!pommel) take({Trace::crease, key_of(a), key_of(b)}, b.theta0);
    }
  }

  void turns(const shape::Ring::Round& round) {
    for (int k = 0; k < round.starts; ++k) {
      const double theta = round.psi + (k + 0.5) * kTurn / round.starts;
      if (arc_at(skin, theta).maker == shape::Maker::round) take({Trace::turn, {k, 0, 0}, {}}, theta);
    }
  }

  void fold(double theta) {
    const RingArc& arc = arc_at(skin, theta);
    const auto* round = twisted(skin);
    if (arc.maker == shape::Maker::reed) take({Trace::fold, key_of(arc), {}}, theta);
    else if (arc.maker == shape::Maker::round && round) take({Trace::fold, {lobe(*round, theta), 0, 0}, {}}, theta);
  }
};

const Feature* found(const Section& section, const Feature& like) {
  const Feature* best = nullptr;
  double nearest = kOneLine;
  for (const Feature& other : section.features) {
    if (other.key != like.key) continue;
    const double turn = std::fabs(std::remainder(other.theta - like.theta, kTurn));
    if (turn < nearest) {
      nearest = turn;
      best = &other;
    }
  }
  return best;
}

class Tracer {
 public:
  Tracer(const Part& part, double phi, LegView& view) : part_(part), phi_(phi), view_(view) {}

  void lines(const Section& at) {
    std::vector<Open> now;
    for (const Feature& feature : at.features) {
      Open line{feature, {}};
      if (Open* before = taken_up(at, feature)) line.points = std::move(before->points);
      if (feature.seen) line.points.push_back({at.skin.x(), feature.t});
      else finish(line);
      now.push_back(std::move(line));
    }
    for (Open& left : open_) finish(left);
    open_ = std::move(now);
    last_x_ = at.skin.x();
  }
  void finish() {
    for (Open& line : open_) finish(line);
    open_.clear();
  }

 private:
  struct Open {
    Feature last;
    Line points;
  };

  // The line that comes to this feature; where it is seen at one end only, it is followed to where it goes out of sight.
  Open* taken_up(const Section& at, const Feature& feature) {
    for (Open& line : open_) {
      if (line.last.key != feature.key || found(at, line.last) != &feature) continue;
      const bool jumps = at.skin.x() - last_x_ < kSamePlace && std::fabs(line.last.t - feature.t) > 1e-3;
      if (jumps) return nullptr;
      if (line.last.seen != feature.seen && at.skin.x() - last_x_ > kSamePlace) to_the_end_of_sight(line, at.skin.x());
      return &line;
    }
    return nullptr;
  }

  void to_the_end_of_sight(Open& line, double x) {
    double seen_x = line.last.seen ? last_x_ : x, hidden_x = line.last.seen ? x : last_x_;
    Feature near = line.last;
    std::optional<Point> end;
    for (int i = 0; i < 7; ++i) {
      const double middle = (seen_x + hidden_x) / 2;
      const Section section(part_, middle, Side::after, phi_);
      const Feature* here = found(section, near);
      if (!here) break;
      near = *here;
      (here->seen ? seen_x : hidden_x) = middle;
      if (here->seen) end = Point{middle, here->t};
    }
    if (end) line.points.push_back(*end);
  }

  void finish(Open& line) {
    const bool long_enough = line.points.size() > 1 && std::hypot(line.points.back().x - line.points.front().x, line.points.back().t - line.points.front().t) > kSpeck;
    if (long_enough) (std::get<Trace>(line.last.key) == Trace::turn ? view_.turns : view_.arrises).push_back(line.points);
    line.points.clear();
  }

  const Part& part_;
  const double phi_;
  LegView& view_;
  std::vector<Open> open_;
  double last_x_ = -1;
};

// Areas of one kind, followed from section to section: flutes and hollows of a twist, facets that look aslant.
class Areas {
 public:
  Areas(const Part& part, double phi, LegView& view) : part_(part), phi_(phi), view_(view) {}

  void sections(const Section& at) {
    std::map<MakerKey, Seen> now;
    for (const RingArc& arc : at.skin.arcs()) {
      const bool facet = arc.maker == shape::Maker::face && !same_direction(part_.faces[arc.index].phi, phi_);
      if (arc.maker == shape::Maker::flute || facet) look(at, key_of(arc), arc.theta0, arc.theta1, facet ? std::remainder(part_.faces[arc.index].phi - phi_, kTurn) : 0, now);
    }
    if (const auto* round = twisted(at.skin))
      for (int k = 0; k < round->starts; ++k) {
        const double middle = round->psi + (k + 0.5) * kTurn / round->starts, half = kTurn / round->starts / 4 * faded(at.skin.x());
        if (arc_at(at.skin, middle).maker == shape::Maker::round) look(at, {-1, static_cast<std::size_t>(k), 0}, middle - half, middle + half, 0, now);
      }
    go_on(at.skin.x(), now);
  }
  void finish() {
    for (auto& [key, area] : open_) finish(area);
    open_.clear();
  }

 private:
  // What is seen of one area in a section. A facet with a flute in it is two arcs and one area, over which the flute is painted.
  struct Seen {
    double slant = 0, t0 = 0, t1 = 0;
  };
  struct Area {
    double slant = 0;
    Line low, high;
  };

  static void look(const Section& at, const MakerKey& key, double theta0, double theta1, double slant, std::map<MakerKey, Seen>& now) {
    const auto spans = at.skin.seen_between(theta0, theta1);
    if (spans.empty()) return;
    Seen& seen = now.try_emplace(key, Seen{slant, spans.front().t0, spans.back().t1}).first->second;
    seen.t0 = std::min(seen.t0, spans.front().t0);
    seen.t1 = std::max(seen.t1, spans.back().t1);
  }

  void go_on(double x, const std::map<MakerKey, Seen>& now) {
    std::map<MakerKey, Area> going;
    for (const auto& [key, seen] : now) {
      Area area{seen.slant, {}, {}};
      const auto before = open_.find(key);
      // a hollow may go round behind and come back as another
      const bool same = before != open_.end() && seen.t0 <= before->second.high.back().t + 1 && seen.t1 >= before->second.low.back().t - 1;
      if (same) area = std::move(open_.extract(before).mapped());
      area.low.push_back({x, seen.t0});
      area.high.push_back({x, seen.t1});
      going.emplace(key, std::move(area));
    }
    finish();
    open_ = std::move(going);
  }

  void finish(Area& area) {
    double widest = 0;
    for (std::size_t i = 0; i < area.low.size(); ++i) widest = std::max(widest, area.high[i].t - area.low[i].t);
    if (area.low.size() < 2 || widest < kOnEdge) return;
    Line closed = std::move(area.low);
    closed.insert(closed.end(), area.high.rbegin(), area.high.rend());
    if (area.slant != 0) view_.facets.push_back({std::move(closed), area.slant});
    else view_.hollows.push_back(std::move(closed));
  }

  // A hollow begins as narrow as it is shallow.
  double faded(double x) const {
    for (const shape::Twist& twist : part_.twists)
      if (twist.x0 < x && x < twist.x1) return shape::fade_at(twist, x);
    return 1;
  }

  const Part& part_;
  double phi_;
  LegView& view_;
  std::map<MakerKey, Area> open_;
};

// The skin beside a knot, for its slopes along x.
struct Beside {
  shape::Ring near, far;
  double sign;

  double slope(double theta) const { return std::atan(sign * (far.radius(theta) - near.radius(theta)) / kBeside); }
};

std::vector<double> all_edges(const SkinSection& a, const SkinSection& b) {
  std::vector<double> at;
  for (const SkinSection* section : {&a, &b})
    for (const RingArc& arc : section->arcs()) at.push_back(std::fmod(arc.theta0 + kTurn, kTurn));
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end(), [](double p, double q) { return q - p < 1e-9; }), at.end());
  at.push_back(at.front() + kTurn);
  return at;
}

}  // namespace

bool has_grooves(const Part& part) { return !part.flutes.empty() || !part.reedings.empty() || !part.twists.empty(); }

bool needs_tracing(const Part& part, double phi) {
  if (has_grooves(part)) return true;
  return std::any_of(part.faces.begin(), part.faces.end(), [&](const shape::Face& face) { return std::fabs(std::remainder(face.phi - phi, shape::kQuarterTurn)) > 1e-6; });
}

std::vector<std::vector<double>> spans_of(const Part& part) {
  std::vector<std::vector<double>> out;
  const std::vector<double> knots = shape::knots(part);
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    std::vector<double> bounds = shape::crossings(part, knots[i], knots[i + 1]);
    bounds.insert(bounds.begin(), knots[i]);
    bounds.push_back(knots[i + 1]);
    for (std::size_t k = 0; k + 1 < bounds.size(); ++k) {
      const double a = bounds[k], b = bounds[k + 1];
      int steps = kSteps;
      for (const shape::Twist& twist : part.twists)
        if (a < twist.x1 && b > twist.x0) steps = std::max(steps, static_cast<int>(std::ceil((b - a) * kWaveSteps * twist.starts / std::fabs(twist.pitch) * 1.6)));
      std::vector<double> span;
      for (int step = 0; step <= steps; ++step) span.push_back(step == steps ? b : a + (b - a) * (1 - std::cos(std::numbers::pi * step / steps)) / 2);
      out.push_back(std::move(span));
    }
  }
  return out;
}

void add_traced(const Part& part, double phi, LegView& view) {
  Tracer tracer(part, phi, view);
  Areas areas(part, phi, view);
  for (const std::vector<double>& span : spans_of(part))
    for (const double x : span) {
      const Section section(part, x, x >= span.back() ? Side::before : Side::after, phi);
      tracer.lines(section);
      areas.sections(section);
    }
  tracer.finish();
  areas.finish();
}

void add_across(const Part& part, double phi, double x, LegView& view) {
  const SkinSection before(part, x, Side::before, phi), after(part, x, Side::after, phi);
  const Beside head{before.ring(), shape::ring_at(part, x - kBeside, Side::after), -1}, foot{after.ring(), shape::ring_at(part, x + kBeside, Side::before), 1};
  std::vector<SkinSection::Span> seen;
  const std::vector<double> edges = all_edges(before, after);
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    const double theta = edges[i] + (edges[i + 1] - edges[i]) * 0.382;
    const bool wall = std::fabs(before.ring().radius(theta) - after.ring().radius(theta)) > kSamePlace;
    if (!wall && std::fabs(head.slope(theta) - foot.slope(theta)) < kKink) continue;
    for (const SkinSection* section : {&before, &after})
      for (const SkinSection::Span& span : section->seen_between(edges[i], edges[i + 1])) seen.push_back(span);
  }
  std::sort(seen.begin(), seen.end(), [](const auto& a, const auto& b) { return a.t0 < b.t0; });
  std::vector<SkinSection::Span> joined;
  for (const SkinSection::Span& span : seen) {
    if (!joined.empty() && span.t0 < joined.back().t1 + kOnEdge) joined.back().t1 = std::max(joined.back().t1, span.t1);
    else joined.push_back(span);
  }
  for (const SkinSection::Span& span : joined)
    if (span.t1 - span.t0 > kOnEdge) view.rings.push_back({{x, span.t0}, {x, span.t1}});
}

}  // namespace pommel::paper
