#include "sheet/seek.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "base/text.h"

namespace pommel::sheet {

// Brent's zero finder, as in chapter 4 of the book: b is the best point, c the other end of the bracket, a the last b.
Result<Root> find_root(const std::function<Result<double>(double)>& f, double low, double high, double finest,
                       double enough) {
  assert(low <= high && finest >= 0 && enough >= 0);
  constexpr int kMost = 200;
  constexpr double kUlp = std::numeric_limits<double>::epsilon();
  double a = low, b = high;
  const auto at_low = f(a);
  if (!at_low) return at_low.failure();
  if (std::abs(*at_low) <= enough) return Root{a, *at_low, 1};
  const auto at_high = f(b);
  if (!at_high) return at_high.failure();
  double fa = *at_low, fb = *at_high;
  int evaluations = 2;
  if (std::abs(fb) <= enough) return Root{b, fb, evaluations};
  if ((fa > 0) == (fb > 0))
    return fail("sheet.not-bracketed", "the function has one sign at both ends", "widen the range");
  double c = a, fc = fa, step = b - a, last_step = step;
  while (evaluations < kMost) {
    if (std::abs(fc) < std::abs(fb)) {
      a = b, b = c, c = a;
      fa = fb, fb = fc, fc = fa;
    }
    const double tolerance = 2 * kUlp * std::abs(b) + finest / 2, half = (c - b) / 2;
    if (std::abs(fb) <= enough || std::abs(half) <= tolerance) break;
    if (std::abs(last_step) < tolerance || std::abs(fa) <= std::abs(fb)) {
      step = last_step = half;
    } else {
      double p, q;
      const double s = fb / fa;
      if (a == c) {  // secant
        p = 2 * half * s;
        q = 1 - s;
      } else {  // inverse quadratic interpolation
        const double u = fa / fc, r = fb / fc;
        p = s * (2 * half * u * (u - r) - (b - a) * (r - 1));
        q = (u - 1) * (r - 1) * (s - 1);
      }
      if (p > 0)
        q = -q;
      else
        p = -p;
      const double before = last_step;
      last_step = step;
      if (2 * p < 3 * half * q - std::abs(tolerance * q) && p < std::abs(before * q / 2))
        step = p / q;
      else
        step = last_step = half;
    }
    a = b, fa = fb;
    b += std::abs(step) > tolerance ? step : std::copysign(tolerance, half);
    const auto here = f(b);
    if (!here) return here.failure();
    fb = *here;
    ++evaluations;
    if ((fb > 0) == (fc > 0)) c = a, fc = fa, step = last_step = b - a;
  }
  return Root{b, fb, evaluations};
}

namespace {

constexpr int kInnerTries = 15;
constexpr double kFinest = 1e-7, kTolerance = 1e-6, kTiny = 1e-9;

struct Try {
  double at, got, off;  // off: what the wished value came out as, less the wish
};

class Seeker {
 public:
  Seeker(const Sheet& sheet, const Goal& goal, const Outcomes& outcomes)
      : sheet_(sheet), goal_(goal), outcomes_(outcomes) {}
  Result<Sought> run();

 private:
  Result<Done> check_goal() const;
  Result<Done> find_limits();
  Result<double> attempt(double at);
  void try_at(double at);
  std::optional<std::pair<Try, Try>> bracket() const;
  Result<Sought> answer(const Root& root, const Try& low, const Try& high);
  bool close(double off) const { return std::abs(off) <= tolerance_; }
  bool one_way() const;
  Failure out_of_reach() const;
  std::string shown(double amount) const { return show(Value::number(amount, goal_.value.kind()), sheet_.settings()); }
  std::string measure(double at) const { return show(Value::number(at, kind_), sheet_.settings()); }

