// Papers for the machine and the bench: the set-up sheet of a program, and labels for every piece. For this room only.
#pragma once

#include <vector>

#include "job/job.h"
#include "paper/piece.h"

namespace pommel::paper {

/// The set-up text of the `i`-th turning, with the blank as it lies on the machine: waste, keep-outs, zero; and the surface as the check found it.
/// `surface`: that picture as PNG, or nothing. REQUIRES: the job has its programs.
std::vector<Page> setup_pages(const job::Job& job, std::size_t i, std::size_t file, const Heading& heading, const std::string& surface);

/// That of the `file`-th program of the `i`-th of order.joints. REQUIRES: as setup_pages().
std::vector<Page> joint_setup_pages(const job::Job& job, std::size_t i, std::size_t file, const Heading& heading);

/// A label for each turned piece, spares too, and each rail: which piece of which order, its place in the plan under the cabinetmaker's
/// triangle, where its faces look, and what is done next. To be cut along the lines.
std::vector<Page> label_pages(const job::Job& job, const Heading& heading);

}  // namespace pommel::paper
