// A job's folder agrees with itself: amounts and sizes read back from each of its papers by other programs.
#pragma once

#include <cstddef>
#include <map>
#include <string>

namespace pommel::whole {

/// Compares every amount of quote and cost sheet (text, PDF, workbook, first page, job.json) to the cent, and every count and size of the cut list
/// (CSV, PDF, workbook) and of the cutting plan. Returns how many numbers it compared. `files`: a made folder, as contents() gives it.
std::size_t numbers_that_agree(const std::map<std::string, std::string>& files);

}  // namespace pommel::whole
