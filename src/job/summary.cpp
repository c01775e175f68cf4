// The page a maker opens first.
#include <algorithm>

#include "base/number.h"
#include "base/text.h"
#include "job/job.h"
#include "job/joint_pages.h"
#include "job/proven.h"
#include "job/show.h"
#include "job/text.h"
#include "mill/time.h"
#include "program/setup.h"
#include "stock/measure.h"

namespace pommel::job {
namespace {

std::string minutes(double value) { return format_number(value, 1) + " min"; }

std::string title(const Job& job) {
  std::string out = wrapped(job.loaded.order ? job.loaded.order->name : job.loaded.design.name);
  if (job.loaded.order) {
    out += "order " + job.loaded.order->number;
    if (!job.loaded.order->date.empty()) out += ", " + job.loaded.order->date;
    if (!job.loaded.order->client.empty()) out += ", " + job.loaded.order->client;
    out += "\n";
  }
  out += "from the house design '" + job.loaded.design.name + "', revision " + std::to_string(job.loaded.design.revision) + "\n";
  const bool machine = job.order.requests.front().machine.confirmed, rates = job.loaded.shop.rates.confirmed;
  if (!machine || !rates)
    out += wrapped(std::string("EXAMPLE: the ") + (!machine && !rates ? "machine and the rates are" : !machine ? "machine is" : "rates are") +
                   " not confirmed. Put your own figures into catalog/shop, then say confirmed: yes.");
  return out;
}

// Rows that differ between catalogue and order: first the order's own, then what follows from them.
std::string changes(const Job& job) {
  const sheet::Sheet& sheet = job.sheet;
  if (sheet.column_count() < 2) return wrapped("nothing: this is the catalogued design", "  ", "  ");
  const std::size_t order = sheet.column_count() - 1;
  TextTable own({false, true, true}), following({false, true, true});
  const auto add = [&](TextTable& table, const std::string& name) {
    if (!sheet.value(name, family::kCatalogue) || !sheet.value(name, order)) return;
    const std::string before = shown(sheet, name, family::kCatalogue), after = shown(sheet, name, order);
    if (before != after) table.row({name, before, after});  // what is read alike is alike on paper
  };
  own.row({"", "catalogue", "this order"});
  for (const std::string& name : sheet.parameters()) {
    const bool said = sheet.cell(name, order)->own;
    if (said || is_of_use(sheet, name, order)) add(said ? own : following, name);
  }
  for (const std::string& name : sheet.outcomes()) add(following, name);
  std::string out = own.text();
  if (!following.empty()) out += "\n  and with it\n" + following.text();
  return out;
}

std::string to_mill(const Job& job) {
  const LengthFormat& lengths = job.sheet.settings().lengths;
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  TextTable table({true, false, false, false});
  for (const stock::CutRow& row : job.order.cuts.rows)
    table.row({std::to_string(row.quantity), row.piece, size(row.finished_thickness) + " x " + size(row.finished_width), "long " + size(row.finished_length)});
  std::string out = table.text();
  const bool chuck_at_head = job.order.requests.front().machine.head_at_chuck;
  out += "\n";
  for (const stock::TurnedBlanks& turned : job.order.blanks) {
    const shape::Blank& blank = turned.plan.blank;
    out += wrapped(turned.piece + " blanks: " + size(blank.size) + (blank.section == shape::Blank::Section::round ? " round, " : " square, ") + size(blank.length()) +
                     " long: " + size(-blank.x0 - blank.horn) + " waste at the head for the " + (chuck_at_head ? "chuck" : "centre") + ", " + size(blank.horn) +
                     " horn, the " + turned.piece + ", " + size(blank.x1 - turned.wish.part_length) + " waste at the foot for the " + (chuck_at_head ? "centre" : "chuck"), "  ", "  ");
    out += wrapped("largest square this stock gives: " + size(stock::largest_square(turned.board)) + "; corner to corner " + size(blank.size * 1.4142135623730951), "  ", "  ");
  }
  for (const stock::CutRow& row : job.order.cuts.rows)
    if (!row.note.empty()) out += wrapped(row.piece + ": " + row.note, "  ", "    ");
  return out;
}

// Whole boards at their price, and what the quote charges of them.
std::string boards(const Job& job) {
  const std::string& currency = job.order.quote.currency;
  std::string out;
  Money whole, charged;
  for (const stock::CuttingPlan& plan : job.order.cuts.plans) {
    out += wrapped(stock::said_of(plan), "  ", "    ");
    whole += plan.cost;
  }
  for (const stock::BoardRow& row : job.order.cuts.boards) {
    charged += row.amount;
    out += wrapped("charged: " + row.stock_label + ", " + format_number(row.bought_board_feet, 2) + " BF, " + row.basis + ": " + format_money(row.amount, currency), "  ", "    ");
  }
  if (charged < whole)
    out += wrapped("whole boards are " + format_money(whole, currency) + ", the quote charges " + format_money(charged, currency) + " of them: what is left goes back on the rack", "  ", "    ");
  return out + wrapped("where each piece lies in which board: cutting-plan.svg, cutting-plan.csv", "  ", "    ");
}

const frame::Member& member_of(const frame::Set& set, const std::string& id) {
  return *std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& m) { return m.id == id; });
}

