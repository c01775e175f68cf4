// "Make this outcome that by moving this measure": target seeking.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "base/result.h"
#include "sheet/sheet.h"

namespace pommel::sheet {

struct Root {
  double at = 0;        ///< where the function comes nearest to zero
  double residual = 0;  ///< the function there
  int evaluations = 0;
};

/// A zero of f in [low, high] by Brent's method (R. P. Brent, Algorithms for Minimization without Derivatives, 1973,
/// chapter 4). Stops when |f| <= `enough`, or the bracket is narrower than `finest` (+ 4 ulp). The result is the end of
/// the bracket with the smaller |f|; across a jump the residual stays large, and the caller judges it. REQUIRES: low <=
/// high, finest >= 0, enough >= 0. Fails with "sheet.not-bracketed" when f has one sign at both ends, and with f's own
/// reasons where f fails.
Result<Root> find_root(const std::function<Result<double>(double)>& f, double low, double high, double finest,
                       double enough);

struct Goal {
  std::string wished;  ///< a parameter or an outcome of kind number
  Value value;         ///< what it shall be; same kind
  std::string moving;  ///< the parameter to move: a number with limits; not a count
  std::size_t column = 0;
  std::optional<double> least, most;  ///< internal units; narrow the parameter's own limits
  std::optional<double> finest;       ///< of the measure; default: 1e-7 of the range
  std::optional<double> tolerance;  ///< of the wished value, internal units; default: 1e-6 of it (or 1e-9 around zero)
};

struct Sought {
  Value measure;   ///< set the parameter to exact_entry(measure) to have it
  Value achieved;  ///< the wished value there
  int evaluations = 0;
  bool one_way = true;  ///< false: over the tried measures the outcome rises and falls, so there may be other answers
};

/// Computes the outcomes of `column` for the sheet as it stands, and gives them by set_outcomes().
using Outcomes = std::function<Result<Done>(Sheet& sheet, std::size_t column)>;

/// Works on a copy; the sheet is untouched. Where the ends of the limits do not bracket the wish, 15 measures between
/// them are tried, and the bracket nearest to the present measure is taken. Without limits of any sort it fails with
/// "sheet.seek-needs-limits". Other failures: "sheet.unknown-name", "sheet.wrong-kind", "sheet.seek-fixed" (the wished
/// value does not move with the measure), "sheet.seek-out-of-reach" (says which values the limits allow),
/// "sheet.seek-jump" (the outcome steps over the wished value; both sides are told), and whatever `outcomes` fails
/// with.
Result<Sought> seek(const Sheet& sheet, const Goal& goal, const Outcomes& outcomes = {});

}  // namespace pommel::sheet
