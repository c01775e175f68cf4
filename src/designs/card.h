// What the catalog knows of a design besides its measures: a stable id, revisions, tags, pictures, the range it is proven for.
//
//     id: farmhouse-vase            # stays, whatever the file is called; left out: the file's name
//     tags: [country, vase]
//     pictures: [farmhouse-vase.jpg]
//     revision: 2
//     revisions:                    # the newest last; the file of revision 1 is kept as earlier/farmhouse-vase.1.yaml
//       - {revision: 1, date: 2026-01-12, what: first, why: for the spring catalog}
//       - {revision: 2, date: 2026-03-30, what: ankle a tenth thicker, why: one chipped in the shop}
//     proven:                       # between these it can be made, and its joints hold: beyond them is new ground, and that is said
//       table_height: [700 mm, 800 mm]
//
// All of it may be left out. The rest of the file is the family reader's. Thread rule: plain values.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::designs {

struct Revision {
  int number = 0;
  std::string date, what, why;
};

/// A measure and the least and greatest value that are proven, as written: "700 mm".
struct Proven {
  std::string measure, least, greatest;
  Place place;
};

struct Card {
  std::string id;    ///< stable
  std::string file;  ///< the file's name without .yaml
  std::string name, family, about;
  int revision = 1;
  std::vector<std::string> tags, pictures;
  std::vector<Revision> revisions;
  std::vector<Proven> proven;
};

/// Problems go to `sink`: "designs.id" (not fit for a name), "designs.revisions" (not rising by one to `revision`, a date that is none),
/// "designs.proven" (not two sizes, the smaller first where both are of one unit).
Card read_card(std::string_view text, const std::string& file, const std::string& stem, Sink& sink);

/// Whether every word of `words` (blanks between) is part of the card's id, name, family, tags or description; letters' case does not matter.
bool matches(const Card& card, std::string_view words);

/// Ids that two cards share, with their files: "designs.same-id".
std::vector<Diagnostic> shared_ids(const std::vector<Card>& cards);

}  // namespace pommel::designs
