// Papers with money on them, and the cut list: for the client, for the shop. Every amount is written by format_money() from the quote's
// whole cents; nothing is reckoned here but differences of such amounts. For this room only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/job.h"
#include "paper/page.h"
#include "paper/piece.h"

namespace pommel::paper {

/// One variant of the order on the cost sheet.
struct Variant {
  std::string name;  ///< "catalogue", "this order"
  const quote::Quote* quote = nullptr;
};
/// Of the sheet's columns, and those that stand beside the order ("variant 1" ...); the ordered one last. The values point into both.
std::vector<Variant> variants_of(const job::Job& job, const Heading& heading);

/// For the client: the standing picture, what is included, price, tax, total, deposit, until when it holds, the shop's terms. No cost, no markup.
std::vector<Page> quote_pages(const job::Job& job, const Heading& heading, const std::string& standing_png);

/// For the shop alone: each cost line of each variant side by side, what it was reckoned from, and sums.
std::vector<Page> cost_pages(const job::Job& job, const Heading& heading);

/// Pieces with rough and finished sizes, glue-ups, fittings, and the boards they take.
std::vector<Page> cut_list_pages(const job::Job& job, const Heading& heading);

/// A cost line as it stands in several variants; amounts are absent where a variant has no such line.
struct CostRow {
  std::string group, text;
  std::string basis;  ///< of the last variant that has it
  std::vector<std::optional<Money>> amounts;
};
/// In the order of the last variant's lines, then what only earlier ones have.
std::vector<CostRow> cost_rows(const std::vector<Variant>& variants);

/// "2 pieces 28.5 mm thick face to face, glue line in the middle"; empty for a blank of one piece.
std::string glue_words(const stock::TurnedBlanks& blanks, const Heading& heading);

}  // namespace pommel::paper
