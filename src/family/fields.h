// The keys of a family's `table:` and `blank:` blocks, each with its kind and where its value goes. One list serves the reader
// (which keys there are, which are needed) and the maker (what to do with the values).
#pragma once

#include <string>
#include <vector>

#include "family/family.h"

namespace pommel::family {

template <class Target>
struct Field {
  std::string key;     ///< "height", "long_rail/depth"
  sheet::Kind kind;
  bool required = false;
  /// False when the value is a word that the target does not know.
  bool (*set)(Target&, const sheet::Value&) = nullptr;
  std::vector<std::string> words;  ///< for choices: what is known
};

/// A rail of the table's block: its key, whether it must be there, and its place in the table.
struct RailField {
  std::string key;
  bool required = false;
  frame::ApronRail& (*of)(frame::Table&) = nullptr;
};

const std::vector<Field<frame::Table>>& table_fields();
const std::vector<Field<frame::ApronRail>>& rail_fields();
const std::vector<RailField>& rails();
const std::vector<Field<BlankMeasures>>& blank_fields();

}  // namespace pommel::family
