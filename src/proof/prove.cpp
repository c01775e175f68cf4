#include <algorithm>
#include <cmath>
#include <new>
#include <numbers>
#include <optional>
#include <system_error>

#include "base/files.h"
#include "base/number.h"
#include "base/text.h"
#include "proof/body.h"
#include "proof/judge.h"
#include "proof/limits.h"
#include "proof/patches.h"
#include "proof/proof.h"
#include "proof/read.h"
#include "proof/second_look.h"
#include "proof/start.h"
#include "proof/stub.h"

namespace pommel::proof {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;
constexpr std::size_t kMostPatches = 50;
constexpr double kLeastWaste = 0.55;      // of an end's radius: less waste beside it holds the piece no longer
constexpr std::size_t kAttributed = 10;   // patches for which the move is looked up: each is a walk over the whole path
constexpr double kFarthest = 1e6;         // mm: a coordinate beyond a kilometre is a slip

std::string mm(double v) { return format_number(v, 3) + " mm"; }

std::string where(const Spot& spot, std::size_t files) {
  std::string text = "at x " + format_number(spot.x, 2) + " mm, " + format_number(spot.degrees, 1) + " deg";
  if (!spot.element.empty()) text += " (" + spot.element + ")";
  std::string by = line_and_pass(spot, files);
  return by.empty() ? text : text + ", " + by;
}

bool finite_positive(double v) { return std::isfinite(v) && v > 0; }

Result<Done> check_blank(const shape::Blank& blank, const shape::BlankTolerance& tolerance, const shape::Part& part) {
  bool sound = finite_positive(blank.size) && std::isfinite(blank.x0) && std::isfinite(blank.x1) && blank.x0 <= 0 &&
               blank.x1 >= part.length && blank.size < kFarthest && blank.length() < kFarthest;
  if (!sound) {
    return fail("proof.blank", "the blank is " + mm(blank.size) + " thick from x " + mm(blank.x0) + " to " + mm(blank.x1) +
                " and does not hold the part of " + mm(part.length), "plan the blank again");
  }
  for (double t : {tolerance.off_centre, tolerance.bow, tolerance.oversize}) {
    if (!std::isfinite(t) || t < 0 || t > blank.size) {
      return fail("proof.blank", "a tolerance of the blank is " + mm(t), "give tolerances from 0 up, smaller than the blank");
    }
  }
  return Done{};
}

Result<Done> check_settings(const Settings& s) {
  bool sound = std::isfinite(s.gouge_limit) && s.gouge_limit > 0 && std::isfinite(s.cusp) && s.cusp > 0 &&
               std::isfinite(s.hand_work_from) && s.hand_work_from > 0 && std::isfinite(s.row_step) && s.row_step >= 0.01 &&
               s.columns >= 8 && s.columns <= 36000 && s.columns % 8 == 0 && std::isfinite(s.chord_error) &&
               s.chord_error >= 1e-5 && std::isfinite(s.rapid_clearance) && s.rapid_clearance >= 0 && std::isfinite(s.depth_slack) && s.depth_slack >= 0 && std::isfinite(s.side_slice) && s.side_slice >= 0 && std::isfinite(s.sunk_skin) && s.sunk_skin >= 0 && s.map_rows > 0 &&
               s.map_columns > 0 && s.map_rows <= 10000 && s.map_columns <= 10000 && s.threads <= 256;
  if (sound) return Done{};
  return fail("proof.settings", "the settings of the check make no sense",
              "limits above 0, a row step of at least 0.01 mm, columns a multiple of 8 up to 36000");
}

// What the places of reasons call a text.
std::string name_of(std::size_t file, std::size_t files) { return files == 1 ? "program" : "file " + std::to_string(file + 1) + " of " + std::to_string(files); }

Result<Done> check_path(const motion::Path& path, const std::string& name) {
  auto wrong = [&](const motion::Position& p, int line) -> std::optional<Failure> {
    std::string at = line > 0 ? "line " + std::to_string(line) : "the start";
    for (double v : {p.x, p.y, p.z, p.a}) {
      if (!std::isfinite(v) || std::fabs(v) > kFarthest) {
        return fail("proof.position", at + " goes to no place on a machine", "look at its numbers", {name, line, 0});
      }
    }
    if (p.y != 0) {
      return fail("proof.off-axis", at + " moves the cutter " + mm(p.y) + " beside the axis, which this check does not know",
                  "keep the cutter over the axis", {name, line, 0});
    }
    return std::nullopt;
  };
  if (auto failure = wrong(path.start, 0)) return *failure;
  for (const motion::Move& move : path.moves) {
    if (auto failure = wrong(move.to, move.line)) return *failure;
    if (!move.rapid && !(std::isfinite(move.minutes) && move.minutes >= 0)) {
      return fail("proof.position", "line " + std::to_string(move.line) + " takes no time that a clock knows", "look at its feed",
                  {name, move.line, 0});
    }
  }
  if (path.moves.empty()) return fail("proof.empty", "the program moves nothing", "make the program again");
  return Done{};
}

Result<Done> check_part(const shape::Part& part) {
  std::vector<Diagnostic> wrong = shape::problems(part);
  if (wrong.empty() && !part.outline.pieces.empty() && finite_positive(part.length)) return Done{};
  Diagnostic first;
  first.id = "proof.part";
  first.message = "the part '" + part.name + "' is not sound, so nothing can be held against it";
  wrong.insert(wrong.begin(), first);
  return Failure(std::move(wrong));
}

// A cutter's share of the work.
struct Share {
  const motion::Path* path;
  const shop::Cutter* cutter;
  Tool tool;
  std::size_t file;  ///< the text it was read from
};

// One proof in the making.
class Prover {
 public:
  Prover(std::vector<Share> shares, const shape::Part& part, const shape::Blank& blank, const shop::Machine& machine, const Settings& settings)
      : shares_(std::move(shares)), part_(part), blank_(blank), machine_(machine), settings_(settings) {
    rho_ = rounding(shares_.front().tool);
    for (const Share& share : shares_) rho_ = std::min(rho_, rounding(share.tool));
    proof_.files = shares_.back().file + 1;
  }

