// What a formula's names mean and of what kind it is: the first of the two routes by which kinds are checked (scale.h
// is the second). Every branch is looked at, whatever today's values are.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sheet/fault.h"
#include "sheet/formula.h"
#include "sheet/kind.h"

namespace pommel::sheet {

struct Meaning {
  enum class What { unknown, parameter, outcome, list };

  What what = What::unknown;
  std::size_t index = 0;                              ///< the row; for a list, its number
  std::optional<Kind> kind;                           ///< nothing: not known (yet); for a list, it has a problem
  const std::vector<std::string>* choices = nullptr;  ///< of a choice parameter
};

/// The names a formula may use.
class Scope {
 public:
  virtual ~Scope() = default;
  virtual Meaning meaning(std::string_view name) const = 0;
  virtual std::string nearest(std::string_view name) const = 0;
  virtual const std::vector<double>& sizes(std::size_t list) const = 0;
  virtual const std::string& stage_of(std::size_t outcome_row) const = 0;
};

/// Who asks.
struct Wanted {
  std::string name;                                   ///< of the row, for messages; may be empty
  std::optional<Kind> kind;                           ///< nothing: whatever it gives
  const std::vector<std::string>* choices = nullptr;  ///< the words a choice may take
  bool outcomes = false;                              ///< whether it may read outcomes
};

struct Analysis {
  std::vector<Fault> faults;
  std::vector<Meaning> meanings;    ///< by node; unknown where the node is no name
  std::vector<Kind> kinds;          ///< by node, where known; for showing values
  std::vector<std::size_t> inputs;  ///< rows, by first appearance
  std::optional<std::size_t>
      waits_for;             ///< a row that is read and whose kind is not known; then nothing more is judged
  std::optional<Kind> kind;  ///< when there is no fault and nothing to wait for
};

Analysis analyse(const Formula& formula, std::string_view text, const Scope& scope, const Wanted& wanted,
                 const Settings& settings);

/// "3 what?" for a text that should carry a unit of this kind.
Fault unit_missing(std::string_view number, Span span, const std::string& beside, const Kind& kind,
                   const Settings& settings);

}  // namespace pommel::sheet
