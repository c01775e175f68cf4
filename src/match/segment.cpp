#include "match/segment.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <optional>

#include "match/agreed.h"
#include "match/circle.h"
#include "match/gaps.h"
#include "match/linear.h"
#include "match/suspects.h"
#include "match/vase.h"

namespace pommel::match {
namespace {

constexpr double kFarOff = 100;      // squared deviations a reading: from farther off no vase comes home
constexpr double kNoHome = 3000;     // the same after a few rounds of any fit, one wrong reading among few included
constexpr double kMargin = 10;       // candidates this much dearer than the best can still win by their joints
constexpr Figure kAnyArc = Figure::half_bulge;  // for all of them where bounds are kept: the circle through the readings bounds each
constexpr double kNoBetter = 0.8;    // share of a shorter stretch's cost that a longer one costs at least: its fit may have stopped early
constexpr std::size_t kEnough = 24;  // readings that a candidate is fitted to; all are weighed, and the chosen ones are fitted to all
constexpr std::size_t kFew = 12;
constexpr std::size_t kFreest = 7;   // inner stations of a curve that is freer than any vase
constexpr double kSame = 1e-3;       // totals of one figure nearer than this are one fit found twice
constexpr double kExcluded = 1e6;    // a reading that is left out counts this many times less surely
// A number of an element may be anything within some tens of mm before it is measured, and ln N says the price for a number expected within one
// reading's worth; the rest is this factor, measured on known turnings (tests/bench/match_table): 1.3 to 2.0 do alike, 1 divides too much.
constexpr double kWidth = 1.8;
constexpr double kLeastBall = 0.6;   // of its radius: shorter pieces of a ball are no balls to the eye
constexpr double kOddStep = 8;       // a round that begins beside a square without a pommel: rare, and must be declared

double cost_of(const shape::Pieces& pieces, std::span<const Sample> samples) {
  double sum = 0;
  for (const Sample& s : samples) {
    const double e = deviation(pieces, s);
    sum += std::min(e * e, kOutlier);
  }
  return sum;
}

/// What a smooth curve costs there, with so many radii evenly between its ends, without the readings without which it comes cheapest.
double smooth_curve(std::span<const Sample> samples, double x0, double x1, std::size_t inner) {
  static const std::vector<Layout> even = [] {
    std::vector<Layout> all;
    for (std::size_t count = 0; count <= kFreest; ++count) {
      std::vector<double> at;
      for (std::size_t i = 1; i <= count; ++i) at.push_back(static_cast<double>(i) / static_cast<double>(count + 1));
      all.push_back(layout_of(at));
    }
    return all;
  }();
  Stroke s;
  s.x0 = x0, s.x1 = x1;
  const auto by_number = best_left_out(even[inner], samples, s, inner + 3);
  return std::min({by_number[0].total, by_number[1].total, by_number[2].total});
}

/// About the least that any vase can cost there: a curve with more stations than a vase has.
double free_curve(std::span<const Sample> samples, double x0, double x1) {
  if (samples.size() < kFreest + 4) return 0;
  const double least = smooth_curve(samples, x0, x1, kFreest);
  return least < 1e29 ? least : 0;
}

/// As many as settle a candidate, its first and last among them.
std::vector<Sample> spread_out(std::span<const Sample> samples) {
  if (samples.size() <= kEnough) return {samples.begin(), samples.end()};
  std::vector<Sample> few;
  for (std::size_t i = 0; i < kEnough; ++i) few.push_back(samples[i * (samples.size() - 1) / (kEnough - 1)]);
  return few;
}

class Fits {
 public:
  Fits(const Run& run, std::size_t first, std::size_t last, const Prices& prices, Bounds& bounds)
      : run_(run), first_(first), last_(last), prices_(prices), bounds_(bounds), before_(run.gap(first)), after_(run.gap(last + 1)),
        all_(&run.samples[first], last - first + 1), samples_(all_.begin(), all_.end()) {
    x0_ = (before_.least + before_.most) / 2;
    x1_ = (after_.least + after_.most) / 2;
    over_ = run.price_of_going_over(first, last);
    best_ = bounds.limit - kMargin;
    wood_ = wood_about(run.samples, run.square_before || run.square_after ? run.corner : 0);
    costs_.fill(1e30);
    beside_before_ = run.square_before && first == 0;
    beside_after_ = run.square_after && last + 1 == run.samples.size();
  }