  Result<Proof> run(const shape::BlankTolerance& tolerance, std::stop_token stop) {
    auto grid = make_grid(part_, blank_, settings_.row_step, settings_.columns);
    if (!grid) return grid.failure();
    std::vector<float> body = body_radii(*grid, part_);
    std::vector<Start> starts;
    for (const Lie& lie : lies(tolerance)) {
      proof_.blanks.push_back({lie.name, 0, {}, 0, {}});
      starts.emplace_back(*grid, blank_, lie);
    }
    compare_with_blank(*grid, body, starts.front());
    state(*grid, body);
    Wood wood = uncut(*grid, std::move(starts));
    std::vector<Reach> reaches;
    CutSettings how{settings_.chord_error, settings_.rapid_clearance, settings_.depth_slack, settings_.side_slice, settings_.sunk_skin, settings_.threads};
    for (std::size_t k = 0; k < shares_.size(); ++k) {
      auto met = cut(*grid, wood, *shares_[k].path, shares_[k].tool, how, stop);
      if (!met) return met.failure();
      take_hits(*met, shares_[k]);
      const bool last = k + 1 == shares_.size();
      if (!only_roughs(shares_[k]) || (last && reaches.empty())) {
        FreeRange free = free_range(blank_, machine_, shares_[k].tool.radius);
        reaches.emplace_back(*grid, body, shares_[k].tool, free.low, free.high);
      }
      if (shares_.size() > 1) note_after(*grid, body, wood, shares_[k]);
      if (!last) continue;
      auto found = amounts(*grid, part_, body, wood, reaches, rho_, settings_, stop);
      if (!found) return found.failure();
      look_again(*grid, body, wood, reaches, *found);
      take_gouges(*grid, body, *found);
      take_left(*grid, body, *found, wood, reaches);
      take_waste(*grid, body, wood, true);
      take_waste(*grid, body, wood, false);
      // no finer than the rows: every cell has a ray
      int rows = std::max(1, std::min(settings_.map_rows, static_cast<int>(blank_.length() / settings_.row_step)));
      proof_.map = unrolled(*grid, part_, body, wood, *found, rows, std::min(settings_.map_columns, settings_.columns));
    }
    add_hits();
    for (const Share& share : shares_) {
      for (Finding& finding : limit_findings(*share.path, blank_, *share.cutter, machine_)) {
        finding.file = share.file;
        if (proof_.files > 1 && finding.line > 0) finding.message = "file " + std::to_string(share.file + 1) + ": " + finding.message;
        bool said = std::any_of(proof_.findings.begin(), proof_.findings.end(), [&](const Finding& f) { return f.message == finding.message; });
        if (!said) proof_.findings.push_back(std::move(finding));
      }
    }
    std::stable_sort(proof_.findings.begin(), proof_.findings.end(),
                     [](const Finding& x, const Finding& y) { return x.severity > y.severity; });
    return std::move(proof_);
  }

