#include "stock/sawing.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace pommel::stock {
namespace {

constexpr double kPerMm = 100;
constexpr double kSlack = 1e-6;  // hundredths: a length that is whole but for its last bits stays what it is

}  // namespace

Units units_up(double mm) { return static_cast<Units>(std::ceil(mm * kPerMm - kSlack)); }
Units units_down(double mm) { return static_cast<Units>(std::floor(mm * kPerMm + kSlack)); }
double in_mm(Units units) { return static_cast<double>(units) / kPerMm; }

std::uint32_t Field::met(Units at, Units size) const {
  std::uint32_t bits = 0;
  for (std::size_t i = 0; i < blocked.size(); ++i)
    if (blocked[i].stack0 < at + size && at < blocked[i].stack1) bits |= 1u << i;
  return bits;
}

std::optional<Units> Field::place(Units from, Units length, std::uint32_t defects) const {
  Units at = std::max(from, run0);
  for (bool moved = true; moved;) {
    moved = false;
    for (std::size_t i = 0; i < blocked.size(); ++i) {
      if (!(defects >> i & 1u) || blocked[i].run0 >= at + length || at >= blocked[i].run1) continue;
      at = blocked[i].run1;
      moved = true;
    }
  }
  if (at + length > run1) return std::nullopt;
  return at;
}

