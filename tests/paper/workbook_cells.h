// Numbers as other programs find them in our papers: amounts in text, cells of a workbook.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <regex>
#include <string>
#include <vector>

#include "paper/poppler.h"

namespace pommel::paper {

// "1057.39" -> 105739
inline std::vector<long long> cents_in(const std::string& text) {
  std::vector<long long> out;
  static const std::regex amount(R"((?:^|[^0-9.])(\d+)\.(\d\d)(?![0-9.]))");
  for (std::sregex_iterator at(text.begin(), text.end(), amount), end; at != end; ++at) out.push_back(std::stoll((*at)[1].str() + (*at)[2].str()));
  return out;
}

struct Cell {
  std::string formula;
  double value = 0;
};

// Cells with numbers of one sheet of a workbook, by their names.
inline std::map<std::string, Cell> cells_of(const std::string& xlsx, int sheet) {
  const TemporaryFile file(xlsx, ".xlsx");
  const std::string xml = output_of("unzip -p " + file.name() + " xl/worksheets/sheet" + std::to_string(sheet) + ".xml");
  static const std::regex cell(R"rx(<c r="([A-Z]+[0-9]+)"( s="[0-9]+")?>(<f>([^<]*)</f>)?<v>([^<]*)</v></c>)rx");
  std::map<std::string, Cell> out;
  for (std::sregex_iterator at(xml.begin(), xml.end(), cell), end; at != end; ++at) out[(*at)[1]] = {(*at)[4], std::stod((*at)[5])};
  return out;
}

// What a spreadsheet makes of the two forms of formula that are used.
inline double reckoned(const std::map<std::string, Cell>& cells, const std::string& name) {
  const Cell& cell = cells.at(name);
  if (cell.formula.empty()) return cell.value;
  std::smatch part;
  double sum = 0;
  if (std::regex_match(cell.formula, part, std::regex(R"(SUM\(([A-Z])(\d+):[A-Z](\d+)\))"))) {
    for (int row = std::stoi(part[2]); row <= std::stoi(part[3]); ++row)
      if (const std::string at = part[1].str() + std::to_string(row); cells.contains(at)) sum += reckoned(cells, at);
  } else if (std::regex_match(cell.formula, part, std::regex(R"(([A-Z]\d+)\+([A-Z]\d+))"))) {
    sum = reckoned(cells, part[1]) + reckoned(cells, part[2]);
  } else {
    ADD_FAILURE() << cell.formula;
  }
  return sum;
}

}  // namespace pommel::paper
