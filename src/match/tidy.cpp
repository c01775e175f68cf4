#include "match/tidy.h"

#include <algorithm>
#include <cmath>

namespace pommel::match {
namespace {

constexpr double kBeyond = 0.3;  // mm by which a round place may stand past the readings that bound it
constexpr double kMoved = 4;  // squared standard deviations that a size may be moved

/// scale * (sum of signed numbers) + constant shall be `value`.
struct Wish {
  std::vector<std::pair<int, double>> terms;
  double value = 0;
};

class Tidier {
 public:
  explicit Tidier(Numbers& numbers) : n_(numbers.values.size()), p_(numbers.values), c_(numbers.covariance) {}

  /// Squared standard deviations by which the wish would move what it says.
  double strain(const Wish& wish) const {
    const double d = miss(wish), v = variance(wish, spread(wish));
    return v > 1e-14 ? d * d / v : (std::fabs(d) < 1e-9 ? 0 : 1e9);
  }

  void grant(const Wish& wish) {
    const std::vector<double> ca = spread(wish);
    const double v = variance(wish, ca), d = miss(wish);
    if (v <= 1e-14) return;
    for (std::size_t i = 0; i < n_; ++i) p_[i] -= ca[i] * d / v;
    for (std::size_t i = 0; i < n_; ++i) {
      for (std::size_t j = 0; j < n_; ++j) c_[i * n_ + j] -= ca[i] * ca[j] / v;
    }
  }

 private:
  double miss(const Wish& wish) const {
    double sum = -wish.value;
    for (const auto& [i, k] : wish.terms) sum += k * p_[static_cast<std::size_t>(i)];
    return sum;
  }
  std::vector<double> spread(const Wish& wish) const {
    std::vector<double> ca(n_, 0);
    for (const auto& [i, k] : wish.terms) {
      for (std::size_t j = 0; j < n_; ++j) ca[j] += k * c_[static_cast<std::size_t>(i) * n_ + j];
    }
    return ca;
  }
  double variance(const Wish& wish, const std::vector<double>& ca) const {
    double v = 0;
    for (const auto& [i, k] : wish.terms) v += k * ca[static_cast<std::size_t>(i)];
    return v;
  }

  std::size_t n_;
  std::vector<double>&p_, &c_;
};

/// A size of the chain as terms over its free numbers and a constant.
struct Size {
  std::vector<std::pair<int, double>> terms;
  double constant = 0;

  void add(int index, double value, double scale) {
    if (index < 0) constant += scale * value;
    else terms.emplace_back(index, scale);
  }
};

Size length_of(const Chain& chain, const Numbers& numbers, std::size_t k) {
  Size s;
  s.add(numbers.of[k][1], chain.strokes[k].x1, 1);
  s.add(numbers.of[k][0], chain.strokes[k].x0, -1);
  return s;
}

Size diameter_of(const Chain& chain, const Numbers& numbers, std::size_t k, std::size_t size) {
  Size s;
  s.add(numbers.of[k][size], chain.strokes[k].size(static_cast<int>(size)), 2);
  return s;
}

double now(const Size& size, const std::vector<double>& values) {
  double sum = size.constant;
  for (const auto& [i, k] : size.terms) sum += k * values[static_cast<std::size_t>(i)];
  return sum;
}

std::vector<Size> sizes_of(const Chain& chain, const Numbers& numbers) {
  std::vector<Size> all;
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    all.push_back(length_of(chain, numbers, k));
    for (std::size_t size : {2u, 3u, 4u}) {
      if (numbers.of[k][size] >= 0) all.push_back(diameter_of(chain, numbers, k, size));
    }
    for (std::size_t size = 5; size < numbers.of[k].size(); size += 2) {
      if (numbers.of[k][size] >= 0) all.push_back(diameter_of(chain, numbers, k, size));
    }
  }
  return all;
}

/// Elements of one figure whose sizes might be the same.
std::vector<Wish> repeats(const Chain& chain, const Numbers& numbers) {
  std::vector<Wish> all;
  const auto equal = [&](const Size& a, const Size& b) {
    Wish wish{a.terms, b.constant - a.constant};
    for (const auto& [i, k] : b.terms) wish.terms.emplace_back(i, -k);
    if (!wish.terms.empty()) all.push_back(std::move(wish));
  };
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    for (std::size_t j = 0; j < k; ++j) {
      if (chain.strokes[j].figure != chain.strokes[k].figure || chain.strokes[k].figure == Figure::vase) continue;
      equal(length_of(chain, numbers, j), length_of(chain, numbers, k));
      for (std::size_t size : {2u, 3u, 4u}) {
        if (numbers.of[j][size] >= 0 && numbers.of[k][size] >= 0 && numbers.of[j][size] != numbers.of[k][size])
          equal(diameter_of(chain, numbers, j, size), diameter_of(chain, numbers, k, size));
      }
    }
  }
  return all;
}

}  // namespace

void tidy(Chain& chain, const Run& run, double step) {
  Numbers numbers;
  const ChainFit before = fit(chain, run.samples, 20, &numbers);
  if (!before.drawn || numbers.values.empty()) return;
  const Chain untidied = chain;
  Tidier tidier(numbers);
  std::vector<Wish> same = repeats(chain, numbers);
  std::stable_sort(same.begin(), same.end(), [&](const Wish& a, const Wish& b) { return tidier.strain(a) < tidier.strain(b); });
  for (const Wish& wish : same) {
    if (tidier.strain(wish) <= 1) tidier.grant(wish);  // nearer than for round numbers: makers repeat sizes less often than they round them
  }
  // coarse steps first: ten half millimetres are rounder than one
  std::vector<Size> sizes = sizes_of(chain, numbers);
  for (double coarse : {2 * step, step}) {
    std::vector<std::pair<double, Wish>> round;
    for (const Size& size : sizes) {
      if (size.terms.empty()) continue;
      const double value = std::round(now(size, numbers.values) / coarse) * coarse;
      if (!(value > 0)) continue;
      const Wish wish{size.terms, value - size.constant};
      round.emplace_back(tidier.strain(wish), wish);
    }
    std::stable_sort(round.begin(), round.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [first, wish] : round) {
      if (tidier.strain(wish) <= kMoved / 2) tidier.grant(wish);
    }
  }
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    for (std::size_t size = 0; size < numbers.of[k].size(); ++size) {
      const int index = numbers.of[k][size];
      if (index >= 0) chain.strokes[k].set(static_cast<int>(size), numbers.values[static_cast<std::size_t>(index)]);
    }
    if (ends_alike(chain.strokes[k])) chain.strokes[k].r1 = chain.strokes[k].r0;
  }
  // the straight line from the best fit holds only near it: what cannot be drawn, or lies off by far more than was paid, is not taken
  const ChainFit after = weigh(chain, run.samples);
  const double paid = kMoved * static_cast<double>(numbers.values.size());
  bool within = true;
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    const Joint& j = chain.joints[k + 1];
    within = within && chain.strokes[k].x1 > j.least - kBeyond && chain.strokes[k].x1 < j.most + kBeyond;
  }
  if (!within || !after.drawn || after.outliers > before.outliers || after.cost > before.cost + paid) chain = untidied;
}

}  // namespace pommel::match