  std::vector<Candidate> every() {
    if (run_.stop.stop_requested()) return {};
    battery();
    if (set_suspects_aside()) battery();
    leave_out_each();
    for (std::size_t k = 0; k < costs_.size(); ++k) {
      if (costs_[k] < 1e29) bounds_.shorter[k] = std::max(bounds_.shorter[k], std::min(costs_[k], all_but(numbers_of(k))));
    }
    return sorted();
  }

  std::vector<Candidate> only(Figure figure) {
    if (run_.stop.stop_requested()) return {};
    one(figure);
    if (set_suspects_aside()) one(figure);
    return sorted();
  }

 private:
  /// Leaves the fits to the readings that are not suspected; all of them are weighed as before. False when that changes nothing.
  bool set_suspects_aside() {
    if (run_.suspected.empty()) return false;
    std::vector<Sample> believed;
    for (std::size_t i = first_; i <= last_; ++i) {
      if (!run_.suspected[i]) believed.push_back(run_.samples[i]);
    }
    if (believed.empty() || believed.size() == all_.size()) return false;
    samples_ = std::move(believed);
    return true;
  }

  /// Among few readings a wrong one bends every fit so far that no fit shows it: each is left out in turn where nothing else fits.
  void leave_out_each() {
    const std::size_t n = all_.size();
    if (!run_.careful || n < 3 || n > kFew) return;
    aside_ = kOutlier;
    if (hopeless(Figure::level, 1, 0)) return;
    for (std::size_t out = 0; out < n && !run_.stop.stop_requested(); ++out) {
      const double least = found_.empty() ? 1e30 : std::min_element(found_.begin(), found_.end(), [](const Candidate& a, const Candidate& b) { return a.total < b.total; })->total;
      if (least < price(Figure::slope, 2) + kOutlier) return;
      samples_.assign(all_.begin(), all_.end());
      samples_.erase(samples_.begin() + static_cast<std::ptrdiff_t>(out));
      battery(false);
    }
  }

  /// What a figure costs at most, since it can go through as many readings as it has numbers: a fit that is bent to wrong ones shows more, and would
  /// bound longer stretches by what is not so.
  double all_but(std::size_t numbers) const { return kOutlier * static_cast<double>(all_.size() - std::min(numbers, all_.size())); }
  /// As Bounds::shorter counts figures; of those that it bounds.
  static std::size_t numbers_of(std::size_t bound) {
    if (bound > kFigures) return 2 + 2 * (bound - kFigures);
    return bound == static_cast<std::size_t>(Figure::level) ? 1 : bound == static_cast<std::size_t>(Figure::slope) ? 2 : 3;
  }

  /// Every figure, but for the vase where it has been tried without the readings that are left out (vase_with).
  void battery(bool vase_too = true) {
    unless_hopeless(Figure::level, 1, [&] { straight(Figure::level); });
    unless_hopeless(Figure::slope, 2, [&] { try_figure(Figure::slope); });
    unless_hopeless(kAnyArc, 1, [&] { arcs(); });
    const bool rough = best_ > price(Figure::cyma_recta, 2) + static_cast<double>(all_.size()) - 2;
    for (Figure f : {Figure::cyma_reversa, Figure::cyma_recta, Figure::vee, Figure::scotia}) {
      const bool pommel = f == Figure::cyma_reversa && touches_square();
      // part of a cyma is no cyma: what a shorter stretch costs says nothing here
      if (pommel || (rough && !hopeless(f, f == Figure::vee || f == Figure::scotia ? 3 : 2, 0))) try_figure(f);
    }
    if (vase_too) try_figure(Figure::vase);
  }

