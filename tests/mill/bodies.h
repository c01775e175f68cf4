// Hand-built parts, so that the mill's tests lean on nothing but the values of shape/.
#pragma once

#include <string>
#include <vector>

#include "shape/faces.h"
#include "shape/part.h"

namespace pommel::mill::testing {

using shape::Part;
using shape::Piece;

/// Appends pieces head to foot, each from where the last one ended.
class Turning {
 public:
  explicit Turning(double r) : r_(r) {}

  Turning& clear(double length) { return add(shape::clear_piece(x_, x_ + length, mark("square", length)), r_); }
  Turning& line(double length, double to, const std::string& kind = "taper") {
    return add(shape::line_piece(x_, r_, x_ + length, to, mark(kind, length)), to);
  }
  Turning& arc(double length, double to, double rho, int bulge, const std::string& kind = "bead") {
    return add(shape::arc_piece(x_, r_, x_ + length, to, rho, bulge, mark(kind, length)), to);
  }
  Turning& cubic(double length, double c1, double c2, double c3, const std::string& kind = "vase") {
    Piece p = shape::cubic_piece(x_, x_ + length, {r_, c1, c2, c3}, mark(kind, length));
    return add(p, p.r1);
  }
  Turning& step(double to) {
    r_ = to;
    return *this;
  }

  Part part(const std::string& name, std::vector<shape::Face> faces = {}) const {
    Part p;
    p.name = name;
    p.length = x_;
    p.outline.pieces = pieces_;
    p.elements = marks_;
    p.faces = std::move(faces);
    return p;
  }
  double length() const { return x_; }

 private:
  int mark(const std::string& kind, double length) {
    shape::ElementMark m;
    m.kind = m.label = kind;
    m.x0 = x_;
    m.x1 = x_ + length;
    marks_.push_back(m);
    return static_cast<int>(marks_.size()) - 1;
  }
  Turning& add(Piece p, double to) {
    x_ = p.x1;
    r_ = to;
    pieces_.push_back(p);
    return *this;
  }

  double x_ = 0, r_;
  std::vector<Piece> pieces_;
  std::vector<shape::ElementMark> marks_;
};

inline Part cylinder() {
  return Turning(25).line(80, 25, "cylinder").part("cylinder");
}
inline Part cone() {
  return Turning(30).line(100, 12).part("cone");
}
inline Part sphere() {
  return Turning(7).arc(50, 7, 25.961509971494337, +1, "ball").part("sphere");
}

/// What follows the pommel: bead, fillet, cove, vee, vase, taper. Starts at r = 24.
inline Turning& turned_middle(Turning& t) {
  t.line(3, 24, "fillet").arc(6, 24, 3, +1, "bead").line(2, 24, "fillet").step(21).line(2, 21, "fillet");
  t.arc(12, 21, 8, -1, "cove").line(2, 21, "fillet").line(3, 17, "vee").line(3, 21, "vee");
  t.arc(3, 21, 1.5, -1, "tight cove").line(2, 21, "fillet");
  t.cubic(30, 0.5, -0.045, 0.0009).line(40, 14);
  return t;
}

inline Part leg(const std::string& pommel) {
  const double half = 30, diagonal = half * 1.4142135623730951;
  Turning t(diagonal);
  t.clear(40);
  if (pommel == "square") t.step(24);
  if (pommel == "sloped") t.line(14, 24, "pommel");
  if (pommel == "rounded") t.arc(diagonal - 24, 24, diagonal - 24, +1, "pommel");
  if (pommel == "ogee") {
    const double middle = (diagonal + 24) / 2, rise = diagonal - middle, run = 10;
    const double rho = (run * run + rise * rise) / (2 * rise);
    t.arc(run, middle, rho, +1, "pommel").arc(run, 24, rho, -1, "pommel");
  }
  turned_middle(t);
  return t.part("leg, " + pommel + " pommel", shape::square_faces(2 * half, t.length()));
}

inline Part octagon() {
  Turning t(40);
  t.clear(30).step(33).line(15, 26, "pommel").arc(10, 26, 7, -1, "cove").cubic(40, 0.4, 0.01, -0.0005).step(30);
  t.line(20, 28);
  return t.part("octagon", shape::polygon_faces(8, 56, t.length()));
}

inline Part tapered_square() {
  Turning t(50);
  t.clear(150);
  auto faces = shape::tapered(shape::square_faces(60, 150), {{0, 1, 2, 3}, 30, 140, 16});
  return t.part("tapered square", faces.value());
}

/// Two faces curve, two stay; a round of unlike radii cuts in and out.
inline Part curved_taper() {
  Turning t(36);
  t.line(40, 34).line(60, 27).arc(30, 27, 40, -1, "hollow");
  std::vector<shape::Face> faces = shape::square_faces(52, t.length());
  for (std::size_t f : {std::size_t{0}, std::size_t{2}}) {
    shape::Profile d;
    d.pieces = {shape::line_piece(0, 26, 20, 26), shape::cubic_piece(20, t.length(), {26, 0, -0.0012, 0.000002})};
    faces[f].d = d;
  }
  return t.part("curved taper", faces);
}

/// A round of exactly the square's width, then one a hair larger: the faces are grazed.
inline Part grazing() {
  Turning t(30);
  t.line(40, 30, "cylinder").step(30.002).line(40, 30.002, "cylinder");
  return t.part("grazing", shape::square_faces(60, t.length()));
}

/// Thinner than the ball in places, a wall each way, plumb ends.
inline Part thin_neck() {
  Turning t(12);
  t.line(10, 12, "cylinder")
      .step(3)
      .line(15, 3, "neck")
      .arc(8, 11, 8, +1, "ovolo")
      .arc(11, 3, 12, +1, "ball")
      .step(9)
      .line(9, 9, "cylinder");
  return t.part("thin neck");
}

inline std::vector<Part> all_bodies() {
  return {cylinder(),  cone(),    sphere(),         leg("square"),  leg("sloped"), leg("rounded"),
          leg("ogee"), octagon(), tapered_square(), curved_taper(), grazing(),     thin_neck()};
}

}  // namespace pommel::mill::testing