 private:
  bool only_roughs(const Share& share) const {
    return std::find(settings_.rough_only.begin(), settings_.rough_only.end(), share.tool.id) != settings_.rough_only.end();
  }

  void add(Severity severity, std::string id, std::string message, std::string remedy, const Spot& spot) {
    proof_.findings.push_back({severity, std::move(id), std::move(message), std::move(remedy), spot.line, spot.stage, spot.file});
  }

  Spot spot_at(double amount, double x, double theta) const {
    double turn = 2 * std::numbers::pi;
    double in_turn = theta - turn * std::floor(theta / turn);
    return {amount, x, in_turn * kDegrees, 0, {}, x >= 0 && x <= part_.length ? element_at(part_, x) : std::string{}};
  }

  static void set_move(Spot& spot, const Share& share, std::size_t move) {
    if (move >= share.path->moves.size()) return;
    spot.line = share.path->moves[move].line;
    spot.stage = stage_of(*share.path, move);
    spot.file = share.file;
  }

  Spot spot_of(const Grid& grid, const OnRay& found) const {
    if (!(found.amount > 0)) return {};
    return spot_at(static_cast<double>(found.amount), grid.x[found.row], grid.angle(found.row, found.ray - grid.begin[found.row]));
  }

  // What the cutters so far have left, as a note: it is the last one's state that is judged.
  void note_after(const Grid& grid, const std::vector<float>& body, const Wood& wood, const Share& share) {
    proof_.after.push_back({share.tool.id, spot_of(grid, tallest(grid, part_, body, wood))});
  }

  void state(const Grid& grid, const std::vector<float>& body) {
    double widest = static_cast<double>(*std::max_element(body.begin(), body.end()));
    double a = settings_.row_step * std::numbers::sqrt2, b = widest * grid.column_step();
    proof_.settings = settings_;
    for (const Share& share : shares_) {
      proof_.cutter += (proof_.cutter.empty() ? "" : ", then ") + share.tool.id;
      proof_.moves += share.path->moves.size();
      proof_.feed_minutes += feed_minutes(*share.path);
      proof_.rapid_minutes += rapid_minutes(*share.path, machine_);
    }
    proof_.hidden_gouge = (a * a + b * b) / (8 * rho_);
    proof_.reach_error = reach_error(rho_, settings_.row_step, grid.column_step(), widest);
  }