  /// Fits unless the figure was too dear on a shorter stretch, and remembers what it costs here. Beside a square all is tried: a pommel is cheaper.
  template <class Fit>
  void unless_hopeless(Figure f, double numbers, const Fit& fit_it) {
    const auto k = static_cast<std::size_t>(f);
    if (!touches_square() && hopeless(f, numbers, kNoBetter * bounds_.shorter[k])) return;
    settled_ = 1e30;
    fit_it();
    costs_[k] = std::min(costs_[k], settled_);
  }

  void one(Figure figure) {
    if (is_arc(figure)) arcs(figure);
    else try_figure(figure);
  }

  bool touches_square() const { return beside_before_ || beside_after_; }

  double price(Figure f, double numbers) const { return price_of(prices_, f) + numbers * prices_.number; }

  std::vector<Candidate> sorted() {
    std::sort(found_.begin(), found_.end(), [](const Candidate& a, const Candidate& b) { return a.total < b.total; });
    while (!found_.empty() && found_.back().total > found_.front().total + kMargin) found_.pop_back();
    return std::move(found_);
  }

  /// `numbers`: free sizes to be paid.
  void keep(const Stroke& stroke, int numbers, bool at_start = false, bool at_end = false) {
    Candidate c;
    if (!draw(stroke, c.pieces) || !wood_.holds(c.pieces)) return;
    const double cost = cost_of(c.pieces, all_);
    settled_ = std::min(settled_, cost);
    const bool pommel = at_start || at_end || (stroke.figure == Figure::level && touches_square());
    c.stroke = stroke;
    c.pommel_start = at_start;
    c.pommel_end = at_end;
    c.total = cost + price(stroke.figure, numbers) + price_of_want(numbers + (is_arc(stroke.figure) ? 1 : 0), all_.size()) + over_ + run_.price_of_figure(first_, last_, stroke.figure) + (touches_square() && !pommel ? kOddStep + prices_.number : 0);
    best_ = std::min(best_, c.total);
    const auto same = [&](const Candidate& other) { return other.stroke.figure == stroke.figure && std::fabs(other.total - c.total) < kSame; };
    if (std::any_of(found_.begin(), found_.end(), same)) return;
    if (c.total <= best_ + kMargin) found_.push_back(std::move(c));
  }

  bool hopeless(Figure f, double numbers, double least_cost) const { return price(f, numbers) + over_ + std::max(least_cost, aside_) > best_ + kMargin; }

  Stroke start_of(Figure f) const {
    Stroke s;
    s.figure = f;
    s.x0 = x0_, s.x1 = x1_;
    s.r0 = samples_.front().r, s.r1 = samples_.back().r;
    return s;
  }

  /// Does it with no more readings than settle a candidate.
  template <class Fit>
  void with_few(const Fit& fit_it) {
    if (samples_.size() <= kEnough) return fit_it();
    std::vector<Sample> few = spread_out(samples_);
    few.swap(samples_);
    rest_ = few;
    fit_it();
    rest_ = {};
    samples_ = std::move(few);
  }

  /// Fits a stroke by itself and keeps it. Arcs have their ends free in the gaps.
  void settle(const Stroke& s, bool at_start = false, bool at_end = false) {
    with_few([&] { settle_to_all(s, at_start, at_end); });
  }

  void settle_to_all(const Stroke& s, bool at_start, bool at_end) {
    Chain chain;
    chain.strokes = {s};
    chain.first = {0, samples_.size()};
    chain.joints = {before_, after_};
    if (!is_arc(s.figure)) chain.joints = {{x0_, x0_, false}, {x1_, x1_, false}};  // its ends are fitted with its neighbours
    if (at_start) chain.start_radius = run_.corner, chain.strokes[0].r0 = run_.corner;
    if (at_end) chain.end_radius = run_.corner, chain.strokes[0].r1 = run_.corner;
    ChainFit f = fit(chain, samples_, 4, nullptr, 1e30);
    if (!f.drawn || f.cost > kNoHome * static_cast<double>(samples_.size())) return;
    f = fit(chain, samples_, 12, nullptr, 1e30);
    if (samples_.size() >= 4) leave_out(chain, f.cost);
    if (!rest_.empty()) fit_to_rest(chain);
    keep(chain.strokes[0], freedoms(chain), at_start, at_end);
    with_ends_alike(chain.strokes[0]);
  }

