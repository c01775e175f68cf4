#include "proof/stub.h"

#include <algorithm>
#include <cmath>

namespace pommel::proof {
namespace {

constexpr double kAlike = 0.01;  // of its least radius: directions in which the end's reach differs by less are alike
constexpr double kSlack = 0.3;   // mm: ridges between lines, where they run out as well; so shallow a flat takes a hundredth of a thin stub's section
constexpr float kCut = 0.01f;    // mm below the blank's skin

// The columns of the end's row, those in which it reaches equally far together.
std::vector<std::vector<std::size_t>> alike(const Grid& grid, const std::vector<float>& body, std::size_t end) {
  const auto reach = [&](std::size_t k) { return static_cast<double>(body[grid.begin[end] + k]); };
  const auto columns = static_cast<std::size_t>(grid.columns);
  double least = reach(0);
  for (std::size_t k = 0; k < columns; ++k) least = std::min(least, reach(k));
  std::vector<std::vector<std::size_t>> groups;
  if (least <= 0) return groups;
  for (std::size_t k = 0; k < columns; ++k) {
    const auto group = static_cast<std::size_t>((reach(k) - least) / (kAlike * least));
    if (group >= groups.size()) groups.resize(group + 1);
    groups[group].push_back(k);
  }
  std::erase_if(groups, [](const auto& group) { return group.empty(); });
  return groups;
}

}  // namespace

std::optional<OneSided> cut_from_one_side(const Grid& grid, const std::vector<float>& body, const Wood& wood, double length, bool head) {
  const std::size_t end = grid.first_row_from(head ? 0 : length - 1e-9);
  const auto columns = static_cast<std::size_t>(grid.columns);
  const auto cut_all_round = [&](std::size_t row) {
    for (std::size_t k = 0; k < columns; ++k)
      if (wood.low[grid.begin[row] + k] > wood.starts[0].at(row, k) - kCut) return false;
    return true;
  };
  std::vector<std::size_t> stub;
  for (std::size_t n = 1; head ? n <= end : end + n < grid.rows(); ++n) {
    const std::size_t row = head ? end - n : end + n;
    if (!cut_all_round(row)) break;
    stub.push_back(row);
  }
  std::optional<OneSided> worst;
  for (const auto& group : alike(grid, body, end)) {
    // of the end's own reach, so that directions of a group compare
    const auto share = [&](std::size_t row, std::size_t k) { return static_cast<double>(wood.low[grid.begin[row] + k]) / static_cast<double>(body[grid.begin[end] + k]); };
    double kept = 1e9;
    std::vector<double> shares;
    for (std::size_t row : stub) {
      shares.clear();
      for (std::size_t k : group) shares.push_back(share(row, k));
      const auto middle = shares.begin() + static_cast<std::ptrdiff_t>(shares.size() / 2);
      std::nth_element(shares.begin(), middle, shares.end());
      kept = std::min(kept, *middle);
    }
    for (std::size_t row : stub) {
      for (std::size_t k : group) {
        const double reach = static_cast<double>(body[grid.begin[end] + k]), left = share(row, k) * reach, lack = kept * reach - left;
        if (lack > (worst ? worst->round - worst->left : kSlack)) worst = OneSided{grid.x[row], grid.angle(row, k), left, kept * reach};
      }
    }
  }
  return worst;
}

}  // namespace pommel::proof
