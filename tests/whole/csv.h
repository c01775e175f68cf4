// Tables as another program reads them: RFC 4180.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace pommel::whole {

inline std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    std::string& cell = rows.back().back();
    if (quoted && csv[i] == '"' && csv.substr(i, 2) == "\"\"") cell += csv[i++];
    else if (csv[i] == '"') quoted = !quoted;
    else if (!quoted && csv[i] == ',') rows.back().emplace_back();
    else if (!quoted && csv.substr(i, 2) == "\r\n") rows.emplace_back(1, ""), ++i;
    else cell += csv[i];
  }
  EXPECT_FALSE(quoted) << "a quote is not closed";
  rows.pop_back();
  return rows;
}

}  // namespace pommel::whole
