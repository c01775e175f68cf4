#include "proof/reach.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/kernel.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

std::size_t wrapped(long column, int columns) {
  long c = column % columns;
  return static_cast<std::size_t>(c < 0 ? c + columns : c);
}

}  // namespace

double reach_error(double rho, double row_step, double column_step, double radius) {
  double a = row_step * std::numbers::sqrt2 / 2, b = radius * column_step / 2;
  return (a * a + b * b) / rho;
}

double rounding(const Tool& tool) { return tool.corner > 0 ? tool.corner : tool.radius; }

Reach::Reach(const Grid& grid, const std::vector<float>& body, const Tool& tool, double x_low, double x_high)
    : grid_(grid), body_(body), tool_(tool) {
  double step = grid.rows() > 1 ? (grid.x.back() - grid.x.front()) / static_cast<double>(grid.rows() - 1) : 1;
  // past the blank's ends too: a cutter there shapes the edge of a part that fills its blank
  for (double over = std::ceil(tool.radius / step); over >= 1; --over) places_.push_back(grid.x.front() - over * step);
  places_.insert(places_.end(), grid.x.begin(), grid.x.end());
  for (double over = 1; over <= std::ceil(tool.radius / step); ++over) places_.push_back(grid.x.back() + over * step);
  std::erase_if(places_, [&](double x) { return x < x_low || x > x_high; });
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    auto from = body.begin() + static_cast<std::ptrdiff_t>(grid.begin[row]);
    auto to = body.begin() + static_cast<std::ptrdiff_t>(grid.begin[row + 1]);
    auto [least, greatest] = std::minmax_element(from, to);
    least_.push_back(*least);
    greatest_.push_back(*greatest);
  }
  greatest_of_all_ = *std::max_element(greatest_.begin(), greatest_.end());
  heights_.resize(places_.size());
  long most = grid.columns / 4;
  for (long j = -most; j <= most; ++j) {
    sine_.push_back(static_cast<float>(std::sin(static_cast<double>(j) * grid.column_step())));
    cosine_.push_back(static_cast<float>(std::cos(static_cast<double>(j) * grid.column_step())));
  }
  for (double angle : grid.crease) {
    crease_sine_.push_back(std::sin(angle));
    crease_cosine_.push_back(std::cos(angle));
  }
  // a shaft no wider than the cutter shades nothing that the cutter does not
  std::erase_if(tool_.shafts, [&](const Tool::Shaft& shaft) { return shaft.radius <= tool.radius; });
}

// Whether all columns have one height here: the skin within the cutter is round, and so is what its shafts may meet, if anything.
bool Reach::know_place(std::size_t place) {
  std::vector<float>& heights = heights_[place];
  if (!heights.empty()) return heights.size() == 1;
  if (round_within(place, tool_.radius)) {
    heights = {static_cast<float>(compute_height(place, 0))};
    const bool same = std::all_of(tool_.shafts.begin(), tool_.shafts.end(), [&](const Tool::Shaft& shaft) {
      return greatest_within(place, shaft.radius) - shaft.bottom <= static_cast<double>(heights[0]) || round_within(place, shaft.radius);
    });
    if (same) return true;
  }
  heights.assign(static_cast<std::size_t>(grid_.columns), -1.0f);
  return false;
}

bool Reach::round_within(std::size_t place, double wide) const {
  double x0 = places_[place];
  for (std::size_t row = grid_.first_row_from(x0 - wide); row < grid_.rows() && grid_.x[row] < x0 + wide; ++row) {
    if (!is_round(row)) return false;
  }
  return true;
}

double Reach::greatest_within(std::size_t place, double wide) const {
  float most = 0;
  double x0 = places_[place];
  for (std::size_t row = grid_.first_row_from(x0 - wide); row < grid_.rows() && grid_.x[row] < x0 + wide; ++row) most = std::max(most, greatest_[row]);
  return static_cast<double>(most);
}

double Reach::tip_height(std::size_t place, std::size_t column) {
  if (know_place(place)) column = 0;
  float& kept = heights_[place][column];
  if (kept < 0) kept = static_cast<float>(compute_height(place, column));
  return static_cast<double>(kept);
}

