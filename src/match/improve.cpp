#include "match/improve.h"

#include <algorithm>
#include <cmath>

namespace pommel::match {
namespace {

constexpr int kPasses = 4;
constexpr double kBetter = 0.5;  // a change must gain more than this: differences below are rounding of two local fits
constexpr int kLocalRounds = 15;
constexpr double kOddStep = 8;  // as segment.cpp
constexpr double kFromAfar = 100 * kOutlier;  // ends that were fitted apart pull each other this far off at first

double odd_price(const Run& run, const Chain& chain, const Prices& prices) {
  double sum = 0;
  const auto odd = [&](bool square, const Stroke& s, double radius) {
    if (square && s.figure != Figure::level && radius <= 0) sum += kOddStep + prices.number;
  };
  odd(run.square_before && chain.first.front() == 0, chain.strokes.front(), chain.start_radius);
  odd(run.square_after && chain.first.back() == run.samples.size(), chain.strokes.back(), chain.end_radius);
  return sum;
}

double total_of(const Run& run, const Chain& chain, const ChainFit& f, const Prices& prices) {
  if (!f.drawn) return 1e30;
  double elements = 0;
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    const Stroke& s = chain.strokes[k];
    const bool known = (k == 0 && chain.start_radius > 0) || (k + 1 == chain.strokes.size() && chain.end_radius > 0);
    elements += price_of(prices, s.figure) + price_of_want(freedoms(s) - (known ? 1 : 0) + (is_arc(s.figure) ? 1 : 0), chain.first[k + 1] - chain.first[k]) +
                run.price_of_going_over(chain.first[k], chain.first[k + 1] - 1) +
                run.price_of_figure(chain.first[k], chain.first[k + 1] - 1, s.figure) + (k > 0 ? run.price_of_cut(chain.first[k]) : 0);
  }
  return f.cost + prices.number * freedoms(chain) + elements + odd_price(run, chain, prices);
}

/// Strokes a to b of a chain, its outer joints held where they stand.
Chain stretch(const Chain& chain, std::size_t a, std::size_t b) {
  Chain part;
  part.strokes.assign(chain.strokes.begin() + static_cast<std::ptrdiff_t>(a), chain.strokes.begin() + static_cast<std::ptrdiff_t>(b) + 1);
  part.first.assign(chain.first.begin() + static_cast<std::ptrdiff_t>(a), chain.first.begin() + static_cast<std::ptrdiff_t>(b) + 2);
  part.joints.assign(chain.joints.begin() + static_cast<std::ptrdiff_t>(a), chain.joints.begin() + static_cast<std::ptrdiff_t>(b) + 2);
  if (a > 0) part.joints.front() = {part.strokes.front().x0, part.strokes.front().x0, false};
  if (b + 1 < chain.strokes.size()) part.joints.back() = {part.strokes.back().x1, part.strokes.back().x1, false};
  if (a == 0) part.start_radius = chain.start_radius;
  if (b + 1 == chain.strokes.size()) part.end_radius = chain.end_radius;
  for (const auto& [which, value] : chain.held) {
    const auto k = static_cast<std::size_t>(which / 64);
    if (k >= a && k <= b) part.held.emplace_back(which - 64 * static_cast<int>(a), value);
  }
  return part;
}

/// Puts a stretch in the place of strokes a to b.
Chain replaced(const Chain& chain, std::size_t a, std::size_t b, const Chain& part) {
  Chain out = chain;
  const auto cut_out = [&](auto& into, const auto& from, std::size_t first, std::size_t last) {
    into.erase(into.begin() + static_cast<std::ptrdiff_t>(first), into.begin() + static_cast<std::ptrdiff_t>(last));
    into.insert(into.begin() + static_cast<std::ptrdiff_t>(first), from.begin(), from.end());
  };
  cut_out(out.strokes, part.strokes, a, b + 1);
  const std::vector<std::size_t> inner_first(part.first.begin() + 1, part.first.end() - 1);
  cut_out(out.first, inner_first, a + 1, b + 1);
  const std::vector<Joint> inner_joints(part.joints.begin() + 1, part.joints.end() - 1);
  cut_out(out.joints, inner_joints, a + 1, b + 1);
  if (a == 0) out.start_radius = part.start_radius;
  if (b + 1 == chain.strokes.size()) out.end_radius = part.end_radius;
  return out;
}

class Improver {
 public:
  Improver(const Run& run, Cut cut, const Prices& prices) : run_(run), cut_(std::move(cut)), prices_(prices) {}

