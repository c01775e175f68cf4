// The demo order's leg through the rooms that cost time. Read the ratios: the analytic envelope against the same envelope found by
// looking at sampled skin; a plan that is at hand against one that is made; the whole job by stage.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>

#include "job/job.h"
#include "mill/envelope.h"

namespace {

using namespace pommel;

constexpr double kBall = 4;  // mm

const job::Loaded& loaded() {
  static const job::Loaded order = [] {
    const auto files = real_files();
    const std::filesystem::path path = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/orders/harvest-table.yaml";
    const auto house = job::find_house(*files, path, {}, {});
    Sink sink;
    auto read = house.ok() ? job::load(*files, *house, path, sink) : std::nullopt;
    if (!read || sink.has_errors()) {
      std::fputs(render(sink.all()).c_str(), stderr);
      std::exit(1);
    }
    return std::move(*read);
  }();
  return order;
}

sheet::Sheet sheet_of(const job::Loaded& order) {
  Sink sink;
  return family::make_sheet(order.family, order.design, &*order.order, order.shop, {}, sink);
}

const shape::Part& leg() {
  static const shape::Part part = [] {
    const auto made = family::make(loaded().family, loaded().design, sheet_of(loaded()), family::kOrder, loaded().shop, {});
    if (!made.ok()) std::exit(1);
    return made->pieces.front().part;
  }();
  return part;
}

std::vector<double> rows(double step) {
  std::vector<double> x;
  for (double at = 0; at <= leg().length; at += step) x.push_back(at);
  return x;
}

// 0.4 mm x 0.5 degrees, the buffer kept.
void BM_EnvelopeAnalytic(benchmark::State& state) {
  const auto envelope = mill::Envelope::of(leg(), kBall);
  const auto x = rows(0.4);
  mill::Heights heights;
  for (auto _ : state) benchmark::DoNotOptimize(envelope->fill(x, 720, heights).ok());
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(x.size()) * 720);
}
BENCHMARK(BM_EnvelopeAnalytic)->Unit(benchmark::kMillisecond);

// The naive rival on a few positions: the highest ball over skin sampled every 0.1 mm and 0.5 degrees. Compare items a second.
void BM_EnvelopeSampled(benchmark::State& state) {
  std::int64_t positions = 0;
  for (auto _ : state) {
    for (double x0 = 150; x0 < leg().length - 10; x0 += 61.7, ++positions) {
      double best = -1e9;
      for (double x = x0 - kBall; x <= x0 + kBall; x += 0.1)
        for (double theta = -0.6; theta <= 0.6; theta += std::numbers::pi / 360) {
          const double r = shape::radius_at(leg(), x, theta), q2 = (x - x0) * (x - x0) + r * r * std::sin(theta) * std::sin(theta);
          if (q2 <= kBall * kBall) best = std::max(best, r * std::cos(theta) + std::sqrt(kBall * kBall - q2));
        }
      benchmark::DoNotOptimize(best);
    }
  }
  state.SetItemsProcessed(positions);
}
BENCHMARK(BM_EnvelopeSampled)->Unit(benchmark::kMillisecond);

void BM_ColumnFirst(benchmark::State& state) {
  const auto sheet = sheet_of(loaded());
  for (auto _ : state) benchmark::DoNotOptimize(job::run_column(loaded(), sheet, family::kOrder, {}).ok());
}
BENCHMARK(BM_ColumnFirst)->Unit(benchmark::kMillisecond);

void BM_ColumnRecalled(benchmark::State& state) {
  const auto sheet = sheet_of(loaded());
  job::TurningMemo memo;
  job::Options options;
  options.memo = &memo;
  if (!job::run_column(loaded(), sheet, family::kOrder, options).ok()) return state.SkipWithError("the order makes no column");
  for (auto _ : state) benchmark::DoNotOptimize(job::run_column(loaded(), sheet, family::kOrder, options).ok());
}
BENCHMARK(BM_ColumnRecalled)->Unit(benchmark::kMillisecond);

// The vase's thickness typed anew: what lies out of its reach is at hand. The rival is BM_ColumnFirst.
void BM_ColumnAfterAChange(benchmark::State& state) {
  const job::Loaded& of = loaded();
  job::TurningMemo memo;
  job::Options options;
  options.memo = &memo;
  int change = 0;
  const auto another = [&] {
    const std::string thick = std::to_string(50 + 0.01 * ++change) + " mm";
    Sink sink;
    const auto sheet = family::make_sheet(of.family, of.design, &*of.order, of.shop, {{"thick", {thick, Place{"thick", 1, 1}, thick}}}, sink);
    return job::run_column(of, sheet, sheet.column_count() - 1, options).ok();
  };
  (void)another();  // the first finds nothing at hand
  for (auto _ : state)
    if (!another()) return state.SkipWithError("the order makes no column");
}
BENCHMARK(BM_ColumnAfterAChange)->Unit(benchmark::kMillisecond);

// The demo order from its file to checked programs, STEP and STL, memory to memory.
void BM_OrderFromYaml(benchmark::State& state) {
  const auto files = real_files();
  const std::filesystem::path path = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/orders/harvest-table.yaml";
  for (auto _ : state) {
    Sink sink;
    auto read = job::load(*files, *job::find_house(*files, path, {}, {}), path, sink);
    if (!read || !job::run(std::move(*read), {}, {}).ok()) return state.SkipWithError("the order cannot be made");
  }
}
BENCHMARK(BM_OrderFromYaml)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

// Growth with the number of members: balusters of one length, one and two a tread.
void BM_OrderOfMembers(benchmark::State& state) {
  const auto files = real_files();
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  const auto count = state.range(0);
  Sink sink;
  auto design = job::load(*files, {root / "catalog", root / "templates"}, root / "catalog/designs/bobbin-baluster.yaml", sink);
  if (!design) return state.SkipWithError("no design");
  design->order.emplace();
  design->order->machine = "rotary-degrees";
  design->order->cutter = "ball-8";
  const auto entry = [](const char* name, std::string text) { return std::pair<std::string, sheet::Entry>{name, {text, Place{name, 1, 1}, text}}; };
  const std::vector<std::pair<std::string, sheet::Entry>> extra{entry("treads", std::to_string(count == 1 ? 1 : count / 2)),
                                                                entry("balusters_a_tread", count == 1 ? "1" : "2"), entry("string", "closed")};
  for (auto _ : state) {
    const auto made = job::run(*design, extra, {});
    if (!made.ok()) return state.SkipWithError(render(made.reasons()).c_str());
    state.counters["members"] = static_cast<double>(made->order.made.set.members.size());
  }
}
BENCHMARK(BM_OrderOfMembers)->Arg(1)->Arg(4)->Arg(16)->Arg(64)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
