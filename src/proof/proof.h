// The judge: reads the very text that goes to the machine, cuts the blank with it in simulation, and says what would
// happen to the wood. It shares no code with the room that planned the motions; only nouns.
//
// What is held against what:
//   - gouge: wood of the turned part that the cutter took away, as the exact normal depth below the part's skin
//     (proof/body.h), whatever the blank was;
//   - leftover: wood that still stands though this cutter can reach it, beyond the cusp that was agreed; what the cutter
//     cannot reach is no fault of the text and is listed as hand work; waste may be cut that keeps 0.55 of the end's radius;
//   - the blank lying as planned, off centre, bowed and oversize by the shop's tolerances: wood met at rapid, wood at the
//     shank or the collet;
//   - the machine: travels, feeds, turns, speed, chuck and centre, depth in one move.
//
// Sampling. Wood is kept on rays from the axis: rows at most `row_step` apart along x and, on steep skin, in height as well (so at
// most sqrt 2 row steps along the skin), also exactly on every knot of the outline and of the faces and close behind every wall
// (proof/grid.h); in each row `columns` equal angles and one ray on every crease (arris, shoulder curve).
// At a ray the answer is exact within the simulation's own error (Settings::chord_error plus 1e-4 mm of single precision).
// Between rays a gouge can hide: a ball of radius rho that stands g deep in a flat opens a dimple 2 sqrt(2 rho g) wide, so
// one that hides from rays spaced a by b along the skin is at most Proof::hidden_gouge = (a² + b²)/(8 rho) deeper than what was seen
// and less than hypot(a, b) wide; on a bead of radius R read 1/rho + 1/R for 1/rho. On creases, where dimples are
// narrowest, the rays stand on the crease itself.
//
// Leftover errs to the side of finding it: wood undercut from the side counts as standing until its ray is cleared from
// outside (proof/removal.h). Rays on which that would make a leftover are cut once more by themselves with every gap kept
// (proof/second_look.h).
//
// Cutters. Any form of shop::Cutter, with shank, collet nut and holder. A program may change cutters: the wood carries over, what is left is
// held against what any of the cutters that have been at work can reach, and what each left is told (Proof::after).
//
// A rigid blank, a rigid machine and cutters of the stated form; the cutter's axis through the rotary axis (y = 0 always;
// anything else is refused here, not guessed). Programs that cut joints are another check's: proof/joints.h.
//
// Thread rule: functions have no state; prove() uses at most Settings::threads threads of its own.
#pragma once

#include <cstddef>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "motion/motion.h"
#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::proof {

struct Settings {
  double gouge_limit = 0.02;     ///< mm, normal
  double cusp = 0.05;            ///< mm, normal: what may stand where the cutter reaches (the ridges between its passes)
  double hand_work_from = 0.2;   ///< mm, normal: less than this left in a quirk goes with the sanding
  double row_step = 0.25;        ///< mm, greatest distance of rows along x
  int columns = 720;             ///< equal angles a turn, a multiple of 8
  double chord_error = 0.001;    ///< mm: turning moves are cut in straight pieces this near to the true path
  double rapid_clearance = 0.01; ///< mm: wood met by less than this at rapid is the simulation's own noise
  Severity over_depth = Severity::error;  ///< what a move deeper than Cutter::max_depth_of_cut is; note: not said at all
  double depth_slack = 0.1;      ///< mm over max_depth_of_cut that are let pass: ridges of the layer before
  /// mm: a slice thinner than this that the ball's side shaves off a wall is no entry, however tall the wall: the finishing
  /// allowance and a ridge. At most half the ball's radius.
  double side_slice = 0.7;
  /// mm of wood that a cutter without teeth in its middle may meet on a move that falls more steeply than its ramp: the skin of a finishing pass.
  double sunk_skin = 0.7;
  int threads = 0;               ///< 0: as many as the computer has
  /// Ids of cutters that rough and do no more: wood that no other cutter reaches is hand work, though the square end of one of these would.
  std::vector<std::string> rough_only = {};
  int map_rows = 360, map_columns = 180;  ///< greatest size of Proof::map
};

