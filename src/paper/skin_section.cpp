#include "paper/skin_section.h"

#include <algorithm>
#include <cmath>

namespace pommel::paper {
namespace {

constexpr double kStep = shape::kTurn / 240;
constexpr double kHides = 0.03;   // mm; chords over a flute's hollow stand 0.02 mm above it
constexpr double kOnEdge = 1e-3;  // mm: nearer to the shadow's edge than this is the edge
constexpr std::size_t kShelves = 64;
constexpr double kSliver = 1e-4;  // radians: 0.01 mm at 100 mm

bool same_maker(const shape::RingArc& a, const shape::RingArc& b) { return a.maker == b.maker && a.index == b.index && a.reed == b.reed; }

// Without slivers: where a reed's crown touches the round it is cut in, rounding says now this one and now that one.
std::vector<shape::RingArc> broad(const std::vector<shape::RingArc>& arcs) {
  std::vector<shape::RingArc> out;
  for (const shape::RingArc& arc : arcs) {
    const bool sliver = arcs.size() > 1 && arc.theta1 - arc.theta0 < kSliver;
    if (!out.empty() && (sliver || same_maker(out.back(), arc))) out.back().theta1 = arc.theta1;
    else if (!sliver) out.push_back(arc);
  }
  if (out.empty()) return arcs;
  out.back().theta1 = out.front().theta0 + shape::kTurn;
  if (out.size() > 1 && same_maker(out.back(), out.front())) {
    out.back().theta1 = out.front().theta1 + shape::kTurn;
    out.erase(out.begin());
  }
  return out;
}

}  // namespace

SkinSection::SkinSection(const shape::Part& part, double x, shape::Side side, double phi) : x_(x), phi_(phi), ring_(shape::ring_at(part, x, side)), arcs_(broad(ring_.arcs())) {
  for (const shape::RingArc& arc : arcs_) {
    const int steps = std::max(1, static_cast<int>(std::ceil((arc.theta1 - arc.theta0) / kStep)));
    for (int i = 0; i < steps; ++i) skin_.push_back(at(arc.theta0 + (arc.theta1 - arc.theta0) * i / steps));
  }
  skin_.push_back(skin_.front());
  skin_.back().theta += shape::kTurn;
  std::size_t lowest = 0, highest = 0;
  for (std::size_t i = 0; i + 1 < skin_.size(); ++i) {
    if (skin_[i].t < skin_[lowest].t) lowest = i;
    if (skin_[i].t > skin_[highest].t) highest = i;
  }
  low_ = -sharpened(lowest, -1);
  high_ = sharpened(highest, 1);
  shelve();
}

std::size_t SkinSection::shelf(double t) const {
  const double at = (t - low_) / (high_ - low_) * kShelves;
  return at > 0 ? std::min(static_cast<std::size_t>(at), kShelves - 1) : 0;
}

void SkinSection::shelve() {
  const auto each = [&](const auto& put) {
    for (std::size_t i = 0; i + 1 < skin_.size(); ++i) {
      const auto [low, high] = std::minmax(skin_[i].t, skin_[i + 1].t);
      for (std::size_t on = shelf(low), last = shelf(high); on <= last; ++on) put(on, i);
    }
  };
  from_.assign(kShelves + 1, 0);
  each([&](std::size_t on, std::size_t) { ++from_[on + 1]; });
  for (std::size_t on = 0; on < kShelves; ++on) from_[on + 1] += from_[on];
  chords_.resize(from_.back());
  std::vector<std::size_t> next(from_.begin(), from_.end() - 1);
  each([&](std::size_t on, std::size_t i) { chords_[next[on]++] = i; });
}

double SkinSection::t(double theta) const { return at(theta).t; }

SkinSection::Point SkinSection::at(double theta) const {
  const double r = ring_.radius(theta);
  const shape::SinCos turn = shape::sin_cos(theta - phi_);
  return {theta, r * turn.sin, r * turn.cos};
}

// The greatest sign * t between the neighbours of corner i, by golden section; an edge at i is its own greatest.
double SkinSection::sharpened(std::size_t i, double sign) const {
  constexpr double kGolden = 0.6180339887498949;
  double a = i > 0 ? skin_[i - 1].theta : skin_[skin_.size() - 2].theta - shape::kTurn, b = skin_[i + 1].theta, best = sign * skin_[i].t;
  for (const double quarter : {shape::kQuarterTurn, -shape::kQuarterTurn}) best = std::max(best, sign * t(phi_ + quarter));  // where a plain round has it, to the bit
  for (int step = 0; step < 30; ++step) {
    const double p = b - kGolden * (b - a), q = a + kGolden * (b - a), tp = sign * t(p), tq = sign * t(q);
    best = std::max({best, tp, tq});
    if (tp > tq) b = q;
    else a = p;
  }
  return best;
}

bool SkinSection::seen(double theta) const {
  const Point point = at(theta);
  const std::size_t on = shelf(point.t);
  for (std::size_t k = from_[on]; k < from_[on + 1]; ++k) {
    const Point &a = skin_[chords_[k]], &b = skin_[chords_[k] + 1];
    if (std::min(a.t, b.t) > point.t || std::max(a.t, b.t) < point.t || std::max(a.h, b.h) <= point.h + kHides) continue;
    const double along = a.t == b.t ? 1 : (point.t - a.t) / (b.t - a.t);
    if ((a.t == b.t ? std::max(a.h, b.h) : a.h + (b.h - a.h) * along) > point.h + kHides) return false;
  }
  return true;
}

std::vector<SkinSection::Span> SkinSection::seen_between(double theta0, double theta1) const {
  const int steps = std::max(2, static_cast<int>(std::ceil((theta1 - theta0) / kStep)));
  std::vector<Span> out;
  bool open = false;
  for (int i = 0; i <= steps; ++i) {
    const double theta = theta0 + (theta1 - theta0) * i / steps, here = t(theta);
    const bool visible = seen(theta);
    if (visible && open) {
      out.back().t0 = std::min(out.back().t0, here);
      out.back().t1 = std::max(out.back().t1, here);
    } else if (visible) {
      out.push_back({here, here});
    }
    open = visible;
  }
  std::sort(out.begin(), out.end(), [](const Span& a, const Span& b) { return a.t0 < b.t0; });
  return out;
}

std::vector<double> SkinSection::folds() const {
  std::vector<double> out;
  for (std::size_t i = 1; i + 1 < skin_.size(); ++i) {
    const Point &a = skin_[i - 1], &m = skin_[i], &b = skin_[i + 1];
    if ((m.t - a.t) * (b.t - m.t) >= 0 || m.t <= low_ + kOnEdge || m.t >= high_ - kOnEdge || m.h < 0) continue;
    const bool edge = std::any_of(arcs_.begin(), arcs_.end(), [&](const shape::RingArc& arc) { return std::fabs(std::remainder(arc.theta0 - m.theta, shape::kTurn)) < 1e-9; });
    if (!edge && seen(m.theta)) out.push_back(m.theta);
  }
  return out;
}

}  // namespace pommel::paper
