// The wood under one direction, as heights over points of the plane (x, t): what a standing piece is while a joint is cut.
//
// Points stand every kStep mm in square cells of kCell, only where something passes or a joint is; further ones may be added. A cell knows its
// highest point, so that a move looks only into cells where it can meet wood: most moves of a joint run over what the layers before have cut.
//
// Thread rule: belongs to one thread.
#pragma once

#include <cmath>
#include <cstddef>
#include <vector>

namespace pommel::proof {

/// A straight move in the plane of one direction, mm.
struct Stroke {
  double x0, t0, z0, x1, t1, z1;

  double lowest() const { return z0 < z1 ? z0 : z1; }
  /// From the way in the plane to the point.
  double beside(double x, double t) const;
};

/// A point of the plane (x, t) and the wood over it.
struct PlanePoint {
  double x = 0, t = 0;
  double skin = 0;    ///< height of the part as turned, along the direction; 0 where there is none
  double height = 0;  ///< of what stands
  double floor = 0;   ///< of the jointed part
};

class Plane {
 public:
  static constexpr double kStep = 0.1, kCell = 1;  ///< mm
  static constexpr int kPerCell = 10;

  Plane(double x0, double x1, double t0, double t1);

  /// Wants points within `wide` of the stroke; or all over a rectangle.
  void want(const Stroke& stroke, double wide);
  void want(double x0, double x1, double t0, double t1);
  /// How many points that are.
  std::size_t wanted() const { return wanted_ * kPerCell * kPerCell; }

  /// Makes the points that are wanted: `make(x, t)` gives each with its heights.
  template <class F>
  void fill(const F& make) {
    for (std::size_t at = 0; at < cells_.size(); ++at) {
      if (!cells_[at].wanted) continue;
      auto i = static_cast<double>(at / columns_) * kPerCell, j = static_cast<double>(at % columns_) * kPerCell;
      for (int k = 0; k < kPerCell * kPerCell; ++k) {
        double x = x0_ + (i + k / kPerCell) * kStep, t = t0_ + (j + k % kPerCell) * kStep;
        if (x <= x1_ && t <= t1_) put(cells_[at], make(x, t));
      }
    }
  }
  /// One more point; outside the rectangle it is left out.
  template <class F>
  void add(double x, double t, const F& make) {
    if (x >= x0_ && x <= x1_ && t >= t0_ && t <= t1_) put(cells_[cell(x, t)], make(x, t));
  }

  /// Every point that stands higher than the stroke's lowest place and is within `wide` of its way, some others too; `each` may lower it.
  template <class F>
  void cut(const Stroke& stroke, double wide, const F& each) {
    double low = stroke.lowest();
    for_cells(stroke, wide, [&](Cell& c) {
      if (c.highest <= low) return;
      c.highest = -1e300;
      for (PlanePoint& p : c.points) {
        if (p.height > low) each(p);
        if (p.height > c.highest) c.highest = p.height;
      }
    });
  }

  template <class F>
  void for_points(const F& each) const {
    for (const Cell& c : cells_) {
      for (const PlanePoint& p : c.points) each(p);
    }
  }

 private:
  struct Cell {
    bool wanted = false;
    double highest = -1e300;
    std::vector<PlanePoint> points;
  };

  static void put(Cell& c, const PlanePoint& p) {
    c.points.push_back(p);
    if (p.height > c.highest) c.highest = p.height;
  }
  std::size_t row(double x) const;
  std::size_t column(double t) const;
  std::size_t cell(double x, double t) const { return row(x) * columns_ + column(t); }

  template <class F>
  void for_cells(const Stroke& s, double wide, const F& each) {
    double x_low = std::fmin(s.x0, s.x1) - wide, x_high = std::fmax(s.x0, s.x1) + wide;
    double t_low = std::fmin(s.t0, s.t1) - wide, t_high = std::fmax(s.t0, s.t1) + wide;
    if (x_high < x0_ || x_low > x1_ || t_high < t0_ || t_low > t1_) return;
    for (std::size_t i = row(x_low); i <= row(x_high); ++i) {
      for (std::size_t j = column(t_low); j <= column(t_high); ++j) {
        double x = x0_ + (static_cast<double>(i) + 0.5) * kCell, t = t0_ + (static_cast<double>(j) + 0.5) * kCell;
        if (s.beside(x, t) <= wide + kCell) each(cells_[i * columns_ + j]);
      }
    }
  }

  double x0_, x1_, t0_, t1_;
  std::size_t rows_ = 0, columns_ = 0, wanted_ = 0;
  std::vector<Cell> cells_;
};

}  // namespace pommel::proof
