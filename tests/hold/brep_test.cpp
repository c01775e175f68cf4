// The judge held to the exact boundary. Ball cutters are plunged into the turned piece at random places, the judge finds what it finds from the
// motions, and OpenCASCADE measures the distance between the cutter's body and the solid (BRepExtrema): a ball with its cylinder is all that is
// nearer than its radius to the axis above the ball's centre.
//
// What must agree. Where the cutter's body is p inside the solid, measured along the shortest way out of it, the deepest wood it takes lies at
// most p below the skin: on skin that is smooth there just p, under an arris or a thin rim less, since other sides are nearer. So the judge
// must never find more than p, and where it finds clearly less, the boundary is asked how deep the wood in the cutter's body lies below its
// nearest side: points all over the place where they meet. The judge's rows stand up to a row step apart, so under a rim's steep sides it may
// miss half of that.
//
// A few positions run with the other tests; POMMEL_HOLD_POSITIONS=2000 takes that many a design.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <optional>
#include <random>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepExtrema_DistShapeShape.hxx>

#include "hold/pieces.h"
#include "proof/grid.h"
#include "proof/proof.h"
#include "proof/reach.h"
#include "solid/occt_shape.h"

namespace pommel::proof {
namespace {

using hold::Piece, hold::pieces_of;

constexpr int kAsked = 1500;          // points in the cutter's body, where the judge finds less than the way out
constexpr double kTurn = 2 * std::numbers::pi;
constexpr std::size_t kAtOnce = 40;   // plunges of one program at most: a proof lists 50 patches

struct Plunge {
  double x = 0, a = 0, tip = 0;
  double inside = 0;  ///< mm of the cutter's body in the solid, by the boundary
  solid::Point met;   ///< of the solid, where the cutter's axis is nearest
};

shop::Cutter ball(double diameter) {
  shop::Cutter cutter;
  cutter.id = "ball";
  cutter.diameter = cutter.shank_diameter = diameter;
  cutter.flute_length = 150, cutter.shank_length = 160;
  cutter.rpm = 12000;
  return cutter;
}

// How deep the body of a ball cutter whose tip stands there is in the solid (negative: how far from it), and where they meet.
void ask_boundary(const TopoDS_Shape& solid, double rho, Plunge& p) {
  const double c = std::cos(p.a), s = std::sin(p.a), low = p.tip + rho, high = p.tip + 150;
  BRepBuilderAPI_MakeEdge axis(gp_Pnt(p.x, low * c, low * s), gp_Pnt(p.x, high * c, high * s));
  const BRepExtrema_DistShapeShape gap(axis.Edge(), solid);
  const gp_Pnt met = gap.PointOnShape2(1);
  p.inside = rho - gap.Value();
  p.met = {met.X(), met.Y(), met.Z()};
}

struct Statistics {
  int positions = 0, free = 0, rims = 0;
  double worst_over = 0, worst_short = 0;  ///< mm: judge deeper than the boundary says; less deep
  std::vector<double> off;                 ///< |judge - boundary| on smooth skin
};

class Hold {
 public:
  Hold(const Piece& piece, double diameter, unsigned seed) : piece_(piece), cutter_(ball(diameter)), engine_(seed) {
    auto solid = solid::turned(piece.part);
    EXPECT_TRUE(solid.ok()) << render(solid.reasons());
    solid_ = solid::topology_of(*solid);
    probe_.emplace(*solid);
    settings_.cusp = settings_.hand_work_from = 1e4;  // the blank stays uncut: what is left is not asked for
    settings_.over_depth = Severity::note;
  }

  void run(int positions, Statistics& to) {
    auto grid = make_grid(piece_.part, piece_.blank, settings_.row_step, settings_.columns);
    ASSERT_TRUE(grid.ok());
    const std::vector<float> body = body_of(*grid);
    auto tool = tool_of(cutter_);
    Reach reach(*grid, body, *tool, piece_.blank.x0, piece_.blank.x1);
    for (int done = 0; done < positions; done += static_cast<int>(at_once())) {
      std::vector<Plunge> plunges = choose(*grid, reach, std::min(at_once(), static_cast<std::size_t>(positions - done)));
      for (Plunge& p : plunges) ask_boundary(solid_, cutter_.diameter / 2, p);
      compare(plunges, to);
      if (::testing::Test::HasFatalFailure()) return;
    }
  }

 private:
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0); }

