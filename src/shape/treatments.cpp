#include "shape/treatments.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <tuple>

#include "base/number.h"
#include "shape/angle.h"
#include "shape/crease.h"
#include "shape/mortise.h"
#include "shape/moulding.h"
#include "shape/ring.h"
#include "shape/treatment_problems.h"

namespace pommel::shape {
namespace {

// Heights nearer than this are one, mm.
constexpr double kMiss = 1e-6;

bool all_finite(std::initializer_list<double> numbers) {
  return std::all_of(numbers.begin(), numbers.end(), [](double n) { return std::isfinite(n); });
}

std::string run(double x0, double x1) {
  return "from " + mm_text(x0) + " to " + mm_text(x1);
}

// Nothing when x0..x1 is a stretch of the part that holds both ends.
std::optional<Failure> wrong_stretch(const Part& part, const std::string& what, double x0, double x1, double end0, double end1) {
  if (!all_finite({x0, x1, end0, end1}) || !(x0 < x1) || x0 < 0 || x1 > part.length)
    return fail("treatment.stretch", "the " + what + " " + (all_finite({x0, x1}) ? run(x0, x1) + " are" : std::string("without places are")) + " no stretch of a piece of " + mm_text(part.length),
                "state a place nearer the head first, both on the piece");
  if (end0 < 0 || end1 < 0 || end0 + end1 > x1 - x0)
    return fail("treatment.stretch", "the " + what + " " + run(x0, x1) + " are shorter than both their ends, " + mm_text(end0) + " and " + mm_text(end1), "make the ends shorter, or the stretch longer");
  return std::nullopt;
}

void append(std::vector<Piece>& pieces, std::vector<Piece> more) {
  pieces.insert(pieces.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

// Why the profile is no ground for a groove on the stretch: it is not there, or jumps.
std::optional<Failure> uneven(const Part& part, const Profile& ground, const std::string& what, double x0, double x1) {
  const Piece* before = nullptr;
  for (const Piece& piece : ground.pieces) {
    if (piece.x1 <= x0 || piece.x0 >= x1) continue;
    std::string where = " at " + mm_text(std::max(piece.x0, x0));
    if (piece.kind == Piece::Kind::clear)
      return fail("treatment.step", "the " + what + " run over a stretch that is not turned" + where, "keep them within one element, or on elements that are turned");
    if (before && std::fabs(before->r1 - piece.r0) > kMiss) {
      std::string on;
      if (piece.element >= 0 && static_cast<std::size_t>(piece.element) < part.elements.size()) on = ", where the " + part.elements[static_cast<std::size_t>(piece.element)].kind + " begins";
      return fail("treatment.step", "the " + what + " run over a step of " + mm_text(std::fabs(before->r1 - piece.r0)) + where + on, "end them before it");
    }
    before = &piece;
  }
  return std::nullopt;
}

// An end from (x0, r0) to (x1, r1), of which `level_last` says where its lower, inner end is. Round: hollow and level there.
Piece rising(double x0, double r0, double x1, double r1, RunOut kind, bool level_last) {
  double rise = std::fabs(r1 - r0), length = x1 - x0;
  if (kind == RunOut::straight || rise <= kMiss) return line_piece(x0, r0, x1, r1);
  double rho = (length * length + rise * rise) / (2 * rise);
  return level_last ? arc_about(x0, r0, x1, r1, x1, r1 + rho, rho, -1) : arc_about(x0, r0, x1, r1, x0, r0 + rho, rho, -1);
}

// A centre line: `out` above the ground in the middle, at its ends risen to `high0` and `high1`.
struct CentreLine {
  double x0, x1, run0, run1, out;
  double high0, high1;
  RunOut ends;
};

Result<Profile> centre_line(const Part& part, const Profile& ground, const std::string& what, const CentreLine& line) {
  Profile centre;
  double a = line.x0 + line.run0, b = line.x1 - line.run1;
  if (line.x0 > 0) centre.pieces.push_back(clear_piece(0, line.x0));
  std::vector<Piece> middle = pieces_within(ground, a, b, line.out);
  const double low0 = ground.value(a, a < line.x1 ? Side::after : Side::before) + line.out, low1 = ground.value(b, b > line.x0 ? Side::before : Side::after) + line.out;
  for (auto [length, low, high] : {std::tuple{line.run0, low0, line.high0}, std::tuple{line.run1, low1, line.high1}}) {
    double rise = high - low;
    if (length > 0 && (rise < -kMiss || (line.ends == RunOut::round && rise > length)))
      return fail("treatment.run-out", "a run-out of " + mm_text(length) + " cannot rise " + mm_text(rise) + " out of the " + what, rise < 0 ? "make it shorter: the piece grows thinner towards it" : "make it longer than it is deep, or straight");
  }
  if (line.run0 > 0) centre.pieces.push_back(rising(line.x0, line.high0, a, low0, line.ends, true));
  append(centre.pieces, std::move(middle));
  if (line.run1 > 0) centre.pieces.push_back(rising(b, low1, line.x1, line.high1, line.ends, false));
  if (line.x1 < part.length) centre.pieces.push_back(clear_piece(line.x1, part.length));
  for (Piece& piece : centre.pieces) piece.element = -1;
  return centre;
}

// The part when it is sound, else what is wrong with it.
Result<Part> sound(Part part) {
  std::vector<Diagnostic> wrong = problems(part);
  if (!wrong.empty()) return Failure(std::move(wrong));
  return part;
}

double least_on(const Profile& profile, double a, double b) {
  double least = std::numeric_limits<double>::infinity();
  for (const Piece& piece : pieces_within(profile, a, b)) least = std::min(least, piece.least());
  return least;
}

double greatest_on(const Profile& profile, double a, double b) {
  double most = 0;
  for (const Piece& piece : pieces_within(profile, a, b)) most = std::max(most, piece.greatest());
  return most;
}

bool turned_anywhere(const Profile& outline, double a, double b) {
  return std::any_of(outline.pieces.begin(), outline.pieces.end(), [&](const Piece& p) { return p.x1 > a && p.x0 < b && p.kind != Piece::Kind::clear; });
}

// The radius of a groove of this width and depth on a round of radius r (infinite on a face), and how high it is.
struct GrooveSize {
  double radius = 0, height = 0;
};

GrooveSize groove_size(double r, double width, double depth) {
  double half = width / 2;
  // edges stand at r cos f, the bottom at r - depth
  double sagitta = std::isfinite(r) ? r - std::sqrt((r - half) * (r + half)) : 0;
  double height = depth - sagitta;
  return {(half * half + height * height) / (2 * height), height};
}

constexpr int kMostGrooves = 1000;

// 0 where the spacing makes more of them than there may be.
int count_of(const FluteWish& wish, double r) {
  if (wish.count > 0) return wish.count;
  const double count = std::max(1.0, std::round(kTurn * r / wish.spacing));
  return count <= kMostGrooves ? static_cast<int>(count) : 0;
}

}  // namespace

Result<Part> fluted(Part part, const FluteWish& wish) {
  if (auto wrong = wrong_stretch(part, "flutes", wish.x0, wish.x1, wish.run_out0, wish.run_out1)) return *wrong;
  if (!all_finite({wish.width, wish.depth, wish.spacing, wish.phase}) || wish.count < 0 || wish.count > kMostGrooves || !(wish.width > 0) || !(wish.depth > 0) ||
      (wish.count > 0) == (wish.spacing > 0))
    return fail("treatment.size", "flutes need a width, a depth, and either a count of 1 to 1000 or a spacing", "state each once");
  const double middle = (wish.x0 + wish.x1) / 2;
  const bool round = turned_anywhere(part.outline, wish.x0, wish.x1);
  double r = round ? part.outline.value(middle, Side::after) : std::numeric_limits<double>::infinity();
  const double across = round ? r : least_face_distance(part, middle, Side::after);
  const int count = count_of(wish, across);
  if (count == 0) return fail("treatment.size", "a spacing of " + mm_text(wish.spacing) + " makes more than 1000 flutes", "space them wider");
  if (std::isfinite(r) && wish.width >= 2 * r) return fail("treatment.size", "flutes of " + mm_text(wish.width) + " are as wide as the round of " + mm_text(2 * r), "make them narrower");
  const GrooveSize size = groove_size(r, wish.width, wish.depth);
  if (!(size.height > 0)) return fail("treatment.size", "flutes of " + mm_text(wish.width) + " by " + mm_text(wish.depth) + " would bulge: the round itself falls away by " + mm_text(wish.depth - size.height) + " over their width", "make them deeper, or narrower");
  if (size.height > wish.width / 2 + kMiss)
    return fail("treatment.deep", "flutes of " + mm_text(wish.width) + " by " + mm_text(wish.depth) + " are deeper than half round", "at most " + mm_text(wish.depth - size.height + wish.width / 2) + " deep");
  for (int k = 0; k < count; ++k) {
    Flute flute;
    double angle = wish.phase + (4 * k % count == 0 ? 4 * k / count * kQuarterTurn : k * kTurn / count);
    flute.theta = turned_direction(angle, 0);
    flute.radius = size.radius;
    const Face* face = round ? nullptr : face_looking(part, flute.theta);
    if (!round && !face)
      return fail("treatment.face", "flutes on flats must look along them: there is no face at " + format_number(flute.theta * 360 / kTurn, 1) + " degrees", "give them the count and direction of the faces, or turn the stretch");
    const Profile& ground = round ? part.outline : face->d;
    if (auto wrong = uneven(part, ground, "flutes", wish.x0, wish.x1)) return *wrong;
    if (round && k == 0 && count > 1) {
      double thin = least_on(ground, wish.x0 + wish.run_out0, wish.x1 - wish.run_out1), c = thin + size.radius - wish.depth;
      double half = std::acos(std::clamp((thin * thin + c * c - size.radius * size.radius) / (2 * thin * c), -1.0, 1.0));
      if (2 * half >= kTurn / count)
        return fail("treatment.pitch", std::to_string(count) + " flutes of " + mm_text(wish.width) + " do not fit round the thinnest place, " + mm_text(2 * thin) + ": each is " + mm_text(2 * thin * std::sin(half)) + " wide there and has " + mm_text(kTurn * thin / count),
                    "make them fewer, or narrower");
    }
    double out = size.radius - wish.depth;
    auto centre = centre_line(part, ground, "wood", {wish.x0, wish.x1, wish.run_out0, wish.run_out1, out, ground.value(wish.x0, Side::after) + size.radius, ground.value(wish.x1, Side::before) + size.radius, wish.ends});
    if (!centre.ok()) return centre.failure();
    flute.centre = std::move(centre).value();
    part.flutes.push_back(std::move(flute));
  }
  return sound(std::move(part));
}

double deepest_reeds(double r, int count) {
  SinCos half = sin_cos(kTurn / count / 2);
  double g = r * half.sin, c = r - g;
  return r - (c * half.cos + std::sqrt(std::max(0.0, g * g - c * c * half.sin * half.sin)));
}

Result<Part> reeded(Part part, const ReedWish& wish) {
  if (auto wrong = wrong_stretch(part, "reeds", wish.x0, wish.x1, wish.run_out0, wish.run_out1)) return *wrong;
  if (!all_finite({wish.depth, wish.phase}) || wish.count < 3 || wish.count > kMostGrooves || !(wish.depth > 0))
    return fail("treatment.size", "reeds need a depth and a count of 3 to 1000", "state both");
  if (auto wrong = uneven(part, part.outline, "reeds", wish.x0, wish.x1)) return *wrong;
  const double thin = least_on(part.outline, wish.x0, wish.x1), thick = greatest_on(part.outline, wish.x0, wish.x1);
  SinCos half = sin_cos(kTurn / wish.count / 2);
  // the circle whose crown stands at r and that passes the valley at v: ((v cos a - r)² + (v sin a)²) / (2 (r - v cos a))
  double v = thin - wish.depth, short_of = thin - v * half.cos;
  double g = (short_of * short_of + v * v * half.sin * half.sin) / (2 * short_of);
  if (v <= 0 || g < thick * half.sin) {
    // one radius from end to end: at the thickest place it must still reach across a reed's share of the round
    double least = thick * half.sin, c = thin - least, across = c * half.sin;
    double most = thin - (c * half.cos + std::sqrt(std::max(0.0, least * least - across * across)));
    return fail("treatment.deep", std::to_string(wish.count) + " reeds of " + mm_text(wish.depth) + " are too deep to rise out of a round of " + mm_text(2 * thick) + " at their ends",
                "at most " + mm_text(std::floor(most * 1000) / 1000) + " deep, or fewer of them");
  }
  // risen so far that the valley stands at r: the nearer root of c² - 2 c r cos a + r² = g²
  auto risen = [&](double r) { return r * half.cos - std::sqrt(std::max(0.0, (g - r * half.sin) * (g + r * half.sin))); };
  auto centre = centre_line(part, part.outline, "round",
                            {wish.x0, wish.x1, wish.run_out0, wish.run_out1, -g, risen(part.outline.value(wish.x0, Side::after)), risen(part.outline.value(wish.x1, Side::before)), wish.ends});
  if (!centre.ok()) return centre.failure();
  part.reedings.push_back({wish.count, turned_direction(wish.phase, 0), g, std::move(centre).value()});
  return sound(std::move(part));
}

Result<Part> twisted(Part part, const TwistWish& wish) {
  if (auto wrong = wrong_stretch(part, "twist's turns", wish.x0, wish.x1, wish.fade0, wish.fade1)) return *wrong;
  if (!all_finite({wish.pitch, wish.turns, wish.depth, wish.phase}) || wish.pitch < 0 || wish.turns < 0 || (wish.pitch > 0) == (wish.turns > 0))
    return fail("treatment.size", "a twist needs either a pitch or a number of turns, above nothing", "state one of them; its hand says which way it winds");
  if (auto wrong = uneven(part, part.outline, "twist's turns", wish.x0, wish.x1)) return *wrong;
  double pitch = wish.pitch > 0 ? wish.pitch : (wish.x1 - wish.x0) / wish.turns;
  part.twists.push_back({wish.x0, wish.x1, wish.starts, wish.right_hand ? pitch : -pitch, wish.depth, wish.fade0, wish.fade1, turned_direction(wish.phase, 0)});
  return sound(std::move(part));
}

std::vector<std::string> run_out_words() {
  return {"round", "straight"};
}

std::vector<std::string> stop_words() {
  return {"none", "chamfer", "cove", "ogee"};
}

}  // namespace pommel::shape