  Cut run() {
    for (int pass = 0; pass < kPasses; ++pass) {
      const double before = cut_.total;
      for (std::size_t k = 0; k < cut_.chain.strokes.size(); ++k) stations(k);
      for (std::size_t k = 0; k + 1 < cut_.chain.strokes.size(); ++k) merge(k);
      for (std::size_t k = 0; k < cut_.chain.strokes.size(); ++k) other_figure(k), alike(k);
      for (std::size_t k = 1; k < cut_.chain.strokes.size(); ++k) {
        for (int by : {1, 2, 4}) shift(k, by), shift(k, -by);
      }
      for (std::size_t k = 1; k < cut_.chain.strokes.size(); ++k) step(k);
      if (before - cut_.total < kBetter) break;
    }
    return std::move(cut_);
  }

 private:
  const Chain& chain() const { return cut_.chain; }
  std::size_t last() const { return cut_.chain.strokes.size() - 1; }

  double local_total(Chain& part, int rounds = kLocalRounds) const {
    const std::size_t from = part.first.front(), to = part.first.back();
    Chain shifted = part;
    for (std::size_t& f : shifted.first) f -= from;
    const ChainFit f = fit(shifted, std::span(run_.samples).subspan(from, to - from), rounds);
    part.strokes = shifted.strokes;
    return total_of(run_, part, f, prices_);
  }

  /// Takes the part if it is better there and then also in the whole.
  bool take(std::size_t a, std::size_t b, Chain part) {
    if (run_.stop.stop_requested()) return false;
    Chain now = stretch(chain(), a, b);
    const double before = local_total(now, 4), after = local_total(part);
    if (after > before - kBetter) return false;
    Cut whole = settled(run_, replaced(chain(), a, b, part), prices_, kLocalRounds);
    if (whole.total > cut_.total - kBetter) return false;
    cut_ = std::move(whole);
    return true;
  }

  /// Lays a candidate between its neighbours: which of its joints are steps.
  void lay(Chain& part, std::size_t k, const Candidate& c) const {
    part.strokes[k] = c.stroke;
    const auto apart = [&](double r0, double r1) { return std::fabs(r0 - r1) > 4 * run_.samples[part.first[k]].sr; };
    if (k > 0) part.joints[k].step = apart(part.strokes[k - 1].r1, c.stroke.r0);
    if (k + 1 < part.strokes.size()) part.joints[k + 1].step = apart(c.stroke.r1, part.strokes[k + 1].r0);
    if (part.first[k] == 0) part.start_radius = c.pommel_start ? run_.corner : 0;
    if (part.first[k + 1] == run_.samples.size()) part.end_radius = c.pommel_end ? run_.corner : 0;
  }

  std::size_t before(std::size_t k) const { return k > 0 ? k - 1 : 0; }
  std::size_t after(std::size_t k) const { return std::min(k + 1, last()); }

  void other_figure(std::size_t k) {
    for (int f = 0; f < kFigures; ++f) {
      if (static_cast<Figure>(f) == chain().strokes[k].figure && f != static_cast<int>(Figure::level)) continue;
      for (const Candidate& c : candidates_of(run_, chain().first[k], chain().first[k + 1] - 1, prices_, static_cast<Figure>(f))) {
        if (c.stroke.figure == chain().strokes[k].figure) continue;
        Chain part = stretch(chain(), before(k), after(k));
        lay(part, k - before(k), c);
        if (take(before(k), after(k), std::move(part))) return;
      }
    }
  }

  /// Ends that could be one number.
  void alike(std::size_t k) {
    const Stroke& s = chain().strokes[k];
    const bool one_arc = s.figure == Figure::scotia || s.figure == Figure::vee;
    if (s.alike || (!may_be_alike(s.figure) && !one_arc)) return;
    for (Figure f : {s.figure, Figure::arc_hollow}) {
      if (!may_be_alike(f) || (f != s.figure && !one_arc)) continue;
      Chain part = stretch(chain(), before(k), after(k));
      Stroke& mine = part.strokes[k - before(k)];
      mine.figure = f;
      mine.alike = true;
      mine.r0 = mine.r1 = (s.r0 + s.r1) / 2;
      if (take(before(k), after(k), std::move(part))) return;
    }
  }