/// Where the surface stands after the text. x in mm from the head, angle theta in degrees in [0, 360).
struct Spot {
  double amount = 0;   ///< mm; what it measures stands beside the field
  double x = 0, degrees = 0;
  int line = 0;        ///< of the text, the move that did it; 0: none
  std::string stage;   ///< the pass that move belongs to
  std::string element; ///< label of the part's element there; empty outside the part
  std::size_t file = 0;  ///< which of several texts that line is of, from 0
};

/// A connected patch of the surface.
struct Patch {
  double x0 = 0, x1 = 0;
  double degrees0 = 0, degrees1 = 360;  ///< from degrees0 growing to degrees1 (may pass 360); 0..360: all round
  bool all_round = false;
  Spot worst;           ///< amount: normal mm
  double area = 0;      ///< mm², of the part's skin as seen from the axis
  std::string element;  ///< where the greatest part of it lies
};

/// What stood when one of several cutters was done.
struct AfterCutter {
  std::string cutter;            ///< id
  Spot stands;                   ///< where most wood stands above the skin, mm normal, within reach or not; amount 0: none
};

/// What was measured of one mortise or bore; of a haunch and a seat apart.
struct JointCheck {
  std::string id;
  bool touched = false;   ///< the program cuts it
  double too_deep = 0;    ///< mm below its bottom; 0: nowhere by more than the limit
  double left = 0;        ///< mm that stand over its bottom where the cutter gets to
  double corners = 0;     ///< mm that stand in corners the cutter cannot turn in: to be chiselled
};

/// How one lie of the blank fared.
struct BlankRun {
  std::string name;        ///< "as planned", "off centre", "bowed", "oversize"
  std::size_t rapids_in_wood = 0;
  Spot rapid;              ///< worst; amount: mm of wood met along a ray
  std::size_t shank_in_wood = 0;
  Spot shank;              ///< worst; amount: mm that wood stands above the lower end of shank or collet
};

struct Finding {
  Severity severity = Severity::error;
  /// "proof.gouge", "proof.leftover", "proof.waste", "proof.stub", "proof.rapid", "proof.shank", "proof.depth", "proof.plunge", "proof.blank-too-small", those of
  /// proof/limits.h, and the warnings of the reader ("program.*").
  std::string id;
  std::string message;  ///< says where (x, angle), how much, which line and pass
  std::string remedy;
  int line = 0;
  std::string stage;
  std::size_t file = 0;  ///< which of several texts the line is of, from 0
};

/// Unrolled picture: rows along x, columns around. deviation: mm, normal; above 0 wood stands, below 0 gouge; of the ray of the cell that
/// is farthest from the skin. NaN where the part has no skin (outside its ends).
struct Map {
  double x0 = 0, x1 = 0;
  int rows = 0, columns = 0;     ///< row i covers x0 + [i, i+1] (x1 - x0)/rows, column j 360/columns degrees from 0
  std::vector<float> deviation;  ///< rows * columns, row by row
};

