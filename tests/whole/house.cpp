#include "whole/house.h"

#include <filesystem>

#include <gtest/gtest.h>

namespace pommel::whole {

namespace fs = std::filesystem;

std::string repository_text(const std::string& name) {
  const auto text = real_files()->read(fs::path(POMMEL_SOURCE_DIR) / name);
  EXPECT_TRUE(text.ok()) << name;
  return text.ok() ? *text : std::string();
}

std::vector<std::pair<std::string, sheet::Entry>> entries(const Extra& extra) {
  std::vector<std::pair<std::string, sheet::Entry>> out;
  for (const auto& [name, text] : extra) out.emplace_back(name, sheet::Entry{text, Place{"--with", 1, static_cast<int>(name.size()) + 2}, name + "=" + text});
  return out;
}

House::House() {
  for (const std::string folder : {"templates", "catalog/shop"})
    for (const std::string& name : real_files()->list(fs::path(POMMEL_SOURCE_DIR) / folder)) put(folder + "/" + name, repository_text(folder + "/" + name));
  put("catalog/designs/low-table.yaml", kSmallDesign);
  put("catalog/orders/low-table.yaml", kSmallOrder);
}

void House::put(const std::string& name, const std::string& text) {
  ASSERT_TRUE(files.make_folder(fs::path(name).parent_path()).ok()) << name;
  ASSERT_TRUE(files.write(name, text).ok()) << name;
}

std::optional<job::Loaded> House::load(const std::string& name, Sink& sink) const {
  const auto house = job::find_house(files, name, std::nullopt, {});
  if (!house.ok()) {
    sink.add(house.reasons());
    return std::nullopt;
  }
  return job::load(files, *house, name, sink);
}

job::Loaded House::load(const std::string& name) const {
  Sink sink;
  auto loaded = load(name, sink);
  EXPECT_TRUE(loaded && !sink.has_errors()) << render(sink.all());
  return loaded ? std::move(*loaded) : job::Loaded{};
}

}  // namespace pommel::whole
