// Program text, in megabytes a second, beside what one would write without a thought: fprintf of each word to a file, strtod of each word
// of a text. The rivals check nothing; ours say what is wrong with a program, line by line. Read the ratios within one run.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <numbers>

#include "leg.h"
#include "program/reader.h"
#include "program/replay.h"
#include "program/writer.h"

namespace {

using namespace pommel;

// The dense text: 180,000 moves, 4 MB.
const motion::Path& path() { return bench::leg().dense; }

const std::string& text() {
  static const std::string of_path = bench::text_of(bench::leg(), path());
  return of_path;
}

struct Closer {
  void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, Closer>;

void set_speed(benchmark::State& state, std::size_t bytes) {
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(bytes));
  state.counters["megabytes"] = static_cast<double>(bytes) / 1e6;
}

// Checked, rounded, written in one piece to a file.
void BM_WriteText(benchmark::State& state) {
  const motion::Path& moves = path();
  std::size_t bytes = 0;
  for (auto _ : state) {
    const std::string made = bench::text_of(bench::leg(), moves);
    File file(std::tmpfile());
    if (!file || std::fwrite(made.data(), 1, made.size(), file.get()) != made.size()) return state.SkipWithError("no file");
    bytes = made.size();
  }
  set_speed(state, bytes);
}
BENCHMARK(BM_WriteText)->Unit(benchmark::kMillisecond);

// The same in memory.
void BM_MakeText(benchmark::State& state) {
  std::size_t bytes = 0;
  for (auto _ : state) bytes = bench::text_of(bench::leg(), path()).size();
  set_speed(state, bytes);
}
BENCHMARK(BM_MakeText)->Unit(benchmark::kMillisecond);

void BM_WriteWithFprintf(benchmark::State& state) {
  const motion::Path& moves = path();
  std::size_t bytes = 0;
  for (auto _ : state) {
    File file(std::tmpfile());
    if (!file) return state.SkipWithError("no file");
    for (const motion::Move& move : moves.moves) {
      if (move.rapid) std::fprintf(file.get(), "G0 X%.3f Z%.3f A%.3f\n", move.to.x, move.to.z, -move.to.a * 180 / std::numbers::pi);
      else std::fprintf(file.get(), "X%.3f Z%.3f F%.4f\n", move.to.x, move.to.z, 1 / move.minutes);  // nothing turns in a line of these
    }
    bytes = static_cast<std::size_t>(std::ftell(file.get()));
  }
  set_speed(state, bytes);
}
BENCHMARK(BM_WriteWithFprintf)->Unit(benchmark::kMillisecond);

void BM_ReadText(benchmark::State& state) {
  for (auto _ : state) {
    Sink sink;
    benchmark::DoNotOptimize(program::read(text(), "bench", sink).steps.size());
  }
  set_speed(state, text().size());
}
BENCHMARK(BM_ReadText)->Unit(benchmark::kMillisecond);

void BM_ReplayText(benchmark::State& state) {
  Sink sink;
  const program::Program read = program::read(text(), "bench", sink);
  for (auto _ : state) benchmark::DoNotOptimize(program::replay(read, bench::leg().machine).ok());
  set_speed(state, text().size());
}
BENCHMARK(BM_ReplayText)->Unit(benchmark::kMillisecond);

// Words by strtod into the axes' places; comments and everything that is wrong are passed over.
void BM_ReadWithStrtod(benchmark::State& state) {
  struct Place {
    double of[26] = {};
  };
  for (auto _ : state) {
    std::vector<Place> places;
    Place here;
    for (const char* at = text().c_str(); *at != '\0';) {
      if (*at >= 'A' && *at <= 'Z') {
        char* end = nullptr;
        const double value = std::strtod(at + 1, &end);
        if (end != at + 1) here.of[*at - 'A'] = value;
        at = end != at + 1 ? end : at + 1;
      } else if (*at == '(') {
        while (*at != '\0' && *at != '\n') ++at;
      } else {
        if (*at == '\n') places.push_back(here);
        ++at;
      }
    }
    benchmark::DoNotOptimize(places.size());
  }
  set_speed(state, text().size());
}
BENCHMARK(BM_ReadWithStrtod)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
