#include "shape/treated_parts.h"

namespace pommel::shape {

Profile raised_profile(double length, double x0, double x1, double height, double run, double rise) {
  Profile profile;
  if (x0 > 0) profile.pieces.push_back(clear_piece(0, x0));
  profile.pieces.push_back(line_piece(x0, height + rise, x0 + run, height));
  profile.pieces.push_back(line_piece(x0 + run, height, x1 - run, height));
  profile.pieces.push_back(line_piece(x1 - run, height, x1, height + rise));
  if (x1 < length) profile.pieces.push_back(clear_piece(x1, length));
  return profile;
}

namespace {

void add_flutes(Random& random, double r, double x0, double x1, Part& part) {
  int count = 3 + random.below(10);
  double g = std::min(r * std::sin(std::numbers::pi / count), 12.0) * random.between(0.4, 0.9), depth = g * random.between(0.3, 0.7);
  double first = random.between(0, kTurn);
  for (int k = 0; k < count; ++k) {
    double theta = turned_direction(first + k * kTurn / count, 0);
    part.flutes.push_back({theta, g, raised_profile(part.length, x0, x1, r + g - depth, (x1 - x0) * 0.2, depth + 1)});
  }
}

void add_reeds(Random& random, double r, double x0, double x1, Part& part) {
  int count = 6 + random.below(14);
  // where the reeds end their valleys have risen to the round: c cos(pi/count) = r there, and the radius is still above c sin(pi/count)
  double end = r / std::cos(std::numbers::pi / count);
  double g = std::max(r * random.between(0.1, 0.3), end * std::sin(std::numbers::pi / count) * 1.02);
  part.reedings.push_back(
      {count, random.between(0, kTurn), g, raised_profile(part.length, x0, x1, r - g, (x1 - x0) * 0.15, end - (r - g))});
}

}  // namespace

Part treated_part(std::uint64_t start, int make) {
  Random random(start);
  Part part;
  part.name = "treated";
  part.length = random.between(300, 500);
  double stock = random.between(40, 90), x0 = random.between(60, 90), x1 = part.length - random.between(40, 60);
  double r = stock / 2 * random.between(0.7, 1.05);
  part.outline.pieces = {clear_piece(0, x0), line_piece(x0, r, x1, r), clear_piece(x1, part.length)};
  part.faces = polygon_faces((make & 8) ? 8 : 4, stock, part.length);
  double third = (x1 - x0) / 3;
  if (make & 1) add_flutes(random, r, x0 + 5, x0 + third * 1.8, part);
  if (make & 2) add_reeds(random, r, x0 + third, x0 + 2 * third, part);
  if (make & 4) {
    double sign = random.below(2) == 0 ? 1 : -1;
    part.twists.push_back({x1 - third * 1.5, x1 - 3, 1 + random.below(4), sign * random.between(60, 200), r * random.between(0.1, 0.3),
                           third * 0.3, third * 0.4, random.between(0, kTurn)});
  }
  return part;
}

}  // namespace pommel::shape
