// The envelope over a carved mesh of 200,000 triangles on the bench grid (720 mm at 0.4 mm x 0.5 degrees, a ball of 4 mm
// radius), against its rival: a raster of the mesh into radii R(x, theta) on the same grid, and the highest ball over those
// samples. The rival leaves out what stands between its samples, always to the gouging side; its counters say by how much. Times are real ones, CPU those of all threads.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <thread>

#include "mill/mesh_envelope.h"
#include "mill/meshes.h"

namespace {

using namespace pommel;
using namespace pommel::mill;

constexpr double kBall = 4, kLength = 720, kRow = 0.4;  // mm
constexpr int kColumns = 720;
constexpr double kTurn = 2 * std::numbers::pi;

shop::Cutter ball() {
  shop::Cutter c;
  c.id = "ball";
  c.diameter = 2 * kBall;
  return c;
}

/// Five twisting lobes with veins: 200,400 triangles.
const mill::testing::TestMesh& carving() {
  static const auto mesh = mill::testing::lathe("carving", kLength, 501, 200, [](double x, double t) {
    return 27 + 4 * std::sin(x / 30) + 3 * std::cos(5 * t + x / 40) + 0.6 * std::cos(17 * t - x / 9);
  });
  return mesh;
}

const std::vector<double>& rows() {
  static const std::vector<double> x = [] {
    std::vector<double> at;
    for (int i = 0; i <= static_cast<int>(kLength / kRow); ++i) at.push_back(kRow * i);
    return at;
  }();
  return x;
}

Result<MeshEnvelope> envelope(const shop::Cutter& cutter) {
  return MeshEnvelope::of(carving().points, carving().triangles, cutter);
}

std::int64_t positions() {
  return static_cast<std::int64_t>(rows().size()) * kColumns;
}

void BM_MeshBuild(benchmark::State& state) {
  carving();
  for (auto _ : state) benchmark::DoNotOptimize(envelope(ball()).ok());
  state.counters["triangles"] = static_cast<double>(carving().triangles.size());
}
BENCHMARK(BM_MeshBuild)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void BM_MeshFill(benchmark::State& state) {
  const auto made = envelope(ball());
  if (!made.ok()) return state.SkipWithError("no envelope");
  Heights grid;
  for (auto _ : state) benchmark::DoNotOptimize(made->fill(rows(), kColumns, grid).ok());
  state.SetItemsProcessed(state.iterations() * positions());
}
BENCHMARK(BM_MeshFill)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

void BM_MeshWhole(benchmark::State& state) {
  Heights grid;
  for (auto _ : state) benchmark::DoNotOptimize(envelope(ball())->fill(rows(), kColumns, grid).ok());
  state.SetItemsProcessed(state.iterations() * positions());
}
BENCHMARK(BM_MeshWhole)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

// Other forms on every sixteenth row: compare items a second.
void BM_MeshOtherCutter(benchmark::State& state, shop::Cutter::Form form) {
  using Form = shop::Cutter::Form;
  shop::Cutter c = ball();
  c.form = form;
  if (c.form == Form::bull_nose || c.form == Form::tapered_ball) c.tip_radius = 1;
  if (c.form == Form::tapered_ball || c.form == Form::vee) c.half_angle = 0.5;
  const auto made = envelope(c);
  if (!made.ok()) return state.SkipWithError("no envelope");
  std::vector<double> some;
  for (std::size_t i = 0; i < rows().size(); i += 16) some.push_back(rows()[i]);
  Heights grid;
  for (auto _ : state) benchmark::DoNotOptimize(made->fill(some, kColumns, grid).ok());
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(some.size()) * kColumns);
}
BENCHMARK_CAPTURE(BM_MeshOtherCutter, flat, shop::Cutter::Form::flat)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();
BENCHMARK_CAPTURE(BM_MeshOtherCutter, bull_nose, shop::Cutter::Form::bull_nose)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();
BENCHMARK_CAPTURE(BM_MeshOtherCutter, tapered_ball, shop::Cutter::Form::tapered_ball)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();
BENCHMARK_CAPTURE(BM_MeshOtherCutter, vee, shop::Cutter::Form::vee)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

// ---- the rival -----------------------------------------------------------------------------------------------------

struct Radii {
  std::vector<float> values = std::vector<float>(rows().size() * kColumns, 0);
  float& at(std::size_t row, int column) {
    return values[row * kColumns + static_cast<std::size_t>((column % kColumns + kColumns) % kColumns)];
  }
};