std::string joints(const Job& job) {
  const frame::Set& set = job.order.made.set;
  std::string out;
  for (std::size_t k = 0; k < set.jointed_kinds.size(); ++k) {
    const frame::Kind& kind = set.jointed_kinds[k];
    out += wrapped(kind.label + ": " + kind.reason, "  ", "    ");
    const frame::Member& member = member_of(set, kind.members.front());
    const std::vector<JointLine> lines = joint_lines(member.part, job.order.made.pieces[member.piece].wanted.square, job.sheet.settings().lengths);
    if (lines.empty()) continue;
    out += wrapped("marked out on " + kind.members.front() + (kind.members.size() > 1 ? ", and alike on the others turned as said:" : ":"), "    ", "    ");
    for (const JointLine& line : lines) out += wrapped(line.text + "; " + joint_way(job, k, line.id), "      ", "        ");
  }
  for (const frame::Kind& kind : set.turned_kinds)
    out += wrapped("turning program for " + std::to_string(kind.members.size()) + " pieces: " + kind.reason, "  ", "    ");
  std::vector<std::string> said;
  for (const frame::JointReport& joint : set.joints) {
    const std::size_t colon = joint.text.find(": ");  // "front left leg: least wall ..."
    const std::string text = colon == std::string::npos ? joint.text : joint.text.substr(colon + 2);
    if (std::find(said.begin(), said.end(), text) != said.end()) continue;
    said.push_back(text);
    const bool all = said.size() == 1 && job.order.made.pieces.size() == 1;
    out += wrapped((all ? "each " + job.order.made.pieces.front().wanted.label + ": " : joint.member + ": ") + text, "  ", "    ");
  }
  return out;
}

std::string programs(const Job& job) {
  std::string out;
  for (std::size_t i = 0; i < job.programs.size(); ++i) {
    const proof::Proof& proof = job.programs[i].front().proof;  // the files share one judgement
    const std::size_t files = job.programs[i].size();
    const auto pieces = job.order.made.set.turned_kinds[i].members.size();
    out += wrapped("programs/" + programs_in_words(job, i) + ": " + std::to_string(pieces) + " pieces, " + minutes(job.order.turnings[i]->minutes) +
                       " each on '" + job.order.requests[i].machine.label + "' with the " + cutters_in_words(job.order.requests[i], *job.order.turnings[i]), "  ", "    ");
    if (files > 1) out += wrapped("a file for each cutter, as the machine takes them: run them in their order, without taking the piece off its centres", "    ", "    ");
    out += wrapped("checked from " + std::string(files > 1 ? "their own texts, one after the other" : "its own text") + ": deepest cut into the design " + format_number(proof.gouge.amount, 3) + " mm (limit " +
                       format_number(proof.settings.gouge_limit, 3) + "), most wood left where the cutter reaches " + format_number(proof.leftover.amount, 3) +
                       " mm, no wood met at rapid with the blank off centre, bowed and oversize", "    ", "    ");
    for (const std::string& line : pass_lines(job.order.requests[i], *job.order.turnings[i], texts_of(job.programs[i]))) out += wrapped(line, "    ", "      ");
    for (const proof::Finding& finding : proof.findings) out += wrapped(finding.message, "    ! ", "      ");
  }
  for (std::size_t i = 0; i < job.order.joints.size(); ++i)
    for (const std::string& line : joint_program_lines(job, i)) out += wrapped(line, line.starts_with("programs/") ? "  " : "    ", line.starts_with("programs/") ? "    " : "      ");
  return out;
}

