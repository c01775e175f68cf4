#include "job/turning.h"

#include <algorithm>

#include "base/number.h"
#include "job/stated.h"
#include "mill/feed.h"
#include "mill/finish.h"
#include "mill/reach.h"
#include "mill/rough.h"
#include "mill/time.h"

namespace pommel::job {
namespace {

constexpr double kCuspSlack = 0.01;  // mm that the check lets pass over the wished ridge, for its own error and the passes'

// Crests that stand less than a millimetre above their valleys do not split a line: each stretch costs a way back at the clear height.
mill::FinishSettings finish_settings(const TurningRequest& request) {
  mill::FinishSettings out;
  out.cusp = request.cusp, out.stepover = request.stepover;
  out.along = 0.005, out.prominence = 1.0, out.plunge_share = 0.4;
  out.way = request.way, out.climb = request.climb_finish;
  out.widest = request.widest(), out.keep_wood = request.fine.has_value();
  return out;
}

// Exact text of every figure that decides a plan, one after the other.
class Key {
 public:
  Key& operator<<(double value) { return text_ += format_exact(value) + ";", *this; }
  Key& operator<<(const std::string& words) { return text_ += std::to_string(words.size()) + ":" + words + ";", *this; }
  std::string text() const { return text_; }

 private:
  std::string text_;
};

void add_machine(Key& key, const shop::Machine& m) {
  key << static_cast<double>(m.rotary) << m.unrolled_diameter << m.rotary_sense << m.head_at_chuck << m.x_towards_foot << static_cast<double>(m.feed) << m.x_min << m.x_max
      << m.z_min << m.z_max << m.rotary_limit_turns << m.rapid_x << m.rapid_z << m.rapid_rotary << m.feed_max << m.accel_x << m.accel_z << m.accel_rotary << m.max_rpm
      << m.blocks_per_second << m.max_swing << m.max_between_centres << m.jaw_swing << m.tailstock_top << m.chuck_grip << m.centre_grip << m.keep_out;
}

void add_cutter(Key& key, const shop::Cutter* c) {
  if (!c) return void(key << std::string("none"));
  key << c->id << c->label << c->diameter << c->flute_length << c->shank_diameter << c->shank_length << c->collet_diameter << c->collet_length << c->flutes << c->rpm << c->chip_load
      << c->max_depth_of_cut << c->ramp << static_cast<double>(c->form) << c->tip_radius << c->half_angle << c->tip_flat << c->holder_diameter << c->holder_length;
}

void add_stretches(std::vector<PassStretch>& out, const motion::Path& path, std::size_t index, const shop::Machine& machine) {
  std::vector<double> at{0};
  motion::Position from = path.start;
  for (const motion::Move& move : path.moves) {
    at.push_back(at.back() + (move.rapid ? mill::rapid_minutes(from, move.to, machine) : move.minutes));
    from = move.to;
  }
  for (const motion::Stage& stage : path.stages) out.push_back({stage.name, at[stage.first + stage.count] - at[stage.first], index, stage.first});
}

// The piece as it is held when all is cut: where the waste was turned, it is as thin as the passes leave it.
rules::Stiffness stiffness_of(const TurningRequest& request, const Turning& turning) {
  const shop::Machine& m = request.machine;
  const double head_grip = m.head_at_chuck ? m.chuck_grip : m.centre_grip, foot_grip = m.head_at_chuck ? m.centre_grip : m.chuck_grip;
  rules::Holding held;
  held.head_face = std::min(0.0, request.blank.x0 + head_grip);
  held.foot_face = std::max(request.turned.length, request.blank.x1 - foot_grip);
  if (turning.witness) {  // it stands in waste as thick as the blank, which is no stub
    const double thick = turning.witness->x1 - turning.witness->x0;
    if (m.head_at_chuck) held.head_face = std::min(0.0, held.head_face + thick);
    else held.foot_face = std::max(request.turned.length, held.foot_face - thick);
  }
  held.chuck_at_head = m.head_at_chuck;
  held.head_stub = mill::stub_diameter(request.turned, true, request.widest());
  held.foot_stub = mill::stub_diameter(request.turned, false, request.widest());
  rules::Load load;
  load.teeth_per_second = mill::revolutions(request.cutter, m) * request.cutter.flutes / 60;
  load.turns_per_second = m.rapid_rotary / 60;
  return rules::stiffness(request.turned, held, *request.wood, load);
}

// What is said of an end whose stub is too thin: an error, unless it was asked for.
std::optional<Diagnostic> thin_stub(const TurningRequest& request, bool at_head, double needed) {
  const double stub = mill::stub_diameter(request.turned, at_head, request.widest());
  if (stub <= 0 || stub >= needed - 1e-9) return std::nullopt;
  const std::string end = at_head ? "head" : "foot";
  Diagnostic said = fail("job.thin-stub", "the waste beside the turned " + end + " would be " + format_number(stub, 1) + " mm thick, and a stub should keep " + format_number(needed, 1) + " mm",
                         request.thin_stubs ? "take light passes there, or leave the last of that end to the hand"
                                            : "make the " + end + " thicker, or leave it square; or say thin_stubs: yes in the order, and take light passes there").reasons.front();
  if (request.thin_stubs) said.severity = Severity::warning;
  return said;
}

// The stubs that tie the piece to its waste: thin ones that nobody asked for are refused.
Result<Done> judge_stubs(const TurningRequest& request, Turning& out) {
  Failure refused;
  for (const bool at_head : {true, false}) {
    auto said = thin_stub(request, at_head, out.stiffness->stub);
    if (said) (said->severity == Severity::error ? refused.reasons : out.notes).push_back(std::move(*said));
  }
  if (!refused.reasons.empty()) return refused;
  return Done{};
}

void add_notes(const TurningRequest& request, Turning& out) {
  const auto note = [&](const std::string& id, Severity severity, const std::string& message, const std::string& remedy) {
    Diagnostic said = fail(id, message, remedy).reasons.front();
    said.severity = severity;
    out.notes.push_back(std::move(said));
  };
  const double taken = request.machine.blocks_per_second;
  if (taken > 0 && out.blocks.most_a_second > taken) {
    note("job.blocks", Severity::warning,
         "the program asks for " + format_number(out.blocks.most_a_second, 0) + " lines a second where the control takes " + format_number(taken, 0) + ": the cutter slows down there",
         "the time counts it; a coarser tolerance would need fewer lines");
  }
  if (out.stiffness) out.notes.insert(out.notes.end(), out.stiffness->warnings.begin(), out.stiffness->warnings.end());
}

/// Plans the passes of a turning, cutter by cutter; what one leaves the next one finds.
class Passes {
 public:
  Passes(const TurningRequest& request, mill::LineMemo* memo, std::stop_token stop) : request_(request), stop_(stop), finishing_(finish_settings(request)) {
    roughing_.memo = finishing_.memo = memo;
    roughing_.way = request.way, roughing_.climb = request.climb_rough;
    roughing_.widest = request.widest();
  }