  /// Few readings leave a fit so unsure that the others charge it with numbers * (all / few), some tens: where it could win, it is fitted to all.
  void fit_to_rest(Chain& chain) const {
    const double unsure = freedoms(chain) * static_cast<double>(all_.size()) / static_cast<double>(samples_.size());
    shape::Pieces pieces;
    if (!draw(chain.strokes[0], pieces) || hopeless(chain.strokes[0].figure, freedoms(chain), cost_of(pieces, all_) - 2 * unsure)) return;
    Chain all = chain;
    all.first = {0, rest_.size()};
    if (fit(all, rest_, 3).drawn) chain.strokes = all.strokes;
  }

  /// A scotia whose ends are alike is one arc.
  void with_ends_alike(const Stroke& found) {
    if (found.alike || std::fabs(found.r0 - found.r1) > 6 * samples_.front().sr) return;
    if (!may_be_alike(found.figure) && found.figure != Figure::scotia) return;
    Stroke alike = found;
    if (found.figure == Figure::scotia) alike.figure = Figure::arc_hollow;
    alike.alike = true;
    alike.r0 = alike.r1 = (found.r0 + found.r1) / 2;
    settle(alike);
  }

  /// Takes out the worst readings one by one while that pays.
  void leave_out(Chain& chain, double cost) {
    const std::vector<Sample> kept = samples_;
    for (std::size_t k = 0; k < 1 + all_.size() / 8; ++k) {
      shape::Pieces pieces;
      if (!draw(chain.strokes[0], pieces)) break;
      const std::size_t worst = worst_of(pieces);
      if (std::pow(deviation(pieces, samples_[worst]), 2) < kOutlier) break;
      samples_[worst].sx *= kExcluded, samples_[worst].sr *= kExcluded;
      Chain next = chain;
      const ChainFit f = fit(next, samples_, 12, nullptr, 1e30);
      if (!f.drawn || f.cost + kOutlier > cost) break;
      chain = next;
      cost = f.cost + kOutlier;
    }
    samples_ = kept;
  }

  /// Takes the samples that are marked 1 out of the fits.
  void set_aside(const std::vector<char>& off) {
    std::size_t i = 0;
    std::erase_if(samples_, [&](const Sample&) { return off[i++] != 0; });
  }

  std::size_t worst_of(const shape::Pieces& pieces) const {
    std::size_t worst = 0;
    double most = -1;
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      const double e = std::fabs(deviation(pieces, samples_[i]));
      if (e > most) most = e, worst = i;
    }
    return worst;
  }

  void try_figure(Figure f);
  void straight(Figure f);
  void arcs(std::optional<Figure> only = std::nullopt);
  void arcs_without(const std::vector<char>& off, std::optional<Figure> only);
  void arcs_of(const Circle& c, double left_out, std::optional<Figure> only);
  void pommels(Figure f);
  void curved(Figure f);
  void vees();
  void vase();
  void vase_with(int stations);