// Rows from the nearest outwards: what the near ones give lets most of the far ones be passed over.
double Reach::compute_height(std::size_t place, std::size_t column) {
  double x0 = places_[place], a = static_cast<double>(column) * grid_.column_step();
  double highest = 0;
  auto look = [&](std::size_t row) {
    double off = std::fabs(grid_.x[row] - x0);
    if (off >= tool_.radius) return false;
    if (static_cast<double>(greatest_[row]) - tool_.height(off) > highest) {
      highest = is_round(row) ? over_round_row(row, x0, column, highest) : over_row(row, x0, column, highest);
    }
    return true;
  };
  std::size_t up = grid_.first_row_from(x0), down = up;
  bool forth = true, back = true;
  while (forth || back) {
    forth = forth && up < grid_.rows() && look(up++);
    back = back && down > 0 && look(--down);
  }
  return tool_.shafts.empty() ? highest : under_shafts(x0, a, highest);
}

// Over a round row the cutter stands lowest straight above it.
double Reach::over_round_row(std::size_t row, double x0, std::size_t column, double highest) const {
  double r = static_cast<double>(body_[grid_.begin[row] + column]);
  return std::max(highest, r - tool_.height(std::fabs(grid_.x[row] - x0)));
}

// The higher of `highest` and the tip's lowest free height over one row.
double Reach::over_row(std::size_t row, double x0, std::size_t column, double highest) const {
  long columns = grid_.columns, most = columns / 4;
  double off = grid_.x[row] - x0, reach2 = tool_.radius * tool_.radius - off * off;
  double reach = std::sqrt(std::max(0.0, reach2));
  double q = least_[row] > 0 ? reach / static_cast<double>(least_[row]) : 1;
  long half = q < 1 ? std::min(most, static_cast<long>(std::ceil(std::asin(q) / grid_.column_step()))) : most;
  const float* radius = body_.data() + grid_.begin[row];
  auto over = [&](const float* r, const float* s, const float* c, std::size_t n) {
    if (tool_.is_ball()) {
      auto centre = static_cast<float>(highest + tool_.radius);
      highest = static_cast<double>(kernels().highest_centre(r, s, c, n, static_cast<float>(reach2), centre)) - tool_.radius;
      return;
    }
    for (std::size_t j = 0; j < n; ++j) {
      double l2 = static_cast<double>(r[j]) * static_cast<double>(s[j]), h = static_cast<double>(r[j]) * static_cast<double>(c[j]);
      l2 *= l2;
      if (l2 < reach2 && h > highest) highest = std::max(highest, h - tool_.height(std::sqrt(off * off + l2)));
    }
  };
  for (long j = -half; j <= half;) {
    std::size_t from = wrapped(static_cast<long>(column) + j, grid_.columns);
    long run = std::min(half - j + 1, columns - static_cast<long>(from));
    over(radius + from, sine_.data() + (j + most), cosine_.data() + (j + most), static_cast<std::size_t>(run));
    j += run;
  }
  for (std::size_t k = 0; k < grid_.creases_of(row); ++k) {
    double of_sine = crease_sine_[grid_.crease_begin(row) + k], of_cosine = crease_cosine_[grid_.crease_begin(row) + k];
    auto s = static_cast<float>(of_sine * grid_.cosines[column] - of_cosine * grid_.sines[column]);
    auto c = static_cast<float>(of_cosine * grid_.cosines[column] + of_sine * grid_.sines[column]);
    double aside = static_cast<double>(radius[columns + static_cast<long>(k)]) * static_cast<double>(s);
    if (c > 0 && aside * aside < reach2) over(radius + columns + k, &s, &c, 1);  // few are near
  }
  return highest;
}

double Reach::under_shafts(double x0, double a, double height) const {
  for (const Tool::Shaft& shaft : tool_.shafts) {
    if (static_cast<double>(greatest_of_all_) - shaft.bottom <= height) continue;
    for (std::size_t row = grid_.first_row_from(x0 - shaft.radius); row < grid_.rows() && grid_.x[row] < x0 + shaft.radius; ++row) {
      if (static_cast<double>(greatest_[row]) - shaft.bottom <= height) continue;
      double off = grid_.x[row] - x0, reach2 = shaft.radius * shaft.radius - off * off;
      std::size_t rays = static_cast<std::size_t>(grid_.columns) + grid_.creases_of(row);
      for (std::size_t k = 0; k < rays; ++k) {
        double r = static_cast<double>(body_[grid_.begin[row] + k]);
        if (r - shaft.bottom <= height) continue;
        double phi = grid_.angle(row, k) - a, l = r * std::sin(phi), h = r * std::cos(phi);
        if (h > 0 && l * l < reach2) height = std::max(height, h - shaft.bottom);
      }
    }
  }
  return height;
}

