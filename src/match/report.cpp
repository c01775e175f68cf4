#include "match/report.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "match/circle.h"

namespace pommel::match {
namespace {

constexpr double kSure = 0.5;        // mm: edges known worse than this are worth a reading
constexpr double kAsWell = 4;        // another kind that is dearer by less could be meant as well
constexpr double kSame = 0.01;       // mm: sizes that are the same after tidying
constexpr double kMirrored = 0.15;   // mm: sizes alike enough for a symmetric group

std::string mm(double v, int decimals = 1) { return format_number(v, decimals) + " mm"; }
std::string word(shape::ElementKind kind) { return std::string(shape::word_of(kind)); }

class Teller {
 public:
  Teller(const std::vector<Measure>& measures, const Cuts& cuts) : measures_(measures), cuts_(cuts) {}

  Recognition tell() {
    out_.head = cuts_.head;
    out_.length = cuts_.foot - cuts_.head;
    out_.square = cuts_.square;
    std::size_t next_square = 0;
    for (std::size_t i = 0; i < cuts_.runs.size(); ++i) {
      while (next_square < cuts_.squares.size() && cuts_.squares[next_square].from < cuts_.runs[i].x0 - 1e-9) add_square(next_square++);
      add_run(cuts_.runs[i], cuts_.cuts[i]);
    }
    while (next_square < cuts_.squares.size()) add_square(next_square++);
    total_up();
    ovals_and_wear();
    find_repeats();
    find_symmetries();
    std::stable_sort(urgent_.begin(), urgent_.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    for (auto& [how, wanted] : urgent_) out_.wanted.push_back(std::move(wanted));
    return std::move(out_);
  }

 private:
  void add_square(std::size_t i) {
    Found f;
    f.square = true;
    f.name.kind = shape::ElementKind::square;
    f.stroke.x0 = cuts_.squares[i].from - cuts_.head;
    f.stroke.x1 = cuts_.squares[i].to - cuts_.head;
    f.stroke.r0 = f.stroke.r1 = cuts_.square / 2;
    out_.elements.push_back(std::move(f));
  }

  void add_run(const Run& run, const Cut& cut) {
    Chain chain = cut.chain;
    Numbers numbers;
    Chain again = chain;
    fit(again, run.samples, 0, &numbers);
    for (std::size_t k = 0; k < chain.strokes.size(); ++k) add(run, chain, numbers, k);
  }

  void add(const Run& run, const Chain& chain, const Numbers& numbers, std::size_t k) {
    const std::size_t last = chain.strokes.size() - 1;
    Found f;
    f.stroke = chain.strokes[k];
    f.step = k > 0 ? chain.joints[k].step : false;
    f.from_corners = (k == 0 && chain.start_radius > 0) || (k == last && chain.end_radius > 0);
    f.name = name_of(f.stroke, standing_of(run, chain, k));
    f.unsure_start = unsure(numbers, numbers.of[k][0]);
    f.unsure_end = unsure(numbers, numbers.of[k][1]);
    residuals(run, chain, k, f);
    ask(run, chain, k, f);
    f.stroke.x0 -= cuts_.head;
    f.stroke.x1 -= cuts_.head;
    out_.elements.push_back(std::move(f));
  }

  static double unsure(const Numbers& numbers, int index) {
    if (index < 0 || numbers.covariance.empty()) return 0;
    const auto i = static_cast<std::size_t>(index);
    return std::sqrt(std::max(0.0, numbers.covariance[i * numbers.values.size() + i]));
  }

  void residuals(const Run& run, const Chain& chain, std::size_t k, Found& f) {
    shape::Pieces pieces;
    if (!draw(chain.strokes[k], pieces)) return;
    double squares = 0;
    for (std::size_t i = chain.first[k]; i < chain.first[k + 1]; ++i) {
      const Sample& s = run.samples[i];
      const double d = off(pieces, s.x, s.r).distance, e = deviation(pieces, s);
      if (e * e > kOutlier) {
        out_.wrong.push_back({static_cast<std::size_t>(s.reading), d});
        want(3 + std::fabs(d), {s.x - cuts_.head, s.x - cuts_.head, Wanted::Why::off, f.name.kind, {}, std::fabs(d), 0, 0});
        continue;
      }
      ++f.readings;
      squares += d * d;
      deviations_ += e * e;
      f.worst = std::max(f.worst, std::fabs(d));
    }
    squares_ += squares;
    f.rms = f.readings > 0 ? std::sqrt(squares / f.readings) : 0;
  }

  void want(double urgency, const Wanted& wanted) { urgent_.emplace_back(urgency, wanted); }

  /// The reading without which the others of a curved element lie level, or three and more of them on a straight line: nothing tells whether it is the one
  /// that is wrong.
  std::optional<double> says_alone(const Run& run, const Chain& chain, std::size_t k) const {
    const std::size_t first = chain.first[k], n = chain.first[k + 1] - first;
    const Figure figure = chain.strokes[k].figure;
    if (figure == Figure::level || figure == Figure::slope || n < 3) return std::nullopt;
    for (std::size_t out = first; out < first + n; ++out) {
      std::vector<Sample> rest;
      for (std::size_t i = first; i < first + n; ++i) {
        if (i != out) rest.push_back(run.samples[i]);
      }
      const double m = static_cast<double>(rest.size());
      const double least = rest.size() < 3 ? fitted_level(rest).cost : std::min(fitted_level(rest).cost, fitted_line(rest).cost);
      if (least <= m + 3 * std::sqrt(2 * m)) return run.samples[out].x;
    }
    return std::nullopt;
  }

  /// Where more readings would settle what this element is or where it ends.
  void ask(const Run& run, const Chain& chain, std::size_t k, const Found& f) {
    const double from = f.stroke.x0 - cuts_.head, to = f.stroke.x1 - cuts_.head;
    const int numbers = freedoms(f.stroke) - (f.from_corners ? 1 : 0);
    if (f.readings <= numbers)
      want(2.0 + numbers - f.readings, {from, to, Wanted::Why::few, f.name.kind, {}, 0, f.readings, numbers});
    if (const auto at = says_alone(run, chain, k)) want(2.5, {*at - cuts_.head, *at - cuts_.head, Wanted::Why::alone, f.name.kind, {}, 0, 0, 0});
    if (k + 1 < chain.strokes.size()) {
      const Joint& j = chain.joints[k + 1];
      if (f.unsure_end > kSure && j.most - j.least > 2 * kSure) {
        want(f.unsure_end, {j.least - cuts_.head, j.most - cuts_.head, Wanted::Why::edge, f.name.kind, {}, f.unsure_end, 0, 0});
      }
    }
    const auto others = candidates(run, chain.first[k], chain.first[k + 1] - 1, cuts_.prices);
    Standing at = standing_of(run, chain, k);
    for (const Candidate& c : others) {
      at.from_corners = c.pommel_start || c.pommel_end;
      const shape::ElementKind other = name_of(c.stroke, at).kind;
      if (c.stroke.figure == f.stroke.figure || other == f.name.kind || c.total > others.front().total + kAsWell) continue;
      want(1, {from, to, Wanted::Why::kind, f.name.kind, other, 0, 0, 0});
      break;
    }
  }

  void total_up() {
    for (const Found& f : out_.elements) {
      out_.readings += static_cast<std::size_t>(f.readings);
      out_.worst = std::max(out_.worst, f.worst);
    }
    if (out_.readings > 0) {
      out_.rms = std::sqrt(squares_ / static_cast<double>(out_.readings));
      out_.misfit = std::sqrt(deviations_ / static_cast<double>(out_.readings));
    }
  }

  void ovals_and_wear() {
    for (std::size_t i = 0; i < measures_.size(); ++i) {
      const Measure& m = measures_[i];
      if (m.of == Measure::Of::worn) wear_at(m);
      for (std::size_t j = 0; j < i && m.of == Measure::Of::round; ++j) {
        const Measure& other = measures_[j];
        const double differ = std::fabs(m.diameter - other.diameter);
        if (other.of != Measure::Of::round || std::fabs(m.x - other.x) > 0.02 || differ > 0.04 * m.diameter || differ < 3 * m.sd) continue;
        if (differ > out_.ovality) out_.ovality = differ, out_.ovality_x = m.x - cuts_.head;
      }
    }
  }

  void wear_at(const Measure& m) {
    for (const Found& f : out_.elements) {
      const double x = m.x - cuts_.head;
      shape::Pieces pieces;
      if (f.square || x < f.stroke.x0 || x > f.stroke.x1 || !draw(f.stroke, pieces)) continue;
      const double depth = 2 * radius_of(pieces, x) - m.diameter;
      if (depth > out_.wear) out_.wear = depth, out_.wear_x = x;
    }
  }

  static bool alike(const Stroke& a, const Stroke& b, bool turned, double within) {
    const auto near = [&](double u, double v) { return std::fabs(u - v) <= within; };
    if (a.figure != b.figure || !near(a.length(), b.length())) return false;
    if (!near(a.r0, turned ? b.r1 : b.r0) || !near(a.r1, turned ? b.r0 : b.r1)) return false;
    if (has_extreme(a.figure) && !near(a.extreme, b.extreme)) return false;
    return a.figure != Figure::vase;
  }

  void find_repeats() {
    auto& all = out_.elements;
    for (std::size_t k = 0; k < all.size(); ++k) {
      for (std::size_t j = 0; j < k && all[k].like < 0; ++j) {
        if (!all[j].square && !all[k].square && all[j].name.kind == all[k].name.kind && alike(all[j].stroke, all[k].stroke, false, kSame)) all[k].like = static_cast<int>(j);
      }
    }
  }

  void find_symmetries() {
    const auto& all = out_.elements;
    std::size_t free_from = 0;
    for (std::size_t m = 1; m + 1 < all.size(); ++m) {
      std::size_t reach = 0;
      while (reach < m && m + reach + 1 < all.size() && m - reach - 1 >= free_from) {
        const Found &a = all[m - reach - 1], &b = all[m + reach + 1];
        if (a.square || b.square || !alike(a.stroke, b.stroke, true, kMirrored)) break;
        ++reach;
      }
      if (reach == 0 || all[m].square || !alike(all[m].stroke, all[m].stroke, true, kMirrored)) continue;
      out_.symmetries.push_back({m - reach, m + reach});
      free_from = m + reach + 1;
    }
  }

  const std::vector<Measure>& measures_;
  const Cuts& cuts_;
  Recognition out_;
  double squares_ = 0, deviations_ = 0;
  std::vector<std::pair<double, Wanted>> urgent_;
};

}  // namespace

std::string in_words(const Wanted& w) {
  const std::string element = word(w.element);
  switch (w.why) {
    case Wanted::Why::off: return "the reading there lies " + mm(w.amount, 2) + " off: take it again";
    case Wanted::Why::alone: return "the reading there alone says that this is a " + element + " and nothing straight: take it again, and another beside it";
    case Wanted::Why::few: return std::to_string(w.readings) + (w.readings == 1 ? " reading" : " readings") + " on this " + element + ", which has " + std::to_string(w.sizes) + " sizes of its own";
    case Wanted::Why::edge: return "where the " + element + " ends is known to " + mm(w.amount) + " only";
    case Wanted::Why::kind: return "this " + element + " could as well be a " + word(w.other);
  }
  return {};
}

Recognition told(const std::vector<Measure>& measures, const Cuts& cuts) { return Teller(measures, cuts).tell(); }

}  // namespace pommel::match