  void compare_with_blank(const Grid& grid, const std::vector<float>& body, const Start& start) {
    std::vector<float> kept;
    const auto compare = [&](std::size_t row, std::size_t first, std::size_t n, const float* reach) {
      for (std::size_t j = 0; j < n; ++j) {
        if (body[first + j] <= reach[j]) continue;
        double lack = static_cast<double>(body[first + j]) - static_cast<double>(reach[j]);
        if (lack > proof_.lacking.amount + 1e-4) proof_.lacking = spot_at(lack, grid.x[row], grid.angle(row, first + j - grid.begin[row]));
      }
    };
    const auto columns = static_cast<std::size_t>(grid.columns);
    for (std::size_t row = 0; row < grid.rows(); ++row) {
      compare(row, grid.begin[row], columns, start.columns_of(row, kept));
      compare(row, grid.begin[row] + columns, grid.creases_of(row), start.creases_of(row, kept));
    }
    if (proof_.lacking.amount > settings_.gouge_limit) {
      add(Severity::error, "proof.blank-too-small",
          "the blank lacks " + mm(proof_.lacking.amount) + " of wood " + where(proof_.lacking, proof_.files), "take a thicker blank", {});
    }
  }

  void take_gouges(const Grid& grid, const std::vector<float>& body, const Amounts& found) {
    proof_.gouge = spot_of(grid, found.deepest);
    if (proof_.gouge.amount > 0) attribute(proof_.gouge);
    std::vector<Patch> all = patches(grid, part_, body, found.gouge);
    if (all.empty()) return;
    std::size_t places = all.size();
    if (all.size() > kMostPatches) all.resize(kMostPatches);
    for (std::size_t i = 0; i < std::min(all.size(), kAttributed); ++i) attribute(all[i].worst);
    proof_.gouges = std::move(all);
    add(Severity::error, "proof.gouge",
        "the cutter goes " + mm(proof_.gouge.amount) + " into the part " + where(proof_.gouge, proof_.files) +
            (places > 1 ? " (" + std::to_string(places) + " places in all, this is the deepest)" : ""),
        "do not cut with this program; make it again", proof_.gouge);
  }

  // The stub beside an end, and what else of the waste was cut.
  void take_waste(const Grid& grid, const std::vector<float>& body, const Wood& wood, bool head) {
    const std::size_t end = grid.first_row_from(head ? 0 : part_.length - 1e-9);
    const auto rays = [&](std::size_t row) { return std::pair{static_cast<std::ptrdiff_t>(grid.begin[row]), static_cast<std::ptrdiff_t>(grid.begin[row + 1])}; };
    const auto [first, last] = rays(end);
    const double needed = kLeastWaste * static_cast<double>(*std::min_element(body.begin() + first, body.begin() + last));
    Spot thinnest{needed, 0, 0, 0, {}, {}};
    bool thin = false;
    for (std::size_t row = head ? 0 : end + 1; row < (head ? end : grid.rows()); ++row) {
      const auto [from, to] = rays(row);
      const auto least = std::min_element(wood.low.begin() + from, wood.low.begin() + to);
      if (static_cast<double>(*least) >= thinnest.amount) continue;
      thin = true;
      thinnest = spot_at(static_cast<double>(*least), grid.x[row], grid.angle(row, static_cast<std::size_t>(least - wood.low.begin() - from)));
    }
    if (!thin) return take_stub(grid, body, wood, head);
    attribute(thinnest);
    add(Severity::error, "proof.waste",
        "the cutter leaves " + mm(thinnest.amount) + " of radius in the waste beside the " + (head ? "head" : "foot") + ", where " + mm(needed) + " hold the piece, " +
            where(thinnest, proof_.files),
        "do not cut with this program; make it again", thinnest);
  }

  // Thick enough, but weakest where a flat was cut over it. What goes into the piece and runs out over the stub is a gouge.
  void take_stub(const Grid& grid, const std::vector<float>& body, const Wood& wood, bool head) {
    if (!proof_.gouges.empty()) return;
    const auto found = cut_from_one_side(grid, body, wood, part_.length, head);
    if (!found) return;
    Spot spot = spot_at(found->left, found->x, found->theta);
    attribute(spot);
    add(Severity::error, "proof.stub",
        "a flat or notch lies over the stub beside the " + std::string(head ? "head" : "foot") + ": it leaves " + mm(found->left) + " of radius on one side, where all round " +
            mm(found->round) + " hold the piece, " + where(spot, proof_.files),
        "cut the witness flat nearer to the chuck, where the waste is as thick as the blank", spot);
  }

