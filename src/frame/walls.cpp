#include "frame/walls.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

namespace pommel::frame {
namespace {

using shape::Face;
using shape::Mortise;
using shape::Part;
using shape::Profile;
using shape::Side;

constexpr double kStation = 0.25;  // mm between sections
constexpr double kLookout = 60;    // mm past a mortise's ends; a wall beyond that is no wall to speak of
constexpr double kSamePhi = 1e-9;

// cosine and sine of a quarter turn, exact
struct Way {
  double y, z;
};

Way way(double phi) {
  const double quarter = std::round(phi / (std::numbers::pi / 2));
  if (std::abs(phi - quarter * std::numbers::pi / 2) > kSamePhi) return {std::cos(phi), std::sin(phi)};
  constexpr std::array<Way, 4> kQuarters{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};
  return kQuarters[static_cast<std::size_t>(((static_cast<long long>(quarter) % 4) + 4) % 4)];
}

double dot(Way a, Way b) { return a.y * b.y + a.z * b.z; }

// A mortise is one or two boxes: the mortise itself and its haunch.
struct Box {
  double x0, x1;
  std::array<Way, 4> corners;  // of its section: both at the mouth, both on the floor
};

double face_distance(const Part& part, const Mortise& mortise) {
  for (const Face& face : part.faces) {
    if (std::abs(face.phi - mortise.phi) < kSamePhi) return face.d.value(std::clamp((mortise.x0 + mortise.x1) / 2, face.d.start(), face.d.end()));
  }
  return 0;
}

Box box_of(const Part& part, const Mortise& mortise, double x0, double x1, double depth) {
  const Way normal = way(mortise.phi), across{-normal.z, normal.y};
  const double mouth = face_distance(part, mortise);
  const auto corner = [&](double distance, double t) {
    return Way{distance * normal.y + t * across.y, distance * normal.z + t * across.z};
  };
  return {x0, x1, {corner(mouth, mortise.t0), corner(mouth, mortise.t1), corner(mouth - depth, mortise.t0),
                   corner(mouth - depth, mortise.t1)}};
}

std::vector<Box> boxes_of(const Part& part, const Mortise& mortise) {
  std::vector<Box> boxes{box_of(part, mortise, mortise.x0, mortise.x1, mortise.depth)};
  if (mortise.haunch_length > 0 && mortise.haunch_depth > 0) {
    boxes.push_back(box_of(part, mortise, mortise.x0 - mortise.haunch_length, mortise.x0, mortise.haunch_depth));
  }
  return boxes;
}

std::vector<double> knots(const Part& part, double from, double to) {
  std::vector<double> at;
  const auto add_knots = [&](const Profile& profile) {
    for (const shape::Piece& piece : profile.pieces) at.insert(at.end(), {piece.x0, piece.x1});
  };
  add_knots(part.outline);
  for (const Face& face : part.faces) add_knots(face.d);
  std::erase_if(at, [&](double x) { return x < from || x > to; });
  return at;
}

// Least walls towards the skin, one of each kind. A section is convex: the least distance from a box to its boundary is at
// one of the box's corners.
// REQUIRES: shape::problems(part turned) is empty.
class SkinWalls {
 public:
  SkinWalls(const Part& part, const Mortise& mortise) : part_(part), mortise_(mortise) {}

  std::vector<Wall> find() {
    for (const Box& box : boxes_of(part_, mortise_)) look_from(box);
    std::vector<Wall> found;
    for (const std::optional<Wall>& wall : least_) {
      if (wall) found.push_back(*wall);
    }
    return found;
  }

 private:
  void look_from(const Box& box) {
    const double from = std::max(0.0, box.x0 - kLookout), to = std::min(part_.length, box.x1 + kLookout);
    // between knots both sides are the same piece
    for (double x = std::ceil(from / kStation) * kStation; x < to; x += kStation) look_at(box, x, Side::after);
    for (const double x : {box.x0, box.x1}) {
      if (x >= 0 && x < part_.length) look_at(box, x, Side::after);
    }
    for (const double x : knots(part_, from, to)) {
      if (x > 0) look_at(box, x, Side::before);
      if (x < part_.length) look_at(box, x, Side::after);
    }
    if (box.x0 > 0) keep(Wall::Towards::head, box.x0, 0);
    keep(Wall::Towards::foot, part_.length - box.x1, part_.length);
  }

