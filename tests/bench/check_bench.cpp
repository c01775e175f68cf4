// The check of a program by removal, and what it stands on: cutting, reading, writing. Read the ratios within one run.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>

#include "leg.h"
#include "program/reader.h"
#include "program/replay.h"
#include "program/writer.h"
#include "proof/body.h"
#include "proof/grid.h"
#include "proof/proof.h"
#include "proof/removal.h"
#include "proof/start.h"

namespace {

using namespace pommel;

// Everything from the text: reading, replay, grid, four lies of the blank, removal, judgement. Argument: threads.
void prove(benchmark::State& state, const motion::Path& path) {
  const bench::Leg& leg = bench::leg();
  const std::string text = bench::text_of(leg, path);
  proof::Settings settings;
  settings.threads = static_cast<int>(state.range(0));
  double gouge = 0, left = 0, passed = 0;
  for (auto _ : state) {
    const auto proof = proof::prove(text, leg.part, leg.blank, leg.tolerance, leg.cutter, leg.machine, settings, {});
    if (!proof.ok()) return state.SkipWithError("no proof");
    gouge = proof->gouge.amount, left = proof->leftover.amount, passed = proof->passed() ? 1 : 0;
  }
  state.counters["moves"] = static_cast<double>(path.moves.size());
  state.counters["gouge_mm"] = gouge;
  state.counters["left_mm"] = left;
  state.counters["passed"] = passed;
}

void BM_ProvePlanned(benchmark::State& state) { prove(state, bench::leg().planned); }
BENCHMARK(BM_ProvePlanned)->Arg(1)->Arg(2)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

void BM_ProveDense(benchmark::State& state) { prove(state, bench::leg().dense); }
BENCHMARK(BM_ProveDense)->Arg(1)->Arg(2)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

// Growth with length, mm, two threads; the leg's program is planned for each.
void BM_ProveLength(benchmark::State& state) {
  const bench::Leg leg = bench::planned_leg(static_cast<double>(state.range(0)));
  const std::string text = bench::text_of(leg, leg.planned);
  proof::Settings settings;
  settings.threads = 2;
  for (auto _ : state) benchmark::DoNotOptimize(proof::prove(text, leg.part, leg.blank, leg.tolerance, leg.cutter, leg.machine, settings, {}).ok());
  state.counters["moves"] = static_cast<double>(leg.planned.moves.size());
}
BENCHMARK(BM_ProveLength)->Arg(300)->Arg(600)->Arg(1200)->Arg(2400)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

// A post of 2.4 m at 0.25 degrees: the greatest memory that this process has had so far, so ask for this row alone.
void BM_ProveLongPostFinely(benchmark::State& state) {
  const bench::Leg leg = bench::planned_leg(2400);
  const std::string text = bench::text_of(leg, leg.planned);
  proof::Settings settings;
  settings.threads = 2;
  settings.columns = 1440;
  for (auto _ : state) benchmark::DoNotOptimize(proof::prove(text, leg.part, leg.blank, leg.tolerance, leg.cutter, leg.machine, settings, {}).ok());
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  state.counters["greatest_MB"] = static_cast<double>(used.ru_maxrss) / 1024;
}
BENCHMARK(BM_ProveLongPostFinely)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

// The removal alone, one thread: what it makes of the whole wood, begun anew each time.
void remove(benchmark::State& state, const motion::Path& path) {
  const bench::Leg& leg = bench::leg();
  const proof::Settings settings;
  const auto grid = proof::make_grid(leg.part, leg.blank, settings.row_step, settings.columns);
  const auto tool = proof::tool_of(leg.cutter);
  if (!grid.ok() || !tool.ok()) return state.SkipWithError("no grid");
  std::vector<proof::Start> starts;
  for (const proof::Lie& lie : proof::lies(leg.tolerance)) starts.emplace_back(*grid, leg.blank, lie);
  proof::CutSettings how;
  how.threads = 1;
  for (auto _ : state) {
    proof::Wood wood = proof::uncut(*grid, starts);
    benchmark::DoNotOptimize(proof::cut(*grid, wood, path, *tool, how, {}).ok());
  }
  state.counters["rays"] = static_cast<double>(grid->rays());
}

void BM_RemovePlanned(benchmark::State& state) { remove(state, bench::leg().planned); }
BENCHMARK(BM_RemovePlanned)->Unit(benchmark::kMillisecond);
void BM_RemoveDense(benchmark::State& state) { remove(state, bench::leg().dense); }
BENCHMARK(BM_RemoveDense)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
