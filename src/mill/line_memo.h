// Lines that earlier plans worked out, by everything they depend on: after a change only the stretches that it reaches are worked out anew,
// and the others are the very same numbers.
//
// What a line depends on: the wood within the cutter's reach of its stretch, as whole pieces of outline, faces and treatments with the knots that
// cut them into cells, the cutter, the pass's figures, and where wood is to remove at each direction. All of it is in the key.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "mill/pass.h"

namespace pommel::mill {

/// Runs of one line, each downhill.
using Runs = std::vector<std::vector<LinePoint>>;

/// Of the even lines that differ, and of those along valleys.
struct StretchRuns {
  std::vector<Runs> even, valleys;
};

/// Key of a stretch's runs.
std::string key_of(const Setup& setup, const Surface& surface, const PassSettings& settings, const Stretch& stretch);

/// Keeps the runs that were asked for last, up to some 60 MB. Thread rule: may be shared by threads.
class LineMemo {
 public:
  /// nullptr: not known.
  std::shared_ptr<const StretchRuns> find(const std::string& key);
  void keep(const std::string& key, std::shared_ptr<const StretchRuns> runs);
  /// How often runs were at hand, and how often not.
  struct Counts {
    std::size_t recalled = 0, missed = 0;
  };
  Counts counts() const;

 private:
  struct Kept {
    std::shared_ptr<const StretchRuns> runs;
    std::size_t points = 0;
    std::uint64_t asked = 0;  // when last
  };
  void forget_the_oldest();

  mutable std::mutex guard_;
  std::map<std::string, Kept> known_;
  std::size_t points_ = 0;
  Counts counts_;
  std::uint64_t clock_ = 0;
};

}  // namespace pommel::mill