// "head post: " before what is said of one of several turnings.
std::string of_turning(const Job& job, std::size_t i) {
  if (job.order.turnings.size() < 2) return "";
  return job.order.made.pieces[member_of(job.order.made.set, job.order.made.set.turned_kinds[i].members.front()).piece].wanted.label + ": ";
}

// "bead: 0.31 mm of wood left at most, all round, from the head 120 mm to 122 mm and 131 mm to 133 mm": one line for elements of one name.
std::vector<std::string> left_by_the_cutter(const std::vector<HandPlace>& places, const LengthFormat& lengths) {
  std::vector<std::string> names, lines;
  for (const HandPlace& place : places)
    if (std::find(names.begin(), names.end(), place.element) == names.end()) names.push_back(place.element);
  for (const std::string& name : names) {
    double depth = 0;
    std::vector<std::string> runs;
    for (const HandPlace& place : places) {
      if (place.element != name) continue;
      depth = std::max(depth, place.depth);
      runs.push_back(format_length(place.x0, lengths) + " to " + format_length(place.x1, lengths));
    }
    const bool in_each = name == "flutes" || name == "between the reeds" || name == "hollows of the twist";  // as mill/hollows.h names them
    lines.push_back(name + ": " + format_length(depth, {LengthUnit::millimetre, 2, 0}) + " of wood left at most, " + (in_each ? "in each" : "all round") + ", from the head " + listed(runs));
  }
  return lines;
}

std::string hand_work(const Job& job) {
  const LengthFormat& lengths = job.sheet.settings().lengths;
  std::string out;
  const auto joints = [&](int count, const std::string& what) {
    if (count > 0) out += wrapped(std::to_string(count) + " " + what, "  ", "    ");
  };
  joints(job.order.work.mortises, "mortises at the bench, as marked out under Joints");
  joints(job.order.work.chiselled, "milled mortises to square with the chisel: their corners are round");
  joints(job.order.work.bores, "bores at the bench");
  for (std::size_t i = 0; i < job.order.turnings.size(); ++i)
    for (const std::string& line : left_by_the_cutter(job.order.turnings[i]->hand_work, lengths)) out += wrapped(of_turning(job, i) + line, "  ", "    ");
  return out.empty() ? "  none: the cutter reaches everything\n" : out;
}

std::vector<Diagnostic> warnings_of(const Job& job) {
  std::vector<Diagnostic> all;
  const auto take = [&](const std::vector<Diagnostic>& some) { all.insert(all.end(), some.begin(), some.end()); };
  take(job.loaded.notes);
  take(beyond_proven(job.loaded.card, job.sheet, job.sheet.column_count() - 1));
  take(job.order.made.notes);
  take(job.order.made.set.notes);
  if (job.order.load) take(job.order.load->notes);
  for (const stock::TurnedBlanks& turned : job.order.blanks) take(turned.plan.notes);
  take(job.order.cuts.notes);
  for (const rules::PieceReport& report : job.order.reports) take(report.warnings);
  for (std::size_t i = 0; i < job.order.turnings.size(); ++i)
    for (Diagnostic note : job.order.turnings[i]->notes) {
      note.message = of_turning(job, i) + note.message;
      all.push_back(std::move(note));
    }
  for (const sheet::CheckResult& check : job.checks)
    if (check.said) all.push_back(*check.said);
  return all;
}