  Result<Turning> run() {
    for (auto pass : {&Passes::rough, &Passes::finish, &Passes::fine, &Passes::witness}) {
      if (auto done = (this->*pass)(); !done.ok()) return done.failure();
    }
    return std::move(out_);
  }

 private:
  Result<mill::Rough> roughed(const shop::Cutter& cutter, const std::string& name, const mill::Earlier* earlier) {
    roughing_.name = name;
    return mill::plan_roughing(request_.turned, request_.blank, request_.tolerance, cutter, request_.machine, roughing_, stop_, earlier);
  }

  Result<Done> rough() {
    auto rough = roughed(request_.rough.value_or(request_.cutter), "rough", nullptr);
    if (!rough.ok()) return rough.failure();
    add(std::move(rough->path));
    wood_ = std::move(rough->wood);
    return Done{};
  }

  Result<Done> finish() {
    if (request_.rough) {
      const mill::Earlier earlier{*request_.rough, roughing_.allowance, &*wood_};
      auto rest = roughed(request_.cutter, "hollows", &earlier);
      if (!rest.ok()) return rest.failure();
      add(std::move(rest->path));
      wood_ = std::move(rest->wood);
    }
    auto finish = mill::plan(request_.turned, request_.blank, request_.tolerance, request_.cutter, request_.machine, finishing_, stop_, &*wood_);
    if (!finish.ok()) return finish.failure();
    add(std::move(finish->path));
    say_where_not_round(request_.cutter, finish->stretches);
    out_.clear_height = finish->clear_height;
    wood_ = std::move(finish->wood);
    return Done{};
  }

  Result<Done> fine() {
    if (!request_.fine) return Done{};
    const std::size_t before = out_.paths.size();
    const mill::Earlier earlier{request_.cutter, 0, &*wood_};
    auto rest = roughed(*request_.fine, "fine, hollows", &earlier);
    if (!rest.ok()) return rest.failure();
    add(std::move(rest->path));
    const mill::Earlier then{request_.cutter, 0, &rest->wood};
    mill::FinishSettings how = finishing_;
    how.name = "fine";
    auto fine = mill::plan(request_.turned, request_.blank, request_.tolerance, *request_.fine, request_.machine, how, stop_, nullptr, &then);
    if (!fine.ok()) return fine.failure();
    add(std::move(fine->path));
    say_where_not_round(*request_.fine, fine->stretches);
    if (out_.paths.size() == before) {
      Diagnostic said = fail("job.nothing-fine", "the " + request_.fine->label + " has nothing to do: the " + request_.cutter.label + " leaves no wood that it could take", "leave `fine` out").reasons.front();
      said.severity = Severity::note;
      out_.notes.push_back(std::move(said));
    }
    return Done{};
  }

