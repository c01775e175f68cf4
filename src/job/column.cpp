#include "job/column.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "job/stage.h"
#include "job/strength.h"
#include "mill/rough.h"
#include "mill/witness.h"
#include "shape/ring.h"

namespace pommel::job {
namespace {

Failure cancelled() { return fail("cancelled", "stopped before it was done"); }

// Least diameter of the wood that stays, grooves and hollows of a twist included.
double thinnest(const shape::Part& part) { return 2 * shape::least_radius(part).radius; }

stock::BlankWish wish_of(const family::MadePiece& made, const shop::Machine& machine, const std::vector<shop::Cutter>& cutters) {
  stock::BlankWish wish;
  const shape::Piece &first = made.part.outline.pieces.front(), &last = made.part.outline.pieces.back();
  const double at_head = machine.head_at_chuck ? machine.jaw_swing : machine.tailstock_top, at_foot = machine.head_at_chuck ? machine.tailstock_top : machine.jaw_swing;
  const double reach = (made.blank.square / 2 + made.blank.oversize + machine.blank_oversize) * std::numbers::sqrt2 + machine.blank_off_centre + machine.blank_bow;
  // a square end is left alone unless its flats are still to be cut, or its faces are cut back there, as on a tapered foot
  const auto faces_cut = [&](double x) {
    return std::any_of(made.part.faces.begin(), made.part.faces.end(), [&](const shape::Face& face) { return face.d.value(x) < made.blank.square / 2 - 1e-6; });
  };
  const auto run_up = [&](const shape::Piece& end, double x, double holder) {
    const bool untouched = made.blank.form == "milled" && end.kind == shape::Piece::Kind::clear && !faces_cut(x);
    return untouched ? 0.0 : mill::waste_beyond_end(reach, thinnest(made.part) / 2, holder, {}, cutters, machine);
  };
  wish.head_run_up = run_up(first, 0, at_head);
  wish.foot_run_up = run_up(last, made.part.length, at_foot);
  if (made.blank.form == "round") wish.witness = mill::witness_waste(cutters);
  wish.part_length = made.part.length;
  wish.square = made.blank.square;
  wish.horn = made.blank.horn;
  wish.form = made.blank.form == "round" ? stock::BlankWish::Form::round
              : made.blank.form == "oversize" ? stock::BlankWish::Form::oversize : stock::BlankWish::Form::milled;
  wish.oversize = made.blank.oversize;
  wish.allow_glue_up = made.blank.glue_up;
  wish.accept_centre_glue_line = made.blank.centre_glue_line;
  wish.halves = made.blank.halves;
  wish.rings_corner_to_corner = made.blank.rings_corner_to_corner;
  wish.one_board = made.blank.one_board == "rule" ? shop::OneBoard::rule : made.blank.one_board == "wish" ? shop::OneBoard::wish : shop::OneBoard::no;
  return wish;
}

std::vector<shop::Cutter> cutters_of(const Loaded& loaded) {
  std::vector<shop::Cutter> out;
  for (const shop::Cutter* cutter : {rough_cutter_of(loaded), cutter_of(loaded), fine_cutter_of(loaded)})
    if (cutter) out.push_back(*cutter);
  return out;
}

Result<const shop::Stock*> board(const shop::Shop& shop, const std::string& id) {
  const auto found = shop.boards.find(id);
  if (found == shop.boards.end()) return fail("job.unknown-board", "the shop has no boards '" + id + "'", "add them to boards.yaml, or choose others");
  return &found->second;
}

Result<stock::TurnedBlanks> plan_blanks(const Loaded& loaded, const shop::Machine& machine, const std::vector<shop::Cutter>& cutters, const family::Made& made, std::size_t piece) {
  const auto stock = board(loaded.shop, made.pieces[piece].blank.stock);
  if (!stock.ok()) return stock.failure();
  stock::TurnedBlanks out;
  out.piece = made.pieces[piece].wanted.label;
  for (const frame::Member& member : made.set.members) {
    if (member.piece != piece) continue;
    ++out.quantity;
    out.spares += member.spare ? 1 : 0;
  }
  out.wish = wish_of(made.pieces[piece], machine, cutters);
  auto plan = stock::plan_blank(out.wish, **stock, machine);
  if (!plan.ok()) return plan.failure();
  out.plan = std::move(plan).value();
  out.board = **stock;
  return out;
}

Result<Done> cut_up(const Loaded& loaded, const LengthFormat& shown, bool planned, Column& out) {
  const auto rail = board(loaded.shop, out.made.rail_stock);
  if (!rail.ok()) return rail.failure();
  auto cuts = stock::cut_list(out.made.set, out.blanks, **rail, loaded.shop.rates, shown, planned);
  if (!cuts.ok()) return cuts.failure();
  out.cuts = std::move(cuts).value();
  out.board_feet = 0;
  for (const stock::BoardRow& row : out.cuts.boards) out.board_feet += row.bought_board_feet;
  return Done{};
}

Result<Done> plan_stock(const Loaded& loaded, const shop::Machine& machine, const std::vector<shop::Cutter>& cutters, const LengthFormat& shown, bool planned, Column& out) {
  Failure failure;
  for (std::size_t piece = 0; piece < out.made.pieces.size(); ++piece) {
    auto blanks = plan_blanks(loaded, machine, cutters, out.made, piece);
    if (blanks.ok()) out.blanks.push_back(std::move(blanks).value());
    else failure.reasons.insert(failure.reasons.end(), blanks.reasons().begin(), blanks.reasons().end());
  }
  if (!failure.reasons.empty()) return failure;
  if (const auto cuts = cut_up(loaded, shown, planned, out); !cuts.ok()) return cuts.failure();
  add_rules(loaded, shown, out);
  return Done{};
}

// What is said nearest to the piece counts.
bool may_have_thin_stubs(const Loaded& loaded) {
  if (loaded.order && loaded.order->thin_stubs) return *loaded.order->thin_stubs;
  return loaded.design.thin_stubs.value_or(loaded.family.thin_stubs.value_or(false));
}

// What the order says of its last passes and of the cutter's sense.
void wish_steps(const Loaded& loaded, TurningRequest& request) {
  if (!loaded.order) return;
  const family::Order& order = *loaded.order;
  if (order.cusp > 0) request.cusp = order.cusp;
  request.stepover = order.stepover;
  request.climb_rough = order.climb == family::Climb::everywhere;
  request.climb_finish = order.climb != family::Climb::nowhere;
}

mill::Way way_of(const Loaded& loaded) {
  const family::Passes passes = loaded.order ? loaded.order->passes : family::Passes::fastest;
  return passes == family::Passes::lengthwise ? mill::Way::lengthwise : passes == family::Passes::round_and_round ? mill::Way::round : mill::Way::fastest;
}

Result<Done> plan_turnings(const Loaded& loaded, const shop::Machine& machine, const shop::Cutter& cutter, const Options& options, Column& out) {
  const shape::BlankTolerance tolerance{machine.blank_off_centre, machine.blank_bow, machine.blank_oversize};
  TurningMemo once;
  TurningMemo& memo = options.memo ? *options.memo : once;
  double pieces = 0;
  for (const frame::Kind& kind : out.made.set.turned_kinds) {
    const auto member = std::find_if(out.made.set.members.begin(), out.made.set.members.end(),
                                     [&](const frame::Member& m) { return m.id == kind.members.front(); });
    TurningRequest request{member->part, out.blanks[member->piece].plan.blank, tolerance, cutter, machine};
    request.turned.mortises.clear();
    request.turned.bores.clear();
    request.turned.axial_bores.clear();
    request.turned.end_cuts.clear();
    request.way = way_of(loaded);
    request.thin_stubs = may_have_thin_stubs(loaded);
    wish_steps(loaded, request);
    if (const shop::Cutter* rough = rough_cutter_of(loaded)) request.rough = *rough;
    if (const shop::Cutter* fine = fine_cutter_of(loaded)) request.fine = *fine;
    if (const auto wood = loaded.shop.woods.find(out.blanks[member->piece].board.wood); wood != loaded.shop.woods.end()) request.wood = wood->second;
    auto turning = memo.plan(request, options.stop);
    if (!turning.ok()) return turning.failure();
    out.requests.push_back(std::move(request));
    out.turnings.push_back(std::move(turning).value());
    // a running mean: of one kind it is that kind's time to the bit, however many pieces there are
    pieces += static_cast<double>(kind.members.size());
    out.minutes_each += (out.turnings.back()->minutes - out.minutes_each) * (static_cast<double>(kind.members.size()) / pieces);
    out.hand_places = std::max(out.hand_places, static_cast<int>(out.turnings.back()->hand_work.size()));
  }
  return Done{};
}

// What a published load makes of the weakest piece; nothing where the wood is not known.
std::optional<frame::LoadReport> load_of(const Loaded& loaded, const LengthFormat& shown, const Column& column) {
  const auto wood = loaded.shop.woods.find(column.blanks.front().board.wood);
  if (wood == loaded.shop.woods.end()) return std::nullopt;
  return frame::under_load(column.made.frame, column.made.set, wood->second, shown);
}

// The cut list says of each turned piece who cuts its joints; turned pieces are its first rows.
void note_joints(Column& out) {
  for (std::size_t piece = 0; piece < out.made.pieces.size(); ++piece) {
    std::size_t all = 0;
    int left = 0;
    for (const JointWork& work : out.joints) {
      if (out.piece_of_turning(work.turning) != piece) continue;
      const auto count = static_cast<int>(out.made.set.jointed_kinds[work.kind].members.size());
      all += static_cast<std::size_t>(count) * (work.jointed.mortises.size() + work.jointed.bores.size() + work.jointed.axial_bores.size());
      left += count * (work.mortises_left() + work.bores_left());
    }
    if (all == 0) continue;
    const std::string who = left == 0 ? "joints milled on the turning's centres"
                            : static_cast<std::size_t>(left) == all ? "joints cut at the bench"
                                                                    : "joints milled on the turning's centres, " + std::to_string(left) + " left to the bench";
    std::string& note = out.cuts.rows[piece].note;
    note += (note.empty() ? "" : "; ") + who;
  }
}

// Going round the cutters of one hold: each that is not the one before it, the first one after the last among them.
int changes_in_hold(const Turning& turning, const JointWork* joints) {
  std::vector<std::string> ids;
  for (const motion::Path& path : turning.paths) ids.push_back(path.cutter);
  if (joints)
    for (const motion::Path& path : joints->plan.paths) ids.push_back(path.cutter);
  int changes = 0;
  for (std::size_t i = 0; i < ids.size(); ++i) changes += ids[i] != ids[(i + 1) % ids.size()] ? 1 : 0;
  return changes;
}

void count_changes(Column& out) {
  for (const frame::Member& member : out.made.set.members) {
    // a spare has no joints yet
    const auto joints = member.spare ? out.joints.end() : std::find_if(out.joints.begin(), out.joints.end(), [&](const JointWork& work) { return work.kind == static_cast<std::size_t>(member.jointed_kind); });
    out.cutter_changes += changes_in_hold(*out.turnings[static_cast<std::size_t>(member.turned_kind)], joints == out.joints.end() ? nullptr : &*joints);
  }
}

Result<Done> plan_joints(const Loaded& loaded, const Options& options, Column& out) {
  std::vector<shop::Cutter> cutters;
  for (const auto& [id, cutter] : loaded.shop.cutters) cutters.push_back(cutter);
  const frame::Set& set = out.made.set;
  for (std::size_t kind = 0; kind < set.jointed_kinds.size(); ++kind) {
    const auto first = std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& m) { return m.id == set.jointed_kinds[kind].members.front(); });
    if (!has_joints(first->part)) continue;
    const bool wanted = !loaded.order || loaded.order->joints == family::Joints::machine;
    auto work = plan_joint_work({&set, kind, wanted, &out.requests[static_cast<std::size_t>(first->turned_kind)], &cutters}, options.stop);
    if (!work.ok()) return work.failure();
    const auto pieces = static_cast<int>(set.jointed_kinds[kind].members.size());
    out.joint_minutes += pieces * work->plan.minutes;
    out.bench_joints += pieces * (work->mortises_left() + work->bores_left());
    out.joints.push_back(std::move(work).value());
  }
  note_joints(out);
  count_changes(out);
  return Done{};
}

