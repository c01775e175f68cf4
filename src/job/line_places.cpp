#include "job/line_places.h"

#include <algorithm>
#include <numbers>

#include "program/reader.h"
#include "program/replay.h"

namespace pommel::job {

namespace {

// `before`: lines of the texts before this one.
Result<Done> add_text(std::string_view text, int before, const shop::Machine& machine, LinePlaces& out) {
  Sink sink;
  const auto program = program::read(text, "program", sink, program::read_options(machine));
  if (sink.has_errors()) return Failure(sink.all());
  const auto replayed = program::replay(program, machine, "program");
  if (!replayed.ok()) return replayed.failure();
  for (const motion::Path& path : replayed->paths)
    for (const motion::Stage& stage : path.stages) {
      Pass pass{stage.name, path.cutter, 0, 0};
      for (std::size_t i = stage.first; i < stage.first + stage.count; ++i) {
        const motion::Move& move = path.moves[i];
        if (pass.first_line == 0) pass.first_line = before + move.line;
        if (!move.rapid) pass.minutes += move.minutes;
        out.lines.push_back({before + move.line, move.to.x, move.to.z, move.to.a * 180 / std::numbers::pi, move.rapid, out.passes.size()});
      }
      out.passes.push_back(std::move(pass));
    }
  return Done{};
}

}  // namespace

Result<LinePlaces> line_places(const std::vector<std::string_view>& texts, const shop::Machine& machine) {
  LinePlaces out;
  int before = 0;
  for (const std::string_view text : texts) {
    if (const auto added = add_text(text, before, machine, out); !added.ok()) return added.failure();
    before += static_cast<int>(std::count(text.begin(), text.end(), '\n'));
  }
  return out;
}

const LinePlace* place_of(const LinePlaces& places, int line) {
  const auto after = std::upper_bound(places.lines.begin(), places.lines.end(), line, [](int wanted, const LinePlace& one) { return wanted < one.line; });
  return after == places.lines.begin() ? nullptr : &*std::prev(after);
}

int line_at(const LinePlaces& places, double x, int after) {
  const auto& lines = places.lines;
  const auto passes_x = [&](std::size_t i) {
    const double from = i == 0 ? lines[i].x : lines[i - 1].x, to = lines[i].x;
    return std::min(from, to) <= x && x <= std::max(from, to);
  };
  const auto begin = static_cast<std::size_t>(std::upper_bound(lines.begin(), lines.end(), after, [](int wanted, const LinePlace& one) { return wanted < one.line; }) - lines.begin());
  for (std::size_t step = 0; step < lines.size(); ++step) {
    const std::size_t i = (begin + step) % lines.size();
    if (passes_x(i)) return lines[i].line;
  }
  return 0;
}

}  // namespace pommel::job
