// Jobs that the tests of this room look at: an order of the catalog through both columns up to stock, nothing milled.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "job/job.h"

namespace pommel::paper {

/// `order`: "harvest-table", "cannonball-bed"; `sizes` over those that it states.
inline job::Job stock_job(const std::string& order, const std::vector<std::pair<std::string, std::string>>& sizes = {}) {
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  const auto files = real_files();
  const auto file = root / "catalog" / "orders" / (order + ".yaml");
  const auto house = job::find_house(*files, file, std::nullopt, {});
  EXPECT_TRUE(house.ok());
  Sink sink;
  auto loaded = job::load(*files, *house, file, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  std::vector<std::pair<std::string, sheet::Entry>> entries;
  for (const auto& [name, text] : sizes) entries.push_back({name, {text, Place{"test", 1, 1}, text}});
  job::Job job;
  job.loaded = std::move(*loaded);
  job.sheet = family::make_sheet(job.loaded.family, job.loaded.design, &*job.loaded.order, job.loaded.shop, entries, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  auto catalogue = job::run_to_stock(job.loaded, job.sheet, family::kCatalogue, {});
  auto ordered = job::run_to_stock(job.loaded, job.sheet, job.sheet.column_count() - 1, {});
  EXPECT_TRUE(catalogue.ok() && ordered.ok());
  job.catalogue = std::move(catalogue).value();
  job.order = std::move(ordered).value();
  return job;
}

}  // namespace pommel::paper