  const Run& run_;
  std::size_t first_, last_;
  Prices prices_;
  Bounds& bounds_;
  Joint before_, after_;
  std::span<const Sample> all_;
  Wood wood_;
  std::vector<Sample> samples_;
  std::span<const Sample> rest_;  // all that are believed, while a fit is to few of them; else empty
  double x0_ = 0, x1_ = 0, best_ = 0, over_ = 0, settled_ = 0;
  double aside_ = 0;  // what readings set aside cost at least: were none of them wrong, the fit to all would be as good
  std::array<double, kFigures + kMostStations + 1> costs_;  // least found here, as Bounds::shorter
  bool beside_before_ = false, beside_after_ = false;
  std::vector<Candidate> found_;
};

void Fits::try_figure(Figure f) {
  if (f == Figure::level || f == Figure::slope) straight(f);
  else with_few([&] { f == Figure::vase ? vase() : curved(f); });
  if (f == Figure::slope || f == Figure::cyma_reversa) pommels(f);
}

void Fits::pommels(Figure f) {
  if (beside_before_) settle(start_of(f), true, false);
  if (beside_after_) settle(start_of(f), false, true);
}

void Fits::straight(Figure f) {
  const std::vector<Sample> kept = samples_;
  const bool level = f == Figure::level;
  Stroke best;
  double least = 1e30;
  for (std::size_t k = 0; k < 2 + all_.size() / 8; ++k) {
    const Line line = level ? fitted_level(samples_) : fitted_line(samples_);
    Stroke s = start_of(f);
    s.r0 = line.a + line.b * x0_;
    s.r1 = level ? s.r0 : line.a + line.b * x1_;
    const double cost = line.cost + kOutlier * static_cast<double>(k);
    if (cost > least) break;
    best = s, least = cost;
    shape::Pieces pieces;
    if (samples_.size() < 4 || line.cost > 1e5 || !draw(s, pieces)) break;
    const std::size_t worst = worst_of(pieces);
    if (std::pow(deviation(pieces, samples_[worst]), 2) < kOutlier) break;
    samples_[worst].sx *= kExcluded, samples_[worst].sr *= kExcluded;
  }
  samples_ = kept;
  keep(best, level ? 1 : 2);
  // the worst of a bent line need not be the wrong one
  if (level || least < kOutlier || hopeless(Figure::slope, 2, kOutlier)) return;
  const std::vector<char> off = off_the_line(samples_);
  if (off.empty()) return;
  set_aside(off);
  const Line line = fitted_line(samples_);
  best.r0 = line.a + line.b * x0_, best.r1 = line.a + line.b * x1_;
  samples_ = kept;
  keep(best, 2);
}

void Fits::arcs(std::optional<Figure> only) {
  if (samples_.size() < 3) {
    if (!only || *only == Figure::quarter_bulge) pommels(Figure::quarter_bulge);
    return;
  }
  const std::vector<Sample> kept = samples_;
  std::optional<Circle> best;
  double least = 1e30, left_out = 0;
  for (std::size_t k = 0; k < 2 + all_.size() / 8; ++k) {
    const auto c = geometric_circle(samples_);
    if (!c) break;
    const double cost = c->cost + kOutlier * static_cast<double>(k);
    if (cost > least) break;
    best = c, least = cost, left_out = kOutlier * static_cast<double>(k);
    if (samples_.size() < 5) break;
    std::size_t worst = 0;
    double most = -1;
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      const Sample& s = samples_[i];
      const double e = std::fabs(std::hypot(s.x - c->cx, s.r - c->cr) - c->rho) / s.sr;
      if (e > most) most = e, worst = i;
    }
    if (most * most < kOutlier) break;
    samples_[worst].sx *= kExcluded, samples_[worst].sr *= kExcluded;
  }
  samples_ = kept;
  if (best) arcs_of(*best, left_out, only);
  if (best) settled_ = std::min(settled_, least);
  if (least > kOutlier && !hopeless(kAnyArc, 1, kOutlier)) arcs_without(off_the_circle(samples_), only);
  if (beside_before_ || beside_after_) pommels(Figure::quarter_bulge);
}

void Fits::arcs_without(const std::vector<char>& off, std::optional<Figure> only) {
  if (off.empty()) return;
  const std::vector<Sample> kept = samples_;
  set_aside(off);
  const double left_out = kOutlier * static_cast<double>(kept.size() - samples_.size());
  if (const auto c = geometric_circle(samples_)) {
    arcs_of(*c, left_out, only);
    settled_ = std::min(settled_, c->cost + left_out);
  }
  samples_ = kept;
}

