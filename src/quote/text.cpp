#include <algorithm>

#include "quote/quote.h"

namespace pommel::quote {
namespace {

constexpr std::size_t kColumns = 80;

// Text on the left, money on the right edge. What is too long for the line keeps its whole text and pushes the money to the
// next line: nothing is cut off.
std::string row(const std::string& left, const std::string& right) {
  if (left.size() + 2 + right.size() <= kColumns) return left + std::string(kColumns - left.size() - right.size(), ' ') + right + "\n";
  return left + "\n" + std::string(kColumns - right.size(), ' ') + right + "\n";
}

}  // namespace

std::string to_text(const Quote& quote) {
  std::string out;
  if (!quote.confirmed) out += "EXAMPLE RATES: put in your own before you send this to anyone\n\n";
  std::string group;
  for (const Line& line : quote.lines) {
    if (line.group != group) out += (group.empty() ? "" : "\n") + line.group + "\n";
    group = line.group;
    out += row("  " + line.text, format_money(line.amount));
    out += "    " + line.basis + "\n";
  }
  const std::string rule = std::string(kColumns, '-') + "\n";
  out += rule + row("cost", format_money(quote.cost)) + row(quote.profit_words, format_money(quote.profit));
  out += row(quote.minimum_applied ? "price (the shop's minimum charge)" : "price", format_money(quote.price));
  out += row("tax, " + quote.tax_words, format_money(quote.tax));
  out += row("total", format_money(quote.total, quote.currency));
  out += row("deposit, " + quote.deposit_words, format_money(quote.deposit, quote.currency));
  return out;
}

}  // namespace pommel::quote