/// The triangle's cut with the row's plane, seen from the axis: along a straight line the radius is one division.
void draw(Radii& radii, std::size_t row, const std::array<Vector, 2>& cut) {
  const double y = cut[0][1], z = cut[0][2], v = cut[1][1], w = cut[1][2], turn = y * w - z * v;
  if (turn == 0) return;
  double from = std::atan2(z, y), over = std::atan2(turn, y * v + z * w);
  if (over < 0) from += over, over = -over;
  const double step = kTurn / kColumns, farthest = std::max(std::hypot(y, z), std::hypot(v, w));  // rounding, where the cut is a point
  for (int j = static_cast<int>(std::ceil(from / step)); j * step <= from + over; ++j) {
    const double c = std::cos(j * step), s = std::sin(j * step), along = c * (w - z) - s * (v - y);
    if (along != 0) radii.at(row, j) = std::max(radii.at(row, j), static_cast<float>(std::min(farthest, std::fabs(turn / along))));
  }
}

Radii raster(const mill::testing::TestMesh& mesh) {
  Radii radii;
  for (const Corners& t : mesh.triangles) {
    const std::array<Vector, 3> p{mesh.points[t[0]], mesh.points[t[1]], mesh.points[t[2]]};
    const double low = std::min({p[0][0], p[1][0], p[2][0]}), high = std::max({p[0][0], p[1][0], p[2][0]});
    for (auto row = static_cast<std::size_t>(std::ceil(low / kRow)); row < rows().size() && rows()[row] <= high; ++row) {
      const double x = rows()[row];
      std::array<Vector, 2> cut{};
      std::size_t found = 0;
      for (std::size_t k = 0; k < 3 && found < 2; ++k) {
        const Vector &a = p[k], &b = p[(k + 1) % 3];
        if ((a[0] < x) != (b[0] < x)) cut[found++] = a + ((x - a[0]) / (b[0] - a[0])) * (b - a);
      }
      if (found == 2) draw(radii, row, cut);
    }
  }
  return radii;
}

void roll_row(Radii& radii, std::size_t row, std::vector<float>& heights) {
  const int reach = static_cast<int>(kBall / kRow);
  const double step = kTurn / kColumns;
  std::vector<double> cos, sin2;
  for (int k = 0; k < kColumns; ++k) cos.push_back(std::cos(k * step)), sin2.push_back(std::sin(k * step) * std::sin(k * step));
  for (int i = -reach; i <= reach; ++i) {
    const auto other = static_cast<std::ptrdiff_t>(row) + i;
    if (other < 0 || other >= static_cast<std::ptrdiff_t>(rows().size())) continue;
    const double left = kBall * kBall - kRow * kRow * i * i;
    if (left < 0) continue;
    for (int j = 0; j < kColumns; ++j) {
      const double r = static_cast<double>(radii.at(static_cast<std::size_t>(other), j));
      if (r == 0) continue;
      const int wide = r > kBall ? static_cast<int>(std::asin(std::min(1.0, std::sqrt(left) / r)) / step) : kColumns / 4;
      for (int k = -wide; k <= wide; ++k) {
        const auto turned = static_cast<std::size_t>(std::abs(k));
        const double room = left - r * r * sin2[turned];
        float& into = heights[row * kColumns + static_cast<std::size_t>((j + k + kColumns) % kColumns)];
        if (room >= 0) into = std::max(into, static_cast<float>(r * cos[turned] + std::sqrt(room)));
      }
    }
  }
}

std::vector<float> rolled_over_samples(Radii radii) {
  std::vector<float> heights(rows().size() * kColumns, -1e9F);
  const auto half = [&](std::size_t from, std::size_t to) {
    for (std::size_t row = from; row < to; ++row) roll_row(radii, row, heights);
  };
  std::jthread other(half, rows().size() / 2, rows().size());
  half(0, rows().size() / 2);
  return heights;
}

void BM_RivalRaster(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(raster(carving()).values.data());
  state.SetItemsProcessed(state.iterations() * positions());
}
BENCHMARK(BM_RivalRaster)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

// low_*: mm by which the rival's ball stands below the exact one, over all positions whose samples are all on the piece.
void BM_RivalWhole(benchmark::State& state) {
  std::vector<float> rival;
  for (auto _ : state) {
    rival = rolled_over_samples(raster(carving()));
    benchmark::DoNotOptimize(rival.data());
  }
  state.SetItemsProcessed(state.iterations() * positions());
  Heights grid;
  const auto made = envelope(ball());
  if (!made.ok() || !made->fill(rows(), kColumns, grid).ok()) return state.SkipWithError("no envelope");
  std::vector<double> low;
  double high = 0;
  const auto margin = static_cast<std::size_t>(kBall / kRow) + 1;
  for (std::size_t i = margin; i + margin < rows().size(); ++i) {
    for (int j = 0; j < kColumns; ++j) {
      const double less = static_cast<double>(grid.at(i, j)) - static_cast<double>(rival[i * kColumns + static_cast<std::size_t>(j)]);
      low.push_back(less);
      high = std::max(high, -less);
    }
  }
  std::sort(low.begin(), low.end());
  state.counters["low_median"] = low[low.size() / 2];
  state.counters["low_99"] = low[low.size() * 99 / 100];
  state.counters["low_worst"] = low.back();
  state.counters["high_worst"] = high;
}
BENCHMARK(BM_RivalWhole)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
