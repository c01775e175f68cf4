#include "match/chain.h"

#include <algorithm>
#include <cmath>

#include "match/linear.h"

namespace pommel::match {
namespace {

constexpr double kHalted = 1e-7;  // relative gain below which a fit has settled
constexpr double kRough = 1e20;
constexpr double kRoughly = 1e-4;  // and one whose wrong readings still pull: it is fitted again with others

constexpr double kThicker = 1.5;  // of the thickest reading: no radius goes beyond

double dot(std::span<const double> a, std::span<const double> b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

/// Which numbers of the chain are free, and where they stand in one long vector.
class Layout {
 public:
  explicit Layout(const Chain& chain) {
    of_.resize(chain.strokes.size());
    for (std::size_t k = 0; k < of_.size(); ++k) of_[k].assign(static_cast<std::size_t>(chain.strokes[k].sizes()), -1);
    for (std::size_t k = 0; k < of_.size(); ++k) place(chain, k);
    for (const auto& [which, value] : chain.held) hold(static_cast<std::size_t>(which / 64), which % 64);
    close_up();
    for (const auto& mine : of_) moving_.push_back(free_ones(mine));
  }

  int count() const { return count_; }
  const std::vector<std::vector<int>>& of() const { return of_; }
  /// The numbers that move stroke k, each once, growing.
  const std::vector<int>& moving(std::size_t k) const { return moving_[k]; }

 private:
  void place(const Chain& chain, std::size_t k) {
    const Stroke& s = chain.strokes[k];
    auto& mine = of_[k];
    const bool first = k == 0, last = k + 1 == of_.size();
    mine[0] = first ? (chain.joints[0].least < chain.joints[0].most ? count_++ : -1) : of_[k - 1][1];
    mine[1] = chain.joints[k + 1].least < chain.joints[k + 1].most ? count_++ : -1;
    const bool shares = !first && !chain.joints[k].step;
    mine[2] = first && chain.start_radius > 0 ? -1 : shares ? of_[k - 1][3] : count_++;
    mine[3] = last && chain.end_radius > 0 ? -1 : ends_alike(s) ? mine[2] : count_++;
    if (has_extreme(s.figure)) mine[4] = count_++;
    for (std::size_t j = 5; j < mine.size(); ++j) mine[j] = count_++;
  }

  void hold(std::size_t k, int size) {
    const int index = of_[k][static_cast<std::size_t>(size)];
    if (index < 0) return;
    for (auto& mine : of_) std::replace(mine.begin(), mine.end(), index, -1);
  }

  void close_up() {
    std::vector<int> renumbered(static_cast<std::size_t>(count_), -1);
    count_ = 0;
    for (auto& mine : of_) {
      for (int& index : mine) {
        if (index < 0) continue;
        int& fresh = renumbered[static_cast<std::size_t>(index)];
        if (fresh < 0) fresh = count_++;
        index = fresh;
      }
    }
  }

  static std::vector<int> free_ones(std::vector<int> mine) {
    std::sort(mine.begin(), mine.end());
    mine.erase(std::unique(mine.begin(), mine.end()), mine.end());
    std::erase(mine, -1);
    return mine;
  }

  std::vector<std::vector<int>> of_, moving_;
  int count_ = 0;
};

/// A chain with its samples on the way to its best numbers.
class Fitter {
 public:
  Fitter(Chain& chain, std::span<const Sample> samples, double cap)
      : chain_(chain), samples_(samples), cap_(cap), layout_(chain), wood_(wood_about(samples, std::max(chain.start_radius, chain.end_radius))) {
    const auto n = static_cast<std::size_t>(layout_.count());
    values_.assign(n, 0);
    low_.assign(n, -1e9);
    high_.assign(n, 1e9);
    read();
  }

  ChainFit run(int rounds, Numbers* numbers) {
    ChainFit best = cost();
    double damping = 1e-3;
    for (int round = 0; round < rounds && best.drawn && layout_.count() > 0; ++round) {
      assemble();
      bool gained = false;
      const double before = best.cost;
      for (int attempt = 0; attempt < 6 && !gained; ++attempt) {
        kept_ = values_;
        if (!step(damping)) break;
        write();
        const ChainFit now = cost();
        gained = now.drawn && now.cost <= best.cost;
        if (gained) best = now, damping = std::max(damping / 8, 1e-9);
        else values_ = kept_, write(), damping *= 10;
      }
      if (!gained || before - best.cost < (cap_ > kRough ? kRoughly : kHalted) * (1 + best.cost)) break;
    }
    if (numbers) report(*numbers);
    return best;
  }

  ChainFit cost() {
    ChainFit total;
    total.drawn = true;
    for (std::size_t k = 0; k < chain_.strokes.size() && total.drawn; ++k) {
      total.drawn = draw(chain_.strokes[k], pieces_) && wood_.holds(pieces_);
      for (std::size_t i = chain_.first[k]; i < chain_.first[k + 1] && total.drawn; ++i) {
        const double e = deviation(pieces_, samples_[i]), e2 = e * e;
        total.cost += std::min(e2, cap_);
        total.outliers += e2 > cap_;
      }
    }
    for (std::size_t k = 0; k < chain_.joints.size(); ++k) total.cost += square(pull(k));
    return total;
  }

 private:
  static double square(double v) { return v * v; }
  double joint_place(std::size_t k) const { return k == 0 ? chain_.strokes[0].x0 : chain_.strokes[k - 1].x1; }
  double pull(std::size_t k) const {
    const Joint& j = chain_.joints[k];
    return j.least < j.most ? (joint_place(k) - (j.least + j.most) / 2) / (j.most - j.least) : 0;
  }

  void read() {
    for (std::size_t k = 0; k < chain_.strokes.size(); ++k) {
      const auto& mine = layout_.of()[k];
      for (std::size_t j = 0; j < mine.size(); ++j) {
        if (mine[j] >= 0) values_[static_cast<std::size_t>(mine[j])] = chain_.strokes[k].size(static_cast<int>(j));
      }
      bound(mine[0], chain_.joints[k]);
      bound(mine[1], chain_.joints[k + 1]);
      for (std::size_t j = 2; j < mine.size(); j = j < 5 ? j + 1 : j + 2) keep_in_the_wood(mine[j]);
      for (std::size_t j = 6; j < mine.size(); j += 2) {
        if (mine[j] >= 0) low_[static_cast<std::size_t>(mine[j])] = 0.03, high_[static_cast<std::size_t>(mine[j])] = 0.97;
      }
    }
    write();
  }

  void bound(int index, const Joint& joint) {
    if (index < 0) return;
    low_[static_cast<std::size_t>(index)] = joint.least;
    high_[static_cast<std::size_t>(index)] = joint.most;
  }

  // Few readings bind little: a curve through two that stand close would run out of the wood before it meets its neighbour.
  void keep_in_the_wood(int index) {
    if (index < 0) return;
    const auto i = static_cast<std::size_t>(index);
    low_[i] = wood_.least, high_[i] = wood_.most;
    values_[i] = std::clamp(values_[i], low_[i], high_[i]);
  }

  void write() {
    for (std::size_t k = 0; k < chain_.strokes.size(); ++k) {
      Stroke& s = chain_.strokes[k];
      const auto& mine = layout_.of()[k];
      for (std::size_t j = 0; j < mine.size(); ++j) {
        if (mine[j] >= 0) s.set(static_cast<int>(j), values_[static_cast<std::size_t>(mine[j])]);
      }
      settle(s, k);
    }
  }

  // Sizes that are tied to others or known.
  void settle(Stroke& s, std::size_t k) {
    if (k == 0 && chain_.start_radius > 0) s.r0 = chain_.start_radius;
    if (k + 1 == chain_.strokes.size() && chain_.end_radius > 0) s.r1 = chain_.end_radius;
    for (const auto& [which, value] : chain_.held) {
      if (static_cast<std::size_t>(which / 64) == k) s.set(which % 64, value);
    }
    if (ends_alike(s)) s.r1 = s.r0;
  }

  void assemble();
  void add_stroke(std::size_t k);
  bool step(double damping);
  void report(Numbers& numbers);

  Chain& chain_;
  std::span<const Sample> samples_;
  double cap_;
  Layout layout_;
  Wood wood_;
  std::vector<double> values_, low_, high_;
  // what each round fills anew
  Matrix normal_, damped_;
  std::vector<double> right_, move_, kept_;
  shape::Pieces pieces_;
  Stroke moved_;
  std::vector<double> base_, slopes_;
};

void Fitter::assemble() {
  normal_.clear(static_cast<std::size_t>(layout_.count()));
  right_.assign(static_cast<std::size_t>(layout_.count()), 0);
  for (std::size_t k = 0; k < chain_.strokes.size(); ++k) add_stroke(k);
  for (std::size_t k = 0; k < chain_.joints.size(); ++k) {
    const int index = k == 0 ? layout_.of()[0][0] : layout_.of()[k - 1][1];
    if (index < 0) continue;
    const auto i = static_cast<std::size_t>(index);
    const double w = 1 / (chain_.joints[k].most - chain_.joints[k].least);
    normal_.at(i, i) += w * w;
    right_[i] -= w * pull(k);
  }
}

// Rows of this stroke's readings: derivatives by differences, for every number that moves it (a shared one moves several of its sizes at once).
void Fitter::add_stroke(std::size_t k) {
  const std::size_t from = chain_.first[k], n = chain_.first[k + 1] - from;
  const auto& mine = layout_.of()[k];
  const auto& moved = layout_.moving(k);
  if (!draw(chain_.strokes[k], pieces_)) return;
  base_.resize(n);
  for (std::size_t i = 0; i < n; ++i) base_[i] = deviation(pieces_, samples_[from + i]);
  slopes_.assign(n * moved.size(), 0);
  for (std::size_t m = 0; m < moved.size(); ++m) {
    for (double h : {1e-5, -1e-5}) {
      moved_ = chain_.strokes[k];
      for (std::size_t j = 0; j < mine.size(); ++j) {
        if (mine[j] == moved[m]) moved_.set(static_cast<int>(j), moved_.size(static_cast<int>(j)) + h);
      }
      if (ends_alike(moved_)) moved_.r1 = moved_.r0;
      if (!draw(moved_, pieces_)) continue;
      for (std::size_t i = 0; i < n; ++i) slopes_[m * n + i] = (deviation(pieces_, samples_[from + i]) - base_[i]) / h;
      break;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (base_[i] * base_[i] <= cap_) continue;
    for (std::size_t m = 0; m < moved.size(); ++m) slopes_[m * n + i] = 0;  // a wrong reading pulls no more
  }
  const auto column = [&](std::size_t m) { return std::span(slopes_).subspan(m * n, n); };
  for (std::size_t a = 0; a < moved.size(); ++a) {
    right_[static_cast<std::size_t>(moved[a])] -= dot(column(a), base_);
    for (std::size_t b = 0; b <= a; ++b) normal_.at(static_cast<std::size_t>(moved[a]), static_cast<std::size_t>(moved[b])) += dot(column(a), column(b));
  }
}

bool Fitter::step(double damping) {
  damped_ = normal_;
  for (std::size_t i = 0; i < values_.size(); ++i) damped_.at(i, i) += damping * normal_.at(i, i) + 1e-9;
  move_ = right_;
  if (!damped_.factor()) return false;
  damped_.solve(move_);
  for (std::size_t i = 0; i < values_.size(); ++i) values_[i] = std::clamp(values_[i] + move_[i], low_[i], high_[i]);
  return true;
}

void Fitter::report(Numbers& numbers) {
  numbers.values = values_;
  numbers.of = layout_.of();
  assemble();
  const std::size_t n = values_.size();
  numbers.covariance.assign(n * n, 0);
  for (std::size_t i = 0; i < n; ++i) normal_.at(i, i) += 1e-9;
  if (!normal_.factor()) return;
  for (std::size_t i = 0; i < n; ++i) {
    std::vector<double> column(n, 0);
    column[i] = 1;
    normal_.solve(column);
    std::copy(column.begin(), column.end(), numbers.covariance.begin() + static_cast<std::ptrdiff_t>(i * n));
  }
}

}  // namespace

// off(...).distance over the uncertainty in its direction, written out: most of a fit's time is spent here, and half of the roots fall out of the quotient.
double deviation(const shape::Pieces& pieces, const Sample& sample) {
  const shape::Piece& p = owner(pieces, sample.x);
  if (p.kind == shape::Piece::Kind::arc) {
    const double dx = sample.x - p.cx, dr = sample.r - p.cr, d = std::sqrt(dx * dx + dr * dr);
    if (d == 0) return -p.rho * p.bulge / sample.sr;
    const double a = dx * sample.sx, b = dr * sample.sr;
    return p.bulge * (d - p.rho) * d / std::sqrt(a * a + b * b);
  }
  const auto [radius, slope] = rise_of(p, sample.x);
  const double a = slope * sample.sx;
  return (sample.r - radius) / std::sqrt(a * a + sample.sr * sample.sr);
}

bool Wood::holds(const shape::Pieces& pieces) const {
  return std::all_of(pieces.begin(), pieces.end(), [&](const shape::Piece& p) { return p.least() >= least && p.greatest() <= most; });
}

Wood wood_about(std::span<const Sample> samples, double corner) {
  if (samples.empty()) return {};
  const auto most = std::max_element(samples.begin(), samples.end(), [](const Sample& a, const Sample& b) { return a.r < b.r; });
  return {0, std::max(kThicker * most->r, corner)};
}

ChainFit fit(Chain& chain, std::span<const Sample> samples, int rounds, Numbers* numbers, double cap) {
  return Fitter(chain, samples, cap).run(rounds, numbers);
}

ChainFit weigh(const Chain& chain, std::span<const Sample> samples) {
  Chain copy = chain;
  return Fitter(copy, samples, kOutlier).cost();
}

int freedoms(const Chain& chain) {
  const Layout layout(chain);
  int joints = 0;
  for (const Joint& joint : chain.joints) joints += joint.least < joint.most;
  return layout.count() - joints;
}

}  // namespace pommel::match
