#include "whole/agreement.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numeric>
#include <optional>
#include <regex>
#include <sstream>
#include <vector>

#include "base/quantity.h"
#include "paper/workbook_cells.h"
#include "whole/csv.h"

namespace pommel::whole {
namespace {

using Cents = std::vector<long long>;
using Files = std::map<std::string, std::string>;

Cents sorted(Cents all) {
  std::sort(all.begin(), all.end());
  return all;
}

// The lines of a quote, then its sums.
Cents amounts_of(const nlohmann::json& quote) {
  Cents out;
  for (const auto& line : quote.at("lines")) out.push_back(line.at("cents"));
  const long long cost = std::accumulate(out.begin(), out.end(), 0LL);
  EXPECT_EQ(cost, quote.at("cost_cents"));
  EXPECT_EQ(cost + quote.at("profit_cents").get<long long>(), quote.at("price_cents"));
  EXPECT_EQ(quote.at("price_cents").get<long long>() + quote.at("tax_cents").get<long long>(), quote.at("total_cents"));
  for (const char* sum : {"cost_cents", "profit_cents", "price_cents", "tax_cents", "total_cents", "deposit_cents"}) out.push_back(quote.at(sum));
  return sorted(out);
}

// What the client sees: the last four.
Cents clients_amounts(const nlohmann::json& quote) {
  return {quote.at("price_cents"), quote.at("tax_cents"), quote.at("total_cents"), quote.at("deposit_cents")};
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

// Amounts at the ends of lines; lines set in deeper say what an amount was reckoned from.
Cents amounts_at_ends(const std::string& text) {
  static const std::regex amount(R"(\s(\d+)\.(\d\d)( [A-Z]{3})?\s*$)");
  Cents out;
  for (const std::string& line : lines_of(text))
    if (std::smatch found; line.rfind("    ", 0) != 0 && std::regex_search(line, found, amount)) out.push_back(std::stoll(found[1].str() + found[2].str()));
  return out;
}

struct Columns {
  Cents catalogue, order;
};

// Of the cost sheet: two columns, a dash where a line is only in the other.
Columns columns_of(const std::string& text) {
  static const std::regex row(R"(\s(-|\d+\.\d\d)\s+(-|\d+\.\d\d)\s*$)");
  Columns out;
  const auto add = [](Cents& column, const std::string& amount) {
    for (const long long cents : paper::cents_in(amount)) column.push_back(cents);
  };
  for (const std::string& line : lines_of(text)) {
    std::smatch found;
    if (!std::regex_search(line, found, row)) continue;
    add(out.catalogue, found[1]);
    add(out.order, found[2]);
  }
  return {sorted(out.catalogue), sorted(out.order)};
}

Cents column_of(const std::map<std::string, paper::Cell>& cells, char letter) {
  Cents out;
  for (const auto& [name, cell] : cells)
    if (name.front() == letter) {
      out.push_back(std::llround(cell.value * 100));
      EXPECT_EQ(std::llround(paper::reckoned(cells, name) * 100), out.back()) << name;
    }
  return sorted(out);
}

std::string text_of(const Files& files, const std::string& pdf) { return paper::text_of_pdf(files.at(pdf)); }

std::size_t money_that_agrees(const Files& files) {
  const auto job = nlohmann::json::parse(files.at("job.json"));
  const Cents order = amounts_of(job.at("quote")), catalogue = amounts_of(job.at("catalogue_quote")), client = clients_amounts(job.at("quote"));
  std::size_t compared = 0;
  const auto same = [&](const Cents& found, const Cents& wanted, const std::string& where) {
    EXPECT_EQ(found, wanted) << where;
    compared += wanted.size();
  };
  same(sorted(amounts_at_ends(files.at("cost-sheet.txt"))), order, "cost-sheet.txt");
  const Columns pdf = columns_of(text_of(files, "cost-sheet.pdf"));
  same(pdf.order, order, "cost-sheet.pdf");
  same(pdf.catalogue, catalogue, "cost-sheet.pdf, catalogue");
  const auto cells = paper::cells_of(files.at("cost-sheet.xlsx"), 1);
  same(column_of(cells, 'D'), catalogue, "cost-sheet.xlsx, catalogue");
  same(column_of(cells, 'E'), order, "cost-sheet.xlsx");
  same(amounts_at_ends(files.at("quote.txt")), client, "quote.txt");
  same(paper::cents_in(text_of(files, "quote.pdf")), client, "quote.pdf");
  for (const char* sum : {"price", "total"}) {
    const auto cents = [&](const char* quote) { return job.at(quote).at(std::string(sum) + "_cents").get<long long>(); };
    static const std::regex amounts(R"((\d+\.\d\d) USD\s+(\d+\.\d\d) USD)");
    for (const std::string& line : lines_of(files.at("READ-ME-FIRST.txt")))
      if (std::smatch found; line.rfind(std::string("  ") + sum + " ", 0) == 0 && std::regex_search(line, found, amounts))
        same({paper::cents_in(found[1]).front(), paper::cents_in(found[2]).front()}, {cents("catalogue_quote"), cents("quote")}, "READ-ME-FIRST.txt");
  }
  return compared;
}

std::string on_one_line(const std::string& text) { return std::regex_replace(text, std::regex(R"(\s+)"), " "); }

// A size of the CSV in its own unit: fractions where that is inches.
double size_of(const std::string& text, LengthUnit unit) {
  const auto mm = parse_length(text, unit);
  EXPECT_TRUE(mm.ok()) << text;
  return mm.ok() ? *mm / (unit == LengthUnit::inch ? kInch : 1) : -1;
}

struct CutSizes {
  double length = 0, width = 0;
  int blanks = 0;
};

std::size_t cut_list_that_agrees(const Files& files, std::vector<CutSizes>& sizes) {
  const auto rows = rows_of(files.at("cut-list.csv"));
  const LengthUnit unit = rows.front()[3].ends_with(" in") ? LengthUnit::inch : LengthUnit::millimetre;
  const double half_step = unit == LengthUnit::inch ? 1.0 / 64 + 1e-4 : 0.051;  // the CSV says 32nds of an inch, or tenths of a millimetre
  const auto cells = paper::cells_of(files.at("cut-list.xlsx"), 1);
  const std::string text = on_one_line(text_of(files, "cut-list.pdf"));
  std::size_t compared = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const std::vector<std::string>& row = rows[i];
    const auto cell = [&](char letter) { return cells.at(letter + std::to_string(i + 1)).value; };
    EXPECT_EQ(cell('B'), std::stoi(row[1])) << row[0];
    EXPECT_EQ(cell('G'), std::stoi(row[6])) << row[0];
    EXPECT_NEAR(cell('K'), std::stod(row[10]), 1e-9) << row[0];
    for (int k = 0; k < 6; ++k) {
      const std::size_t field = k < 3 ? 3 + static_cast<std::size_t>(k) : 4 + static_cast<std::size_t>(k);
      EXPECT_NEAR(cell(static_cast<char>('A' + field)), size_of(row[field], unit), half_step) << row[0] << ", " << rows.front()[field];
    }
    for (const std::size_t from : {std::size_t{3}, std::size_t{7}}) {
      const std::string said = row[from] + " x " + row[from + 1] + " x " + row[from + 2];
      EXPECT_NE(text.find(said), std::string::npos) << "cut-list.pdf does not say " << said;
    }
    sizes.push_back({size_of(row[5], unit), size_of(row[4], unit), std::stoi(row[1]) * std::stoi(row[6])});
    compared += 9 + 6;
  }
  return compared;
}

// Each blank of the cut list lies once in the plan, at its rough size.
std::size_t plan_that_agrees(const Files& files, std::vector<CutSizes> sizes) {
  const auto rows = rows_of(files.at("cutting-plan.csv"));
  const LengthUnit unit = rows.front()[10].ends_with(" in") ? LengthUnit::inch : LengthUnit::millimetre;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const double length = size_of(rows[i][10], unit), width = size_of(rows[i][11], unit);
    const auto found = std::find_if(sizes.begin(), sizes.end(), [&](const CutSizes& one) { return one.blanks > 0 && std::abs(one.length - length) < 1e-6 && std::abs(one.width - width) < 1e-6; });
    EXPECT_NE(found, sizes.end()) << rows[i][7] << " is not on the cut list as " << rows[i][10] << " x " << rows[i][11];
    if (found != sizes.end()) --found->blanks;
  }
  for (const CutSizes& one : sizes) EXPECT_EQ(one.blanks, 0) << "lie in no board: " << one.length << " x " << one.width;
  return 2 * (rows.size() - 1);
}

}  // namespace

std::size_t numbers_that_agree(const Files& files) {
  std::vector<CutSizes> sizes;
  const std::size_t money = money_that_agrees(files), list = cut_list_that_agrees(files, sizes);
  return money + list + plan_that_agrees(files, sizes);
}

}  // namespace pommel::whole
