#include "match/recognise.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "match/report.h"
#include "match/tidy.h"

namespace pommel::match {
namespace {

constexpr double kSamePlace = 0.02;  // mm: readings nearer are repeats
constexpr double kOval = 0.04;       // of the diameter: repeats that differ by more are not an oval but a wrong reading
constexpr double kLeastStretch = 0.05;  // mm

std::string mm(double v) { return format_number(v, 2) + " mm"; }

unsigned figures_called(shape::ElementKind kind) {
  using K = shape::ElementKind;
  const auto bit = [](Figure f) { return 1u << static_cast<int>(f); };
  switch (kind) {
    case K::square: return 0;
    case K::fillet:
    case K::cylinder:
    case K::pin: return bit(Figure::level);
    case K::taper: return bit(Figure::slope);
    case K::bead:
    case K::torus:
    case K::entasis: return bit(Figure::half_bulge) | bit(Figure::arc_bulge) | bit(Figure::quarter_bulge);
    case K::cove: return bit(Figure::half_hollow) | bit(Figure::arc_hollow) | bit(Figure::quarter_hollow);
    case K::ovolo: return bit(Figure::quarter_bulge);
    case K::scotia: return bit(Figure::scotia);
    case K::cyma_recta: return bit(Figure::cyma_recta);
    case K::cyma_reversa: return bit(Figure::cyma_reversa);
    case K::vase: return bit(Figure::vase);
    case K::ball: return bit(Figure::ball);
    case K::vee: return bit(Figure::vee);
    case K::pommel: return bit(Figure::level) | bit(Figure::slope) | bit(Figure::quarter_bulge) | bit(Figure::cyma_reversa);
  }
  return ~0u;
}

class Recogniser {
 public:
  Recogniser(const std::vector<Measure>& measures, const Wishes& wishes, const Options& options, std::stop_token stop)
      : measures_(measures), wishes_(wishes), options_(options), stop_(std::move(stop)) {}

  Result<Recognition> run() {
    find_ends();
    find_square();
    lay_squares();
    if (!found_.empty()) return Failure(std::move(found_));
    make_runs();
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      if (runs_[i].samples.size() < 2) {
        report("match.few", "between " + mm(runs_[i].x0) + " and " + mm(runs_[i].x1) + " there are " +
               std::to_string(runs_[i].samples.size()) + " readings", "take at least two in every turned stretch");
      }
    }
    if (!found_.empty()) return Failure(std::move(found_));
    std::size_t readings = 0;
    for (const Run& r : runs_) readings += r.samples.size();
    const Prices prices = prices_for(readings);
    for (Run& r : runs_) {
      r.mark();
      wish(r);
      Cut c = cut(r, prices);
      if (stop_.stop_requested()) return fail("cancelled", "stopped before all elements were found");
      if (c.total >= kForbidden) {
        report("match.wish", "between " + mm(r.x0) + " and " + mm(r.x1) + " nothing can be drawn that is as the notes ask",
               "see whether an edge stands inside an element that was named, or take more readings there");
        continue;
      }
      if (options_.tidy) tidy(c.chain, r, options_.step);
      cuts_.push_back(std::move(c));
    }
    if (!found_.empty()) return Failure(std::move(found_));
    return told(measures_, {head_, foot_, square_, squares_, runs_, cuts_, prices});
  }

 private:
  void report(std::string id, std::string message, std::string remedy, Place place = {}) {
    found_.push_back(fail(std::move(id), std::move(message), std::move(remedy), std::move(place)).reasons.front());
  }

  void find_ends() {
    double low = 1e30, high = -1e30;
    const auto reach = [&](double x) { low = std::min(low, x), high = std::max(high, x); };
    for (const Measure& m : measures_) reach(m.x);
    for (const Between& s : wishes_.squares) {
      if (s.from_known) reach(s.from);
      if (s.to_known) reach(s.to);
    }
    for (double x : wishes_.edges) reach(x);
    head_ = wishes_.head.value_or(low);
    foot_ = wishes_.foot.value_or(high);
    if (!(foot_ - head_ > kLeastStretch))
      return report("match.ends", "the piece is no longer than " + mm(std::max(0.0, foot_ - head_)), "take readings from head to foot");
    for (const Measure& m : measures_) {
      const double past = std::max(head_ - m.x, m.x - foot_);
      if (past > 4 * m.sd_x + kSamePlace) {
        report("match.ends", "a reading at " + mm(m.x) + " stands past the end of the piece, from " + mm(head_) + " to " + mm(foot_),
               "mend its place, or where head and foot are", m.place);
      }
    }
  }

  void find_square() {
    std::vector<double> flats;
    for (const Measure& m : measures_) {
      if (m.of == Measure::Of::flats) flats.push_back(m.diameter);
    }
    std::sort(flats.begin(), flats.end());
    if (wishes_.square) square_ = *wishes_.square;
    else if (!flats.empty()) square_ = (flats[(flats.size() - 1) / 2] + flats[flats.size() / 2]) / 2;
    if (!wishes_.squares.empty() && !(square_ > 0))
      report("match.square", "there is a square stretch, and nobody says how wide it is", "give --square, or a reading across the flats with the note 'square'");
  }