struct Proof {
  std::string text_sha256;   ///< of the program text that was read
  std::size_t file = 0, files = 1;  ///< that text is one of several that cut one piece in turn: which, from 0, and how many
  std::string cutter;        ///< id; of several ", then " between them
  std::vector<AfterCutter> after;  ///< only of several cutters, in their order
  Settings settings;
  std::vector<Finding> findings;  ///< errors first, then warnings, each in a fixed order
  Spot gouge;                ///< the greatest, mm normal; amount 0: none
  std::vector<Patch> gouges; ///< patches over the limit, deepest first, at most 50
  Spot leftover;             ///< greatest standing above what the cutter can reach, mm normal, at most the cutter's radius
  std::vector<Patch> left;   ///< patches over the cusp, at most 50
  std::vector<Patch> hand_work;  ///< what the cutter cannot reach: worst.amount is the wood above the part
  std::vector<BlankRun> blanks;
  std::vector<JointCheck> joints;  ///< of a program that cuts joints (proof/joints.h)
  Spot lacking;              ///< where the blank as planned has no wood for the part, mm radial; amount 0: the part is inside
  double greatest_depth = 0; ///< mm, along the cutter: most wood taken above one point of the ball in one feed move (blank as planned)
  double feed_minutes = 0, rapid_minutes = 0;  ///< sums; rapids at the machine's rapid speeds, accelerations not counted
  std::size_t moves = 0;
  double hidden_gouge = 0;   ///< mm: see the head of this file
  double reach_error = 0;    ///< mm: how much too deep the reach may have been taken for want of rays; added to the cusp
  Map map;

  double minutes() const { return feed_minutes + rapid_minutes; }
  bool passed() const;       ///< no error among the findings
};

/// Reads `program_text` for `machine`, cuts `blank` in simulation and judges the result against `turned` (without its
/// joints). The text's comments (cutter: id) choose among `cutters`; of a single one it is a finding when they name another.
/// A bad result is a Proof with findings. Failures: the text cannot be read ("program.*"); it moves beside the
/// axis ("proof.off-axis") or nothing ("proof.empty"); it does not say which cutter ("proof.which-cutter"); blank, cutter, part or settings
/// make no sense ("proof.blank", "proof.cutter", "proof.part", "proof.settings"); it would need more memory or time than is sane
/// ("proof.too-much"); stopped ("cancelled").
Result<Proof> prove(std::string_view program_text, const shape::Part& turned, const shape::Blank& blank,
                    const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                    const Settings& settings, std::stop_token stop);
Result<Proof> prove(std::string_view program_text, const shape::Part& turned, const shape::Blank& blank,
                    const shape::BlankTolerance& tolerance, const shop::Cutter& cutter, const shop::Machine& machine,
                    const Settings& settings, std::stop_token stop);

/// Texts that cut one piece in turn, a file a cutter say, without its being taken off its centres: the wood that one leaves the next one meets.
/// A proof for each, beside them: the same judgement of what they do together, each of its own text, so that none is released where one has a
/// fault. Fails as prove(); a reason's place names the text as "file 2 of 3".
/// REQUIRES: at least one.
Result<std::vector<Proof>> prove_in_turn(const std::vector<std::string_view>& texts, const shape::Part& turned, const shape::Blank& blank,
                                         const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                                         const Settings& settings, std::stop_token stop);

/// The same for motions that are already there, one path after the other; text_sha256 stays empty, so such a proof releases nothing.
Result<Proof> prove_paths(const std::vector<motion::Path>& paths, const shape::Part& turned, const shape::Blank& blank,
                          const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                          const Settings& settings, std::stop_token stop);
Result<Proof> prove_path(const motion::Path& path, const shape::Part& turned, const shape::Blank& blank,
                         const shape::BlankTolerance& tolerance, const shop::Cutter& cutter,
                         const shop::Machine& machine, const Settings& settings, std::stop_token stop);

/// Whether this text may leave the house: the proof passed and is a proof of these very bytes. Fails with
/// "proof.not-passed" or "proof.other-text".
Result<Done> released(std::string_view program_text, const Proof& proof);

/// The proof of `text`, which is the checked text but for lines that are notes, "(note: ...)", in both: they move nothing and mean nothing, so
/// that what was found holds for it line by line. Thereby a header can state what the check found. Fails as released() for the checked text,
/// and with "proof.other-text" where the two differ in more.
Result<Proof> restated(std::string_view checked, std::string_view text, const Proof& proof);

/// Bench words, conclusion first; the same proof gives the same text.
std::string report(const Proof& proof);

}  // namespace pommel::proof