// Skin that is sanded and finished: of every piece that is sold, without its end faces' small share taken off.
double skin_m2(const frame::Set& set) {
  double mm2 = 0;
  for (const frame::Member& member : set.members)
    if (!member.spare) mm2 += shape::turned_area(member.part);
  for (const frame::Rail& rail : set.rails)
    mm2 += rail.quantity * 2 * rail.shoulder_length * (rail.depth + rail.thickness);
  return mm2 * 1e-6;
}

quote::Work work_of(const Column& column) {
  quote::Work work;
  for (const stock::BoardRow& row : column.cuts.boards)
    work.boards.push_back({row.stock_label, row.basis, row.bought_board_feet, row.price});
  for (const family::HardwareItem& item : column.made.hardware) work.hardware.push_back({item.item, item.count, item.each});
  const frame::Set& set = column.made.set;
  work.set_ups = static_cast<int>(set.turned_kinds.size());
  work.turned_pieces = static_cast<int>(set.members.size());
  work.machine_minutes_each = column.minutes_each;
  work.cutter_changes = column.cutter_changes;
  work.blanks = work.turned_pieces;
  for (const stock::TurnedBlanks& blanks : column.blanks)
    if (blanks.plan.laminations > 1) work.blanks += blanks.quantity * blanks.plan.laminations;  // each of its pieces is milled before it is glued
  for (const frame::Rail& rail : set.rails) work.blanks += rail.quantity;
  for (const JointWork& joints : column.joints) {
    const auto pieces = static_cast<int>(set.jointed_kinds[joints.kind].members.size());
    work.mortises += pieces * joints.mortises_left();
    work.milled_mortises += pieces * joints.mortises_cut();
    work.chiselled += pieces * joints.to_chisel();
    work.bores += pieces * joints.bores_left();
  }
  work.joint_minutes = column.joint_minutes;
  work.joints = work.mortises + work.milled_mortises;
  work.quirks_each = column.hand_places;
  work.skin_m2 = skin_m2(set);
  return work;
}

