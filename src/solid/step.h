// Solids as STEP (ISO 10303-21, AP214), and back. Nothing in the bytes comes from the clock, the machine or the file's
// path: the same call gives the same bytes.
//
// The kernel keeps STEP's settings in one global table, so these functions take turns under a lock of their own; they
// may be called from any thread.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "solid/solid.h"

namespace pommel::solid {

struct NamedSolid {
  std::string name;  ///< UTF-8
  Solid solid;
  std::string kind = {};  ///< of all that placed() made of one solid; where empty, the first one's name
};

/// What the file's HEADER says, from the caller.
struct Stamp {
  std::string file_name;  ///< "leg.step"
  std::string time;       ///< ISO 8601, "2024-05-01T12:00:00"; as given
  std::string author;
  std::string organisation;
  std::string system;  ///< originating system, "pommel 0.1.0"
};

/// The text of the file, lengths in millimetres. One solid is one product. Several are an assembly named as the file, in the order given: each solid is
/// one product however often it was placed, and each place an occurrence of it (NEXT_ASSEMBLY_USAGE_OCCURRENCE) with its own name. So four hundred balusters
/// of two lengths are two boundaries. Fails with "step.empty" without solids, "step.write" when the kernel cannot translate one.
Result<std::string> write_step(const std::vector<NamedSolid>& solids, const Stamp& stamp);

/// Every solid of the text, lengths turned into millimetres, with the name of its occurrence in the assembly, or of its product where it is in none.
/// Fails with "step.read".
Result<std::vector<NamedSolid>> read_step(std::string_view text);

}  // namespace pommel::solid