  Sheet sheet_;
  const Goal& goal_;
  const Outcomes& outcomes_;
  Kind kind_;
  double least_ = 0, most_ = 0, finest_ = 0, tolerance_ = 0;
  std::optional<double> present_;
  std::vector<Try> tries_;  // those that gave a value, as they came
  std::optional<Failure> first_failure_;
  int evaluations_ = 0;
};

Result<Done> Seeker::check_goal() const {
  if (goal_.column >= sheet_.column_count())
    return fail("sheet.unknown-column", "there is no such column", "look at the sheet");
  const auto wished = sheet_.kind_of(goal_.wished), kind = sheet_.kind_of(goal_.moving);
  // a name without a kind has no value, and need() says why
  if (!wished) return sheet_.need(goal_.wished, goal_.column).failure();
  if (!kind) return sheet_.need(goal_.moving, goal_.column).failure();
  if (wished->form != Form::number || goal_.value.kind().form != Form::number ||
      wished->dimension != goal_.value.kind().dimension)
    return fail("sheet.wrong-kind",
                in_quotes(goal_.wished) + " is " + a_kind(*wished) + ", and the wish is " + a_kind(goal_.value.kind()),
                "wish for a value of its own kind");
  if (!sheet_.parameter(goal_.moving))
    return fail("sheet.not-an-entry", in_quotes(goal_.moving) + " is an outcome and cannot be moved", "move a parameter");
  if (kind->form != Form::number || kind->whole)
    return fail("sheet.wrong-kind", in_quotes(goal_.moving) + " cannot be moved by small steps: it is " + a_kind(*kind),
                "move a length, an angle or another measure");
  return Done{};
}

Result<Done> Seeker::find_limits() {
  kind_ = *sheet_.kind_of(goal_.moving);
  const auto cell = sheet_.cell(goal_.moving, goal_.column);
  if (cell->value) present_ = cell->value->number();
  std::optional<double> least = goal_.least, most = goal_.most;
  if (cell->least) least = std::max(least.value_or(cell->least->number()), cell->least->number());
  if (cell->most) most = std::min(most.value_or(cell->most->number()), cell->most->number());
  if (!least || !most)
    return fail("sheet.seek-needs-limits", in_quotes(goal_.moving) + " has no limits to seek between",
                "give it limits, or say from where to where to seek");
  if (!(*least < *most))
    return fail("sheet.seek-needs-limits",
                "the limits of " + in_quotes(goal_.moving) + " leave nothing between them: " + measure(*least) + " and " +
                    measure(*most),
                "widen them");
  least_ = *least;
  most_ = *most;
  finest_ = goal_.finest.value_or(kFinest * (most_ - least_));
  tolerance_ = goal_.tolerance.value_or(std::max(kTiny, kTolerance * std::abs(goal_.value.number())));
  return Done{};
}

Result<double> Seeker::attempt(double at) {
  ++evaluations_;
  const auto set =
      sheet_.set_entry(goal_.moving, goal_.column, {exact_entry(Value::number(at, kind_), sheet_.settings()), {}, {}});
  if (!set) return set.failure();
  if (outcomes_) {
    sheet_.clear_outcomes(goal_.column);
    const auto done = outcomes_(sheet_, goal_.column);
    if (!done) return done.failure();
  }
  const auto got = sheet_.need(goal_.wished, goal_.column);
  if (!got) return got.failure();
  tries_.push_back({at, got->number(), got->number() - goal_.value.number()});
  return tries_.back().off;
}

/// A measure that may fail, so long as others do not.
void Seeker::try_at(double at) {
  const auto off = attempt(at);
  if (!off && !first_failure_) first_failure_ = off.failure();
}

/// Neighbouring tries with the wish between them, the pair nearest to the present measure.
std::optional<std::pair<Try, Try>> Seeker::bracket() const {
  auto sorted = tries_;
  std::sort(sorted.begin(), sorted.end(), [](const Try& a, const Try& b) { return a.at < b.at; });
  std::optional<std::pair<Try, Try>> best;
  double best_distance = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < sorted.size(); ++i) {
    const Try &a = sorted[i], &b = sorted[i + 1];
    if ((a.off > 0) == (b.off > 0) && !close(a.off) && !close(b.off)) continue;
    const double present = present_.value_or((least_ + most_) / 2);
    const double distance = std::max({a.at - present, present - b.at, 0.0});
    if (distance >= best_distance) continue;
    best_distance = distance;
    best = {a, b};
  }
  return best;
}

bool Seeker::one_way() const {
  auto sorted = tries_;
  std::sort(sorted.begin(), sorted.end(), [](const Try& a, const Try& b) { return a.at < b.at; });
  bool rises = false, falls = false;
  for (std::size_t i = 0; i + 1 < sorted.size(); ++i) {
    const double change = sorted[i + 1].off - sorted[i].off;
    if (std::abs(change) <= tolerance_) continue;  // rounding, or a step too small to matter
    (change > 0 ? rises : falls) = true;
  }
  return !(rises && falls);
}

Failure Seeker::out_of_reach() const {
  if (tries_.empty()) return *first_failure_;
  const auto [lowest, highest] =
      std::minmax_element(tries_.begin(), tries_.end(), [](const Try& a, const Try& b) { return a.off < b.off; });
  const double wish = goal_.value.number();
  const std::string range = in_quotes(goal_.moving) + " between " + measure(least_) + " and " + measure(most_);
  if (close(highest->off - lowest->off))
    return fail("sheet.seek-fixed", in_quotes(goal_.wished) + " stays at " + shown(lowest->got) + " with " + range,
                "move another measure");
  const Try& nearest = lowest->off > 0 ? *lowest : *highest;
  return fail("sheet.seek-out-of-reach",
              "with " + range + ", " + in_quotes(goal_.wished) + " runs from " + shown(lowest->got) + " to " +
                  shown(highest->got) + ", and never is " + shown(wish),
              "the nearest is at " + measure(nearest.at) + "; widen the limits or move another measure");
}

Result<Sought> Seeker::answer(const Root& root, const Try& low, const Try& high) {
  const double wish = goal_.value.number();
  const Kind kind = *sheet_.kind_of(goal_.wished);
  if (close(root.residual)) {
    const auto best = std::find_if(tries_.begin(), tries_.end(), [&](const Try& one) { return one.at == root.at; });
    return Sought{Value::number(best->at, kind_), Value::number(best->got, kind), evaluations_, one_way()};
  }
  // the bracket has closed on a jump: the nearest tries on both sides tell it
  Try below = low, above = high;
  for (const Try& one : tries_) {
    if (one.at < low.at || one.at > high.at) continue;
    if ((one.off > 0) == (low.off > 0) && one.at > below.at) below = one;
    if ((one.off > 0) == (high.off > 0) && one.at < above.at) above = one;
  }
  return fail("sheet.seek-jump",
              in_quotes(goal_.wished) + " steps over " + shown(wish) + " near " + measure(root.at) + ": from " +
                  shown(below.got) + " to " + shown(above.got),
              "wish for one of these two");
}

Result<Sought> Seeker::run() {
  if (const auto good = check_goal(); !good) return good.failure();
  if (const auto good = find_limits(); !good) return good.failure();
  try_at(least_);
  try_at(most_);
  auto found = bracket();
  if (!found) {
    // all are tried before one is taken, so that the nearest bracket wins
    for (int i = 1; i <= kInnerTries; ++i) try_at(least_ + (most_ - least_) * i / (kInnerTries + 1));
    found = bracket();
  }
  if (!found) return out_of_reach();
  const auto [low, high] = *found;
  const auto root = find_root([this](double at) { return attempt(at); }, low.at, high.at, finest_, tolerance_);
  if (!root) return root.failure();
  return answer(*root, low, high);
}

}  // namespace

Result<Sought> seek(const Sheet& sheet, const Goal& goal, const Outcomes& outcomes) {
  return Seeker(sheet, goal, outcomes).run();
}

}  // namespace pommel::sheet
