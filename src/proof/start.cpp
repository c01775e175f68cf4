#include "proof/start.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::proof {
namespace {

// Offset of the blank's axis at x.
double offset_at(const shape::Blank& blank, const Lie& lie, double x) {
  double u = (x - blank.x0) / blank.length();
  return lie.off_centre + lie.bow * 4 * u * (1 - u);
}

// Ray from the origin along (c, s) against the square of half width h about (my, mz).
double ray_to_square(double c, double s, double h, double my, double mz) {
  double far = 1e9, near = 0;
  for (auto [direction, middle] : {std::pair{c, my}, std::pair{s, mz}}) {
    if (std::fabs(direction) < 1e-15) {
      if (std::fabs(middle) > h) return 0;
      continue;
    }
    double a = (middle - h) / direction, b = (middle + h) / direction;
    near = std::max(near, std::min(a, b));
    far = std::min(far, std::max(a, b));
  }
  return far > near ? far : 0;
}

double ray_to_round(double c, double s, double r, double my, double mz) {
  double along = c * my + s * mz;
  double v = r * r - (my * my + mz * mz - along * along);
  return v > 0 ? std::max(0.0, along + std::sqrt(v)) : 0;
}

// Ray at theta from the middle of the square of half width h grown by a disc of radius `grown`.
double ray_to_grown_square(double theta, double h, double grown) {
  double c = std::fabs(std::cos(theta)), s = std::fabs(std::sin(theta));
  if (c < s) std::swap(c, s);
  double t = (h + grown) / c;
  if (t * s <= h) return t;
  return ray_to_round(c, s, grown, h, h);
}

}  // namespace

std::vector<Lie> lies(const shape::BlankTolerance& tolerance) {
  return {{"as planned", 0, 0, 0, {}},
          {"off centre", 0, tolerance.off_centre, 0, {}},
          {"bowed", 0, 0, tolerance.bow, {}},
          {"oversize", tolerance.oversize, 0, 0, {}}};
}

double start_radius(const shape::Blank& blank, const Lie& lie, double x, double theta) {
  if (x < blank.x0 || x > blank.x1) return 0;
  double h = blank.size / 2 + lie.oversize;
  double offset = offset_at(blank, lie, x);
  bool square = blank.section == shape::Blank::Section::square;
  if (!lie.direction) return square ? ray_to_grown_square(theta, h, offset) : h + offset;
  double c = std::cos(theta), s = std::sin(theta);
  double my = offset * std::cos(*lie.direction), mz = offset * std::sin(*lie.direction);
  return square ? ray_to_square(c, s, h, my, mz) : ray_to_round(c, s, h, my, mz);
}

Start::Start(const Grid& grid, const shape::Blank& blank, const Lie& lie)
    : grid_(grid), blank_(blank), lie_(lie), same_all_along_(lie.bow == 0), columns_(static_cast<std::size_t>(grid.columns)),
      creases_(grid.crease.size()), highest_(grid.rows()) {
  // a bow in every direction reaches farthest at mid-length
  const double middle = (blank.x0 + blank.x1) / 2;
  const auto most = [&](double x, double theta) {
    float here = static_cast<float>(start_radius(blank, lie, x, theta));
    return same_all_along_ ? here : std::max(here, static_cast<float>(start_radius(blank, lie, middle, theta)));
  };
  for (std::size_t j = 0; j < columns_.size(); ++j) columns_[j] = most(middle, grid.angle(0, j));
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    float highest = 0;
    for (std::size_t k = 0; k < grid.creases_of(row); ++k)
      highest = std::max(highest, creases_[grid.crease_begin(row) + k] = most(grid.x[row], grid.angle(row, columns_.size() + k)));
    highest_[row] = highest;
  }
  const float widest = *std::max_element(columns_.begin(), columns_.end());
  for (float& highest : highest_) highest = std::max(highest, widest);
}

float Start::at(std::size_t row, std::size_t k) const {
  if (!same_all_along_) return static_cast<float>(start_radius(blank_, lie_, grid_.x[row], grid_.angle(row, k)));
  return k < columns_.size() ? columns_[k] : creases_[grid_.crease_begin(row) + k - columns_.size()];
}

const float* Start::columns_of(std::size_t row, std::vector<float>& into) const {
  if (same_all_along_) return columns_.data();
  into.resize(columns_.size());
  for (std::size_t j = 0; j < into.size(); ++j) into[j] = at(row, j);
  return into.data();
}

const float* Start::creases_of(std::size_t row, std::vector<float>& into) const {
  if (same_all_along_) return creases_.data() + grid_.crease_begin(row);
  into.resize(grid_.creases_of(row));
  for (std::size_t k = 0; k < into.size(); ++k) into[k] = at(row, columns_.size() + k);
  return into.data();
}

}  // namespace pommel::proof
