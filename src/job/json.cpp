#include <nlohmann/json.hpp>

#include "job/job.h"

namespace pommel::job {
namespace {

using Json = nlohmann::ordered_json;

std::string dumped(const Json& json) { return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n"; }

const char* word(Severity severity) {
  return severity == Severity::error ? "error" : severity == Severity::warning ? "warning" : "note";
}

Json of(const Diagnostic& what) {
  return {{"severity", word(what.severity)}, {"id", what.id}, {"message", what.message}, {"remedy", what.remedy},
          {"file", what.place.file}, {"line", what.place.line}, {"column", what.place.column}, {"read", what.read}};
}

Json of(const sheet::Value& value) {
  switch (value.kind().form) {
    case sheet::Form::number: return value.number();
    case sheet::Form::yes_no: return value.yes();
    case sheet::Form::choice:
    case sheet::Form::text: return value.words();
  }
  return nullptr;
}

Json of(const proof::Spot& spot) {
  return {{"mm", spot.amount}, {"x", spot.x}, {"degrees", spot.degrees}, {"file", spot.file}, {"line", spot.line}, {"stage", spot.stage}, {"element", spot.element}};
}

Json of(const proof::Patch& patch) {
  return {{"x0", patch.x0}, {"x1", patch.x1}, {"all_round", patch.all_round}, {"degrees0", patch.degrees0}, {"degrees1", patch.degrees1},
          {"element", patch.element}, {"worst", of(patch.worst)}};
}

Json of(const proof::Proof& proof) {
  Json out;
  out["passed"] = proof.passed();
  out["text_sha256"] = proof.text_sha256;
  out["file"] = proof.file, out["files"] = proof.files;  // of texts that cut one piece in turn: which, from 0, and how many
  out["cutter"] = proof.cutter;
  out["gouge_limit_mm"] = proof.settings.gouge_limit;
  out["gouge"] = of(proof.gouge);
  out["leftover"] = of(proof.leftover);
  out["greatest_depth_mm"] = proof.greatest_depth;
  out["moves"] = proof.moves;
  out["minutes"] = proof.minutes();
  out["findings"] = Json::array();
  for (const proof::Finding& finding : proof.findings)
    out["findings"].push_back({{"severity", word(finding.severity)}, {"id", finding.id}, {"message", finding.message}, {"remedy", finding.remedy},
                               {"file", finding.file}, {"line", finding.line}, {"stage", finding.stage}});
  out["hand_work"] = Json::array();
  for (const proof::Patch& patch : proof.hand_work) out["hand_work"].push_back(of(patch));
  out["after"] = Json::array();  // of several cutters: what stood when each was done
  for (const proof::AfterCutter& after : proof.after)
    out["after"].push_back({{"cutter", after.cutter}, {"stands", of(after.stands)}});
  out["joints"] = Json::array();
  for (const proof::JointCheck& joint : proof.joints)
    out["joints"].push_back({{"id", joint.id}, {"touched", joint.touched}, {"too_deep_mm", joint.too_deep}, {"left_mm", joint.left}, {"corners_mm", joint.corners}});
  out["blanks"] = Json::array();
  for (const proof::BlankRun& run : proof.blanks)
    out["blanks"].push_back({{"name", run.name}, {"rapids_in_wood", run.rapids_in_wood}, {"shank_in_wood", run.shank_in_wood}});
  return out;
}

Json of(const sheet::Sheet& sheet) {
  Json out;
  out["columns"] = Json::array();
  for (std::size_t column = 0; column < sheet.column_count(); ++column) {
    Json one;
    one["name"] = sheet.column_name(column);
    for (const auto& [key, names] : {std::pair{"measures", sheet.parameters()}, std::pair{"outcomes", sheet.outcomes()}}) {
      Json& rows = one[key] = Json::object();
      for (const std::string& name : names) {
        const sheet::Value* value = sheet.value(name, column);
        rows[name] = value ? of(*value) : Json(nullptr);
      }
    }
    out["columns"].push_back(std::move(one));
  }
  return out;
}

Json of(const quote::Quote& quote) {
  Json out;
  out["currency"] = quote.currency;
  out["confirmed"] = quote.confirmed;
  out["lines"] = Json::array();
  for (const quote::Line& line : quote.lines) out["lines"].push_back({{"group", line.group}, {"text", line.text}, {"basis", line.basis}, {"cents", line.amount.cents}});
  out["cost_cents"] = quote.cost.cents;
  out["profit_cents"] = quote.profit.cents;
  out["price_cents"] = quote.price.cents;
  out["tax_cents"] = quote.tax.cents;
  out["total_cents"] = quote.total.cents;
  out["deposit_cents"] = quote.deposit.cents;
  return out;
}

// What is cut by which program, and what is left to the bench with the reason's id.
Json joints_of(const Job& job, std::size_t i) {
  const JointWork& work = job.order.joints[i];
  Json out = {{"piece", piece_name(job.order, work.kind)}, {"members", job.order.made.set.jointed_kinds[work.kind].members}, {"minutes", work.plan.minutes}};
  out["cuts"] = Json::array();
  for (const mill::JointCut& cut : work.plan.cuts) out["cuts"].push_back({{"joint", cut.joint}, {"pocket", cut.pocket}, {"cutter", cut.cutter}});
  out["bench"] = Json::array();
  for (const mill::BenchJoint& left : work.plan.bench) out["bench"].push_back({{"joint", left.joint}, {"id", left.why.id}, {"why", left.why.message}});
  out["programs"] = Json::array();
  if (i >= job.joint_programs.size()) return out;
  for (std::size_t file = 0; file < job.joint_programs[i].size(); ++file)
    out["programs"].push_back({{"name", joint_program_name(job, i, file)}, {"proof", of(job.joint_programs[i][file].proof)}});
  return out;
}

Json of(const shape::Mortise& mortise) {
  return {{"id", mortise.id}, {"mate", mortise.mate}, {"face_degrees", mortise.phi * 57.29577951308232}, {"x0", mortise.x0}, {"x1", mortise.x1},
          {"t0", mortise.t0}, {"t1", mortise.t1}, {"depth", mortise.depth}, {"corner_radius", mortise.corner_radius},
          {"haunch_length", mortise.haunch_length}, {"haunch_depth", mortise.haunch_depth}};
}

Json of(const std::vector<shape::ElementMark>& elements) {
  Json out = Json::array();
  for (const shape::ElementMark& mark : elements)
    out.push_back({{"kind", mark.kind}, {"label", mark.label}, {"x0", mark.x0}, {"x1", mark.x1}, {"d_start", mark.d_start}, {"d_end", mark.d_end}});
  return out;
}

Json of(const stock::TurnedBlanks& turned) {
  const shape::Blank& blank = turned.plan.blank;
  return {{"size", blank.size}, {"x0", blank.x0}, {"x1", blank.x1}, {"length", blank.length()}, {"laminations", turned.plan.laminations},
          {"board_feet_each", turned.plan.board_feet}};
}

Json of(const stock::CuttingPlan& plan) {
  Json out = {{"stock", plan.stock_id}, {"cost_cents", plan.cost.cents}, {"bound_cents", plan.bound.cents}, {"proven", plan.proven}, {"used", plan.used()}, {"kerf", plan.kerf}, {"boards", Json::array()}};
  for (const stock::PlannedBoard& layout : plan.layouts) {
    const stock::PlanBoards& board = plan.boards[layout.boards];
    Json pieces = Json::array();
    for (const stock::PlacedPiece& piece : layout.pieces)
      pieces.push_back({{"piece", plan.pieces[piece.piece].label}, {"x", piece.x}, {"y", piece.y}, {"length", piece.length}, {"width", piece.width}});
    out["boards"].push_back({{"number", layout.number}, {"name", board.name}, {"length", board.length}, {"width", board.width}, {"to_buy", board.for_sale}, {"rip_first", layout.rip_first},
                             {"pieces", std::move(pieces)}});
  }
  return out;
}

Json of(const family::Made& made) {
  const frame::Set& set = made.set;
  Json out;
  out["members"] = Json::array();
  for (const frame::Member& member : set.members) {
    Json mortises = Json::array();
    for (const shape::Mortise& mortise : member.part.mortises) mortises.push_back(of(mortise));
    Json one = {{"id", member.id}, {"place", member.place}, {"hand", member.hand}, {"spare", member.spare},
                              {"turned_kind", member.turned_kind}, {"jointed_kind", member.jointed_kind}, {"mortises", std::move(mortises)}};
    for (const shape::Bore& bore : member.part.bores)
      one["bores"].push_back({{"id", bore.id}, {"mate", bore.mate}, {"face_degrees", bore.phi * 57.29577951308232}, {"x", bore.x}, {"t", bore.t}, {"diameter", bore.diameter},
                              {"depth", bore.depth}, {"seat_diameter", bore.seat_diameter}, {"seat_depth", bore.seat_depth}});
    for (const shape::AxialBore& bore : member.part.axial_bores)
      one["axial_bores"].push_back({{"id", bore.id}, {"diameter", bore.diameter}, {"x0", bore.x0}, {"x1", bore.x1}});
    out["members"].push_back(std::move(one));
  }
  if (made.pieces.size() == 1) out["elements"] = of(made.pieces.front().part.elements);
  else
    for (const family::MadePiece& piece : made.pieces)
      out["pieces"].push_back({{"id", piece.wanted.id}, {"length", piece.part.length}, {"elements", of(piece.part.elements)}});
  out["rails"] = Json::array();
  for (const frame::Rail& rail : set.rails)
    out["rails"].push_back({{"id", rail.id}, {"quantity", rail.quantity}, {"shoulder_length", rail.shoulder_length}, {"overall_length", rail.overall_length},
                            {"depth", rail.depth}, {"thickness", rail.thickness}, {"tenon_length", rail.tenon_length}, {"tenon_thickness", rail.tenon_thickness}});
  out["distinct_turnings"] = set.turned_kinds.size();
  out["distinct_pieces"] = set.jointed_kinds.size();
  return out;
}

}  // namespace

std::string job_json(const Job& job) {
  Json out;
  if (job.loaded.order) out["order"] = {{"number", job.loaded.order->number}, {"name", job.loaded.order->name}, {"date", job.loaded.order->date}};
  out["design"] = job.loaded.design.name;
  out["sheet"] = of(job.sheet);
  out["set"] = of(job.order.made);
  if (job.order.blanks.size() == 1) out["blank"] = of(job.order.blanks.front());
  else
    for (std::size_t i = 0; i < job.order.blanks.size(); ++i) out["blanks"][job.order.made.pieces[i].wanted.id] = of(job.order.blanks[i]);
  out["cutting_plans"] = Json::array();
  for (const stock::CuttingPlan& plan : job.order.cuts.plans) out["cutting_plans"].push_back(of(plan));
  out["programs"] = Json::array();
  for (std::size_t i = 0; i < job.programs.size(); ++i) {
    Json hand = Json::array();
    for (const HandPlace& place : job.order.turnings[i]->hand_work)
      hand.push_back({{"element", place.element}, {"x0", place.x0}, {"x1", place.x1}, {"depth", place.depth}});
    Json files = Json::array();
    for (std::size_t file = 0; file < job.programs[i].size(); ++file) files.push_back({{"name", program_name(job, i, file)}, {"text_sha256", job.programs[i][file].proof.text_sha256}});
    out["programs"].push_back({{"name", program_name(job, i, 0)}, {"files", std::move(files)}, {"minutes", job.order.turnings[i]->minutes}, {"hand_work", std::move(hand)},
                               {"proof", of(job.programs[i].front().proof)}});
  }
  out["joints"] = Json::array();
  for (std::size_t i = 0; i < job.order.joints.size(); ++i) out["joints"].push_back(joints_of(job, i));
  out["quote"] = of(job.order.quote);
  out["catalogue_quote"] = of(job.catalogue.quote);
  return dumped(out);
}

std::string sheet_json(const sheet::Sheet& sheet) { return dumped(of(sheet)); }

std::string diagnostics_json(const std::vector<Diagnostic>& found) {
  Json out = Json::array();
  for (const Diagnostic& what : found) out.push_back(of(what));
  return dumped(out);
}

std::string proof_json(const proof::Proof& proof) { return dumped(of(proof)); }

}  // namespace pommel::job