// The circle through all is the least that any arc figure can cost; those that it allows are fitted by themselves.
void Fits::arcs_of(const Circle& c, double left_out, std::optional<Figure> only) {
  const double lower = c.cost + left_out - 1;
  const bool bulge = samples_[samples_.size() / 2].r > c.cr;
  const int sign = bulge ? 1 : -1;
  const auto at = [&](double x) { return c.cr + sign * std::sqrt(std::max(0.0, (c.rho - x + c.cx) * (c.rho + x - c.cx))); };
  const auto within = [](double x, const Joint& gap) { return std::clamp(x, gap.least, gap.most); };
  const auto attempt = [&](Figure f, double numbers, double x0, double x1) {
    if ((only && *only != f) || (!only && hopeless(f, numbers, lower))) return;
    Stroke s = start_of(f);
    s.x0 = x0, s.x1 = x1;
    s.r0 = f == Figure::half_bulge || f == Figure::half_hollow ? c.cr : at(x0), s.r1 = at(x1);
    if (f == Figure::arc_bulge || f == Figure::arc_hollow) s.extreme = c.cr + sign * c.rho;
    settle(s);
  };
  const double slack = 3 * c.sd_cx + 3 * samples_.front().sx + 0.2;
  const bool plumb_start = c.cx - c.rho > before_.least - slack && c.cx - c.rho < before_.most + slack;
  const bool plumb_end = c.cx + c.rho > after_.least - slack && c.cx + c.rho < after_.most + slack;
  if ((plumb_start && plumb_end) || only) attempt(bulge ? Figure::half_bulge : Figure::half_hollow, 1, within(c.cx - c.rho, before_), within(c.cx + c.rho, after_));
  const bool level_start = c.cx > before_.least - slack && c.cx < before_.most + slack;
  const bool level_end = c.cx > after_.least - slack && c.cx < after_.most + slack;
  if (level_start || level_end || plumb_start || plumb_end || only)
    attempt(bulge ? Figure::quarter_bulge : Figure::quarter_hollow, 2, level_start ? within(c.cx, before_) : plumb_start ? within(c.cx - c.rho, before_) : x0_,
            level_end ? within(c.cx, after_) : plumb_end ? within(c.cx + c.rho, after_) : x1_);
  if (bulge && std::fabs(c.cr) < 6 * c.sd_cr + 1 && x1_ - x0_ > kLeastBall * c.rho) attempt(Figure::ball, 2, std::max(x0_, within(c.cx - c.rho, before_)), std::min(x1_, within(c.cx + c.rho, after_)));
  if (c.cx > before_.least - slack && c.cx < after_.most + slack) {
    attempt(bulge ? Figure::arc_bulge : Figure::arc_hollow, 3, std::max(x0_, within(c.cx - 0.999 * c.rho, before_)), std::min(x1_, within(c.cx + 0.999 * c.rho, after_)));
  }
}

// Cymas, scotia and vee, from the readings themselves.
void Fits::curved(Figure f) {
  if (samples_.size() < 4) return;
  Stroke s = start_of(f);
  const auto low = std::min_element(samples_.begin(), samples_.end(), [](const Sample& a, const Sample& b) { return a.r < b.r; });
  const auto high = std::max_element(samples_.begin(), samples_.end(), [](const Sample& a, const Sample& b) { return a.r < b.r; });
  const double rise = high->r - low->r;
  if (rise < 4 * samples_.front().sr) return;
  if (f == Figure::scotia || f == Figure::vee) {
    if (low == samples_.begin() || low == samples_.end() - 1) return;
    s.extreme = low->r - 0.01 * rise;
    if (f == Figure::vee) return vees();
    if (f == Figure::scotia) {
      // the ends as deep together as the length allows: deeper is an overhang
      const double over = (s.r0 + s.r1 - 2 * s.extreme) / s.length();
      if (over > 1.3) return;
      if (over > 0.98) s.r0 = s.extreme + (s.r0 - s.extreme) * 0.98 / over, s.r1 = s.extreme + (s.r1 - s.extreme) * 0.98 / over;
    }
  } else if (std::fabs(samples_.back().r - samples_.front().r) < 0.7 * rise) {
    return;
  }
  settle(s);
}

