// Workbooks for a spreadsheet (XLSX, ECMA-376, by libxlsxwriter): numbers as numbers, sums as formulas with their values beside them. For this
// room only.
#pragma once

#include <string>

#include "base/result.h"
#include "job/job.h"
#include "paper/piece.h"

namespace pommel::paper {

/// A sheet of pieces and one of boards. Text that a spreadsheet could take for a formula begins with an apostrophe. Fails with
/// "paper.cannot-write" where there is no room for a temporary file. The same job gives the same bytes.
Result<std::string> cut_list_workbook(const job::Job& job, const Heading& heading);

/// Cost lines of all variants side by side; groups and cost are formulas, and what the quote says of price, tax, total and deposit.
Result<std::string> cost_workbook(const job::Job& job, const Heading& heading);

}  // namespace pommel::paper