  void attribute(Spot& spot) const {
    double deepest = 1e300;
    for (const Share& share : shares_) {
      double entry = 0;
      std::size_t move = deepest_move(*share.path, share.tool, spot.x, spot.degrees / kDegrees, entry);
      if (entry >= deepest) continue;
      deepest = entry;
      set_move(spot, share, move);
    }
  }

  void take_left(const Grid& grid, const std::vector<float>& body, const Amounts& found, const Wood& wood, std::vector<Reach>& reaches) {
    proof_.left = patches(grid, part_, body, found.left);
    std::size_t places = proof_.left.size();
    if (places > kMostPatches) proof_.left.resize(kMostPatches);
    for (Patch& patch : proof_.left) refine(grid, wood, reaches, patch.worst);
    if (places > 0) {
      proof_.leftover = std::max_element(proof_.left.begin(), proof_.left.end(), [](const Patch& a, const Patch& b) {
                          return a.worst.amount < b.worst.amount;
                        })->worst;
      double widest = 0;
      for (const Share& share : shares_) widest = std::max(widest, share.tool.radius);
      bool beyond = proof_.leftover.amount >= widest * 0.99;
      add(Severity::error, "proof.leftover",
          (beyond ? "at least " : "") + mm(proof_.leftover.amount) + " of wood is left where the cutter reaches, " +
              where(proof_.leftover, proof_.files) + (places > 1 ? " (" + std::to_string(places) + " places in all, this is the thickest)" : ""),
          "a pass is missing or too coarse there; make the program again", proof_.leftover);
    }
    proof_.hand_work = patches(grid, part_, body, found.hand);
  }

  // second_look.h
  void look_again(const Grid& grid, const std::vector<float>& body, Wood& wood, const std::vector<Reach>& reaches, Amounts& found) const {
    if (found.left.empty() || found.left.size() > kMostSecondLooks) return;
    std::vector<Worked> all;
    for (const Share& share : shares_) all.push_back({share.path, &share.tool});
    for (const auto& [row, ray, amount] : found.left) {
      const std::size_t k = ray - grid.begin[row];
      const double top = standing_on(all, grid.x[row], grid.angle(row, k), static_cast<double>(wood.starts[0].at(row, k)));
      // from here on all is gone: of the blank as planned, which is the one that is judged for leftover
      if (top < static_cast<double>(wood.top(0, row, k, ray))) wood.out[ray] = static_cast<float>(top);
    }
    judge_left_again(grid, part_, body, wood, reaches, rho_, settings_, found);
  }

  // The amounts of the rays are heights above the skin; the best placed cutter says how much of that it could take.
  void refine(const Grid& grid, const Wood& wood, std::vector<Reach>& reaches, Spot& spot) const {
    std::size_t row = grid.first_row_from(spot.x);
    double theta = spot.degrees / kDegrees;
    auto k = static_cast<std::size_t>(std::lround(theta / grid.column_step())) % static_cast<std::size_t>(grid.columns);
    for (std::size_t c = static_cast<std::size_t>(grid.columns); c < grid.begin[row + 1] - grid.begin[row]; ++c) {
      if (std::fabs(grid.angle(row, c) - theta) < 1e-9) k = c;
    }
    double top = static_cast<double>(wood.top(0, row, k, grid.begin[row] + k));
    spot.amount = 0;
    for (Reach& reach : reaches) spot.amount = std::max(spot.amount, reach.depth_within_reach(spot.x, theta, top));
  }

