#include "job/variants.h"

namespace pommel::job {

Result<PricedVariant> priced_variant(const Loaded& loaded, const std::string& says, const std::vector<std::pair<std::string, sheet::Entry>>& entries, const Options& options) {
  Sink sink;
  const sheet::Sheet sheet = family::make_sheet(loaded.family, loaded.design, loaded.order ? &*loaded.order : nullptr, loaded.shop, entries, sink);
  if (sink.has_errors()) return Failure(sink.all());
  auto column = run_column(loaded, sheet, sheet.column_count() - 1, options);
  if (!column.ok()) return column.failure();
  return PricedVariant{says, std::move(column->quote)};
}

}  // namespace pommel::job
