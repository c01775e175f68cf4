#include "faults/saves.h"

#include <gtest/gtest.h>

#include <fstream>

#include "designs/designs.h"
#include "designs/save_design.h"
#include "job/job.h"
#include "shop/save_shop.h"
#include "ui/models/order_file.h"
#include "whole/house.h"

namespace pommel::faults {

namespace fs = std::filesystem;

namespace {

using whole::House;

// Computed once in a process: what is asked here is how it is written.
const job::Job& small_job() {
  static const job::Job job = [] {
    auto made = job::run(House().load("catalog/orders/low-table.yaml"), {}, {});
    EXPECT_TRUE(made.ok()) << render(made.reasons());
    return std::move(made).value();
  }();
  return job;
}

// The same with another number: other bytes in most of its files.
const job::Job& earlier_job() {
  static const job::Job job = [] {
    job::Job other = small_job();
    other.loaded.order->number = "0";
    return other;
  }();
  return job;
}

void lay_out(const House& house, const fs::path& folder) {
  for (const auto& [name, text] : house.files.files()) {
    fs::create_directories((folder / name).parent_path());
    std::ofstream(folder / name, std::ios::binary) << text;  // nothing that is laid out has to outlive the power
  }
}

void prepare_house(FileSystem&, const fs::path& folder) {
  static const House house;
  lay_out(house, folder);
}

designs::House house_in(const fs::path& folder) { return {folder / "catalog", folder / "templates"}; }

const fs::path kDesign = "catalog/designs/low-table.yaml", kOrder = "catalog/orders/low-table.yaml", kRates = "catalog/shop/rates.yaml";
const designs::RevisionNote kNote{"2026-04-01", "lower", "for low chairs"};

Result<Done> make_over(FileSystem& files, const fs::path& folder) { return job::write_folder(small_job(), nullptr, files, folder / "job", true); }

Result<Done> save_revision(FileSystem& files, const fs::path& folder) {
  const auto now = files.read(folder / kDesign);
  if (!now.ok()) return now.failure();
  if (*now != whole::kSmallDesign) return Done{};  // it is done
  const auto next = designs::as_next_revision(*now, *now, "d.yaml", kNote);
  return next.ok() ? designs::save_revision(files, house_in(folder), folder / kDesign, *now, *next) : next.failure();
}

Result<Done> save_new(FileSystem& files, const fs::path& folder) {
  const auto text = designs::as_new_design(whole::kSmallDesign, "d.yaml", "lower", "lower table", kNote);
  if (!text.ok()) return text.failure();
  const auto saved = designs::save_new_design(files, house_in(folder), "lower", *text);
  return saved.ok() || saved.reasons().front().id == "files.exists" ? Result<Done>(Done{}) : saved.failure();
}

Result<Done> save_rates(FileSystem& files, const fs::path& folder) {
  const auto now = files.read(folder / kRates);
  if (!now.ok()) return now.failure();
  const auto text = shop::with_values(*now, "rates.yaml", {{{"tax"}, "0.07"}});
  return text.ok() ? shop::save_file(files, folder / kRates, *now, *text) : text.failure();
}

Result<Done> bring_up_to_date(FileSystem& files, const fs::path& folder) {
  const auto said = designs::update_file(files, house_in(folder), folder / kDesign);
  return said.ok() ? Result<Done>(Done{}) : said.failure();
}

Result<Done> save_order(FileSystem& files, const fs::path& folder) {
  const auto now = files.read(folder / kOrder);
  if (!now.ok()) return now.failure();
  ui::OrderFile order(files, folder / kOrder, *now, folder / "unsaved");
  return order.save(std::string(whole::kSmallOrder) + "# as agreed\n", folder / kOrder);
}

Result<Done> keep_copy(FileSystem& files, const fs::path& folder, const std::string& words) {
  ui::OrderFile order(files, folder / kOrder, whole::kSmallOrder, folder / "unsaved");
  return order.keep({whole::kSmallOrder + words, whole::kSmallDesign + words});
}

void prepare_copy(FileSystem& files, const fs::path& folder) {
  prepare_house(files, folder);
  ASSERT_TRUE(keep_copy(files, folder, "# one\n").ok());
}

// computing it reads and writes nothing that is asked about here
void prepare_nothing(FileSystem&, const fs::path&) { (void)small_job(); }

void prepare_job(FileSystem& files, const fs::path& folder) { ASSERT_TRUE(job::write_folder(earlier_job(), nullptr, files, folder / "job", false).ok()); }

}  // namespace

const std::vector<Save>& saves() {
  static const std::vector<Save> all{
      {"a fresh job folder", prepare_nothing, make_over},
      {"a job folder in place of another", prepare_job, make_over},
      {"an order", prepare_house, save_order},
      {"the copy of unsaved changes", prepare_copy, [](FileSystem& files, const fs::path& folder) { return keep_copy(files, folder, "# two, and longer\n"); }},
      {"a new design", prepare_house, save_new},
      {"a design's next revision", prepare_house, save_revision},
      {"the shop's rates", prepare_house, save_rates},
      {"an older design brought up to date", prepare_house, bring_up_to_date}};
  return all;
}

State state_of(const fs::path& folder) {
  State out;
  std::error_code error;
  for (const auto& entry : fs::recursive_directory_iterator(folder, error)) {
    const std::string name = entry.path().lexically_relative(folder).generic_string();
    if (entry.is_directory()) out[name + "/"];
    else out[name] = *real_files()->read(entry.path());
  }
  return out;
}

std::string difference(const State& one, const State& other) {
  std::string out;
  for (const auto& [name, bytes] : one) {
    if (!other.contains(name)) out += name + " stands only in the first\n";
    else if (other.at(name) != bytes) out += name + " has other bytes\n";
  }
  for (const auto& [name, bytes] : other)
    if (!one.contains(name)) out += name + " stands only in the second\n";
  return out;
}

State seen(const State& state) {
  State out;
  for (const auto& [name, bytes] : state)
    if (!name.starts_with('.') && name.find("/.") == std::string::npos) out.emplace(name, bytes);
  return out;
}

}  // namespace pommel::faults