  void look_at(const Box& box, double x, Side side) {
    const double along = std::max({0.0, box.x0 - x, x - box.x1});
    // seen slantwise from beside the box, only the room between is a wall; right beside it, a negative one breaks through
    const auto wall = [along](double in_section) { return along > 0 ? std::hypot(along, std::max(0.0, in_section)) : in_section; };
    const double round = part_.outline.value(x, side), own = own_face(x, side);
    for (const Way& corner : box.corners) keep(Wall::Towards::round, wall(to_round(corner, round, own)), x);
    for (const Face& face : part_.faces) {
      if (std::abs(face.phi - mortise_.phi) < kSamePhi) continue;  // its own face is where it opens
      const Way normal = way(face.phi);
      const double distance = face.d.value(x, side);
      const auto towards = dot(normal, way(mortise_.phi)) < -0.5 ? Wall::Towards::far_face : Wall::Towards::side_face;
      for (const Way& corner : box.corners) keep(towards, wall(distance - dot(corner, normal)), x);
    }
  }

  double own_face(double x, Side side) const {
    for (const Face& face : part_.faces) {
      if (std::abs(face.phi - mortise_.phi) < kSamePhi) return face.d.value(x, side);
    }
    return std::numeric_limits<double>::infinity();
  }

  // From a corner to the circle. Straight outwards, unless that leads out through the mortise's own face, where there is no
  // wood: then to where the circle comes out of that face.
  double to_round(Way corner, double round, double own) const {
    const double rho = std::hypot(corner.y, corner.z), straight = round - rho;
    const Way normal = way(mortise_.phi), across{-normal.z, normal.y};
    const double outwards = dot(corner, normal);
    if (!std::isfinite(straight) || straight <= 0 || round <= own || outwards * round <= own * rho) return straight;
    const double edge = std::sqrt(round * round - own * own);
    return std::hypot(own - outwards, edge - std::abs(dot(corner, across)));
  }

  void keep(Wall::Towards towards, double thickness, double x) {
    if (!std::isfinite(thickness)) return;  // no outline, no face: nothing to break into
    std::optional<Wall>& least = least_[static_cast<std::size_t>(towards)];
    if (!least || thickness < least->thickness) least = Wall{mortise_.id, towards, thickness, x, {}};
  }

  const Part& part_;
  const Mortise& mortise_;
  std::array<std::optional<Wall>, 6> least_;
};

struct Range {
  double lo = std::numeric_limits<double>::infinity(), hi = -lo;

  void take(double value) { lo = std::min(lo, value); hi = std::max(hi, value); }
};

double gap(double lo_a, double hi_a, double lo_b, double hi_b) { return std::max({0.0, lo_b - hi_a, lo_a - hi_b}); }

double between(const Box& a, const Box& b) {
  Range ay, az, by, bz;
  for (const Way& corner : a.corners) { ay.take(corner.y); az.take(corner.z); }
  for (const Way& corner : b.corners) { by.take(corner.y); bz.take(corner.z); }
  return std::hypot(gap(a.x0, a.x1, b.x0, b.x1), gap(ay.lo, ay.hi, by.lo, by.hi), gap(az.lo, az.hi, bz.lo, bz.hi));
}

Wall between(const Part& part, const Mortise& one, const Mortise& other) {
  Wall wall{one.id, Wall::Towards::mortise, std::numeric_limits<double>::infinity(), 0, other.id};
  for (const Box& a : boxes_of(part, one)) {
    for (const Box& b : boxes_of(part, other)) {
      const double distance = between(a, b);
      if (distance < wall.thickness) {
        wall.thickness = distance;
        wall.x = std::max(a.x0, b.x0);
      }
    }
  }
  return wall;
}

}  // namespace

std::vector<Wall> walls(const Part& part, const std::function<bool(const std::string&, const std::string&)>& run_together) {
  std::vector<Wall> found;
  for (std::size_t i = 0; i < part.mortises.size(); ++i) {
    const std::vector<Wall> skin = SkinWalls(part, part.mortises[i]).find();
    found.insert(found.end(), skin.begin(), skin.end());
    for (std::size_t k = i + 1; k < part.mortises.size(); ++k) {
      if (!run_together(part.mortises[i].id, part.mortises[k].id)) {
        found.push_back(between(part, part.mortises[i], part.mortises[k]));
      }
    }
  }
  return found;
}

}  // namespace pommel::frame