  std::vector<float> body_of(const Grid& grid) const {
    std::vector<float> out(grid.rays());
    for (std::size_t row = 0; row < grid.rows(); ++row)
      for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i)
        out[i] = grid.x[row] < 0 || grid.x[row] > piece_.part.length ? 0 : static_cast<float>(shape::radius_at(piece_.part, grid.x[row], grid.angle(row, i - grid.begin[row])));
    return out;
  }

  // As many as have room beside each other: of a short piece (a finial) fewer.
  std::size_t at_once() const { return std::clamp<std::size_t>(static_cast<std::size_t>(piece_.part.length / (cutter_.diameter + 2)), 1, kAtOnce); }

  // Each in a stretch of its own along the piece, so that what they cut does not run together; a third free of the skin.
  std::vector<Plunge> choose(const Grid& grid, Reach& reach, std::size_t count) {
    std::vector<Plunge> out;
    const double stretch = piece_.part.length / static_cast<double>(at_once());
    for (std::size_t k = 0; k < count; ++k) {
      const double wide = std::max(0.0, stretch - cutter_.diameter - 2);
      const double x = stretch * (static_cast<double>(k) + 0.5) + between(-wide / 2, wide / 2);
      const auto& places = reach.places();
      const auto place = static_cast<std::size_t>(std::lower_bound(places.begin(), places.end(), x) - places.begin());
      const auto column = static_cast<std::size_t>(engine_() % static_cast<unsigned>(grid.columns));
      const double lower = k % 3 == 0 ? -between(0.05, 1) : between(0.05, 0.6);
      out.push_back({places[std::min(place, places.size() - 1)], static_cast<double>(column) * grid.column_step(), reach.tip_height(std::min(place, places.size() - 1), column) - lower, 0, {}});
    }
    return out;
  }

  motion::Path path_of(const std::vector<Plunge>& plunges) const {
    const double clear = piece_.blank.size + 20;
    motion::Path path;
    path.cutter = "ball", path.rpm = 12000, path.start = {plunges.front().x, 0, clear, plunges.front().a};
    for (const Plunge& p : plunges) {
      path.moves.push_back({{p.x, 0, clear, p.a}, true, 0, 0});
      path.moves.push_back({{p.x, 0, p.tip, p.a}, false, 1, 0});
      path.moves.push_back({{p.x, 0, clear, p.a}, true, 0, 0});
    }
    return path;
  }

  // Of points of the cutter's body around where it meets the solid, the deepest below the solid's skin.
  double deepest_by_boundary(const Plunge& p) {
    const double rho = cutter_.diameter / 2, about = std::sqrt(2 * rho * p.inside) + p.inside;
    double deepest = 0;
    for (int i = 0; i < kAsked; ++i) {
      const solid::Point q{p.met.x + between(-about, about), p.met.y + between(-about, about), p.met.z + between(-about, about)};
      const double c = std::cos(p.a), s = std::sin(p.a), up = std::max(p.tip + rho, q.y * c + q.z * s);
      if (std::hypot(q.x - p.x, q.y - up * c, q.z - up * s) > rho) continue;
      const double deep = -probe_->distance(q);
      if (deep <= p.inside + 1e-6) deepest = std::max(deepest, deep);  // more cannot be: the probe took a point for the other side of the skin
    }
    return deepest;
  }

  void compare(const std::vector<Plunge>& plunges, Statistics& to) {
    shop::Machine machine;
    const auto proof = prove_path(path_of(plunges), piece_.part, piece_.blank, {0, 0, 0}, cutter_, machine, settings_, {});
    ASSERT_TRUE(proof.ok()) << render(proof.reasons());
    const double error = proof->hidden_gouge + 0.002;
    for (const Plunge& p : plunges) {
      double found = 0;
      for (const Patch& patch : proof->gouges) {
        const bool here = patch.x0 < p.x + cutter_.diameter && patch.x1 > p.x - cutter_.diameter && std::fabs(patch.worst.x - p.x) < cutter_.diameter / 2 + 0.5;
        if (here) found = std::max(found, patch.worst.amount);
      }
      const std::string where = piece_.part.name + ", x " + std::to_string(p.x) + ", a " + std::to_string(p.a * 360 / kTurn) + " deg, tip " + std::to_string(p.tip);
      ++to.positions;
      to.free += p.inside <= 0 ? 1 : 0;
      EXPECT_LE(found, std::max(0.0, p.inside) + 0.002) << where;
      to.worst_over = std::max(to.worst_over, found - std::max(0.0, p.inside));
      const double lists = settings_.gouge_limit;  // what is less is not listed
      if (p.inside - std::max(found, lists) <= error) {
        if (p.inside > lists) to.off.push_back(std::fabs(found - p.inside));
        continue;
      }
      ++to.rims;
      const double deep = deepest_by_boundary(p);
      EXPECT_GE(std::max(found, lists), deep - error - settings_.row_step / 2) << where;
      to.worst_short = std::max(to.worst_short, deep - std::max(found, lists));
    }
  }

  const Piece& piece_;
  shop::Cutter cutter_;
  Settings settings_;
  TopoDS_Shape solid_;
  std::optional<solid::Probe> probe_;
  std::mt19937 engine_;
};

class HeldToTheBoundary : public ::testing::TestWithParam<std::string> {};

TEST_P(HeldToTheBoundary, GougesAreAsDeepAsTheCutterIsInTheSolid) {
  const char* wanted = std::getenv("POMMEL_HOLD_POSITIONS");
  const int positions = wanted ? std::atoi(wanted) : static_cast<int>(kAtOnce);
  ASSERT_GT(positions, 0);
  const std::vector<Piece> pieces = pieces_of(GetParam());
  Statistics all;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    Hold hold(pieces[i], 6, 11 + static_cast<unsigned>(i));
    hold.run(positions / static_cast<int>(pieces.size()), all);
    if (HasFatalFailure()) return;
  }
  EXPECT_GT(all.free, 0);
  ASSERT_GT(all.off.size(), static_cast<std::size_t>(all.positions) / 4);
  std::sort(all.off.begin(), all.off.end());
  const auto share = [&](double s) { return all.off[static_cast<std::size_t>(s * static_cast<double>(all.off.size() - 1))]; };
  EXPECT_LT(share(0.5), 0.01);
  std::printf("    %-24s %5d positions, %4d free; judge deeper than the boundary by at most %.4f mm; on smooth skin apart by %.4f at the middle, %.4f at most; %d under rims, short by at most %.4f\n",
              GetParam().c_str(), all.positions, all.free, all.worst_over, share(0.5), share(1), all.rims, all.worst_short);
}

std::vector<std::string> designs_held() {
  if (std::getenv("POMMEL_HOLD_POSITIONS")) return hold::designs_of_the_house();
  return {"farmhouse-vase", "spade-foot"};
}

std::string name_of(const ::testing::TestParamInfo<std::string>& design) {
  std::string name = design.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

INSTANTIATE_TEST_SUITE_P(Catalog, HeldToTheBoundary, ::testing::ValuesIn(designs_held()), name_of);

}  // namespace
}  // namespace pommel::proof
