// One distinct turning: planned, written, and judged from its own text. No proof, no program.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "mill/line_memo.h"
#include "mill/pass.h"
#include "mill/time.h"
#include "mill/witness.h"
#include "motion/motion.h"
#include "program/setup.h"
#include "program/writer.h"
#include "proof/proof.h"
#include "rules/stiffness.h"
#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::job {

/// mm: a ridge of that height is what a first sanding takes off, and leaves the check's 0.05 mm something for its own error.
inline constexpr double kCusp = 0.04;

/// Everything that decides how a turning is milled.
struct TurningRequest {
  shape::Part turned;  ///< without mortises
  shape::Blank blank;
  shape::BlankTolerance tolerance;
  shop::Cutter cutter;  ///< finishes, and roughs where `rough` does not
  shop::Machine machine;
  std::optional<shop::Wood> wood = {};   ///< where it is known, the plan says how much the piece gives
  mill::Way way = mill::Way::fastest;    ///< wished for all passes
  double cusp = kCusp, stepover = 0;     ///< mm, of the last passes: the ridge that is wished, or the way between lines where that is given
  bool climb_rough = false, climb_finish = false;
  std::optional<shop::Cutter> rough = {};  ///< another one that roughs
  std::optional<shop::Cutter> fine = {};   ///< another one that cuts where the finishing one left wood
  bool thin_stubs = false;                 ///< stubs thinner than they should be are asked for: said, not refused

  /// mm: the ridge that the check lets stand: of a stepover that of two lines so far apart on skin as round as the cutter, step² / (4 rho).
  double agreed_cusp() const;
  /// Of all that work, in their order.
  std::vector<shop::Cutter> cutters() const;
  double widest() const;  ///< mm, radius

  /// A text that is equal for two requests only when everything that matters to their motions is.
  std::string key() const;
};

/// A place that the cutter cannot reach: hand work.
struct HandPlace {
  std::string element;
  double x0 = 0, x1 = 0;  ///< mm from the head
  double depth = 0;       ///< mm of wood left at most
};

/// A stretch of a pass, where a stopped job can go on: the text has its name as a comment, at the clear height.
struct PassStretch {
  std::string name;
  double minutes = 0;  ///< sum of its moves' wished durations
  std::size_t path = 0, first_move = 0;  ///< in Turning::paths and in that path
};

/// A planned turning: what the sheet and the quote need. No text, no proof yet.
struct Turning {
  std::vector<motion::Path> paths;  ///< one for each cutter, in their order; none of a cutter that has nothing to do
  double minutes = 0;       ///< of one piece, with accelerations
  double clear_height = 0;  ///< mm above the axis
  std::vector<PassStretch> stretches;
  mill::Blocks blocks;
  std::optional<mill::WitnessFlat> witness;   ///< of a round blank with room for it in its waste
  std::optional<rules::Stiffness> stiffness;  ///< of the finished piece; absent where the wood is not known
  std::vector<HandPlace> hand_work;
  std::vector<Diagnostic> notes;
};

/// Fails with mill's reasons, "cancelled", or "job.thin-stub" where the wood is known and the waste beside a turned end would be thinner than a stub
/// should be (rules::least_stub).
Result<Turning> plan_turning(const TurningRequest& request, std::stop_token stop);

/// What the machine and the piece have to bear, in bench words: lines, megabytes, lines a second and turns beside the
/// machine's limits; how much the piece gives. `texts`: of its programs, in their order.
std::vector<std::string> pass_lines(const TurningRequest& request, const Turning& turning, const std::vector<std::string_view>& texts);
/// Those of the request's cutters that have something to do, beside Turning::paths.
std::vector<shop::Cutter> cutters_at_work(const TurningRequest& request, const Turning& turning);
/// "12 mm bull nose, then the 8 mm ball, then the 3 mm ball".
std::string cutters_in_words(const TurningRequest& request, const Turning& turning);

/// The stretches with the line of the text at which each begins (from 1), so that a stopped job can go on there.
std::vector<program::StageTime> re_entries(const std::vector<PassStretch>& stretches, std::string_view text);

/// Whether the machine takes a file for each cutter: it says so, or has no lines that change one inside a file.
bool file_a_cutter(const shop::Machine& machine);
/// How many files these paths take on the machine; and which of the paths are in the `file`-th, from the first to before the second.
std::size_t file_count(const std::vector<motion::Path>& paths, const shop::Machine& machine);
std::pair<std::size_t, std::size_t> paths_in_file(const std::vector<motion::Path>& paths, const shop::Machine& machine, std::size_t file);
/// The text of the `file`-th with the check's notes reserved in its header (stated.h). Fails as program::write_all().
Result<std::string> write_file(const std::vector<motion::Path>& paths, const shop::Machine& machine, std::size_t file, const program::Header& header);

/// The text of a program with what the check found in its header (stated.h), and the judgement of that same text.
struct Program {
  std::string text;
  proof::Proof proof;
};

/// What cuts one piece in turn: one program, or a file a cutter. Never empty, and all of one judgement.
using Programs = std::vector<Program>;

std::vector<std::string_view> texts_of(const Programs& programs);
/// Lines of several texts are counted through, as though they stood one after the other: how many stand before those of a file.
int lines_before(const Programs& programs, std::size_t file);

/// The files of a planned turning, in their order; `headers`: one for each, or none, and they say nothing. Fails with program's or proof's reasons. A proof that did not pass is
/// a Program all the same: the caller decides.
Result<Programs> write_and_prove(const TurningRequest& request, const Turning& turning, const std::vector<program::Header>& headers, std::stop_token stop);

/// Keeps planned turnings by the value of their request, and lines of theirs for requests that differ elsewhere. Thread rule: may be shared by threads.
class TurningMemo {
 public:
  Result<std::shared_ptr<const Turning>> plan(const TurningRequest& request, std::stop_token stop);
  /// How often a plan was computed, and how often it was at hand.
  std::size_t computed() const;
  std::size_t recalled() const;
  const mill::LineMemo& lines() const { return lines_; }

 private:
  mutable std::mutex guard_;
  std::map<std::string, std::shared_ptr<const Turning>> known_;
  mill::LineMemo lines_;  // of the plans that have to be made anew
  std::size_t computed_ = 0, recalled_ = 0;
};

}  // namespace pommel::job