  void merge(std::size_t k) {
    const std::size_t from = chain().first[k], to = chain().first[k + 2] - 1;
    const std::size_t a = before(k), b = after(k + 1);
    for (const Candidate& c : candidates(run_, from, to, prices_)) {
      Chain part = stretch(chain(), a, b);
      const auto at = static_cast<std::ptrdiff_t>(k - a);
      part.strokes.erase(part.strokes.begin() + at);
      part.first.erase(part.first.begin() + at + 1);
      part.joints.erase(part.joints.begin() + at + 1);
      lay(part, k - a, c);
      if (take(a, b, std::move(part))) return;
    }
  }

  /// Gives readings at the joint before stroke k to the other side.
  void shift(std::size_t k, int by) {
    const auto left = static_cast<int>(chain().first[k] - chain().first[k - 1]), right = static_cast<int>(chain().first[k + 1] - chain().first[k]);
    if (left + by < 1 || right - by < 1) return;
    Chain part = stretch(chain(), k - 1, k);
    part.first[1] = static_cast<std::size_t>(static_cast<int>(part.first[1]) + by);
    const bool was = part.joints[1].step;
    part.joints[1] = run_.gap(part.first[1]);
    part.joints[1].step = was;
    part.strokes[0].x1 = part.strokes[1].x0 = std::clamp(part.strokes[0].x1, part.joints[1].least, part.joints[1].most);
    take(k - 1, k, std::move(part));
  }

  void step(std::size_t k) {
    const double jump = std::fabs(chain().strokes[k - 1].r1 - chain().strokes[k].r0);
    if (chain().joints[k].step && jump > 12 * run_.samples[chain().first[k]].sr) return;
    Chain part = stretch(chain(), k - 1, k);
    part.joints[1].step = !part.joints[1].step;
    if (!part.joints[1].step) part.strokes[1].r0 = part.strokes[0].r1 = (part.strokes[1].r0 + part.strokes[0].r1) / 2;
    take(k - 1, k, std::move(part));
  }

  void stations(std::size_t k) {
    if (chain().strokes[k].figure != Figure::vase) return;
    const Stroke was = chain().strokes[k];
    shape::Pieces pieces;
    if (!draw(was, pieces)) return;
    const auto attempt = [&](int count, bool level_start, bool level_end) {
      Chain part = stretch(chain(), k, k);
      Stroke& s = part.strokes[0];
      s.stations.clear();
      for (int i = 1; i <= count; ++i) {
        const double at = static_cast<double>(i) / (count + 1);
        s.stations.push_back({at, radius_of(pieces, was.x0 + at * was.length())});
      }
      s.level_start = level_start, s.level_end = level_end;
      take(k, k, std::move(part));
    };
    for (int count = 1; count <= std::min<int>(static_cast<int>(was.stations.size()) + 1, 5); ++count) attempt(count, was.level_start, was.level_end);
    const int count = static_cast<int>(chain().strokes[k].stations.size());
    attempt(count, true, was.level_end);
    attempt(count, was.level_start, true);
  }

  const Run& run_;
  Cut cut_;
  Prices prices_;
};

}  // namespace

namespace {

/// Neighbours that were fitted apart share their ends now, and an arc near to a half-round may overhang by that: it is made flatter until it can be drawn.
void mend(Chain& chain) {
  shape::Pieces pieces;
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    Stroke& s = chain.strokes[k];
    if (k > 0) s.x0 = chain.strokes[k - 1].x1;
    if (k > 0 && !chain.joints[k].step) s.r0 = chain.strokes[k - 1].r1;
    if (ends_alike(s)) s.r1 = s.r0;
    for (int i = 0; i < 30 && has_extreme(s.figure) && !draw(s, pieces); ++i) {
      const double end = s.figure == Figure::arc_bulge ? std::max(s.r0, s.r1) : std::min(s.r0, s.r1), beyond = s.extreme - end;
      s.extreme = end + (s.figure == Figure::arc_bulge ? std::max(0.9 * beyond, 0.01) : std::min(0.9 * beyond, -0.01));
    }
  }
}

}  // namespace

Cut settled(const Run& run, Chain chain, const Prices& prices, int rounds) {
  Cut out;
  out.total = 1e30;
  if (run.stop.stop_requested()) return out;
  mend(chain);
  fit(chain, run.samples, 6, nullptr, kFromAfar);
  const ChainFit f = fit(chain, run.samples, rounds);
  out.cost = f.cost;
  out.outliers = f.outliers;
  out.total = total_of(run, chain, f, prices);
  out.chain = std::move(chain);
  return out;
}

Cut improved(const Run& run, Cut cut, const Prices& prices) { return Improver(run, std::move(cut), prices).run(); }

}  // namespace pommel::match
