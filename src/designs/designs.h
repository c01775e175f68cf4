// The catalog: house designs and the family templates they stand on, found by name.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "designs/card.h"
#include "designs/version.h"
#include "family/family.h"

namespace pommel::designs {

/// Where the shop keeps its files: `catalog` holds designs/, orders/ and shop/; `templates` the families.
struct House {
  std::filesystem::path catalog, templates;
};

/// Called with the path and text of each file that is read, for the manifest.
using Seen = std::function<void(const std::filesystem::path&, const std::string&)>;

/// A design with its family, up to date with it.
struct Entry {
  family::Family family;
  family::Design design;
  Card card;
  Versions versions;
};

/// A family's file with what it says of its versions.
struct Template {
  family::Family family;
  Versions versions;
};

/// The families of one house, kept as they were read first, for whoever asks about many designs. Several threads may ask.
class Templates {
 public:
  /// nullptr where none of this name was kept.
  std::shared_ptr<const Template> kept(const std::string& family) const;
  void keep(const std::string& family, std::shared_ptr<const Template> read);

 private:
  mutable std::mutex busy_;
  std::map<std::string, std::shared_ptr<const Template>> kept_;
};

/// A design from its text, brought up to date with its family: "designs.unknown-family" with the nearest name, "designs.older" (a note),
/// "designs.newer". Nothing when there is no family or the text is too new. A family without problems is kept in `templates`;
/// `seen` is not told of one that was.
std::optional<Entry> read_entry(const FileSystem& files, const House& house, std::string_view text, const std::filesystem::path& file, Sink& sink, const Seen& seen = {},
                                Templates* templates = nullptr);

/// Names of the designs, sorted.
std::vector<std::string> design_names(const FileSystem& files, const House& house);

/// All cards of the catalog by the names of their files; files that cannot be read are reported and left out.
std::vector<Card> cards(const FileSystem& files, const House& house, Sink& sink);

/// The file of a design by its name, by its `id:`, or of an earlier revision by "id@2" (earlier/id.2.yaml). Nothing when there is none.
std::optional<std::filesystem::path> design_file(const FileSystem& files, const House& house, const std::string& id);

/// Reads a design and its family. `place` is where the design was asked for, for "designs.unknown-design" with the nearest name;
/// other problems are those of the files. Nothing when either file is missing.
std::optional<Entry> find_design(const FileSystem& files, const House& house, const std::string& id, const Place& place, Sink& sink, const Seen& seen = {},
                                 Templates* templates = nullptr);

/// Rewrites a design or an order for the present version of its family, comments and layout kept. What was done, in words; fails as
/// up_to_date and the disk.
Result<std::string> update_file(FileSystem& files, const House& house, const std::filesystem::path& file);

}  // namespace pommel::designs
