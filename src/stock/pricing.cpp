#include "stock/pricing.h"

#include <algorithm>
#include <limits>

namespace pommel::stock {
namespace {

// A choice of pieces for a stretch: the shortest of its value, the dearest of its length.
struct State {
  Units length = 0;
  double value = 0;
  std::size_t before = 0;  ///< the state it was made from
  std::size_t piece = 0;   ///< and the piece that was added; the first state is made from none
};

// All choices worth keeping, by growing length and value: a bounded knapsack over lists of states, exact for lengths of any
// fineness (as in G. L. Nemhauser and Z. Ullmann, Management Science 15 (1969) 494).
class Stretch {
 public:
  explicit Stretch(Units room) : room_(room) { states_.push_back({}), kept_.push_back(0); }

  void offer(std::size_t piece, Units length, double price, int most) {
    if (price <= 0 || length > room_) return;
    std::vector<std::size_t> grown = kept_;
    const int fit = static_cast<int>(std::min<Units>(most, room_ / length));
    for (int copies = 1; copies <= fit && !grown.empty(); ++copies) {
      std::vector<std::size_t> next;
      for (const std::size_t from : grown) {
        if (states_[from].length + length > room_) break;
        states_.push_back({states_[from].length + length, states_[from].value + price, from, piece});
        next.push_back(states_.size() - 1);
      }
      grown = next;
      merge(next);
    }
  }

  double value() const { return states_[kept_.back()].value; }

  std::vector<std::size_t> pieces() const {
    std::vector<std::size_t> out;
    for (std::size_t at = kept_.back(); at != 0; at = states_[at].before) out.push_back(states_[at].piece);
    std::reverse(out.begin(), out.end());
    return out;
  }

 private:
  void merge(const std::vector<std::size_t>& more) {
    std::vector<std::size_t> all(kept_.size() + more.size()), best;
    std::merge(kept_.begin(), kept_.end(), more.begin(), more.end(), all.begin(), [&](std::size_t a, std::size_t b) {
      return states_[a].length != states_[b].length ? states_[a].length < states_[b].length : states_[a].value > states_[b].value;
    });
    for (const std::size_t one : all)
      if (best.empty() || states_[one].value > states_[best.back()].value + 1e-12) best.push_back(one);
    kept_ = std::move(best);
  }

  Units room_;
  std::vector<State> states_;
  std::vector<std::size_t> kept_;
};

struct Filled {
  double value = 0;
  std::vector<std::pair<std::size_t, Units>> pieces;  ///< and where each begins along the strip
};

// Clear stretches of a strip that meets those defects.
std::vector<std::pair<Units, Units>> clear_stretches(const Field& field, std::uint32_t defects) {
  std::vector<std::pair<Units, Units>> cuts, out;
  for (std::size_t i = 0; i < field.blocked.size(); ++i)
    if (defects >> i & 1u) cuts.emplace_back(field.blocked[i].run0, field.blocked[i].run1);
  std::sort(cuts.begin(), cuts.end());
  Units from = field.run0;
  for (const auto& [run0, run1] : cuts) {
    if (run0 > from) out.emplace_back(from, std::min(run0, field.run1));
    from = std::max(from, run1);
  }
  if (from < field.run1) out.emplace_back(from, field.run1);
  return out;
}

class Pricing {
 public:
  Pricing(const Field& field, const std::vector<double>& prices, const std::vector<int>& demand) : field_(field), prices_(prices), demand_(demand) {
    for (std::size_t i = 0; i < demand.size(); ++i)
      if (demand[i] > 0 && prices[i] > 0) sizes_.push_back(field.pieces[i].stack);
    std::sort(sizes_.begin(), sizes_.end());
    sizes_.erase(std::unique(sizes_.begin(), sizes_.end()), sizes_.end());
  }

  Priced best() {
    // positions by growing place; what is reached by none begins behind a defect
    places_[field_.stack0] = {};
    for (const Blocked& one : field_.blocked)
      if (one.stack1 > field_.stack0) places_.try_emplace(one.stack1);
    Place so_far;
    so_far.value = -1;
    Units best_at = field_.stack0;
    for (auto here = places_.begin(); here != places_.end(); ++here) {
      if (here->second.value < so_far.value) here->second = so_far, here->second.through = best_at, here->second.size = 0;
      else so_far = here->second, best_at = here->first;
      for (const Units size : sizes_) step(here->first, size);
    }
    return walked_back(best_at);
  }

 private:
  struct Place {
    double value = 0;
    Units through = -1, size = 0;  ///< the place before, and the strip between; size 0: nothing between
  };

  void step(Units at, Units size) {
    if (!field_.strip_fits(at, size)) return;
    const double value = places_.at(at).value + filled(size, field_.met(at, size)).value;
    Place& next = places_[at + size + field_.kerf];
    if (next.through < 0 || value > next.value) next = {value, at, size};
  }

  const Filled& filled(Units size, std::uint32_t defects) {
    const auto [found, fresh] = filled_.try_emplace({size, defects});
    if (!fresh) return found->second;
    for (const auto& [from, to] : clear_stretches(field_, defects)) {
      Stretch stretch(to - from + field_.kerf);
      for (std::size_t i = 0; i < prices_.size(); ++i)
        if (field_.pieces[i].stack <= size) stretch.offer(i, field_.pieces[i].run + field_.kerf, prices_[i], demand_[i]);
      found->second.value += stretch.value();
      Units at = from;
      for (const std::size_t piece : stretch.pieces()) {
        found->second.pieces.emplace_back(piece, at);
        at += field_.pieces[piece].run + field_.kerf;
      }
    }
    return found->second;
  }

  Priced walked_back(Units at) {
    Priced out;
    out.value = places_.at(at).value;
    out.board.rip_first = field_.rip_first;
    std::vector<std::pair<Units, Units>> strips;  // place, size
    while (places_.at(at).through >= 0) {
      const Place& place = places_.at(at);
      if (place.size > 0) strips.emplace_back(place.through, place.size);
      at = place.through;
    }
    std::reverse(strips.begin(), strips.end());
    for (const auto& [from, size] : strips) {
      const Filled& strip = filled(size, field_.met(from, size));
      if (strip.pieces.empty()) continue;
      out.board.strips.push_back({in_mm(from), in_mm(from + size)});
      for (const auto& [piece, along] : strip.pieces) {
        const Extent& extent = field_.pieces[piece];
        if (field_.rip_first) out.board.pieces.push_back({piece, in_mm(along), in_mm(from), in_mm(extent.run), in_mm(extent.stack)});
        else out.board.pieces.push_back({piece, in_mm(from), in_mm(along), in_mm(extent.stack), in_mm(extent.run)});
      }
    }
    return out;
  }

  const Field& field_;
  const std::vector<double>& prices_;
  const std::vector<int>& demand_;
  std::vector<Units> sizes_;
  std::map<Units, Place> places_;
  std::map<std::pair<Units, std::uint32_t>, Filled> filled_;
};

}  // namespace

Priced best_pattern(const Field& field, const std::vector<double>& prices, const std::vector<int>& demand) { return Pricing(field, prices, demand).best(); }

std::vector<int> counts_of(const PlannedBoard& board, std::size_t kinds) {
  std::vector<int> counts(kinds, 0);
  for (const PlacedPiece& piece : board.pieces) ++counts[piece.piece];
  return counts;
}

}  // namespace pommel::stock
