#include "proof/removal.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <thread>
#include <tuple>

#include "proof/slab_worker.h"

namespace pommel::proof {
namespace {

constexpr double kMostStrokes = 1e8;
constexpr std::size_t kSlabRays = 36'000;  // three figures each: 0.4 MB, of what a second cache holds

std::vector<std::uint32_t> runs_of(const motion::Path& path) {
  std::vector<std::uint32_t> run(path.moves.size());
  const motion::Position* from = &path.start;
  std::uint32_t id = 0;
  int last = 0;  // sense along x of the run that is open
  for (std::size_t i = 0; i < run.size(); ++i) {
    const motion::Move& move = path.moves[i];
    int sense = move.rapid || move.to.a != from->a ? 0 : (move.to.x > from->x) - (move.to.x < from->x);
    if (sense == 0 || sense != last) ++id;
    run[i] = id;
    last = sense;
    from = &move.to;
  }
  return run;
}

// The farthest starts, by row, by column and of each crease ray.
void take_starts(const Wood& wood, Shared& shared) {
  const Grid& grid = shared.grid;
  shared.row_top.assign(grid.rows(), 0.0f);
  shared.most.assign(static_cast<std::size_t>(grid.columns), 0.0f);
  shared.most_crease.assign(grid.crease.size(), 0.0f);
  const auto raise = [](std::vector<float>& most, const std::vector<float>& to) {
    for (std::size_t i = 0; i < most.size(); ++i) most[i] = std::max(most[i], to[i]);
  };
  for (const Start& start : wood.starts) {
    for (std::size_t row = 0; row < grid.rows(); ++row) shared.row_top[row] = std::max(shared.row_top[row], start.highest(row));
    raise(shared.most, start.most());
    raise(shared.most_crease, start.most_crease());
  }
  for (double angle : grid.crease) {
    shared.crease_sine.push_back(static_cast<float>(std::sin(angle)));
    shared.crease_cosine.push_back(static_cast<float>(std::cos(angle)));
  }
}

std::vector<Slab> slabs_of(const Shared& shared) {
  const Grid& grid = shared.grid;
  std::size_t rows = std::max<std::size_t>(8, kSlabRays / static_cast<std::size_t>(grid.columns));
  std::vector<Slab> slabs;
  std::vector<double> top;
  for (std::size_t first = 0; first < grid.rows(); first += rows) {
    Slab& slab = slabs.emplace_back();
    slab.first = first;
    slab.last = std::min(grid.rows(), first + rows);
    top.push_back(static_cast<double>(*std::max_element(shared.row_top.begin() + static_cast<std::ptrdiff_t>(first),
                                                        shared.row_top.begin() + static_cast<std::ptrdiff_t>(slab.last))));
  }
  double wide = shared.tool.widest;
  for (std::size_t i = 0; i < shared.path.moves.size(); ++i) {
    const motion::Position &from = shared.from(i), &to = shared.path.moves[i].to;
    double low = std::min(from.x, to.x) - wide, high = std::max(from.x, to.x) + wide, z = std::min(from.z, to.z);
    for (std::size_t k = grid.first_row_from(low) / rows; k < slabs.size() && grid.x[slabs[k].first] <= high; ++k) {
      if (z <= top[k]) slabs[k].moves.push_back(static_cast<std::uint32_t>(i));
    }
  }
  return slabs;
}

// Two slabs may both have seen a move meet wood: the worse of them counts.
std::vector<Hit> merged(std::vector<Hit> hits) {
  auto key = [](const Hit& h) { return std::tuple(h.move, h.blank, static_cast<int>(h.kind)); };
  std::sort(hits.begin(), hits.end(), [&](const Hit& a, const Hit& b) {
    return key(a) != key(b) ? key(a) < key(b) : std::tuple(-a.amount, a.x, a.theta) < std::tuple(-b.amount, b.x, b.theta);
  });
  hits.erase(std::unique(hits.begin(), hits.end(), [&](const Hit& a, const Hit& b) { return key(a) == key(b); }), hits.end());
  return hits;
}

// Threads take slab after slab.
void work_all(const Shared& shared, Wood& wood, std::vector<Slab>& slabs, const std::stop_token& stop) {
  std::size_t wanted = shared.settings.threads > 0 ? static_cast<std::size_t>(shared.settings.threads)
                                                   : std::max(1u, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next{0};
  auto work = [&] {
    SlabWorker worker(shared, wood);
    for (std::size_t k = next++; k < slabs.size() && !stop.stop_requested(); k = next++) worker.work(slabs[k], stop);
  };
  std::vector<std::jthread> others;
  for (std::size_t k = 1; k < std::min(wanted, slabs.size()); ++k) others.emplace_back(work);
  work();
}

}  // namespace

Wood uncut(const Grid& grid, std::vector<Start> starts) {
  return {std::vector<float>(grid.rays(), kNone), std::vector<float>(grid.rays(), -kNone), std::vector<float>(grid.rays(), kNone), std::move(starts)};
}

double strokes_of(const motion::Path& path, double rho, double chord_error) {
  double count = 0;
  const motion::Position* from = &path.start;
  for (const motion::Move& move : path.moves) {
    count += strokes_for(*from, move.to, rho, chord_error);
    from = &move.to;
  }
  return count;
}

Result<Met> cut(const Grid& grid, Wood& wood, const motion::Path& path, const Tool& tool, const CutSettings& settings, std::stop_token stop) {
  if (strokes_of(path, tool.radius, settings.chord_error) > kMostStrokes) {
    return fail("proof.too-much", "the program turns so far that the check would not end",
                "look for a rotary word that jumps by many turns");
  }
  Shared shared{.grid = grid, .tool = tool, .settings = settings, .path = path, .run = runs_of(path)};
  double slack = tool.is_ball() ? 0 : 1e-3;  // a level tip enters at its own height
  shared.by_side = static_cast<float>(tool.height(tool.radius - std::min(settings.side_slice, tool.radius / 2)) + slack);
  take_starts(wood, shared);
  std::vector<Slab> slabs = slabs_of(shared);
  work_all(shared, wood, slabs, stop);
  if (stop.stop_requested()) return fail("cancelled", "the check was stopped before its end");
  Met met;
  for (const Slab& slab : slabs) {
    met.hits.insert(met.hits.end(), slab.hits.begin(), slab.hits.end());
    met.greatest_depth = std::max(met.greatest_depth, slab.greatest_depth);
  }
  met.hits = merged(std::move(met.hits));
  return met;
}

Result<Cut> cut(const Grid& grid, std::vector<Start> starts, const motion::Path& path, const shop::Cutter& cutter,
                const CutSettings& settings, std::stop_token stop) {
  auto tool = tool_of(cutter);
  if (!tool) return tool.failure();
  Wood wood = uncut(grid, std::move(starts));
  auto met = cut(grid, wood, path, *tool, settings, stop);
  if (!met) return met.failure();
  Cut done{wood.low, {}, std::move(met->hits), met->greatest_depth};
  for (std::size_t b = 0; b < wood.starts.size(); ++b) {
    std::vector<float>& top = done.tops.emplace_back(grid.rays());
    for (std::size_t row = 0; row < grid.rows(); ++row) {
      for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i) top[i] = wood.top(b, row, i - grid.begin[row], i);
    }
  }
  return done;
}

std::size_t deepest_move(const motion::Path& path, const Tool& tool, double x, double theta, double& entry) {
  std::size_t found = path.moves.size();
  entry = static_cast<double>(kNone);
  const motion::Position* from = &path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Position& to = path.moves[i].to;
    bool near = std::min(from->x, to.x) - tool.radius < x && x < std::max(from->x, to.x) + tool.radius && std::min(from->z, to.z) < entry;
    std::optional<Meeting> met = near ? meet_move(tool, *from, to, x, theta) : std::nullopt;
    if (met && met->entry < entry) {
      entry = met->entry;
      found = i;
    }
    from = &to;
  }
  return found;
}

}  // namespace pommel::proof
