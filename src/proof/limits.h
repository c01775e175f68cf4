// What the motions ask of the machine and of the cutter, without a look at the wood.
#pragma once

#include <vector>

#include "proof/proof.h"

namespace pommel::proof {

/// One finding for each limit that is broken: how often, the worst, and where first. A limit that the machine leaves at 0 is
/// not known and not checked.
///   proof.travel       x, y or z beyond the machine's travel
///   proof.turns        more turns than the rotary has
///   proof.feed         a feed move faster than feed_max along x, y and z, or than an axis can go
///   proof.speed        spindle off, or faster than the machine's or the cutter's speed
///   proof.wrong-cutter the program was made for another cutter
///   proof.chuck        the cutter comes nearer to the chuck or the tail centre than keep_out
///   proof.swing        the blank is too thick or too long for the machine
std::vector<Finding> limit_findings(const motion::Path& path, const shape::Blank& blank, const shop::Cutter& cutter,
                                    const shop::Machine& machine);

/// Name of the stage that move `index` belongs to; empty for none.
std::string stage_of(const motion::Path& path, std::size_t index);

double feed_minutes(const motion::Path& path);
/// Each rapid takes as long as its slowest axis at rapid speed; axes whose speed is not known take no time.
double rapid_minutes(const motion::Path& path, const shop::Machine& machine);

/// Range of x in which the axis of a cutter of this radius may stand below the height of chuck jaws and tail centre. They take
/// chuck_grip and centre_grip of the blank's ends, and the cutter keeps clear of them by keep_out. An end that the machine
/// says nothing about (jaw_swing or tailstock_top 0) is free.
struct FreeRange {
  double low = 0, high = 0;
};
FreeRange free_range(const shape::Blank& blank, const shop::Machine& machine, double radius);

/// "line 1042, pass 'finish'" as far as they are known; empty when neither is.
std::string line_and_pass(int line, const std::string& stage);
/// The same, with "file 2, " before it where there are several texts.
std::string line_and_pass(const Spot& spot, std::size_t files);

}  // namespace pommel::proof
