// What the pages of a job folder say of joints.
#pragma once

#include <string>
#include <vector>

#include "job/job.h"
#include "program/setup.h"

namespace pommel::job {

/// A mortise, bore or sawn end of a part, as it is marked out.
struct JointLine {
  std::string what, id, text;  ///< "mortise", "bore" or "end cut"
};
std::vector<JointLine> joint_lines(const shape::Part& part, double square, const LengthFormat& lengths);

/// How a joint of a distinct piece is cut: "milled", or "at the bench" with the reason where the order did not wish it so.
std::string joint_way(const Job& job, std::size_t kind, const std::string& joint);

/// Of the page a maker opens first: the programs of the `i`-th of order.joints, what they cut with what, how they were checked.
std::vector<std::string> joint_program_lines(const Job& job, std::size_t i);

/// What all programs of one set-up share: order, blank, what holds it.
program::SetupSheet set_up_of(const Job& job, std::size_t turning);
/// Fills in what comes after the `turning`-th turning: its joints' programs, or the bench.
void add_joints_after(const Job& job, std::size_t turning, program::SetupSheet& sheet);

/// The command that finds the checksum which a program's header states.
std::string how_to_sum();

}  // namespace pommel::job
