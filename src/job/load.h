// From a file's name to everything that an order stands on: the order, its design, the design's family, the shop.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "designs/designs.h"
#include "family/family.h"
#include "shop/shop.h"
#include "shop/terms.h"

namespace pommel::job {

/// A file that was read, for the manifest. `name` is relative to the house ("orders/harvest-table.yaml"), so that the same
/// order gives the same bytes wherever the house stands.
struct InputFile {
  std::string name, sha256;
  std::size_t size = 0;
};

struct Loaded {
  designs::House house;
  shop::Shop shop;
  shop::Terms terms;           ///< of the shop's quotes; empty where the shop has no terms.yaml
  family::Family family;
  family::Design design;
  designs::Card card;                  ///< what the catalog says of the design
  std::optional<family::Order> order;  ///< absent where a design was loaded
  std::vector<Diagnostic> notes;       ///< what was brought up to date
  std::vector<InputFile> inputs;       ///< by name
  std::map<std::string, std::string> texts;  ///< of the maker's files, by the name that places give them
};

/// The problems with the lines they stand in, where a room that knows no files could only say the place.
std::vector<Diagnostic> with_lines(const std::map<std::string, std::string>& texts, std::vector<Diagnostic> found);

/// The house a file stands in: the nearest folder above it with designs/ and shop/ is its catalog, the templates/ beside the
/// catalog its templates. `stated`: a catalog folder given by the user, taken instead. `installed`: the house that came with the
/// tool, taken when nothing was found. Fails with "job.no-catalog".
Result<designs::House> find_house(const FileSystem& files, const std::filesystem::path& file,
                                  const std::optional<std::filesystem::path>& stated, const std::filesystem::path& installed);

/// Reads an order, or a design as such. All problems of all files go to `sink`; use the result only when it has no errors.
std::optional<Loaded> load(const FileSystem& files, const designs::House& house, const std::filesystem::path& file, Sink& sink);

/// What a file says it is by its keys: "order", "design", "family"; empty when none tells. A file that names a design and no family is
/// an order, even where its own first word is misspelt.
std::string kind_of_file(std::string_view text);

/// The shop with its terms into `loaded`; `seen` as designs::Seen. Problems go to `sink`.
void read_shop(const FileSystem& files, const designs::House& house, Loaded& loaded, const designs::Seen& seen, Sink& sink);
/// "job.unknown-machine" and "job.unknown-cutter" for names of the order that the shop does not have, with the nearest.
void must_be_in_shop(const shop::Shop& shop, const family::Order& order, Sink& sink);

/// The machine and cutter that a job uses: the order's, or for a design the first of the shop. nullptr when unknown; an unknown
/// name of an order has been reported by load().
const shop::Machine* machine_of(const Loaded& loaded);
const shop::Cutter* cutter_of(const Loaded& loaded);
/// Those of the order that rough, and that cut finely, where it names any of their own; else nothing.
const shop::Cutter* rough_cutter_of(const Loaded& loaded);
const shop::Cutter* fine_cutter_of(const Loaded& loaded);

}  // namespace pommel::job
