// A table of what hangs on what, read from a text: for each measure and each result whether the result changes when the measure does, and for some
// of them by how much, worked by hand.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "job/job.h"

namespace pommel::whole {

using Numbers = std::vector<double>;
using Results = std::map<std::string, Numbers>;

/// How many the order needs of the fitting whose name begins so; fittings that it needs none of are not listed.
double fittings_of(const job::Column& column, std::string_view item);

struct Input {
  std::string name, measure, value;
};
struct Worked {
  std::string input, output;
  Numbers by;
};
struct Wiring {
  std::vector<Input> inputs;
  std::vector<std::string> outputs;
  std::map<std::string, std::vector<std::string>> cells;  // by input, one for each output
  std::vector<Worked> worked;
};

Wiring read_wiring(const std::string& text);

// '.' must not change, '*' changes, '+' every number that changes rises, '-' every one falls.
std::string verdict(const Numbers& before, const Numbers& after);

// The order as it stands and with each input changed, worked once. Test runners start a process for each test, so all that is
// asked of it stands in one test.
struct Wires {
  Wiring wiring;
  std::map<std::string, Results> results;      // by input; "" is the order as it stands
  std::map<std::string, bool> worked_again;    // whether the mill planned anew
};

Wires work(const std::string& table, const job::Loaded& loaded, Results (*results_of)(const job::Column&));

void the_table_is_large_enough_and_whole(const Wiring& wiring);
void each_result_changes_or_stays_as_the_table_says(const Wires& wires);
void cells_come_out_as_worked_by_hand(const Wires& wires);

}  // namespace pommel::whole
