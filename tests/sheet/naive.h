// A slow, obvious sheet, to judge the quick one: it reads every formula again from its text, character by character,
// computes everything from nothing for every state of the table, and shares no code with the room it judges. Kinds,
// branches and mishaps follow the text at the top of sheet/sheet.h.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace naive {

using Dims = std::array<int, 4>;  // length, angle, money, time

enum class Form { number, yes_no, word };

struct Kind {
  Form form = Form::number;
  Dims dims{};
  bool whole = false;
};

struct Row {
  std::optional<Kind> stated;
  std::vector<std::string> choices;
  std::map<int, std::string> entries;  // by column; "= ..." or a plain entry
  std::optional<std::string> least, most;
};

struct Outcome {
  Kind kind;
  std::map<int, double> values;  // by column
};

struct Table {
  int columns = 1;
  std::vector<std::string> order;
  std::map<std::string, Row> rows;
  std::map<std::string, Outcome> outcomes;
  std::map<std::string, std::vector<double>> lists;  // of lengths
  std::map<std::string, std::string> checks;         // name -> formula without '='
};

struct Answer {
  bool ok = false;       // has a value
  bool missing = false;  // waits for an outcome only
  double number = 0;     // yes/no: 1 or 0
  std::string word;
};

class Evaluator {
 public:
  explicit Evaluator(const Table& table) : table_(table) {}

  Answer cell(const std::string& name, int column);
  Answer limit(const std::string& name, bool most, int column);
  Answer check(const std::string& name, int column);
  bool circular(const std::string& name, int column);

  std::optional<Kind> kind_of(const std::string& name);

 private:
  friend class Reader;
  Answer computed(const std::string& text, bool formula, const std::optional<Kind>& kind,
                  const std::vector<std::string>* choices, int column, bool outcomes);
  const std::string* entry(const std::string& name, int column) const;
  std::vector<std::string> reads(const std::string& text) const;

  bool comes_back(const std::string& name, int column) const;
  Answer fresh_cell(const std::string& name, int column);

  const Table& table_;
  std::set<std::string> asking_;  // kinds being worked out
  // answers given already for this one state of the table
  std::map<std::string, std::optional<Kind>> kinds_;
  std::map<std::pair<std::string, int>, Answer> cells_;
  std::map<std::pair<std::string, int>, bool> circular_;
};

}  // namespace naive
