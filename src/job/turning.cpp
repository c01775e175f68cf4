#include "job/turning.h"

#include <algorithm>

#include "base/number.h"
#include "mill/feed.h"
#include "mill/finish.h"
#include "mill/reach.h"
#include "mill/rough.h"
#include "mill/time.h"

namespace pommel::job {
namespace {

// A ridge of 0.04 mm is what a first sanding takes off, and leaves the check's 0.05 mm something for its own error; crests that stand less than a millimetre above their valleys do not split a
// line: each stretch costs a way back at the clear height.
constexpr mill::FinishSettings kFinish{.cusp = 0.04, .along = 0.005, .prominence = 1.0, .plunge_share = 0.4, .way = mill::Way::fastest, .climb = false};

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

std::vector<PassStretch> stretches_of(const motion::Path& path, const shop::Machine& machine) {
  std::vector<PassStretch> out;
  std::vector<double> at{0};
  motion::Position from = path.start;
  for (const motion::Move& move : path.moves) {
    at.push_back(at.back() + (move.rapid ? mill::rapid_minutes(from, move.to, machine) : move.minutes));
    from = move.to;
  }
  for (const motion::Stage& stage : path.stages) out.push_back({stage.name, at[stage.first + stage.count] - at[stage.first], stage.first});
  return out;
}

// The piece as it is held when all is cut: where the waste was turned, it is as thin as the passes may leave it.
rules::Stiffness stiffness_of(const TurningRequest& request, double rpm) {
  const shop::Machine& m = request.machine;
  const double head_grip = m.head_at_chuck ? m.chuck_grip : m.centre_grip, foot_grip = m.head_at_chuck ? m.centre_grip : m.chuck_grip;
  const auto stub = [&](double r, bool clear) { return clear ? 0 : 2 * mill::kLeastCore * r; };
  const shape::Piece &first = request.turned.outline.pieces.front(), &last = request.turned.outline.pieces.back();
  rules::Holding held;
  held.head_face = std::min(0.0, request.blank.x0 + head_grip);
  held.foot_face = std::max(request.turned.length, request.blank.x1 - foot_grip);
  held.chuck_at_head = m.head_at_chuck;
  held.head_stub = stub(first.r0, first.kind == shape::Piece::Kind::clear);
  held.foot_stub = stub(last.r1, last.kind == shape::Piece::Kind::clear);
  rules::Load load;
  load.teeth_per_second = rpm * request.cutter.flutes / 60;
  load.turns_per_second = m.rapid_rotary / 60;
  rules::Stiffness out = rules::stiffness(request.turned, held, *request.wood, load);
  const double thinnest = std::min(held.head_stub > 0 ? held.head_stub : out.stub, held.foot_stub > 0 ? held.foot_stub : out.stub);
  if (thinnest < out.stub - 1e-9) {
    Diagnostic said = fail("job.thin-stub", "the waste beside a turned end may be as thin as " + format_number(thinnest, 1) + " mm, and should keep " + format_number(out.stub, 1) + " mm",
                           "take light passes there, or leave the last of that end to the hand").reasons.front();
    said.severity = Severity::warning;
    out.warnings.push_back(std::move(said));
  }
  return out;
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

// All but what the wood says of it.
Result<Turning> plan_motions(const TurningRequest& request, std::stop_token stop) {
  const shop::Cutter& cutter = request.cutter;
  const shop::Machine& machine = request.machine;
  mill::RoughSettings roughing;
  roughing.way = request.way;
  mill::FinishSettings finishing = kFinish;
  finishing.way = request.way;
  auto rough = mill::plan_roughing(request.turned, request.blank, request.tolerance, cutter, machine, roughing, stop);
  if (!rough.ok()) return rough.failure();
  auto finish = mill::plan(request.turned, request.blank, request.tolerance, cutter, machine, finishing, stop, &rough->wood);
  if (!finish.ok()) return finish.failure();
  const auto quirks = mill::quirks(request.turned, cutter.diameter / 2);
  if (!quirks.ok()) return quirks.failure();

  Turning out;
  out.path = rough->path.moves.empty() ? std::move(finish->path) : mill::joined(rough->path, finish->path);
  out.minutes = mill::minutes(out.path, machine);
  out.clear_height = finish->clear_height;
  out.stretches = stretches_of(out.path, machine);
  out.blocks = mill::blocks(out.path, machine);
  for (const mill::Quirk& quirk : *quirks) out.hand_work.push_back({quirk.element, quirk.x0, quirk.x1, quirk.deepest});
  return out;
}

void add_what_the_wood_says(const TurningRequest& request, Turning& out) {
  if (request.wood) out.stiffness = stiffness_of(request, out.path.rpm);
  add_notes(request, out);
}

}  // namespace

std::string TurningRequest::key() const {
  Key key;
  key << shape::dump(turned) << static_cast<double>(blank.section) << blank.size << blank.x0 << blank.x1 << blank.horn << blank.chuck_waste << blank.centre_waste
      << blank.flats_finished << tolerance.off_centre << tolerance.bow << tolerance.oversize << cutter.id << cutter.diameter << cutter.flute_length << cutter.shank_diameter
      << cutter.shank_length << cutter.collet_diameter << cutter.collet_length << cutter.flutes << cutter.rpm << cutter.chip_load << cutter.max_depth_of_cut;
  add_machine(key, machine);
  key << static_cast<double>(way) << static_cast<double>(cutter.form) << cutter.tip_radius << cutter.half_angle << cutter.tip_flat << cutter.holder_diameter << cutter.holder_length;
  return key.text();
}

Result<Turning> plan_turning(const TurningRequest& request, std::stop_token stop) {
  auto planned = plan_motions(request, stop);
  if (planned.ok()) add_what_the_wood_says(request, *planned);
  return planned;
}

Result<Program> write_and_prove(const TurningRequest& request, const Turning& turning, const program::Header& header, std::stop_token stop) {
  auto text = program::write(turning.path, request.machine, header);
  if (!text.ok()) return text.failure();
  proof::Settings settings;
  auto proof = proof::prove(*text, request.turned, request.blank, request.tolerance, request.cutter, request.machine, settings, stop);
  if (!proof.ok()) return proof.failure();
  return Program{std::move(text).value(), std::move(proof).value()};
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
    auto planned = plan_motions(request, stop);
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
  add_what_the_wood_says(request, whole);
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
