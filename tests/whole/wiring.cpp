#include "whole/wiring.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "base/number.h"
#include "base/text.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

constexpr double kExact = 1e-9;  // mm: of a difference of two lengths on the outline's grid

std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> out;
  for (std::string_view word : split(line, ' '))
    if (!word.empty()) out.emplace_back(word);
  return out;
}

Results run(const job::Loaded& loaded, const Input& input, const job::Options& options, Results (*results_of)(const job::Column&)) {
  Sink sink;
  Extra extra;
  if (!input.name.empty()) extra.emplace_back(input.measure, input.value);
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, entries(extra), sink);
  EXPECT_FALSE(sink.has_errors()) << input.name << "\n" << render(sink.all());
  const auto column = job::run_column(loaded, sheet, family::kOrder, options);
  EXPECT_TRUE(column.ok()) << input.name << "\n" << render(column.reasons());
  return column.ok() ? results_of(*column) : Results{};
}

}  // namespace

double fittings_of(const job::Column& column, std::string_view item) {
  for (const family::HardwareItem& one : column.made.hardware)
    if (one.item.starts_with(item)) return one.count;
  return 0;
}

Wiring read_wiring(const std::string& text) {
  Wiring out;
  std::string section;
  for (std::string_view line : split(text, '\n')) {
    line = trimmed(line.substr(0, line.find('#')));
    if (line.empty()) continue;
    if (line == "INPUTS" || line == "TABLE" || line == "WORKED") {
      section = line;
      continue;
    }
    const std::vector<std::string> words = words_of(line);
    if (section == "INPUTS") {
      const std::size_t equals = line.find('=');
      out.inputs.push_back({words.at(0), words.at(1), std::string(trimmed(line.substr(equals + 1)))});
    } else if (section == "TABLE" && out.outputs.empty()) {
      out.outputs = words;
    } else if (section == "TABLE") {
      out.cells[words.at(0)] = {words.begin() + 1, words.end()};
    } else {
      Worked cell{words.at(0), words.at(1), {}};
      for (std::size_t i = 2; i < words.size(); ++i) {
        const auto number = parse_number(words[i].starts_with('+') ? words[i].substr(1) : words[i]);
        EXPECT_TRUE(number) << line;
        cell.by.push_back(number.value_or(0));
      }
      out.worked.push_back(std::move(cell));
    }
  }
  return out;
}

// '.' must not change, '*' changes, '+' every number that changes rises, '-' every one falls.
std::string verdict(const Numbers& before, const Numbers& after) {
  if (before == after) return ".";
  if (before.size() != after.size()) return "*";
  bool rises = false, falls = false;
  for (std::size_t i = 0; i < before.size(); ++i) {
    rises = rises || after[i] > before[i];
    falls = falls || after[i] < before[i];
  }
  return rises && falls ? "*" : rises ? "+" : "-";
}

Wires work(const std::string& table, const job::Loaded& loaded, Results (*results_of)(const job::Column&)) {
  Wires out;
  out.wiring = read_wiring(repository_text(table));
  job::TurningMemo memo;
  job::Options options;
  options.memo = &memo;
  out.results[""] = run(loaded, {"", "", ""}, options, results_of);
  for (const Input& input : out.wiring.inputs) {
    const std::size_t planned = memo.computed();
    out.results[input.name] = run(loaded, input, options, results_of);
    out.worked_again[input.name] = memo.computed() > planned;
  }
  return out;
}

void each_result_changes_or_stays_as_the_table_says(const Wires& wires) {
  const Results& before = wires.results.at("");
  std::string whole;
  for (const Input& input : wires.wiring.inputs) {
    whole += input.name + " ";
    for (std::size_t i = 0; i < wires.wiring.outputs.size(); ++i) {
      const std::string& output = wires.wiring.outputs[i];
      ASSERT_TRUE(before.contains(output)) << output;
      const std::string& wanted = wires.wiring.cells.at(input.name).at(i);
      const std::string found = verdict(before.at(output), wires.results.at(input.name).at(output));
      whole += found + " ";
      const bool alike = wanted == found || (wanted == "*" && found != ".");
      EXPECT_TRUE(alike) << input.name << " -> " << output << ": the table says " << wanted << ", it is " << found;
    }
    whole += "\n";
  }
  if (::testing::Test::HasFailure()) std::printf("as it is:\n%s", whole.c_str());
}

void cells_come_out_as_worked_by_hand(const Wires& wires) {
  const Results& before = wires.results.at("");
  for (const Worked& cell : wires.wiring.worked) {
    ASSERT_TRUE(wires.results.contains(cell.input)) << cell.input;
    ASSERT_TRUE(before.contains(cell.output)) << cell.output;
    const Numbers &a = before.at(cell.output), &b = wires.results.at(cell.input).at(cell.output);
    ASSERT_EQ(a.size(), b.size()) << cell.input << " -> " << cell.output;
    ASSERT_EQ(a.size(), cell.by.size()) << cell.input << " -> " << cell.output;
    for (std::size_t i = 0; i < a.size(); ++i)
      EXPECT_NEAR(b[i] - a[i], cell.by[i], kExact) << cell.input << " -> " << cell.output << ", number " << i + 1;
  }
}

void the_table_is_large_enough_and_whole(const Wiring& wiring) {
  EXPECT_GE(wiring.inputs.size(), 12u);
  EXPECT_GE(wiring.outputs.size(), 14u);
  EXPECT_GE(wiring.worked.size(), 20u);
  EXPECT_EQ(wiring.cells.size(), wiring.inputs.size());
  for (const Input& input : wiring.inputs) {
    ASSERT_TRUE(wiring.cells.contains(input.name)) << input.name;
    EXPECT_EQ(wiring.cells.at(input.name).size(), wiring.outputs.size()) << input.name;
  }
}

}  // namespace pommel::whole