double greatest(const Column& column, double rules::PieceReport::*what) {
  double most = 0;
  for (const rules::PieceReport& report : column.reports) most = std::max(most, report.*what);
  return most;
}

struct Boards {
  double taken = 0, used = 0;  ///< used: of their face, 0 to 1
  Money price;
};

Boards boards_of(const stock::CutList& cuts) {
  Boards out;
  double face = 0;
  for (const stock::CuttingPlan& plan : cuts.plans) {
    out.taken += static_cast<double>(plan.layouts.size());
    out.price += plan.cost;
    double own = 0;
    for (const stock::PlannedBoard& layout : plan.layouts) own += plan.boards[layout.boards].length * plan.boards[layout.boards].width;
    face += own;
    out.used += plan.used() * own;
  }
  if (face > 0) out.used /= face;
  return out;
}

std::vector<std::pair<std::string, sheet::Value>> outcomes_of(const Column& column) {
  using sheet::Value;
  auto out = outcomes_to_stock(column);
  double jointed = 0;
  for (const JointWork& joints : column.joints) jointed += static_cast<double>(column.made.set.jointed_kinds[joints.kind].members.size());
  out.insert(out.end(), {{"machine_time", Value::time(column.minutes_each)},
                         {"joint_time", Value::time(jointed > 0 ? column.joint_minutes / jointed : 0)},
                         {"bench_joints", Value::count(column.bench_joints)},
                         {"hand_places", Value::count(column.hand_places)},
                         {"price", Value::money(static_cast<double>(column.quote.price.cents) / 100)},
                         {"total", Value::money(static_cast<double>(column.quote.total.cents) / 100)}});
  return out;
}

}  // namespace

