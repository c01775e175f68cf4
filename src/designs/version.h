// Files outlive the templates they were written for. A family says its version and what it has renamed:
//
//     version: 3
//     renamed:
//       2: {leg_square: square}
//       3: {foot: foot_diameter, taper: shaft}
//
// and a design or an order says which version it was written for (`written_for: 1`; left out: 1). An older file is brought up to date
// as text, so that its maker's comments and layout stay: names of measures under `sheet:` and `proven:`, and inside formulas and checks. A
// newer one is refused.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::designs {

struct Versions {
  int version = 1;
  std::string family;  ///< its name, for messages
  std::map<int, std::vector<std::pair<std::string, std::string>>> renamed;  ///< by the version that came with it: old name, new name

  /// Old names and what they are called now, for a file written for `from`: renamed twice is one step.
  std::map<std::string, std::string> names_since(int from) const;
};

/// Problems go to `sink`: "designs.renamed" (a version beyond the family's own, a name that is no word).
Versions versions_of(std::string_view family_text, const std::string& file, Sink& sink);

struct UpToDate {
  std::string text;  ///< the file's, as it stands or migrated
  bool changed = false;
};

/// A design's or an order's text for the family's present version. An older file adds a note "designs.older" to `sink`, naming what was
/// renamed. Nothing, with "designs.newer", for one written for a later version, and with "designs.cannot-migrate" where a name
/// stands in a text that cannot be changed in place.
std::optional<UpToDate> up_to_date(std::string_view text, const std::string& file, const Versions& versions, Sink& sink);

/// The same text saying that it is written for `version`, everything else left as it is: for writing a migrated file back.
std::string says_written_for(std::string text, int version);

/// A formula with names replaced as whole words, not in quotes.
std::string with_names(std::string_view formula, const std::map<std::string, std::string>& names);

}  // namespace pommel::designs
