#include "proof/plane.h"

#include <algorithm>

namespace pommel::proof {

double Stroke::beside(double x, double t) const {
  double dx = x1 - x0, dt = t1 - t0, way2 = dx * dx + dt * dt;
  double u = way2 > 0 ? std::clamp(((x - x0) * dx + (t - t0) * dt) / way2, 0.0, 1.0) : 0;
  return std::hypot(x - x0 - u * dx, t - t0 - u * dt);
}

// a cell more than the rectangle needs: its own far border falls into a cell
Plane::Plane(double x0, double x1, double t0, double t1) : x0_(x0), x1_(x1), t0_(t0), t1_(t1) {
  rows_ = static_cast<std::size_t>(std::max(0.0, x1 - x0) / kCell) + 1;
  columns_ = static_cast<std::size_t>(std::max(0.0, t1 - t0) / kCell) + 1;
  cells_.resize(rows_ * columns_);
}

std::size_t Plane::row(double x) const {
  return std::min(rows_ - 1, static_cast<std::size_t>(std::max(0.0, (x - x0_) / kCell)));
}

std::size_t Plane::column(double t) const {
  return std::min(columns_ - 1, static_cast<std::size_t>(std::max(0.0, (t - t0_) / kCell)));
}

void Plane::want(const Stroke& stroke, double wide) {
  for_cells(stroke, wide, [&](Cell& c) {
    wanted_ += c.wanted ? 0 : 1;
    c.wanted = true;
  });
}

void Plane::want(double x0, double x1, double t0, double t1) {
  double middle = (t0 + t1) / 2;
  want({x0, middle, 0, x1, middle, 0}, (t1 - t0) / 2);
}

}  // namespace pommel::proof