  // Planned last, since it keeps out of what the others touch; cut first.
  Result<Done> witness() {
    if (out_.paths.empty()) return Done{};
    auto witness = mill::plan_witness(request_.turned, request_.blank, request_.tolerance, request_.cutters(), request_.machine, out_.paths, request_.climb_rough, stop_);
    if (!witness.ok()) return witness.failure();
    if (!*witness) return Done{};
    motion::Path& first = out_.paths.front();
    mill::wind_on((*witness)->path, first.start.a, request_.machine);
    first = mill::joined((*witness)->path, first);
    out_.witness = (*witness)->flat;
    return Done{};
  }

  // A place that goes lengthwise for the shank's sake is said once.
  void say_where_not_round(const shop::Cutter& cutter, const std::vector<mill::Stretch>& stretches) {
    if (request_.way == mill::Way::lengthwise) return;
    for (const mill::Stretch& stretch : stretches) {
      if (!stretch.for_shank) continue;
      Diagnostic said = fail("job.beside-shank",
                             "the " + cutter.label + " goes lengthwise at x " + format_number(stretch.x0, 1) + " to " + format_number(stretch.x1, 1) + " mm: beside it wood stands higher than its flutes of " +
                                 format_number(cutter.flute_length, 1) + " mm reach, and going round its shank would rub",
                             "longer flutes would go round there; stay at the machine for those lines").reasons.front();
      said.severity = Severity::note;
      out_.notes.push_back(std::move(said));
    }
  }

  // Paths of one cutter become one.
  void add(motion::Path path) {
    if (path.moves.empty()) return;
    if (out_.paths.empty()) return out_.paths.push_back(std::move(path));
    motion::Path& last = out_.paths.back();
    mill::wind_on(path, last.moves.back().to.a, request_.machine);
    if (last.cutter == path.cutter) last = mill::joined(last, path);
    else out_.paths.push_back(std::move(path));
  }

