#include "job/job.h"

#include <algorithm>
#include <functional>
#include <future>

#include "base/number.h"
#include "base/text.h"
#include "job/assembly.h"
#include "job/stage.h"
#include "shop/read.h"
#include "solid/mesh.h"
#include "solid/solid.h"
#include "solid/step.h"

namespace pommel::job {
namespace {

constexpr double kMeshDeflection = 0.1;  ///< mm: STL chords, below what sanding takes; 0.05 takes twice as long and is there for the asking

// `name`: of a program by its number.
Failure not_proved(const proof::Proof& proof, const std::function<std::string(std::size_t file)>& name) {
  Failure failure = fail("job.not-proved", "the check of '" + name(proof.file) + "' found a fault; nothing is released", "see the reasons below");
  for (const proof::Finding& finding : proof.findings) {
    if (finding.severity != Severity::error) continue;
    const Failure one = fail(finding.id, finding.message, finding.remedy, Place{name(finding.file), finding.line, 0});
    failure.reasons.push_back(one.reasons.front());
  }
  return failure;
}

const family::MadePiece& turned_piece(const Job& job, std::size_t turning) { return job.order.made.pieces[job.order.piece_of_turning(turning)]; }

// What stands at the head of every program.
program::Header header_of(const Job& job) {
  program::Header header;
  if (job.loaded.order) {
    header.date = job.loaded.order->date;
    header.notes.push_back("order " + job.loaded.order->number + ": " + job.loaded.order->name);
  }
  return header;
}

program::Header turning_header_of(const Job& job, std::size_t i, std::size_t file) {
  const std::vector<motion::Path>& paths = job.order.turnings[i]->paths;
  const shop::Machine& machine = job.order.requests[i].machine;
  program::Header header = header_of(job);
  header.program = program_name(job, i, file);
  header.piece = job.loaded.design.name + ", " + turned_piece(job, i).wanted.label + ", turned";
  header.cutter = paths[paths_in_file(paths, machine, file).first].cutter;
  if (const std::size_t files = file_count(paths, machine); files > 1) {
    header.notes.push_back("file " + std::to_string(file + 1) + " of " + std::to_string(files) + ", one for each cutter");
    if (file > 0) header.notes.push_back("run it after " + program_name(job, i, file - 1) + ", without taking the piece off its centres");
  }
  return header;
}

Result<Done> prove_programs(Job& job, const Options& options) {
  for (std::size_t i = 0; i < job.order.turnings.size(); ++i) {
    const Turning& turning = *job.order.turnings[i];
    std::vector<program::Header> headers;
    for (std::size_t file = 0; file < file_count(turning.paths, job.order.requests[i].machine); ++file) headers.push_back(turning_header_of(job, i, file));
    auto programs = write_and_prove(job.order.requests[i], turning, headers, options.stop);
    if (!programs.ok()) return programs.failure();
    // the files share one judgement
    if (!programs->front().proof.passed()) return not_proved(programs->front().proof, [&](std::size_t file) { return program_name(job, i, file); });
    job.programs.push_back(std::move(programs).value());
  }
  return Done{};
}

program::Header joint_header_of(const Job& job, std::size_t work, std::size_t file) {
  const JointWork& joints = job.order.joints[work];
  program::Header header = header_of(job);
  header.program = joint_program_name(job, work, file);
  header.piece = job.loaded.design.name + ", " + turned_piece(job, joints.turning).wanted.label + ", joints of " + listed(job.order.made.set.jointed_kinds[joints.kind].members);
  header.notes.push_back("run it after " + program_name(job, joints.turning, file_count(job.order.turnings[joints.turning]->paths, job.order.requests[joints.turning].machine) - 1) + ", without taking the piece off its centres");
  return header;
}

Result<Done> prove_joint_programs(Job& job, const Options& options) {
  for (std::size_t i = 0; i < job.order.joints.size(); ++i) {
    const JointWork& work = job.order.joints[i];
    const TurningRequest& turning = job.order.requests[work.turning];
    std::vector<program::Header> headers;
    for (std::size_t file = 0; file < program_count(work, turning.machine); ++file) headers.push_back(joint_header_of(job, i, file));
    auto programs = write_and_prove(work, turning, headers, options.stop);
    if (!programs.ok()) {
      Failure failure = programs.failure();
      failure.reasons.front().remedy += (failure.reasons.front().remedy.empty() ? "" : "; ") + std::string("or leave the joints to the bench: joints: bench in the order");
      return failure;
    }
    for (std::size_t file = 0; file < programs->size(); ++file)
      if (!(*programs)[file].proof.passed()) return not_proved((*programs)[file].proof, [&](std::size_t) { return joint_program_name(job, i, file); });
    job.joint_programs.push_back(std::move(programs).value());
  }
  return Done{};
}

solid::Stamp stamp_of(const Job& job, const std::string& file) {
  const std::string date = job.loaded.order && !job.loaded.order->date.empty() ? job.loaded.order->date : "1970-01-01";
  return {file, date + "T00:00:00", "", "", "pommel"};
}

Result<Done> add_solid(Job& job, const solid::Solid& solid, const std::string& file, const std::string& name, std::stop_token stop) {
  auto step = solid::write_step({{name, solid}}, stamp_of(job, file + ".step"));
  if (!step.ok()) return step.failure();
  const auto mesh = solid::mesh(solid, kMeshDeflection, 0.35, stop);
  if (!mesh.ok()) return mesh.failure();
  job.solids.push_back({"solids/" + file + ".step", std::move(step).value()});
  job.solids.push_back({"solids/" + file + ".stl", solid::write_stl(*mesh, name)});
  return Done{};
}

// The whole as it stands, for a look: coarser triangles than of its pieces.
constexpr double kWholeDeflection = 0.3, kWholeTurn = 0.5;  // mm, radians

Result<std::string> assembled_stl(const std::vector<solid::NamedSolid>& pieces, const std::string& title, double deflection, std::stop_token stop) {
  std::vector<solid::Solid> solids;
  for (const solid::NamedSolid& piece : pieces) solids.push_back(piece.solid);
  const auto all = solid::mesh_all(solids, deflection, kWholeTurn, stop);
  if (!all.ok()) return all.failure();
  return solid::write_stl(*all, title);
}

Result<Done> add_assembly(Job& job, const std::vector<solid::Solid>& kinds, std::stop_token stop) {
  const auto pieces = assembled(job.order, kinds, stop);
  if (!pieces.ok()) return pieces.failure();
  auto step = solid::write_step(*pieces, stamp_of(job, "assembled.step"));
  if (!step.ok()) return step.failure();
  auto stl = assembled_stl(*pieces, job.loaded.design.name + ", assembled", kWholeDeflection, stop);
  if (!stl.ok()) return stl.failure();
  job.solids.push_back({"solids/assembled.step", std::move(step).value()});
  job.solids.push_back({"solids/assembled.stl", std::move(stl).value()});
  return Done{};
}

Result<Done> make_solids(Job& job, const Options& options) {
  const frame::Set& set = job.order.made.set;
  const auto turnings = turned_solids(job.order, options.stop);
  if (!turnings.ok()) return turnings.failure();
  for (std::size_t i = 0; i < turnings->size(); ++i) {
    const frame::WantedPiece& wanted = job.order.made.pieces[i].wanted;
    if (const auto done = add_solid(job, (*turnings)[i], wanted.id + "-turned", wanted.label + ", turned", options.stop); !done.ok()) return done;
  }
  const auto kinds = kind_solids(job.order, *turnings, options.stop);
  if (!kinds.ok()) return kinds.failure();
  for (std::size_t kind = 0; kind < kinds->size(); ++kind)
    if (has_joints(first_of_kind(set, kind).part))  // else it is the turned piece
      if (const auto done = add_solid(job, (*kinds)[kind], piece_name(job.order, kind), set.jointed_kinds[kind].label, options.stop); !done.ok()) return done;
  return add_assembly(job, *kinds, options.stop);
}

// The programs' check and the solids ask nothing of each other: the solids are built by a second thread meanwhile. They write
// different parts of the job, and a failure of the check is told before one of the solids, so the result is the same as one after the other.
Result<Done> check_and_build(Job& job, const Options& options, const std::string& of) {
  std::stop_source stop;
  const std::stop_callback passed_on(options.stop, [&stop] { stop.request_stop(); });
  Options beside;
  beside.stop = stop.get_token();
  std::vector<StageTime> times;
  beside.times = &times;
  auto building = std::async(std::launch::async | std::launch::deferred, [&] {
    const Stage stage(beside, "solids", of);
    return make_solids(job, beside);
  });
  Result<Done> checked = [&] {
    const Stage stage(options, "check", of);
    if (const auto done = prove_programs(job, options); !done.ok()) return done;
    return prove_joint_programs(job, options);
  }();
  if (!checked.ok()) stop.request_stop();
  else if (options.progress) options.progress("solids", of);
  const Result<Done> built = building.get();
  if (options.times) options.times->insert(options.times->end(), times.begin(), times.end());
  return checked.ok() ? built : checked;
}

Result<Done> hold_checks(Job& job) {
  Failure failure;
  job.checks = job.sheet.checks(job.sheet.column_count() - 1);
  for (const sheet::CheckResult& check : job.checks)
    if (check.stop && check.verdict != sheet::Verdict::holds)
      failure.reasons.push_back(check.said ? *check.said
                                           : fail("job.check", "'" + check.name + "' could not be checked: " + check.waiting_for + " is not known").reasons.front());
  if (!failure.reasons.empty()) return failure;
  return Done{};
}

// A first walk through both columns costs milliseconds: what cannot be made is said before the mill works for it. Both columns
// mostly fail alike, perhaps with other numbers; then it is said once.
Result<Done> look_first(const Job& job, const Options& options) {
  Options quick;
  quick.stop = options.stop;
  Failure early;
  for (std::size_t column = 0; column < job.sheet.column_count(); ++column) {
    const auto made = run_to_stock(job.loaded, job.sheet, column, quick);
    if (made.ok()) continue;
    const std::vector<Diagnostic> told = early.reasons;
    for (const Diagnostic& reason : made.reasons()) {
      const auto same = [&](const Diagnostic& other) { return other.id == reason.id && other.place == reason.place; };
      if (std::none_of(told.begin(), told.end(), same)) early.reasons.push_back(reason);
    }
  }
  if (!early.reasons.empty()) return early;
  return Done{};
}

}  // namespace

Result<Job> run(Loaded loaded, const std::vector<std::pair<std::string, sheet::Entry>>& extra, const Options& options) {
  Job job;
  job.loaded = std::move(loaded);
  Sink sink;
  job.sheet = family::make_sheet(job.loaded.family, job.loaded.design, job.loaded.order ? &*job.loaded.order : nullptr, job.loaded.shop, extra, sink);
  if (sink.has_errors()) return Failure(sink.all());
  TurningMemo memo;
  Options kept = options;
  if (!kept.memo) kept.memo = &memo;

  const std::size_t wanted = job.sheet.column_count() - 1;
  if (const auto done = look_first(job, options); !done.ok()) return done.failure();
  auto catalogue = run_column(job.loaded, job.sheet, family::kCatalogue, kept);
  if (!catalogue.ok()) return catalogue.failure();
  job.catalogue = std::move(catalogue).value();
  auto order = wanted == family::kCatalogue ? Result<Column>(job.catalogue) : run_column(job.loaded, job.sheet, wanted, kept);
  if (!order.ok()) return order.failure();
  job.order = std::move(order).value();
  for (const auto& [column, made] : {std::pair{family::kCatalogue, &job.catalogue}, std::pair{wanted, &job.order}})
    if (const auto set = job.sheet.set_outcomes(column, made->outcomes); !set.ok()) return set.failure();
  if (const auto held = hold_checks(job); !held.ok()) return held.failure();

  if (const auto done = check_and_build(job, kept, job.sheet.column_name(wanted)); !done.ok()) return done.failure();
  return job;
}

namespace {

Result<std::string> assembled_bytes(const Loaded& loaded, const Column& column, const std::string& file_name, bool stl, double deflection, std::stop_token stop) {
  const auto turnings = turned_solids(column, stop);
  if (!turnings.ok()) return turnings.failure();
  const auto kinds = kind_solids(column, *turnings, stop);
  if (!kinds.ok()) return kinds.failure();
  const auto pieces = assembled(column, *kinds, stop);
  if (!pieces.ok()) return pieces.failure();
  if (stl) return assembled_stl(*pieces, loaded.design.name + ", assembled", deflection, stop);
  return solid::write_step(*pieces, {file_name, "1970-01-01T00:00:00", "", "", "pommel"});
}

}  // namespace

Result<std::string> solid_bytes(const Loaded& loaded, const Column& column, const std::string& piece, const std::string& file_name, bool stl,
                                double deflection, std::stop_token stop) {
  const frame::Set& set = column.made.set;
  if (piece == "assembled") return assembled_bytes(loaded, column, file_name, stl, deflection, stop);
  // "turned" where there is one piece, else "head-post-turned"
  const auto turned = std::find_if(column.made.pieces.begin(), column.made.pieces.end(), [&](const family::MadePiece& one) {
    return piece == (column.made.pieces.size() == 1 ? "turned" : one.wanted.id + "-turned");
  });
  const bool is_turned = turned != column.made.pieces.end();
  const auto member = std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& m) { return m.id == piece; });
  if (!is_turned && member == set.members.end()) {
    std::vector<std::string> known;
    for (const family::MadePiece& one : column.made.pieces) known.push_back(column.made.pieces.size() == 1 ? "turned" : one.wanted.id + "-turned");
    for (const frame::Member& m : set.members) known.push_back(m.id);
    known.push_back("assembled");
    const std::string near = nearest_name(piece, known);
    return fail("job.unknown-piece", "there is no piece '" + piece + "'", near.empty() ? "known: " + listed(known) : "did you mean '" + near + "'?");
  }
  const auto made = is_turned ? solid::turned(turned->part, stop) : solid::jointed(member->part, stop);
  if (!made.ok()) return made.failure();
  const std::string name = !is_turned ? member->label : loaded.design.name + (column.made.pieces.size() == 1 ? "" : ", " + turned->wanted.label) + ", turned";
  if (!stl) return solid::write_step({{name, *made}}, {file_name, "1970-01-01T00:00:00", "", "", "pommel"});
  const auto mesh = solid::mesh(*made, deflection, 0.35, stop);
  if (!mesh.ok()) return mesh.failure();
  return solid::write_stl(*mesh, name);
}

