#include "match/cut.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "match/improve.h"

namespace pommel::match {
namespace {

constexpr double kHopeless = 40;  // a stretch whose every figure costs so much beyond its readings will not be longer
constexpr std::size_t kTooFew = 7;  // gaps: a vase needs more readings before it can be tried
constexpr double kAsExpected = 1.3;  // squared deviations a reading: more says that some element was bent to a wrong reading
constexpr int kManyNumbers = 3;      // of an element: arcs with a crest of their own, scotia, vee, vase
constexpr int kHardlySeen = 2;       // readings more than its numbers
constexpr std::size_t kBeside = 2;  // elements beside a doubtful one that are cut again with it
constexpr int kPatience = 3;       // stretches in a row without hope: one of them may end on a wrong reading

/// A candidate as the last of a way from the beginning.
struct Node {
  Candidate candidate;
  std::size_t first = 0;
  double total = 0;
  const Node* before = nullptr;
  bool step = false;  ///< where it begins
};

struct Meeting {
  double price = 0;
  bool step = false;
};

// Whether the end of a figure can be moved along its curve and leave the figure what it is.
bool goes_on(Figure f) {
  return f == Figure::level || f == Figure::slope || f == Figure::arc_bulge || f == Figure::arc_hollow || f == Figure::ball || f == Figure::vase;
}

// How far apart in radius neighbours fitted by themselves are where they meet: 0 where curves that go on cross in the gap. A figure whose end is where
// its curve ends (a half-round at its plumb tangent) is met there.
double apart(const Candidate& a, const Candidate& b, const Joint& gap) {
  const bool a_on = goes_on(a.stroke.figure), b_on = goes_on(b.stroke.figure);
  if (!a_on && !b_on) return std::fabs(a.stroke.r1 - b.stroke.r0);
  if (!a_on) return std::fabs(a.stroke.r1 - radius_of(b.pieces, a.stroke.x1));
  if (!b_on) return std::fabs(radius_of(a.pieces, b.stroke.x0) - b.stroke.r0);
  double nearest = std::numeric_limits<double>::max(), low = nearest, high = -nearest;
  for (double x : {gap.least, (gap.least + gap.most) / 2, gap.most}) {
    const double d = radius_of(a.pieces, x) - radius_of(b.pieces, x);
    low = std::min(low, d), high = std::max(high, d);
    nearest = std::min(nearest, std::fabs(d));
  }
  return low <= 0 && high >= 0 ? 0 : nearest;
}

// Drawn together at a price, or left at a step at another.
Meeting meeting(const Candidate& a, const Candidate& b, const Joint& gap, double sr, const Prices& prices) {
  const double e = apart(a, b, gap) / (2 * sr), drawn_together = e * e;
  return drawn_together <= prices.number ? Meeting{drawn_together, false} : Meeting{prices.number, true};
}

class Cutter {
 public:
  /// `known`: by last sample, what a way to there need not cost more than; empty: nothing is known.
  Cutter(const Run& run, const Prices& prices, std::vector<double> known) : run_(run), prices_(prices), known_(std::move(known)), ends_(run.samples.size()) {
    known_.resize(run.samples.size(), 1e30);
  }

  /// The cheapest ways to the end, best first.
  std::vector<Chain> best() {
    const std::size_t n = run_.samples.size();
    for (std::size_t j = 1; j < n && !run_.stop.stop_requested(); ++j) {
      if (tried(j + 1)) to(j);
    }
    std::vector<Chain> ways;
    for (const Node& node : ends_[n - 1]) {
      if (ways.size() < kWays) ways.push_back(chain_to(node));
    }
    return ways;
  }

  /// By last sample, what the cheapest way to there costs.
  std::vector<double> costs() const {
    std::vector<double> out;
    for (std::size_t j = 0; j < ends_.size(); ++j) out.push_back(least_to(j));
    return out;
  }

 private:
  bool tried(std::size_t gap) const { return run_.tried.empty() || run_.tried[gap] || (!run_.edges.empty() && run_.edges[gap]); }

  // Short stretches first: what they cost bounds the longer ones that end at the same reading.
  void to(std::size_t j) {
    int without_hope = 0;
    Bounds bounds;
    for (std::size_t i = j; i-- > 0 && without_hope < kPatience && !run_.stop.stop_requested();) {
      if (!tried(i) || (i > 0 && ends_[i - 1].empty())) continue;
      const double before = i == 0 ? 0 : ends_[i - 1].front().total;
      bounds.limit = least_to(j) + prices_.number - before;
      for (Candidate& c : candidates(run_, i, j, prices_, bounds)) add(i, j, std::move(c));
      without_hope = j - i >= kTooFew && least_of_any(run_, i, j) > kHopeless + static_cast<double>(j - i) ? without_hope + 1 : 0;
    }
  }

  double least_to(std::size_t j) const { return ends_[j].empty() ? known_[j] : std::min(known_[j], ends_[j].front().total); }

