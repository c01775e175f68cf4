#include "proof/cut_states.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/read.h"
#include "proof/removal.h"

namespace pommel::proof {
namespace {

constexpr double kRowStep = 1.5;  // mm
constexpr int kColumns = 96;

class Sampler {
 public:
  Sampler(const Grid& grid, Wood& wood, CutStates& out, double every) : grid_(grid), wood_(wood), out_(out), every_(every) {}

  // Cuts along the path, and keeps a state whenever it is time.
  Result<Done> follow(const motion::Path& path, const Tool& tool, std::size_t cutter, std::stop_token stop) {
    motion::Path piece = path;
    piece.moves.clear(), piece.stages.clear();
    for (const motion::Move& move : path.moves) {
      piece.moves.push_back(move);
      if (!move.rapid) minutes_ += move.minutes;
      if (minutes_ + 1e-12 < next_) continue;
      if (auto done = cut_and_keep(piece, tool, cutter, stop); !done.ok()) return done;
    }
    return piece.moves.empty() ? Result<Done>(Done{}) : cut_away(piece, tool, stop);
  }

  void keep(const motion::Move& last, std::size_t cutter) {
    WoodState state{last.line, minutes_, last.to.x, last.to.z, last.to.a * 180 / std::numbers::pi, cutter, {}};
    state.radius.reserve(grid_.rows() * static_cast<std::size_t>(grid_.columns));
    for (std::size_t row = 0; row < grid_.rows(); ++row)
      for (std::size_t k = 0; k < static_cast<std::size_t>(grid_.columns); ++k) state.radius.push_back(wood_.top(0, row, k, grid_.begin[row] + k));
    out_.states.push_back(std::move(state));
    next_ += every_;
  }

 private:
  Result<Done> cut_and_keep(motion::Path& piece, const Tool& tool, std::size_t cutter, std::stop_token stop) {
    const motion::Move last = piece.moves.back();
    if (auto done = cut_away(piece, tool, stop); !done.ok()) return done;
    keep(last, cutter);
    while (next_ <= minutes_) next_ += every_;  // one long move is one state
    return Done{};
  }

  Result<Done> cut_away(motion::Path& piece, const Tool& tool, std::stop_token stop) {
    CutSettings how;
    how.chord_error = 0.02;  // a picture's
    auto met = cut(grid_, wood_, piece, tool, how, stop);
    if (!met.ok()) return met.failure();
    piece.start = piece.moves.back().to;
    piece.moves.clear();
    return Done{};
  }

  const Grid& grid_;
  Wood& wood_;
  CutStates& out_;
  double every_, minutes_ = 0, next_ = 0;
};

double feed_minutes(const std::vector<motion::Path>& paths) {
  double sum = 0;
  for (const motion::Path& path : paths)
    for (const motion::Move& move : path.moves) sum += move.rapid ? 0 : move.minutes;
  return sum;
}

}  // namespace

std::size_t CutStates::at_minutes(double when) const {
  const auto after = std::upper_bound(states.begin(), states.end(), when, [](double wanted, const WoodState& one) { return wanted < one.minutes; });
  return after == states.begin() ? 0 : static_cast<std::size_t>(after - states.begin()) - 1;
}

std::size_t CutStates::at_line(int line) const {
  const auto after = std::upper_bound(states.begin(), states.end(), line, [](int wanted, const WoodState& one) { return wanted < one.line; });
  return after == states.begin() ? 0 : static_cast<std::size_t>(after - states.begin()) - 1;
}

Result<CutStates> cut_states(const std::vector<std::string_view>& texts, const shape::Part& turned, const shape::Blank& blank, const std::vector<shop::Cutter>& cutters,
                             const shop::Machine& machine, int count, std::stop_token stop) {
  std::vector<motion::Path> paths;
  int before = 0;
  for (const std::string_view text : texts) {
    auto read = read_text(text, machine);
    if (!read.ok()) return read.failure();
    for (motion::Path& path : read->paths) {
      for (motion::Move& move : path.moves) move.line += before;
      paths.push_back(std::move(path));
    }
    before += static_cast<int>(std::count(text.begin(), text.end(), '\n'));
  }
  return cut_states_of(paths, turned, blank, cutters, count, stop);
}

Result<CutStates> cut_states_of(const std::vector<motion::Path>& paths, const shape::Part& turned, const shape::Blank& blank, const std::vector<shop::Cutter>& cutters,
                                int count, std::stop_token stop) {
  const auto chosen = cutters_for(paths, cutters);
  if (!chosen.ok()) return chosen.failure();
  const auto grid = make_grid(turned, blank, kRowStep, kColumns);
  if (!grid.ok()) return grid.failure();
  std::vector<Start> starts;
  starts.emplace_back(*grid, blank, Lie{});
  Wood wood = uncut(*grid, std::move(starts));
  CutStates out;
  out.x = grid->x, out.columns = kColumns, out.minutes = feed_minutes(paths);
  Sampler sampler(*grid, wood, out, out.minutes / (std::clamp(count, 2, 1000) - 1));
  motion::Move last{paths.front().start, true, 0, 0};
  sampler.keep(last, 0);
  for (std::size_t k = 0; k < paths.size(); ++k) {
    const auto tool = tool_of(*(*chosen)[k]);
    if (!tool.ok()) return tool.failure();
    out.cutters.push_back(*(*chosen)[k]);
    if (auto done = sampler.follow(paths[k], *tool, k, stop); !done.ok()) return done.failure();
    if (!paths[k].moves.empty()) last = paths[k].moves.back();
  }
  sampler.keep(last, out.cutters.size() - 1);
  return out;
}

}  // namespace pommel::proof