// The bottom is tried between all readings: with its place known, depth and slope are a straight line over the distance from it.
void Fits::vees() {
  double least = 1e30, bottom_x = 0;
  Line best;
  std::vector<Sample> folded = samples_;
  for (std::size_t i = 1; i < samples_.size(); ++i) {
    for (double share : {0.0, 0.25, 0.5, 0.75}) {
      const double x = samples_[i - 1].x + share * (samples_[i].x - samples_[i - 1].x);
      for (std::size_t k = 0; k < samples_.size(); ++k) folded[k].x = std::fabs(samples_[k].x - x);
      const Line line = fitted_line(folded);
      if (line.b > 0 && line.cost < least) least = line.cost, best = line, bottom_x = x;
    }
  }
  if (least > 1e5) return;
  Stroke s = start_of(Figure::vee);
  s.extreme = best.a;
  s.r0 = best.a + best.b * (bottom_x - x0_), s.r1 = best.a + best.b * (x1_ - bottom_x);
  settle(s);
}

/// Settles the vase of so many stations that lies nearest to all readings, and those that are cheapest when one or more are let go.
void Fits::vase_with(int stations) {
  const int numbers = 2 + 2 * stations;
  Stroke s = start_of(Figure::vase), nearest;
  std::array<const Layout*, 3> layout{};
  std::array<LeftOut, 3> without;
  double least = 1e30;
  shape::Pieces pieces;
  for (const Layout& next : layouts(stations)) {
    auto by_number = best_left_out(next, samples_, s, static_cast<std::size_t>(numbers));
    for (std::size_t k = 1; k < 3; ++k) {
      if (by_number[k].total < without[k].total) layout[k] = &next, without[k] = std::move(by_number[k]);
    }
    if (!spread(next, samples_, s) || !draw(s, pieces)) continue;
    double cost = 0;
    for (const Sample& sample : samples_) cost += std::pow(deviation(pieces, sample), 2);
    if (cost < least) least = cost, nearest = s;
  }
  const double far = kFarOff * static_cast<double>(samples_.size());
  if (least <= far) settle(nearest);
  const std::vector<Sample> kept = samples_;
  for (std::size_t k = 1; k < 3; ++k) {
    if (!layout[k] || without[k].total > std::min(far, least) || hopeless(Figure::vase, numbers, kOutlier * static_cast<double>(without[k].which.size()))) continue;
    std::vector<char> off(samples_.size(), 0);
    for (std::size_t i : without[k].which) off[i] = 1;
    set_aside(off);
    if (spread(*layout[k], samples_, s)) settle(s);
    samples_ = kept;
  }
}

void Fits::vase() {
  if (static_cast<double>(samples_.size()) < 5 || hopeless(Figure::vase, 4, 0)) return;
  const double at_best = free_curve(samples_, x0_, x1_);
  for (int stations = 1; stations <= kMostStations; ++stations) {
    const double numbers = 2 + 2 * stations;
    if (hopeless(Figure::vase, numbers, kNoBetter * at_best)) return;
    const double shorter = bounds_.shorter[static_cast<std::size_t>(kFigures + stations)];
    if (static_cast<double>(samples_.size()) < numbers + 1) return;
    if (hopeless(Figure::vase, numbers, kNoBetter * shorter)) continue;
    settled_ = 1e30;
    vase_with(stations);
    if (settled_ > 1e29) continue;
    double& mine = costs_[static_cast<std::size_t>(kFigures + stations)];
    mine = std::min(mine, settled_);
    // two more numbers can gain no more than the free curve has gained
    if (settled_ - at_best * static_cast<double>(all_.size()) / static_cast<double>(samples_.size()) < 2 * prices_.number) return;
  }
}

}  // namespace

Prices prices_for(std::size_t readings) {
  const double number = std::log(static_cast<double>(std::max<std::size_t>(readings, 3)));
  return {kWidth * number, number};
}

double price_of(const Prices& prices, Figure figure) {
  // shares of a hundred elements of turned work, rounded; our own count, no source
  static constexpr std::array<double, kFigures> share = {25, 8, 13, 3, 8, 4, 2, 8, 4, 3, 5, 4, 3, 10};
  return prices.element - 2 * std::log(share[static_cast<std::size_t>(figure)] / 100);
}

