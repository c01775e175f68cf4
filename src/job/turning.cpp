#include "job/turning.h"

#include "base/number.h"
#include "mill/finish.h"
#include "mill/reach.h"
#include "mill/rough.h"
#include "mill/time.h"

namespace pommel::job {
namespace {

// A ridge of 0.04 mm is what a first sanding takes off, and leaves the check's 0.05 mm something for its own error; crests that stand less than a millimetre above their valleys do not split a
// line: each stretch costs a way back at the clear height.
constexpr mill::FinishSettings kFinish{.cusp = 0.04, .along = 0.005, .prominence = 1.0, .plunge_share = 0.4};

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
      << m.max_swing << m.max_between_centres << m.jaw_swing << m.tailstock_top << m.chuck_grip << m.centre_grip << m.keep_out;
}

}  // namespace

std::string TurningRequest::key() const {
  Key key;
  key << shape::dump(turned) << static_cast<double>(blank.section) << blank.size << blank.x0 << blank.x1 << blank.horn << blank.chuck_waste << blank.centre_waste
      << blank.flats_finished << tolerance.off_centre << tolerance.bow << tolerance.oversize << cutter.id << cutter.diameter << cutter.flute_length << cutter.shank_diameter
      << cutter.shank_length << cutter.collet_diameter << cutter.collet_length << cutter.flutes << cutter.rpm << cutter.chip_load << cutter.max_depth_of_cut;
  add_machine(key, machine);
  return key.text();
}

Result<Turning> plan_turning(const TurningRequest& request, std::stop_token stop) {
  const auto& [turned, blank, tolerance, cutter, machine] = request;
  auto rough = mill::plan_roughing(turned, blank, tolerance, cutter, machine, {}, stop);
  if (!rough.ok()) return rough.failure();
  auto finish = mill::plan(turned, blank, tolerance, cutter, machine, kFinish, stop, &rough->wood);
  if (!finish.ok()) return finish.failure();
  const auto quirks = mill::quirks(turned, cutter.diameter / 2);
  if (!quirks.ok()) return quirks.failure();

  Turning out;
  out.path = rough->path.moves.empty() ? std::move(finish->path) : mill::joined(rough->path, finish->path);
  out.minutes = mill::minutes(out.path, machine);
  out.clear_height = finish->clear_height;
  for (const mill::Quirk& quirk : *quirks) out.hand_work.push_back({quirk.element, quirk.x0, quirk.x1, quirk.deepest});
  return out;
}

Result<Program> write_and_prove(const TurningRequest& request, const Turning& turning, const program::Header& header, std::stop_token stop) {
  auto text = program::write(turning.path, request.machine, header);
  if (!text.ok()) return text.failure();
  proof::Settings settings;
  auto proof = proof::prove(*text, request.turned, request.blank, request.tolerance, request.cutter, request.machine, settings, stop);
  if (!proof.ok()) return proof.failure();
  return Program{std::move(text).value(), std::move(proof).value()};
}

Result<std::shared_ptr<const Turning>> TurningMemo::plan(const TurningRequest& request, std::stop_token stop) {
  const std::string key = request.key();
  {
    const std::lock_guard hold(guard_);
    if (const auto found = known_.find(key); found != known_.end()) {
      ++recalled_;
      return found->second;
    }
  }
  auto planned = plan_turning(request, stop);
  if (!planned.ok()) return planned.failure();
  auto shared = std::make_shared<const Turning>(std::move(planned).value());
  const std::lock_guard hold(guard_);
  ++computed_;
  known_[key] = shared;
  return shared;
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