// The columns from which a point is looked at: the nearest first, then to both sides.
struct Reach::Columns {
  const Reach& reach;
  long middle = 0, span = 0;
  double t = 0, sine = 0, cosine = 0;  // of the point from the middle one

  // Calls look(column, l, h), the point's place sideways and up from that column, until it says true. Over round skin the cutter that stands
  // straight above is the nearest of its place.
  template <class F>
  bool any(bool round, const F& look) const {
    const long most = reach.grid_.columns / 4, last = round ? 0 : 2 * span;
    for (long step = 0; step <= last; ++step) {
      const long j = (step & 1) != 0 ? (step + 1) / 2 : -(step / 2);
      const double sj = static_cast<double>(reach.sine_[static_cast<std::size_t>(j + most)]), cj = static_cast<double>(reach.cosine_[static_cast<std::size_t>(j + most)]);
      if (look(wrapped(middle + j, reach.grid_.columns), t * (sine * cj - cosine * sj), t * (cosine * cj + sine * sj))) return true;
    }
    return false;
  }
};

template <class F>
void Reach::over_places(double x, double theta, double t, const F& look) {
  const double wide = tool_.radius, half = t > wide ? std::asin(wide / t) : kTurn / 4;
  Columns columns{*this, std::lround(theta / grid_.column_step()), 0, t, 0, 0};
  columns.span = std::min(static_cast<long>(grid_.columns) / 4, static_cast<long>(std::ceil(half / grid_.column_step())));
  const double lean = theta - static_cast<double>(columns.middle) * grid_.column_step();
  columns.sine = std::sin(lean), columns.cosine = std::cos(lean);
  auto up = static_cast<std::size_t>(std::lower_bound(places_.begin(), places_.end(), x) - places_.begin()), down = up;
  while (up < places_.size() || down > 0) {
    bool forth = up < places_.size() && places_[up] - x < wide, back = down > 0 && x - places_[down - 1] < wide;
    if (!forth && !back) break;
    if (forth && look(up++, columns)) break;
    if (back && look(--down, columns)) break;
    if (!forth) up = places_.size();
    if (!back) down = 0;
  }
}

// Goes over the places and columns that may have the point deeper than `from` inside, nearest places first: most wood is found to be within
// reach at once. `enough`: stops at the first that has.
double Reach::deepest(double x, double theta, double t, double from, bool enough) {
  if (tool_.is_ball()) return ball_deepest(x, theta, t, from, enough);
  double best = from;
  over_places(x, theta, t, [&](std::size_t place, const Columns& columns) {
    const double off = std::fabs(x - places_[place]);
    if (off >= tool_.radius - best) return false;
    return columns.any(know_place(place), [&](std::size_t column, double l, double h) {
      const double s = std::sqrt(off * off + l * l);
      if (h <= 0 || s >= tool_.radius - best) return false;
      best = std::max(best, tool_.depth_inside(s, h - tip_height(place, column)));
      return enough && best > from;
    });
  });
  return best;
}

// The same with the distance from the centre alone, squared.
double Reach::ball_deepest(double x, double theta, double t, double from, bool enough) {
  const double rho = tool_.radius;
  double near2 = (rho - from) * (rho - from);
  over_places(x, theta, t, [&](std::size_t place, const Columns& columns) {
    const double off2 = (x - places_[place]) * (x - places_[place]);
    if (off2 >= near2) return false;
    return columns.any(know_place(place), [&](std::size_t column, double l, double h) {
      const double aside2 = off2 + l * l;
      if (aside2 >= near2 || h <= 0) return false;
      const double under = std::max(0.0, tip_height(place, column) + rho - h), away2 = aside2 + under * under;
      if (away2 >= near2) return false;
      near2 = away2;
      return enough;
    });
  });
  return rho - std::sqrt(near2);
}

}  // namespace pommel::proof