std::vector<std::pair<std::string, sheet::Value>> outcomes_to_stock(const Column& column) {
  using sheet::Value;
  const frame::Set& set = column.made.set;
  const Boards boards = boards_of(column.cuts);
  std::vector<std::pair<std::string, sheet::Value>> out{
          {"thinnest_diameter", Value::length(column.thinnest_diameter)},
          {"least_wall", Value::length(column.least_wall)},
          {"square_movement", Value::length(greatest(column, &rules::PieceReport::square_movement))},
          {"out_of_round", Value::length(greatest(column, &rules::PieceReport::out_of_round))},
          {"slenderness", Value::ratio(greatest(column, &rules::PieceReport::slenderness))},
          {"push_share", Value::ratio(greatest(column, &rules::PieceReport::push_share))},
          {"turned_pieces", Value::count(static_cast<double>(set.members.size()))},
          {"distinct_turnings", Value::count(static_cast<double>(set.turned_kinds.size()))},
          {"distinct_pieces", Value::count(static_cast<double>(set.jointed_kinds.size()))}};
  if (!column.cuts.plans.empty())
    out.insert(out.end(), {{"board_feet", Value::ratio(column.board_feet)},
                           {"boards_taken", Value::count(boards.taken)},
                           {"boards_price", Value::money(static_cast<double>(boards.price.cents) / 100)},
                           {"boards_used", Value::ratio(boards.used)}});
  if (column.load) out.emplace_back("infill_share", Value::ratio(column.load->share_of_mor));
  const std::string stands_in(frame::frame_name(column.made.frame));
  for (const std::string& name : frame::piece_names(stands_in)) {
    // a piece that the frame can ask for several times, or not at all, tells of its longest, or of nothing
    double length = 0, blank = 0;
    for (std::size_t i = 0; i < column.made.pieces.size(); ++i) {
      if (column.made.pieces[i].wanted.named != name) continue;
      length = std::max(length, column.made.pieces[i].part.length);
      blank = std::max(blank, column.blanks[i].plan.blank.length());
    }
    out.emplace_back(family::finished_length_outcome(stands_in, name), Value::length(length));
    out.emplace_back(family::blank_length_outcome(stands_in, name), Value::length(blank));
  }
  return out;
}

