// The same order at other sizes, priced to stand beside it on the shop's cost sheet. No programs, no papers of its own.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "job/column.h"

namespace pommel::job {

struct PricedVariant {
  std::string says;  ///< "table_height=790 mm", as it was asked for
  quote::Quote quote;
};

/// The order with `entries` over its own, through mill and quote. Fails with the reasons of the sheet and of the stage that could not go on.
Result<PricedVariant> priced_variant(const Loaded& loaded, const std::string& says, const std::vector<std::pair<std::string, sheet::Entry>>& entries, const Options& options);

}  // namespace pommel::job