std::string warnings(const Job& job) {
  std::string out;
  std::vector<std::string> said;
  for (const Diagnostic& warning : warnings_of(job)) {
    const std::string text = warning.message + (warning.remedy.empty() ? "" : ": " + warning.remedy);
    if (std::find(said.begin(), said.end(), text) != said.end()) continue;
    said.push_back(text);
    out += wrapped(text, warning.severity == Severity::note ? "  - " : "  ! ", "    ");
  }
  return out.empty() ? "  none\n" : out;
}

std::string price(const Job& job) {
  const quote::Quote &order = job.order.quote, &catalogue = job.catalogue.quote;
  TextTable table({false, true, true});
  table.row({"", "catalogue", "this order"});
  for (const auto& [what, member] : {std::pair{"cost", &quote::Quote::cost}, std::pair{"price", &quote::Quote::price}, std::pair{"total with tax", &quote::Quote::total},
                                     std::pair{"deposit", &quote::Quote::deposit}})
    table.row({what, format_money(catalogue.*member, order.currency), format_money(order.*member, order.currency)});
  return table.text() + wrapped("boards by " + stock::rule_words(job.loaded.shop.rates.board_rule) + "; " + order.profit_words, "  ", "  ");
}

std::string strength(const Job& job) {
  std::string out;
  for (const std::string& line : job.order.rule_lines) out += wrapped(line, "  ", "    ");
  return out + wrapped("Figures for comparing, from averages of clear wood: local code and a licensed person decide what is strong enough.", "  ", "  ");
}

const char* const kCautions[] = {
    "Guards on, no gloves or loose sleeves near turning work, no sanding under power.",
    "Chuck key out, tail centre tight; eyes, ears and dust.",
    "First run above the work. Feed hold does not stop the spindle.",
    "The check compares this text with this design on a rigid blank and the machine as described; it does not know your set-up.",
    "Local rules and licensed practice come first."};

}  // namespace

std::string summary(const Job& job) {
  std::string out = title(job);
  out += heading("What changed") + changes(job);
  out += heading("What to mill") + to_mill(job);
  out += heading("Boards") + boards(job);
  out += heading("Joints") + joints(job);
  out += heading("Programs") + programs(job);
  out += heading("Hand work") + hand_work(job);
  out += heading("Wood through the year, and strength") + strength(job);
  out += heading("Warnings and notes") + warnings(job);
  out += heading("Price") + price(job);
  out += heading("Before you start the machine");
  for (const char* caution : kCautions) out += wrapped(caution, "  - ", "    ");
  return out;
}

program::SetupSheet set_up_of(const Job& job, std::size_t turning) {
  const TurningRequest& request = job.order.requests[turning];
  program::SetupSheet sheet;
  if (job.loaded.order) {
    sheet.order = job.loaded.order->number + ", " + job.loaded.order->name;
    sheet.date = job.loaded.order->date;
  }
  const std::size_t piece = job.order.piece_of_turning(turning);
  sheet.blank = job.order.blanks[piece].board.label;
  sheet.blank_length = request.blank.length();
  sheet.blank_width = sheet.blank_thickness = request.blank.size;
  sheet.head_waste = -request.blank.x0;
  sheet.square = request.blank.section == shape::Blank::Section::square;
  if (const auto& flat = job.order.turnings[turning]->witness) sheet.witness = program::WitnessFlat{flat->x0, flat->x1, flat->width, flat->height};
  sheet.foot_waste = request.blank.x1 - request.turned.length;
  if (job.order.blanks[piece].wish.rings_corner_to_corner) sheet.rings = "growth rings corner to corner where the board allows";
  sheet.change_minutes = job.loaded.shop.rates.change_minutes;
  const shop::Machine& machine = request.machine;
  const double head_grip = machine.head_at_chuck ? machine.chuck_grip : machine.centre_grip;
  const double foot_grip = machine.head_at_chuck ? machine.centre_grip : machine.chuck_grip;
  sheet.keep_outs = {{machine.head_at_chuck ? "chuck" : "centre", request.blank.x0, request.blank.x0 + head_grip},
                     {machine.head_at_chuck ? "centre" : "chuck", request.blank.x1 - foot_grip, request.blank.x1}};
  return sheet;
}

