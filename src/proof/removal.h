// Cutting a blank in simulation: wood on rays from the rotary axis.
//
// Each ray keeps three figures a blank needs: `low`, the deepest point ever cut (nothing below it was touched: gouges are
// judged here, exactly); `high`, the outer end of the gap that begins at low; and per blank `top`, the outermost wood. A
// stroke that passes beside a ray leaves wood standing outside its exit; top falls only once the gap has been opened to
// it. When a second gap would have to be remembered the deeper one is kept, so top never falls below the truth: leftover
// and wood at rapid are found rather too often than too seldom.
//
// A stroke is a ball (and its flutes above) moving straight in the frame of one direction a: the sphere swept along a
// segment meets a ray in one interval whose entry has a closed form (proof/kernel.h). Moves without a turn are one stroke,
// exactly. A move that turns is cut into n strokes along chords of its path: they leave it by at most
// (c da² + 2 |dc| |da|) / (8 n²) (c: height of the centre), and n makes that less than chord_error.
#pragma once

#include <stop_token>
#include <vector>

#include "motion/motion.h"
#include "proof/grid.h"
#include "shop/shop.h"

namespace pommel::proof {

/// Something met by one move. At most one of each kind for a move and blank.
struct Hit {
  enum class Kind { rapid, shank, depth };
  Kind kind = Kind::rapid;
  std::size_t move = 0;   ///< index in Path::moves
  std::size_t blank = 0;
  /// rapid: mm of wood along a ray; shank: mm of wood above its lower end; depth: mm above the tip, of wood as it stood before
  /// the run of feed moves on and on along x that the move belongs to
  double amount = 0;
  double x = 0, theta = 0;
};

struct Cut {
  std::vector<float> low;                 ///< mm, one a ray; kNone where nothing was cut
  std::vector<std::vector<float>> tops;   ///< a blank, a ray: mm
  std::vector<Hit> hits;                  ///< by move, blank, kind
  double greatest_depth = 0;              ///< mm, feed moves, first blank
};

struct CutSettings {
  double chord_error = 0.001;
  double rapid_clearance = 0.01;
  double depth_slack = 0;
  double side_slice = 0;  ///< mm; see proof::Settings
  int threads = 0;  ///< 0: as many as there are
};

/// Strokes the moves are cut into; more than 100 million are refused by cut().
double strokes_of(const motion::Path& path, double rho, double chord_error);

/// Cuts every blank (`starts`: its radii on the grid's rays) with the whole path. Fails with "proof.too-much" or
/// "cancelled". REQUIRES: finite positions, y = 0, a ball cutter with diameter > 0 and flutes longer than its radius.
Result<Cut> cut(const Grid& grid, std::vector<std::vector<float>> starts, const motion::Path& path,
                const shop::Cutter& cutter, const CutSettings& settings, std::stop_token stop);

/// Index of the move whose entry on the ray (x, theta) is deepest, mm in `entry`; moves.size() when none meets it.
/// Double precision, one ray, the slow and obvious way along the same strokes.
std::size_t deepest_move(const motion::Path& path, double rho, double chord_error, double x, double theta, double& entry);

}  // namespace pommel::proof
