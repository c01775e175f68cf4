// Cutting blanks in simulation: wood on rays from the rotary axis.
//
// All blanks are cut by the same motions, so what is kept of each ray is what has been cut of it, whatever stood there: the deepest gap,
// from `low` (nothing below it was touched: gouges are judged here, exactly) to `high`, and `out`, from where on all is gone. The outermost
// wood of a blank that began at `start` follows: low or out, or start itself. A cutter that passes beside a ray leaves wood standing
// outside its exit; out falls only when a cut, or the gaps together, come to where no blank reaches. When a second gap would have to be
// remembered the deeper one is kept, so no wood is thought gone that stands: leftover and wood at rapid are found rather too often
// than too seldom.
//
// A ball moving straight in the frame of one direction meets a ray in one interval whose entry has a closed form (proof/kernel.h). Its
// moves without a turn are one such stroke, exactly. Where it goes round and round, each ray is met where the ball enters it deepest
// (proof/turn.h). Any other move that turns is cut into n strokes along chords of its path: they leave it by at most
// (c da² + 2 |dc| |da|) / (8 n²) (c: height of the centre), and n makes that less than chord_error. Other cutters are met along their
// true paths (proof/sweep.h).
//
// Time. Rows are worked in slabs that stay in a processor's second cache, each with its own list of the moves that can touch it; threads take
// slabs one after the other. Of a run of feed moves on along x in one direction only those are made on a row that the deepest of them does
// not hide. The result does not depend on the number of threads.
#pragma once

#include <stop_token>
#include <vector>

#include "motion/motion.h"
#include "proof/grid.h"
#include "proof/start.h"
#include "proof/tool.h"
#include "shop/shop.h"

namespace pommel::proof {

/// Something met by one move. At most one of each kind for a move and blank.
struct Hit {
  enum class Kind { rapid, shank, depth, sink };
  Kind kind = Kind::rapid;
  std::size_t move = 0;   ///< index in Path::moves
  std::size_t blank = 0;
  /// rapid: mm of wood along a ray; shank: mm of wood above its lower end; depth, and sink where the move falls more steeply than the cutter
  /// bears: mm above the tip, of wood as it stood before the run of feed moves on and on along x that the move belongs to
  double amount = 0;
  double x = 0, theta = 0;
};

/// What has been cut of the rays, one entry a ray, mm, and how far each blank reached on them before.
struct Wood {
  std::vector<float> low, high, out;  ///< kNone, -kNone, kNone where nothing was cut
  std::vector<Start> starts;          ///< of each blank

  /// The outermost wood of a blank on the k-th ray of a row; `ray`: its index among all.
  float top(std::size_t blank, std::size_t row, std::size_t k, std::size_t ray) const {
    float start = starts[blank].at(row, k), least = high[ray] >= start ? low[ray] : out[ray];
    return least < start ? least : start;
  }
};

Wood uncut(const Grid& grid, std::vector<Start> starts);

struct Met {
  std::vector<Hit> hits;      ///< by move, blank, kind
  double greatest_depth = 0;  ///< mm, feed moves, first blank
};

struct CutSettings {
  double chord_error = 0.001;
  double rapid_clearance = 0.01;
  double depth_slack = 0;
  double side_slice = 0;  ///< mm; see proof::Settings
  double sunk_skin = 0;   ///< mm; see proof::Settings
  int threads = 0;  ///< 0: as many as there are
};

/// Strokes the moves are cut into; more than 100 million are refused by cut().
double strokes_of(const motion::Path& path, double rho, double chord_error);

/// Cuts the wood with the whole path. Fails with "proof.too-much" or "cancelled". REQUIRES: finite positions, y = 0, `wood` on the rays
/// of `grid` with at least one blank.
Result<Met> cut(const Grid& grid, Wood& wood, const motion::Path& path, const Tool& tool, const CutSettings& settings, std::stop_token stop);

struct Cut {
  std::vector<float> low;                 ///< mm, one a ray; kNone where nothing was cut
  std::vector<std::vector<float>> tops;   ///< a blank, a ray: mm
  std::vector<Hit> hits;
  double greatest_depth = 0;
};

/// All at once for one cutter, from blanks that are whole. Fails with tool_of()'s reasons too.
Result<Cut> cut(const Grid& grid, std::vector<Start> starts, const motion::Path& path,
                const shop::Cutter& cutter, const CutSettings& settings, std::stop_token stop);

/// Index of the move whose entry on the ray (x, theta) is deepest, mm in `entry`; moves.size() when none meets it.
/// Double precision, one ray, the slow and obvious way along the moves' true paths.
std::size_t deepest_move(const motion::Path& path, const Tool& tool, double x, double theta, double& entry);

}  // namespace pommel::proof