namespace {

// Cutters, stages and times of one of a turning's files.
void add_file(const Job& job, std::size_t i, std::size_t file, program::SetupSheet& sheet) {
  const TurningRequest& request = job.order.requests[i];
  const Turning& turning = *job.order.turnings[i];
  const std::vector<shop::Cutter> cutters = cutters_at_work(request, turning);
  const auto [first, end] = paths_in_file(turning.paths, request.machine, file);
  sheet.cutter = cutters[first].label;
  sheet.cutter_diameter = cutters[first].diameter;
  sheet.stick_out = cutters[first].shank_length;
  sheet.rpm = turning.paths[first].rpm;
  for (std::size_t c = first + 1; c < end; ++c) sheet.further.push_back({cutters[c].label, cutters[c].diameter, cutters[c].shank_length, turning.paths[c].rpm});
  std::vector<PassStretch> stretches;
  for (const PassStretch& one : turning.stretches)
    if (first <= one.path && one.path < end) stretches.push_back(one);
  sheet.stages = re_entries(stretches, job.programs[i][file].text);
  for (std::size_t k = first; k < end; ++k) sheet.minutes += mill::minutes(turning.paths[k], request.machine);
  const std::size_t files = job.programs[i].size();
  if (files == 1) return;
  sheet.order_of_work.push_back("file " + std::to_string(file + 1) + " of " + std::to_string(files) + ", one for each cutter, in their order, each piece through all of them before it leaves its centres");
  if (file > 0) {
    sheet.blank = "the piece as " + program_name(job, i, file - 1) + " has left it, still on its centres; " + sheet.blank;
    sheet.order_of_work.push_back("before it: change to this cutter, " + format_number(sheet.change_minutes, 1) + " min, and set its height anew; " + request.machine.x_word + " and " + request.machine.rotary_word + " stay as they are");
  }
}

}  // namespace

std::string setup_text(const Job& job, std::size_t i, std::size_t file) {
  const TurningRequest& request = job.order.requests[i];
  const Turning& turning = *job.order.turnings[i];
  const frame::Kind& kind = job.order.made.set.turned_kinds[i];
  program::SetupSheet sheet = set_up_of(job, i);
  sheet.program = program_name(job, i, file);
  sheet.piece = job.order.made.pieces[job.order.piece_of_turning(i)].wanted.label + ", turned";
  sheet.pieces = std::to_string(kind.members.size()) + ": " + listed(kind.members);
  sheet.clear_height = turning.clear_height;
  add_file(job, i, file, sheet);
  if (file + 1 == job.programs[i].size()) {
    add_joints_after(job, i, sheet);
    for (const HandPlace& place : turning.hand_work)
      sheet.bench.push_back("clean by hand: " + place.element + ", " + format_number(place.depth, 2) + " mm at most");
  }
  const proof::Proof& proof = job.programs[i][file].proof;
  if (proof.files > 1) sheet.checked.push_back("all files together, one after the other in one blank");
  sheet.checked.insert(sheet.checked.end(), {"deepest cut into the design: " + format_number(proof.gouge.amount, 3) + " mm (limit " + format_number(proof.settings.gouge_limit, 3) + " mm)",
                   "most wood left where the cutter reaches: " + format_number(proof.leftover.amount, 3) + " mm",
                   "no wood at rapid: as planned, off centre, bowed, oversize",
                   "sha256 of the checked text: " + proof.text_sha256, how_to_sum()});
  for (const Diagnostic& note : turning.notes)
    if (note.id == "job.beside-shank") sheet.warnings.push_back(note.message);
  for (const proof::Finding& finding : proof.findings) sheet.warnings.push_back(finding.message);
  return program::setup_text(sheet, request.machine, job.sheet.settings().lengths);
}

}  // namespace pommel::job