  const TurningRequest& request_;
  std::stop_token stop_;
  mill::RoughSettings roughing_;
  mill::FinishSettings finishing_;
  std::optional<mill::Leftover> wood_;
  Turning out_;
};

// All but what the wood says of it.
Result<Turning> plan_motions(const TurningRequest& request, mill::LineMemo* memo, std::stop_token stop) {
  auto planned = Passes(request, memo, stop).run();
  if (!planned.ok()) return planned;
  Turning& out = *planned;
  const auto finest = request.fine && out.paths.back().cutter == request.fine->id ? *request.fine : request.cutter;
  const auto quirks = mill::quirks(request.turned, finest.diameter / 2);
  if (!quirks.ok()) return quirks.failure();
  for (std::size_t i = 0; i < out.paths.size(); ++i) {
    out.minutes += mill::minutes(out.paths[i], request.machine);
    add_stretches(out.stretches, out.paths[i], i, request.machine);
  }
  out.blocks = mill::blocks(out.paths, request.machine);
  for (const mill::Quirk& quirk : *quirks) out.hand_work.push_back({quirk.element, quirk.x0, quirk.x1, quirk.deepest});
  return planned;
}

Result<Done> add_what_the_wood_says(const TurningRequest& request, Turning& out) {
  if (request.wood) out.stiffness = stiffness_of(request, out);
  add_notes(request, out);
  return request.wood ? judge_stubs(request, out) : Done{};
}

}  // namespace

std::string TurningRequest::key() const {
  Key key;
  key << shape::dump(turned) << static_cast<double>(blank.section) << blank.size << blank.x0 << blank.x1 << blank.horn << blank.chuck_waste << blank.centre_waste
      << blank.flats_finished << tolerance.off_centre << tolerance.bow << tolerance.oversize;
  add_machine(key, machine);
  key << static_cast<double>(way) << cusp << stepover << static_cast<double>(climb_rough) << static_cast<double>(climb_finish);
  for (const shop::Cutter* one : {&cutter, rough ? &*rough : nullptr, fine ? &*fine : nullptr}) add_cutter(key, one);
  return key.text();
}

std::vector<shop::Cutter> TurningRequest::cutters() const {
  std::vector<shop::Cutter> out;
  if (rough) out.push_back(*rough);
  out.push_back(cutter);
  if (fine) out.push_back(*fine);
  return out;
}

double TurningRequest::agreed_cusp() const {
  double least = cutter.diameter / 2;
  if (fine) least = std::min(least, fine->diameter / 2);
  return (stepover > 0 ? stepover * stepover / (4 * least) : cusp) + kCuspSlack;
}

double TurningRequest::widest() const {
  double most = 0;
  for (const shop::Cutter& one : cutters()) most = std::max(most, one.diameter / 2);
  return most;
}

Result<Turning> plan_turning(const TurningRequest& request, std::stop_token stop) {
  auto planned = plan_motions(request, nullptr, stop);
  if (!planned.ok()) return planned;
  if (const auto said = add_what_the_wood_says(request, *planned); !said.ok()) return said.failure();
  return planned;
}

namespace {

// What an order can do about a text that the writer refuses.
Failure with_remedies(Failure failure) {
  for (Diagnostic& reason : failure.reasons)
    if (reason.id == "program.too-large") reason.remedy = "ask for a coarser `cusp` in the order, or take a larger ball: both need fewer lines; or state a larger file where the control takes it";
  return failure;
}

}  // namespace

bool file_a_cutter(const shop::Machine& machine) { return machine.file_a_cutter || machine.tool_change.empty(); }

std::size_t file_count(const std::vector<motion::Path>& paths, const shop::Machine& machine) {
  return file_a_cutter(machine) ? paths.size() : std::min<std::size_t>(1, paths.size());
}

std::pair<std::size_t, std::size_t> paths_in_file(const std::vector<motion::Path>& paths, const shop::Machine& machine, std::size_t file) {
  return file_count(paths, machine) == 1 ? std::pair<std::size_t, std::size_t>{0, paths.size()} : std::pair{file, file + 1};
}

Result<std::string> write_file(const std::vector<motion::Path>& paths, const shop::Machine& machine, std::size_t file, const program::Header& header) {
  const auto [first, end] = paths_in_file(paths, machine, file);
  auto texts = program::write_all({paths.begin() + static_cast<std::ptrdiff_t>(first), paths.begin() + static_cast<std::ptrdiff_t>(end)}, machine, reserved(header));
  if (!texts.ok()) return texts.failure();
  return std::move(texts->front());
}

std::vector<std::string_view> texts_of(const Programs& programs) {
  std::vector<std::string_view> out;
  for (const Program& program : programs) out.push_back(program.text);
  return out;
}

int lines_before(const Programs& programs, std::size_t file) {
  std::ptrdiff_t lines = 0;
  for (std::size_t k = 0; k < file; ++k) lines += std::count(programs[k].text.begin(), programs[k].text.end(), '\n');
  return static_cast<int>(lines);
}

Result<Programs> write_and_prove(const TurningRequest& request, const Turning& turning, const std::vector<program::Header>& headers, std::stop_token stop) {
  std::vector<std::string> texts;
  for (std::size_t file = 0; file < file_count(turning.paths, request.machine); ++file) {
    auto text = write_file(turning.paths, request.machine, file, headers.empty() ? program::Header{} : headers[file]);
    if (!text.ok()) return with_remedies(text.failure());
    texts.push_back(std::move(text).value());
  }
  proof::Settings settings;
  settings.cusp = request.agreed_cusp();
  if (request.rough) settings.rough_only = {request.rough->id};
  auto proofs = proof::prove_in_turn({texts.begin(), texts.end()}, request.turned, request.blank, request.tolerance, request.cutters(), request.machine, settings, stop);
  if (!proofs.ok()) return proofs.failure();
  Programs out;
  for (std::size_t file = 0; file < texts.size(); ++file) {
    auto program = stated(std::move(texts[file]), std::move((*proofs)[file]));
    if (!program.ok()) return program.failure();
    out.push_back(std::move(program).value());
  }
  return out;
}

// The wood changes nothing of the motions: another wood takes them as they are, with what it says of them.
Result<std::shared_ptr<const Turning>> TurningMemo::plan(const TurningRequest& request, std::stop_token stop) {
  const std::string key = request.key();
  std::shared_ptr<const Turning> motions;
  {
    const std::lock_guard hold(guard_);
    if (const auto found = known_.find(key); found != known_.end()) motions = found->second;
    ++(motions ? recalled_ : computed_);
  }
  if (!motions) {
    auto planned = plan_motions(request, &lines_, stop);
    if (!planned.ok()) {
      const std::lock_guard hold(guard_);
      --computed_;
      return planned.failure();
    }
    motions = std::make_shared<const Turning>(std::move(planned).value());
    const std::lock_guard hold(guard_);
    known_[key] = motions;
  }
  Turning whole = *motions;
  if (const auto said = add_what_the_wood_says(request, whole); !said.ok()) return said.failure();
  return std::make_shared<const Turning>(std::move(whole));
}

std::size_t TurningMemo::computed() const {
  const std::lock_guard hold(guard_);
  return computed_;
}

std::size_t TurningMemo::recalled() const {
  const std::lock_guard hold(guard_);
  return recalled_;
}

}  // namespace pommel::job