  void lay_squares() {
    double at = head_;
    for (const Between& s : wishes_.squares) {
      const Between whole{s.from_known ? s.from : head_, s.to_known ? s.to : foot_, true, true};
      if (whole.from < at - kSamePlace || !(whole.to > whole.from)) {
        report("match.squares", "the square from " + mm(whole.from) + " to " + mm(whole.to) + " ends before it begins, or stands in another",
               "see the notes 'square from here' and 'square to here'");
      }
      at = whole.to;
      squares_.push_back(whole);
    }
  }

  void make_runs() {
    double at = head_;
    bool after = false;
    for (std::size_t i = 0; i <= squares_.size(); ++i) {
      const bool before = i < squares_.size();
      const double to = before ? squares_[i].from : foot_;
      if (to - at > kLeastStretch) {
        Run r;
        r.x0 = at, r.x1 = to;
        r.square_before = after, r.square_after = before;
        r.corner = square_ / std::numbers::sqrt2;
        r.stop = stop_;
        gather(r);
        runs_.push_back(std::move(r));
      }
      if (before) at = squares_[i].to, after = true;
    }
  }

  void gather(Run& r) {
    std::vector<std::size_t> mine;
    for (std::size_t i = 0; i < measures_.size(); ++i) {
      const Measure& m = measures_[i];
      const double slack = 2 * m.sd_x;
      if (m.of == Measure::Of::round && m.x >= r.x0 - slack && m.x <= r.x1 + slack) mine.push_back(i);
    }
    std::stable_sort(mine.begin(), mine.end(), [&](std::size_t a, std::size_t b) { return measures_[a].x < measures_[b].x; });
    for (std::size_t i = 0, end = 0; i < mine.size(); i = end) {
      const Measure& first = measures_[mine[i]];
      double sum = 0, weight = 0;
      for (; end < mine.size(); ++end) {
        const Measure& m = measures_[mine[end]];
        if (m.x - first.x > kSamePlace || std::fabs(m.diameter - first.diameter) > std::max(kOval * first.diameter, 3 * m.sd)) break;
        sum += m.diameter / (m.sd * m.sd), weight += 1 / (m.sd * m.sd);
      }
      if (end == i) ++end, sum = first.diameter, weight = 1;
      r.samples.push_back({first.x, sum / weight / 2, first.sd_x, 0.5 / std::sqrt(weight), static_cast<int>(mine[i])});
      if (weight == 1 && end == i + 1) r.samples.back().sr = first.sd / 2;
    }
  }

  void wish(Run& r) const {
    const std::size_t n = r.samples.size();
    const auto gap_at = [&](double x) {
      std::size_t i = 0;
      while (i < n && r.samples[i].x < x) ++i;
      return i;
    };
    const auto here = [&](double x) { return x > r.x0 + kLeastStretch && x < r.x1 - kLeastStretch; };
    r.edges.assign(n + 1, std::nullopt);
    r.no_edges.assign(n + 1, 0);
    r.figures.assign(n, ~0u);
    for (double x : wishes_.edges) {
      if (here(x)) r.edges[gap_at(x)] = x;
    }
    for (double x : wishes_.no_edges) {
      if (here(x)) r.no_edges[gap_at(x)] = 1;
    }
    for (const KindHere& k : wishes_.kinds) {
      if (!here(k.x)) continue;
      std::size_t nearest = 0;
      for (std::size_t i = 0; i < n; ++i) {
        if (std::fabs(r.samples[i].x - k.x) < std::fabs(r.samples[nearest].x - k.x)) nearest = i;
      }
      r.figures[nearest] &= figures_called(k.kind);
    }
  }

  const std::vector<Measure>& measures_;
  const Wishes& wishes_;
  Options options_;
  std::stop_token stop_;
  double head_ = 0, foot_ = 0, square_ = 0;
  std::vector<Between> squares_;
  std::vector<Run> runs_;
  std::vector<Cut> cuts_;
  std::vector<Diagnostic> found_;
};

}  // namespace

Wishes with_edge(Wishes wishes, double x) {
  wishes.edges.push_back(x);
  return wishes;
}

Wishes without_edge(Wishes wishes, double x) {
  wishes.no_edges.push_back(x);
  return wishes;
}

Wishes with_kind(Wishes wishes, double x, shape::ElementKind kind) {
  wishes.kinds.push_back({x, kind});
  return wishes;
}

Result<Recognition> recognise(const std::vector<Measure>& measures, const Wishes& wishes, const Options& options, std::stop_token stop) {
  return Recogniser(measures, wishes, options, std::move(stop)).run();
}

}  // namespace pommel::match