std::size_t Column::piece_of_turning(std::size_t turning) const {
  const std::string& first = made.set.turned_kinds[turning].members.front();
  return std::find_if(made.set.members.begin(), made.set.members.end(), [&](const frame::Member& m) { return m.id == first; })->piece;
}

Result<Column> run_to_stock(const Loaded& loaded, const sheet::Sheet& sheet, std::size_t column, const Options& options) {
  const std::string of = sheet.column_name(column);
  const shop::Machine* machine = machine_of(loaded);
  if (!machine) return fail("job.no-machine", "the shop has no machine", "describe one in machines.yaml");
  const shop::Cutter* cutter = cutter_of(loaded);
  if (!cutter) return fail("job.no-cutter", "the shop has no cutter", "describe one in cutters.yaml");
  Column out;
  {
    const Stage stage(options, "frame", of);
    auto made = family::make(loaded.family, loaded.design, sheet, column, loaded.shop, sheet.settings().lengths);
    if (!made.ok()) return Failure(with_lines(loaded.texts, made.reasons()));
    out.made = std::move(made).value();
    out.thinnest_diameter = std::numeric_limits<double>::infinity();
    for (const family::MadePiece& piece : out.made.pieces) out.thinnest_diameter = std::min(out.thinnest_diameter, thinnest(piece.part));
    out.least_wall = std::numeric_limits<double>::infinity();
    for (const frame::JointReport& joint : out.made.set.joints) out.least_wall = std::min(out.least_wall, joint.least_wall);
    if (!std::isfinite(out.least_wall)) out.least_wall = 0;  // nothing is let into these pieces
  }
  if (options.stop.stop_requested()) return cancelled();
  const Stage stage(options, "stock", of);
  if (const auto done = plan_stock(loaded, *machine, cutters_of(loaded), sheet.settings().lengths, options.boards, out); !done.ok()) return done.failure();
  out.load = load_of(loaded, sheet.settings().lengths, out);
  return out;
}

Result<Done> add_boards(const Loaded& loaded, const sheet::Sheet& sheet, Column& column) { return cut_up(loaded, sheet.settings().lengths, true, column); }

Result<Column> run_column(const Loaded& loaded, const sheet::Sheet& sheet, std::size_t column, const Options& options) {
  auto started = run_to_stock(loaded, sheet, column, options);
  if (!started.ok()) return started.failure();
  Column out = std::move(started).value();
  const std::string of = sheet.column_name(column);
  {
    const Stage stage(options, "mill", of);
    if (const auto done = plan_turnings(loaded, *machine_of(loaded), *cutter_of(loaded), options, out); !done.ok()) return done.failure();
    if (const auto done = plan_joints(loaded, options, out); !done.ok()) return done.failure();
  }
  if (options.stop.stop_requested()) return cancelled();
  const Stage stage(options, "quote", of);
  out.work = work_of(out);
  auto quote = quote::quote(out.work, loaded.shop.rates);
  if (!quote.ok()) return quote.failure();
  out.quote = std::move(quote).value();
  out.outcomes = outcomes_of(out);
  return out;
}

}  // namespace pommel::job