  void add(std::size_t i, std::size_t j, Candidate c) {
    Node node{std::move(c), i, 0, nullptr, false};
    if (i == 0) {
      node.total = node.candidate.total;
    } else {
      const double cut_price = run_.price_of_cut(i);
      node.total = 1e30;
      for (const Node& before : ends_[i - 1]) {
        if (before.total > ends_[i - 1].front().total + prices_.number) break;
        const Meeting met = meeting(before.candidate, node.candidate, run_.gap(i), run_.samples[i].sr, prices_);
        const double total = before.total + met.price + cut_price + node.candidate.total;
        if (total < node.total) node.total = total, node.before = &before, node.step = met.step;
      }
    }
    auto& all = ends_[j];
    // later stretches that end here begin later: pointers into ends_[i - 1] with i - 1 < j stay good only while ends_[j] may still grow
    const auto place = std::upper_bound(all.begin(), all.end(), node.total, [](double t, const Node& other) { return t < other.total; });
    if (all.size() >= kKept && place == all.end()) return;
    all.insert(place, std::move(node));
    if (all.size() > kKept) all.pop_back();
  }

  Chain chain_to(const Node& last) const {
    std::vector<const Node*> way;
    for (const Node* node = &last; node; node = node->before) way.push_back(node);
    std::reverse(way.begin(), way.end());
    Chain chain;
    chain.joints.push_back(run_.gap(0));
    for (const Node* node : way) {
      chain.strokes.push_back(node->candidate.stroke);
      chain.first.push_back(node->first);
      if (node->first > 0) {
        chain.joints.push_back(run_.gap(node->first));
        chain.joints.back().step = node->step;
      }
    }
    chain.first.push_back(run_.samples.size());
    chain.joints.push_back(run_.gap(run_.samples.size()));
    if (way.front()->candidate.pommel_start) chain.start_radius = run_.corner;
    if (way.back()->candidate.pommel_end) chain.end_radius = run_.corner;
    return chain;
  }

  static constexpr std::size_t kKept = 24, kWays = 3;

  const Run& run_;
  Prices prices_;
  std::vector<double> known_;
  std::vector<std::vector<Node>> ends_;  // by last sample; complete before any later stretch looks at it
};

}  // namespace

namespace {

/// `known`: as Cutter takes it; replaced by what is known then.
Cut cut_once(const Run& run, const Prices& prices, std::vector<double>& known) {
  Cut best;
  best.total = 1e30;
  Cutter cutter(run, prices, known);
  std::vector<Chain> ways = cutter.best();
  known = cutter.costs();
  for (Chain& chain : ways) {
    Cut next = settled(run, std::move(chain), prices);
    if (next.total < best.total) best = std::move(next);
  }
  return best.chain.strokes.empty() ? best : improved(run, std::move(best), prices);
}

/// Whether an element has a reading that is believed wrong, or lies worse than chance explains (three standard deviations of its sum of squares), or has so
/// many numbers for its readings that it can be bent to a wrong one and show nothing.
bool doubtful(const Run& run, const Chain& chain, std::size_t k) {
  shape::Pieces pieces;
  if (!draw(chain.strokes[k], pieces)) return true;
  double sum = 0;
  for (std::size_t i = chain.first[k]; i < chain.first[k + 1]; ++i) {
    const double e2 = std::pow(deviation(pieces, run.samples[i]), 2);
    if (e2 > kOutlier) return true;
    sum += e2;
  }
  const double n = static_cast<double>(chain.first[k + 1] - chain.first[k]);
  const Stroke& s = chain.strokes[k];
  return sum > n + 3 * std::sqrt(2 * n) || (freedoms(s) >= kManyNumbers && n < freedoms(s) + kHardlySeen);
}

bool none_doubtful(const Run& run, const Cut& found) {
  if (found.cost >= kAsExpected * static_cast<double>(run.samples.size())) return false;
  for (std::size_t k = 0; k < found.chain.strokes.size(); ++k) {
    if (doubtful(run, found.chain, k)) return false;
  }
  return true;
}

/// The gaps to cut at the second time: all that were tried in doubtful elements and kBeside on either side; elsewhere those of the first cut.
std::vector<char> where_in_doubt(const Run& run, const Chain& chain) {
  const std::size_t n = run.samples.size(), last = chain.strokes.size() - 1;
  std::vector<char> out(n + 1, 0);
  for (std::size_t i : chain.first) out[i] = 1;
  for (std::size_t k = 0; k <= last; ++k) {
    if (!doubtful(run, chain, k)) continue;
    const std::size_t from = chain.first[k > kBeside ? k - kBeside : 0], to = chain.first[std::min(k + kBeside, last) + 1];
    for (std::size_t i = from; i <= to; ++i) out[i] = out[i] || run.tried.empty() || run.tried[i];
  }
  return out;
}

}  // namespace

Cut cut(const Run& run, const Prices& prices) {
  std::vector<double> known;
  Cut first = cut_once(run, prices, known);
  if (run.stop.stop_requested() || first.chain.strokes.empty()) return first;
  if (run.careful || none_doubtful(run, first)) return first;
  Run again = run;
  again.careful = true;
  again.tried = where_in_doubt(run, first.chain);
  for (double& k : known) k += prices.number;  // the second tries other gaps
  Cut second = cut_once(again, prices, known);
  return second.total < first.total ? second : first;
}

}  // namespace pommel::match
