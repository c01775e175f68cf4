#include "mill/line.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace pommel::mill {
namespace {

// Squared distance of m from the segment from p to q.
double to_segment2(const LinePoint& m, const LinePoint& p, const LinePoint& q) {
  const double ux = q.x - p.x, uz = q.z - p.z, wx = m.x - p.x, wz = m.z - p.z;
  const double length2 = ux * ux + uz * uz;
  const double t = length2 > 0 ? std::clamp((wx * ux + wz * uz) / length2, 0.0, 1.0) : 0;
  const double x = wx - t * ux, z = wz - t * uz;
  return x * x + z * z;
}

}  // namespace

double beside_chord(const LinePoint& m, const LinePoint& p, const LinePoint& q) {
  const double ux = q.x - p.x, uz = q.z - p.z;
  return std::fabs((m.x - p.x) * uz - (m.z - p.z) * ux) / std::hypot(ux, uz);
}

bool bends(const std::vector<LinePoint>& samples, std::size_t i, double tolerance) {
  auto slope = [&](std::size_t k) { return (samples[k + 1].z - samples[k].z) / (samples[k + 1].x - samples[k].x); };
  const double here = slope(i);
  double most = 0;
  if (i > 0) most = std::max(most, std::fabs(here - slope(i - 1)));
  if (i + 2 < samples.size()) most = std::max(most, std::fabs(slope(i + 1) - here));
  return most * (samples[i + 1].x - samples[i].x) / 4 > tolerance * std::sqrt(1 + here * here);
}

std::vector<LinePoint> simplified(const std::vector<LinePoint>& line, double tolerance) {
  if (line.size() < 3) return line;
  std::vector<char> kept(line.size(), 0);
  kept.front() = kept.back() = 1;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, line.size() - 1}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    double worst = tolerance * tolerance;
    std::size_t at = 0;
    for (std::size_t i = from + 1; i < to; ++i) {
      if (const double d = to_segment2(line[i], line[from], line[to]); d > worst) worst = d, at = i;
    }
    if (at == 0) continue;
    kept[at] = 1;
    open.emplace_back(from, at);
    open.emplace_back(at, to);
  }
  std::vector<LinePoint> left;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (kept[i]) left.push_back(line[i]);
  }
  return left;
}

std::vector<std::size_t> turning_points(std::span<const double> values, double prominence) {
  std::vector<std::size_t> found;
  if (values.empty()) return found;
  found.push_back(0);
  std::size_t high = 0, low = 0;
  int heading = 0;  // +1 climbing, -1 falling, 0 not known yet
  auto turn = [&](std::size_t at) {
    if (at != found.back()) found.push_back(at);
  };
  for (std::size_t i = 1; i < values.size(); ++i) {
    if (values[i] > values[high]) high = i;
    if (values[i] < values[low]) low = i;
    if (heading >= 0 && values[high] - values[i] > prominence) {
      turn(high);
      heading = -1;
      low = i;
    } else if (heading <= 0 && values[i] - values[low] > prominence) {
      turn(low);
      heading = 1;
      high = i;
    }
    // while heading one way, the extreme of the other way follows along
    if (heading > 0) low = i;
    if (heading < 0) high = i;
  }
  turn(values.size() - 1);
  return found;
}

std::vector<std::vector<LinePoint>> downhill(const std::vector<LinePoint>& line, double prominence) {
  std::vector<double> heights;
  for (const LinePoint& p : line) heights.push_back(p.z);
  const std::vector<std::size_t> turns = turning_points(heights, prominence);
  std::vector<std::vector<LinePoint>> runs;
  for (std::size_t i = 0; i + 1 < turns.size(); ++i) {
    std::vector<LinePoint> run(line.begin() + static_cast<std::ptrdiff_t>(turns[i]),
                               line.begin() + static_cast<std::ptrdiff_t>(turns[i + 1]) + 1);
    if (run.front().z < run.back().z) std::reverse(run.begin(), run.end());
    runs.push_back(std::move(run));
  }
  return runs;
}

}  // namespace pommel::mill