double price_of_want(int numbers, std::size_t readings) {
  constexpr double kOfEach = 6;  // more than a number can gain that one reading alone supports
  return kOfEach * std::max(0.0, numbers + 1.0 - static_cast<double>(readings));
}

void Run::mark() {
  suspected = suspects(samples);
  tried = gaps_to_try(samples);
  constexpr double kClose = 1, kShare = 0.25;  // mm; of the median gap
  marked.assign(samples.size() + 1, 0);
  std::vector<double> gaps;
  for (std::size_t i = 1; i < samples.size(); ++i) gaps.push_back(samples[i].x - samples[i - 1].x);
  if (gaps.size() < 4) return;
  std::vector<double> wide;
  for (double g : gaps) {
    if (g > kClose) wide.push_back(g);
  }
  if (wide.empty()) return;
  std::nth_element(wide.begin(), wide.begin() + static_cast<std::ptrdiff_t>(wide.size() / 2), wide.end());
  const double close = std::min(kClose, kShare * wide[wide.size() / 2]);
  int found = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) found += marked[i] = gaps[i - 1] <= close;
  if (found < 2) std::fill(marked.begin(), marked.end(), 0);
  for (std::size_t i = 0; i < marked.size(); ++i) tried[i] = tried[i] || marked[i];
}

namespace {
constexpr double kMark = 4;  // both ways: an edge without a mark, a mark without an edge; -2 ln of one in seven
}

double Run::price_of_cut(std::size_t i) const {
  if (!no_edges.empty() && no_edges[i]) return kForbidden;
  if (marked.empty() || i == 0 || i == samples.size() || marked[i] || (!edges.empty() && edges[i])) return 0;
  return std::find(marked.begin(), marked.end(), 1) == marked.end() ? 0 : kMark;
}

double Run::price_of_going_over(std::size_t first, std::size_t last) const {
  double sum = 0;
  for (std::size_t i = first + 1; i <= last; ++i) {
    if (!edges.empty() && edges[i]) sum += kForbidden;
    if (!marked.empty() && marked[i] && (no_edges.empty() || !no_edges[i])) sum += kMark;
  }
  return sum;
}

double Run::price_of_figure(std::size_t first, std::size_t last, Figure figure) const {
  double sum = 0;
  for (std::size_t i = first; !figures.empty() && i <= last; ++i) sum += (figures[i] >> static_cast<int>(figure) & 1u) ? 0 : kForbidden;
  return sum;
}

Joint Run::gap(std::size_t i) const {
  if (i == 0) return {x0 - slack0, x0 + slack0, false};
  if (i < samples.size() && !edges.empty() && edges[i]) return {*edges[i], *edges[i], false};
  if (i == samples.size()) return {x1 - slack1, x1 + slack1, false};
  return {samples[i - 1].x - 2 * samples[i - 1].sx, samples[i].x + 2 * samples[i].sx, false};
}

std::vector<Candidate> candidates(const Run& run, std::size_t first, std::size_t last, const Prices& prices, Bounds& bounds) {
  return Fits(run, first, last, prices, bounds).every();
}

std::vector<Candidate> candidates(const Run& run, std::size_t first, std::size_t last, const Prices& prices) {
  Bounds none;
  return candidates(run, first, last, prices, none);
}

double least_of_any(const Run& run, std::size_t first, std::size_t last) {
  const std::vector<Sample> samples = spread_out(std::span(run.samples).subspan(first, last - first + 1));
  const double of_all = static_cast<double>(last - first + 1) / static_cast<double>(samples.size());
  const auto circle = geometric_circle(samples);
  const std::size_t inner = std::clamp<std::size_t>(samples.size(), 5, kFreest + 5) - 5;
  return of_all * std::min(circle ? circle->cost : 1e30, smooth_curve(samples, samples.front().x, samples.back().x, inner));
}

std::vector<Candidate> candidates_of(const Run& run, std::size_t first, std::size_t last, const Prices& prices, Figure figure) {
  Bounds none;
  return Fits(run, first, last, prices, none).only(figure);
}

}  // namespace pommel::match
