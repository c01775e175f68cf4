#include "proof/patches.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

#include "proof/body.h"

namespace pommel::proof {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

// Amounts on columns of the rows that have any, crease rays folded in; `ray` remembers whose amount it is.
struct Cells {
  std::size_t columns = 0;
  std::vector<std::size_t> rows;        ///< of the grid, growing
  std::vector<float> amount;
  std::vector<std::size_t> ray;         ///< k within its row

  std::size_t row_of(std::size_t cell) const { return rows[cell / columns]; }
};

Cells folded(const Grid& grid, const std::vector<OnRay>& amounts) {
  Cells cells;
  cells.columns = static_cast<std::size_t>(grid.columns);
  for (const OnRay& one : amounts) {
    if (cells.rows.empty() || cells.rows.back() != one.row) cells.rows.push_back(one.row);
  }
  cells.amount.resize(cells.rows.size() * cells.columns);
  cells.ray.resize(cells.amount.size());
  std::size_t place = 0;
  for (const OnRay& one : amounts) {
    if (cells.rows[place] != one.row) ++place;
    std::size_t k = one.ray - grid.begin[one.row], column = k;
    if (k >= cells.columns) column = static_cast<std::size_t>(std::lround(grid.angle(one.row, k) / grid.column_step())) % cells.columns;
    std::size_t at = place * cells.columns + column;
    if (one.amount <= cells.amount[at]) continue;
    cells.amount[at] = one.amount;
    cells.ray[at] = k;
  }
  return cells;
}

constexpr double kBridgeRows = 2.01;  // row steps; cells this far apart are one patch: the ridges between passes part a quirk
constexpr double kBridge = 0.105;     // radians (6 degrees) around

// The cells connected with `seed`, taken out of `open`.
std::vector<std::size_t> flood(const Grid& grid, const Cells& cells, std::size_t seed, std::vector<bool>& open) {
  std::vector<std::size_t> found{seed};
  open[seed] = false;
  auto bridge = std::max<std::size_t>(1, static_cast<std::size_t>(kBridge / grid.column_step()));
  const double far = kBridgeRows * grid.row_step;
  const auto before = [&](std::size_t row, double x) { return grid.x[row] < x; };
  for (std::size_t next = 0; next < found.size(); ++next) {
    std::size_t column = found[next] % cells.columns;
    const double x = grid.x[cells.row_of(found[next])];
    auto place = static_cast<std::size_t>(std::lower_bound(cells.rows.begin(), cells.rows.end(), x - far, before) - cells.rows.begin());
    for (; place < cells.rows.size() && grid.x[cells.rows[place]] <= x + far; ++place) {
      for (std::size_t step = 0; step <= 2 * bridge; ++step) {
        std::size_t at = place * cells.columns + (column + cells.columns - bridge + step) % cells.columns;
        if (!open[at]) continue;
        open[at] = false;
        found.push_back(at);
      }
    }
  }
  return found;
}

// The arc that holds all used columns: what the widest gap leaves.
void set_angles(const std::vector<bool>& used, double step, Patch& patch) {
  std::vector<std::size_t> at;
  for (std::size_t j = 0; j < used.size(); ++j) {
    if (used[j]) at.push_back(j);
  }
  std::size_t widest = 0, after = 0;
  for (std::size_t i = 0; i < at.size(); ++i) {
    std::size_t next = at[(i + 1) % at.size()] + (i + 1 == at.size() ? used.size() : 0);
    if (next - at[i] > widest) {
      widest = next - at[i];
      after = i;
    }
  }
  patch.all_round = static_cast<double>(widest) * step <= kBridge;
  if (patch.all_round) return;
  std::size_t first = at[(after + 1) % at.size()], last = at[after];
  if (last < first) last += used.size();
  patch.degrees0 = static_cast<double>(first) * step * kDegrees;
  patch.degrees1 = static_cast<double>(last) * step * kDegrees;
}

Patch described(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Cells& cells,
                const std::vector<std::size_t>& members) {
  Patch patch;
  std::vector<bool> used(cells.columns);
  std::map<std::string, std::size_t> votes;
  std::map<std::size_t, std::size_t> by_row;
  std::size_t worst = members.front();
  for (std::size_t at : members) {
    std::size_t row = cells.row_of(at);
    used[at % cells.columns] = true;
    by_row[row] += 1;
    double before = row > 0 ? grid.x[row] - grid.x[row - 1] : 0;
    double after = row + 1 < grid.rows() ? grid.x[row + 1] - grid.x[row] : 0;
    patch.area += (before + after) / 2 * static_cast<double>(body[grid.begin[row] + at % cells.columns]) * grid.column_step();
    bool worse = cells.amount[at] > cells.amount[worst] || (cells.amount[at] == cells.amount[worst] && at < worst);
    if (worse) worst = at;
  }
  for (auto [row, count] : by_row) votes[element_at(part, grid.x[row])] += count;
  patch.element = std::max_element(votes.begin(), votes.end(), [](auto& a, auto& b) { return a.second < b.second; })->first;
  patch.x0 = grid.x[by_row.begin()->first];
  patch.x1 = grid.x[by_row.rbegin()->first];
  set_angles(used, grid.column_step(), patch);
  std::size_t row = cells.row_of(worst);
  patch.worst.amount = static_cast<double>(cells.amount[worst]);
  patch.worst.x = grid.x[row];
  patch.worst.degrees = grid.angle(row, cells.ray[worst]) * kDegrees;
  patch.worst.element = element_at(part, grid.x[row]);
  return patch;
}

}  // namespace

std::vector<Patch> patches(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const std::vector<OnRay>& amounts) {
  Cells cells = folded(grid, amounts);
  std::vector<bool> open(cells.amount.size());
  for (std::size_t at = 0; at < open.size(); ++at) open[at] = cells.amount[at] > 0;
  std::vector<Patch> found;
  for (std::size_t at = 0; at < open.size(); ++at) {
    if (open[at]) found.push_back(described(grid, part, body, cells, flood(grid, cells, at, open)));
  }
  std::sort(found.begin(), found.end(), [](const Patch& a, const Patch& b) {
    return std::tuple(-a.worst.amount, a.worst.x, a.worst.degrees) < std::tuple(-b.worst.amount, b.worst.x, b.worst.degrees);
  });
  return found;
}

}  // namespace pommel::proof
