// A formula made ready to compute many times. muParser does the arithmetic; it sees only symbols bound to slots and
// constants, never the maker's text, and its optimizer is off, so that a result is what the formula says to the bit.
//
// A copy shares the text of the program and builds its own parser at its first run. One thread at a time.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "sheet/analysis.h"
#include "sheet/formula.h"
#include "sheet/functions.h"

namespace pommel::sheet {

/// Why a run gave no value, and at which node of the formula.
struct Stop {
  Mishap mishap = Mishap::none;
  std::size_t node = 0;
  std::vector<double> values;  ///< of the operation that failed
  std::string said;            ///< by muParser, where it refused the program itself; else empty

  bool operator==(const Stop&) const = default;
};

class Program {
 public:
  Program();
  /// `number_for`: the number that stands for a word (the same for the same word throughout a sheet).
  /// REQUIRES: `analysis` is of this formula, without faults and not waiting.
  Program(const Formula& formula, const Analysis& analysis, const Scope& scope,
          const std::function<double(const std::string&)>& number_for);
  Program(const Program& other);
  Program& operator=(const Program& other);
  Program(Program&&) noexcept;
  Program& operator=(Program&&) noexcept;
  ~Program();

  /// `inputs` as Analysis::inputs. The result is finite, or nothing is returned and `stop` says why.
  std::optional<double> run(std::span<const double> inputs, Stop& stop);

 private:
  struct Text;
  struct Machine;
  std::shared_ptr<const Text> text_;
  std::unique_ptr<Machine> machine_;
};

}  // namespace pommel::sheet