  void take_hits(const Met& met, const Share& share) {
    proof_.greatest_depth = std::max(proof_.greatest_depth, met.greatest_depth);
    for (const Hit& hit : met.hits) {
      Spot spot = spot_at(hit.amount, hit.x, hit.theta);
      set_move(spot, share, hit.move);
      auto take = [&](std::size_t& count, Spot& worst) {
        ++count;
        if (spot.amount > worst.amount) worst = spot;
      };
      BlankRun& run = proof_.blanks[hit.blank];
      switch (hit.kind) {
        case Hit::Kind::rapid: take(run.rapids_in_wood, run.rapid); break;
        case Hit::Kind::shank: take(run.shank_in_wood, run.shank); break;
        case Hit::Kind::depth:
          take(deep_, deepest_);
          if (deepest_.amount == spot.amount) meant_for_ = share.tool.max_depth;
          break;
        case Hit::Kind::sink: take(sunk_, steepest_); break;
      }
    }
  }

  void add_hits() {
    for (const BlankRun& run : proof_.blanks) add_run(run);
    if (sunk_ > 0) {
      add(Severity::error, "proof.plunge",
          "the cutter sinks into " + mm(steepest_.amount) + " of standing wood more steeply than it bears, " + where(steepest_, proof_.files) +
              (sunk_ > 1 ? " (" + std::to_string(sunk_) + " moves in all)" : ""),
          "come down along a ramp, beside the wood, or with a cutter that plunges", steepest_);
    }
    if (deep_ == 0 || settings_.over_depth == Severity::note) return;
    add(settings_.over_depth, "proof.depth",
        "the cutter meets " + mm(deepest_.amount) + " of standing wood in one move, it is meant for " + mm(meant_for_) + ", " + where(deepest_, proof_.files) +
            (deep_ > 1 ? " (" + std::to_string(deep_) + " moves in all)" : ""),
        "rough the blank first, or cut in more layers", deepest_);
  }

  void add_run(const BlankRun& run) {
    std::string lying = "with the blank " + run.name + ", ";
    auto times = [](std::size_t n, const char* what) { return n > 1 ? " (" + std::to_string(n) + " " + what + " in all)" : std::string{}; };
    if (run.rapids_in_wood > 0) {
      add(Severity::error, "proof.rapid",
          lying + "a rapid goes through " + mm(run.rapid.amount) + " of wood " + where(run.rapid, proof_.files) + times(run.rapids_in_wood, "rapids"),
          "lift the cutter higher between passes", run.rapid);
    }
    if (run.shank_in_wood > 0) {
      add(Severity::error, "proof.shank",
          lying + "shank, collet nut or holder meets wood that stands " + mm(run.shank.amount) + " above its lower end, " + where(run.shank, proof_.files) +
              times(run.shank_in_wood, "moves"),
          "take a cutter with longer flutes, or rough the blank first", run.shank);
    }
  }

  std::vector<Share> shares_;
  const shape::Part& part_;
  const shape::Blank& blank_;
  const shop::Machine& machine_;
  const Settings& settings_;
  double rho_ = 0;  ///< of the sharpest cutter
  Proof proof_;
  std::size_t deep_ = 0, sunk_ = 0;
  Spot deepest_, steepest_;
  double meant_for_ = 0;
};

// `file_of`: the text of each path; none: there is one.
Result<Proof> judge(const std::vector<motion::Path>& paths, const std::vector<std::size_t>& file_of, const shape::Part& turned, const shape::Blank& blank,
                    const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                    const Settings& settings, std::stop_token stop) {
  for (const Result<Done>& check : {check_settings(settings), check_part(turned), check_blank(blank, tolerance, turned)}) {
    if (!check) return check.failure();
  }
  if (paths.empty() || cutters.empty()) return fail("proof.empty", "the program moves nothing, or no cutter is given", "make the program again");
  const auto chosen = cutters_for(paths, cutters);
  if (!chosen) return chosen.failure();
  const std::size_t files = file_of.empty() ? 1 : file_of.back() + 1;
  std::vector<Share> shares;
  for (std::size_t k = 0; k < paths.size(); ++k) {
    auto tool = tool_of(*(*chosen)[k]);
    if (!tool) return tool.failure();
    if (auto check = check_path(paths[k], name_of(file_of.empty() ? 0 : file_of[k], files)); !check) return check.failure();
    shares.push_back({&paths[k], (*chosen)[k], std::move(tool).value(), file_of.empty() ? 0 : file_of[k]});
  }
  try {
    return Prover(std::move(shares), turned, blank, machine, settings).run(tolerance, stop);
  } catch (const std::bad_alloc&) {
    return fail("proof.too-much", "the check needs more memory than this computer has", "take a larger row step or fewer columns");
  } catch (const std::system_error&) {
    return fail("proof.too-much", "the computer gives the check no further threads", "set threads to 1");
  }
}

}  // namespace

