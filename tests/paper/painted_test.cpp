// Lines as they are painted: what is left out is held against the line itself, point by point.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "paper/canvas.h"

namespace pommel::paper {
namespace {

double away(const QPointF& p, const QPointF& a, const QPointF& b) {
  const QPointF way = b - a, from = p - a;
  const double length2 = QPointF::dotProduct(way, way), u = length2 > 0 ? std::clamp(QPointF::dotProduct(from, way) / length2, 0.0, 1.0) : 0;
  return std::hypot(from.x() - u * way.x(), from.y() - u * way.y());
}

// The farthest that a point of the line is from the way between those kept beside it, pixels.
double farthest(const Line& line, const QTransform& to_paper, const QPolygonF& kept) {
  const auto at = [&](std::size_t i) { return to_paper.map(QPointF(line[i].x, line[i].t)); };
  double most = 0;
  std::size_t from = 0;
  for (qsizetype k = 1; k < kept.size(); ++k) {
    std::size_t to = from + 1;
    while (to < line.size() && at(to) != kept[k]) ++to;
    if (to == line.size()) return 1e9;  // it is none of the line's
    for (std::size_t i = from; i <= to; ++i) most = std::max(most, away(at(i), kept[k - 1], kept[k]));
    from = to;
  }
  for (std::size_t i = from; i < line.size(); ++i) most = std::max(most, away(at(i), kept.last(), kept.last()));
  return most;
}

Line along(int points, const std::function<Point(double)>& at) {
  Line line;
  for (int i = 0; i < points; ++i) line.push_back(at(static_cast<double>(i) / (points - 1)));
  return line;
}

TEST(Painted, NothingLeftOutCanBeSeen) {
  const double turn = 2 * std::numbers::pi;
  const Line lines[] = {along(4000, [&](double u) { return Point{700 * u, 20 + 8 * std::sin(40 * u)}; }),
                        along(3000, [&](double u) { return Point{40 * u * std::cos(9 * turn * u), 40 * u * std::sin(9 * turn * u)}; }),
                        along(900, [&](double u) { return Point{300 * std::fabs(std::remainder(3 * u, 1)), 0}; }),  // there and back on one line
                        along(500, [&](double u) { return Point{u < 0.5 ? 0.0 : 100.0, 50 * std::round(9 * u)}; }),  // walls and points that stand twice
                        along(1000, [&](double u) { return Point{0.03 * std::cos(5 * turn * u), 0.03 * std::sin(5 * turn * u)}; })};
  for (const Line& line : lines)
    for (const double scale : {0.1, 1.7, 20.0}) {
      const QTransform to_paper(0, scale, -scale, 0, 90, 30);
      EXPECT_LE(farthest(line, to_paper, painted(line, to_paper)), kPaintedOff + 1e-9) << scale;
    }
}

TEST(Painted, NorOfALineWithoutAnyOrder) {
  std::mt19937 random(1);
  std::normal_distribution<double> step(0, 1);
  for (int n = 0; n < 200; ++n) {
    const double rough = std::pow(10, -3 + n % 5);
    Point p{0, 0}, way{1, 0};
    Line line;
    for (int i = 0; i < 400; ++i) {
      way = {way.x + rough * step(random), way.t + rough * step(random)};
      p = {p.x + 0.1 * way.x, p.t + 0.1 * way.t};
      line.push_back(p);
    }
    EXPECT_LE(farthest(line, {}, painted(line, {})), kPaintedOff + 1e-9) << n;
  }
}

// A chord with the sagitta f in a circle of radius r spans 2 acos(1 - f/r): no line does with fewer, and the sleeve with few more.
TEST(Painted, FewPointsDo) {
  const double r = 100;
  const QPolygonF ring = painted(along(20000, [&](double u) { return Point{r * std::cos(2 * std::numbers::pi * u), r * std::sin(2 * std::numbers::pi * u)}; }), {});
  const double least = std::numbers::pi / std::acos(1 - kPaintedOff / r);
  EXPECT_GE(static_cast<double>(ring.size()), least);
  EXPECT_LE(static_cast<double>(ring.size()), 1.5 * least);
  EXPECT_EQ(painted(along(1000, [](double u) { return Point{500 * u, 30 * u}; }), {}).size(), 2);
  EXPECT_EQ(painted({{0, 0}, {10, 0}, {10, 5}, {0, 5}}, {}).size(), 4);
  EXPECT_EQ(painted({{1, 1}}, {}).size(), 1);
  EXPECT_TRUE(painted({}, {}).isEmpty());
}

}  // namespace
}  // namespace pommel::paper