std::vector<Units> Field::starts(Units from) const {
  std::vector<Units> all{from};
  for (const Blocked& one : blocked)
    if (one.stack1 > from) all.push_back(one.stack1);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

Field field_of(const PlanOrder& order, std::size_t boards, bool rip_first) {
  const PlanBoards& board = order.boards[boards];
  Field field;
  field.rip_first = rip_first;
  field.kerf = units_up(order.kerf);
  const Units trim0 = units_up(order.end_trim), trim1 = units_down(board.length - order.end_trim), width = units_down(board.width);
  (rip_first ? field.run0 : field.stack0) = trim0;
  (rip_first ? field.run1 : field.stack1) = trim1;
  (rip_first ? field.stack1 : field.run1) = width;
  for (const shop::Defect& defect : board.defects) {
    const Units x0 = units_down(defect.from), x1 = units_up(defect.to);
    const Units y0 = units_down(defect.across_from), y1 = defect.across_to > 0 ? units_up(defect.across_to) : width;
    field.blocked.push_back(rip_first ? Blocked{x0, x1, y0, y1} : Blocked{y0, y1, x0, x1});
  }
  for (const PlanPiece& piece : order.pieces) {
    const Units length = units_up(piece.length), across = units_up(piece.width);
    field.pieces.push_back(rip_first ? Extent{length, across} : Extent{across, length});
  }
  return field;
}

Counts::Counts(const std::vector<int>& demand) : demand_(demand) {
  for (const int wanted : demand) {
    units_.push_back(size_);
    size_ *= static_cast<std::size_t>(wanted) + 1;
  }
}

std::size_t Counts::index(const std::vector<int>& counts) const {
  std::size_t sum = 0;
  for (std::size_t i = 0; i < counts.size(); ++i) sum += units_[i] * static_cast<std::size_t>(counts[i]);
  return sum;
}

std::vector<int> Counts::counts(std::size_t index) const {
  std::vector<int> out(demand_.size());
  for (std::size_t i = 0; i < demand_.size(); ++i) {
    const auto radix = static_cast<std::size_t>(demand_[i]) + 1;
    out[i] = static_cast<int>(index % radix);
    index /= radix;
  }
  return out;
}

double Counts::pairs() const {
  double product = 1;
  for (const int wanted : demand_) product *= (wanted + 1.0) * (wanted + 2.0) / 2;
  return product;
}

Patterns::Patterns(Field field, const Counts& counts)
    : field_(std::move(field)), counts_(counts), ends_(counts.size(), -1), last_(counts.size()) {
  ends_[0] = field_.stack0;
  for (std::size_t whole = 1; whole < counts_.size(); ++whole) {
    const std::vector<int> most = counts_.counts(whole);
    // every strip that is part of the whole, as an odometer over its counts
    std::vector<int> strip(most.size(), 0);
    for (std::size_t i = 0; i < most.size();) {
      if (strip[i] == most[i]) {
        strip[i++] = 0;
        continue;
      }
      ++strip[i];
      i = 0;
      const std::size_t index = counts_.index(strip);
      if (ends_[whole - index] >= 0) extend(whole, index, strip);
    }
  }
}

// The end of the pieces of each counts in one strip of that size, least there is; -1 where they do not fit.
const std::vector<Units>& Patterns::filled(Units size, std::uint32_t defects) {
  const auto [found, fresh] = filled_.try_emplace({size, defects});
  if (!fresh) return found->second;
  std::vector<Units>& ends = found->second;
  ends.assign(counts_.size(), -1);
  ends[0] = field_.run0;
  for (std::size_t index = 1; index < counts_.size(); ++index) {
    const std::vector<int> wanted = counts_.counts(index);
    for (std::size_t i = 0; i < wanted.size(); ++i) {
      if (wanted[i] == 0 || field_.pieces[i].stack > size) continue;
      const Units before = ends[index - counts_.unit(i)];
      if (before < 0) continue;
      const auto at = field_.place(before, field_.pieces[i].run, defects);
      if (at && (ends[index] < 0 || *at + field_.pieces[i].run + field_.kerf < ends[index])) ends[index] = *at + field_.pieces[i].run + field_.kerf;
    }
  }
  return ends;
}

void Patterns::extend(std::size_t whole, std::size_t strip, const std::vector<int>& strip_counts) {
  Units size = 0;
  for (std::size_t i = 0; i < strip_counts.size(); ++i)
    if (strip_counts[i] > 0) size = std::max(size, field_.pieces[i].stack);
  for (const Units at : field_.starts(ends_[whole - strip])) {
    if (!field_.strip_fits(at, size)) return;
    const Units end = at + size + field_.kerf;
    if (ends_[whole] >= 0 && end >= ends_[whole]) return;
    if (filled(size, field_.met(at, size))[strip] < 0) continue;
    ends_[whole] = end;
    last_[whole] = {strip, at, size};
    return;
  }
}

PlannedBoard Patterns::layout(std::size_t index) const {
  assert(possible(index));
  PlannedBoard board;
  board.rip_first = field_.rip_first;
  std::vector<std::pair<std::size_t, Last>> strips;
  for (; index > 0; index -= last_[index].strip) strips.emplace_back(last_[index].strip, last_[index]);
  for (auto strip = strips.rbegin(); strip != strips.rend(); ++strip) add_strip(strip->first, strip->second, board);
  return board;
}

// The pieces in the order that reached the least end: found again from the last one back.
void Patterns::add_strip(std::size_t strip, const Last& last, PlannedBoard& board) const {
  const std::uint32_t defects = field_.met(last.at, last.size);
  const std::vector<Units>& ends = filled_.at({last.size, defects});
  std::vector<std::pair<std::size_t, Units>> placed;
  while (strip > 0) {
    const std::vector<int> wanted = counts_.counts(strip);
    for (std::size_t i = 0; i < wanted.size(); ++i) {
      if (wanted[i] == 0 || field_.pieces[i].stack > last.size || ends[strip - counts_.unit(i)] < 0) continue;
      const auto at = field_.place(ends[strip - counts_.unit(i)], field_.pieces[i].run, defects);
      if (!at || *at + field_.pieces[i].run + field_.kerf != ends[strip]) continue;
      placed.emplace_back(i, *at);
      strip -= counts_.unit(i);
      break;
    }
  }
  board.strips.push_back({in_mm(last.at), in_mm(last.at + last.size)});
  for (auto one = placed.rbegin(); one != placed.rend(); ++one) {
    const auto& [piece, at] = *one;
    const Extent& size = field_.pieces[piece];
    if (field_.rip_first) board.pieces.push_back({piece, in_mm(at), in_mm(last.at), in_mm(size.run), in_mm(size.stack)});
    else board.pieces.push_back({piece, in_mm(last.at), in_mm(at), in_mm(size.stack), in_mm(size.run)});
  }
}

}  // namespace pommel::stock