bool Proof::passed() const {
  return std::none_of(findings.begin(), findings.end(), [](const Finding& f) { return f.severity == Severity::error; });
}

Result<Proof> prove_paths(const std::vector<motion::Path>& paths, const shape::Part& turned, const shape::Blank& blank,
                          const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                          const Settings& settings, std::stop_token stop) {
  return judge(paths, {}, turned, blank, tolerance, cutters, machine, settings, stop);
}

Result<Proof> prove_path(const motion::Path& path, const shape::Part& turned, const shape::Blank& blank,
                         const shape::BlankTolerance& tolerance, const shop::Cutter& cutter,
                         const shop::Machine& machine, const Settings& settings, std::stop_token stop) {
  return prove_paths({path}, turned, blank, tolerance, {cutter}, machine, settings, stop);
}

Result<std::vector<Proof>> prove_in_turn(const std::vector<std::string_view>& texts, const shape::Part& turned, const shape::Blank& blank,
                                         const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                                         const Settings& settings, std::stop_token stop) {
  std::vector<motion::Path> paths;
  std::vector<std::size_t> file_of;
  std::vector<Finding> warnings;
  for (std::size_t file = 0; file < texts.size(); ++file) {
    auto read = read_text(texts[file], machine, name_of(file, texts.size()));
    if (!read) return read.failure();
    for (motion::Path& path : read->paths) paths.push_back(std::move(path)), file_of.push_back(file);
    for (Finding& warning : read->warnings) warnings.push_back(std::move(warning)), warnings.back().file = file;
  }
  auto whole = judge(paths, file_of, turned, blank, tolerance, cutters, machine, settings, stop);
  if (!whole) return whole.failure();
  whole->findings.insert(whole->findings.end(), warnings.begin(), warnings.end());
  std::vector<Proof> proofs(texts.size(), *whole);
  for (std::size_t file = 0; file < texts.size(); ++file) {
    proofs[file].text_sha256 = sha256(texts[file]);
    proofs[file].file = file, proofs[file].files = texts.size();
  }
  return proofs;
}

Result<Proof> prove(std::string_view program_text, const shape::Part& turned, const shape::Blank& blank,
                    const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                    const Settings& settings, std::stop_token stop) {
  auto proofs = prove_in_turn({program_text}, turned, blank, tolerance, cutters, machine, settings, stop);
  if (!proofs) return proofs.failure();
  return std::move(proofs->front());
}

Result<Proof> prove(std::string_view program_text, const shape::Part& turned, const shape::Blank& blank,
                    const shape::BlankTolerance& tolerance, const shop::Cutter& cutter, const shop::Machine& machine,
                    const Settings& settings, std::stop_token stop) {
  return prove(program_text, turned, blank, tolerance, std::vector<shop::Cutter>{cutter}, machine, settings, stop);
}

Result<Done> released(std::string_view program_text, const Proof& proof) {
  if (!proof.passed()) {
    std::string why;
    for (const Finding& f : proof.findings) {
      if (f.severity == Severity::error && why.empty()) why = f.message;
    }
    return fail("proof.not-passed", "the program did not pass its check: " + why, "do not cut with it; make it again");
  }
  if (proof.text_sha256.empty() || sha256(program_text) != proof.text_sha256) {
    return fail("proof.other-text", "the text is not the one that was checked", "check this very text before it leaves");
  }
  return Done{};
}

}  // namespace pommel::proof
