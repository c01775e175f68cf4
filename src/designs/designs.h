// The catalog: house designs and the family templates they stand on, found by name.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "family/family.h"

namespace pommel::designs {

/// Where the shop keeps its files: `catalog` holds designs/, orders/ and shop/; `templates` the families.
struct House {
  std::filesystem::path catalog, templates;
};

/// Called with the path and text of each file that is read, for the manifest.
using Seen = std::function<void(const std::filesystem::path&, const std::string&)>;

/// A design with its family.
struct Entry {
  family::Family family;
  family::Design design;
};

/// Finds the family of a design that has been read: "designs.unknown-family" with the nearest name. Nothing when there is none.
std::optional<Entry> with_family(const FileSystem& files, const House& house, family::Design design, Sink& sink, const Seen& seen = {});

/// Names of the designs, sorted.
std::vector<std::string> design_names(const FileSystem& files, const House& house);

/// Reads a design and its family. `place` is where the design was asked for, for "designs.unknown-design" with the nearest name;
/// other problems are those of the files. Nothing when either file is missing.
std::optional<Entry> find_design(const FileSystem& files, const House& house, const std::string& id, const Place& place, Sink& sink, const Seen& seen = {});

}  // namespace pommel::designs