void check_family(const FileSystem& files, const designs::House& house, const std::filesystem::path& file, const std::string& text, Sink& sink) {
  const auto family = family::read_family(text, file.generic_string(), file.stem().string(), sink);
  const shop::Shop shop = shop::read_shop(files, house.catalog / "shop", sink, [](const auto&, const auto&) {});
  if (sink.has_errors()) return;
  family::Design plain;
  plain.name = family.name;
  const auto sheet = family::make_sheet(family, plain, nullptr, shop, {}, sink);
  if (sink.has_errors()) return;
  if (const auto made = family::make(family, plain, sheet, family::kCatalogue, shop, {}); !made.ok()) sink.add(made.reasons());
}

namespace {

// "leg-turning.nc"; of several files, one a cutter, "leg-turning-2-ball-8.nc".
std::string named_file(const std::string& name, std::size_t file, std::size_t files, std::string cutter) {
  if (files == 1) return name + ".nc";
  std::replace(cutter.begin(), cutter.end(), '/', '-');  // "1/4-flat" is a cutter and no folder
  return name + "-" + std::to_string(file + 1) + "-" + cutter + ".nc";
}

}  // namespace

std::string turning_name(const Job& job, std::size_t i) {
  const std::string& id = turned_piece(job, i).wanted.id;
  std::size_t alike = 0;
  for (std::size_t other = 0; other < job.order.turnings.size(); ++other) alike += turned_piece(job, other).wanted.id == id ? 1 : 0;
  return id + "-turning" + (alike == 1 ? "" : "-" + std::to_string(i + 1));
}

std::string program_name(const Job& job, std::size_t i, std::size_t file) {
  const std::vector<motion::Path>& paths = job.order.turnings[i]->paths;
  return named_file(turning_name(job, i), file, file_count(paths, job.order.requests[i].machine), paths[file].cutter);
}

std::string programs_in_words(const Job& job, std::size_t i) {
  std::string out;
  for (std::size_t file = 0; file < file_count(job.order.turnings[i]->paths, job.order.requests[i].machine); ++file)
    out += (file == 0 ? "" : ", then ") + program_name(job, i, file);
  return out;
}

std::string piece_name(const Column& column, std::size_t kind) {
  const frame::Set& set = column.made.set;
  return column.made.pieces[first_of_kind(set, kind).piece].wanted.id + "-piece-" + std::to_string(kind + 1);
}

std::string joint_program_name(const Job& job, std::size_t i, std::size_t file) {
  const JointWork& work = job.order.joints[i];
  return named_file(piece_name(job.order, work.kind) + "-joints", file, program_count(work, job.order.requests[work.turning].machine), work.cutters[file].id);
}

}  // namespace pommel::job
