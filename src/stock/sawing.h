// A board as the saw sees it, in whole hundredths of a millimetre: strips stacked across one axis, pieces run along the other.
// Ripping first stacks strips across the width, crosscutting first stacks lengths along the board; both are the same problem
// with its axes changed. For this room only.
//
// All positions are least ones: whatever fits from a later position fits from an earlier one, or from the end of a defect, so
// only those are looked at.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "stock/plan.h"

namespace pommel::stock {

using Units = std::int64_t;  ///< hundredths of a millimetre
Units units_up(double mm);    ///< for pieces and kerf
Units units_down(double mm);  ///< for boards
double in_mm(Units units);

inline constexpr std::size_t kMostDefects = 24;  ///< of one board

/// A piece or a stretch along both axes.
struct Extent {
  Units run = 0, stack = 0;
};

struct Blocked {
  Units run0 = 0, run1 = 0, stack0 = 0, stack1 = 0;
};

/// One board for one way of sawing it.
struct Field {
  bool rip_first = true;
  Units run0 = 0, run1 = 0, stack0 = 0, stack1 = 0;  ///< between the end trims
  Units kerf = 0;
  std::vector<Blocked> blocked;
  std::vector<Extent> pieces;  ///< of each kind of piece

  /// Least position >= `from` where a strip of `size` lies in the board; nothing when there is none.
  bool strip_fits(Units at, Units size) const { return at >= stack0 && at + size <= stack1; }
  /// Defects (a bit each) that a strip there meets.
  std::uint32_t met(Units at, Units size) const;
  /// Least position >= `from` along a strip with those defects where `length` lies clear.
  std::optional<Units> place(Units from, Units length, std::uint32_t defects) const;
  /// Where a strip may begin: `from`, and the far edges of defects behind it, ascending.
  std::vector<Units> starts(Units from) const;
};

Field field_of(const PlanOrder& order, std::size_t boards, bool rip_first);

/// Counts of each piece as one number and back (mixed radix), componentwise order kept.
class Counts {
 public:
  explicit Counts(const std::vector<int>& demand);
  std::size_t size() const { return size_; }
  std::size_t index(const std::vector<int>& counts) const;
  std::vector<int> counts(std::size_t index) const;
  std::size_t unit(std::size_t piece) const { return units_[piece]; }
  const std::vector<int>& demand() const { return demand_; }
  /// Steps that look_through takes: pairs of counts, one within the other.
  double pairs() const;

 private:
  std::vector<int> demand_;
  std::vector<std::size_t> units_;
  std::size_t size_ = 1;
};

/// Which counts of pieces come out of one board in one way, and how.
class Patterns {
 public:
  /// Looks through all of them. REQUIRES: counts.pairs() within reason.
  Patterns(Field field, const Counts& counts);
  bool possible(std::size_t index) const { return ends_[index] >= 0; }
  /// REQUIRES: possible(index). `boards` and number of the result are the caller's.
  PlannedBoard layout(std::size_t index) const;

 private:
  struct Last { std::size_t strip = 0; Units at = 0, size = 0; };

  const std::vector<Units>& filled(Units size, std::uint32_t defects);
  void extend(std::size_t whole, std::size_t strip, const std::vector<int>& strip_counts);
  void add_strip(std::size_t strip, const Last& last, PlannedBoard& board) const;

  Field field_;
  Counts counts_;
  std::vector<Units> ends_;  ///< where the next strip could begin at the earliest, -1: not possible
  std::vector<Last> last_;
  std::map<std::pair<Units, std::uint32_t>, std::vector<Units>> filled_;
};


}  // namespace pommel::stock
