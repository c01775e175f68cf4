// Saving a design that was changed in a session.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "base/files.h"
#include "designs/designs.h"
#include "job/sources.h"

namespace pommel::job {

struct DesignToSave {
  std::string text;                             ///< the design's, as it was changed
  DesignFile from;                              ///< what it comes from, as the catalog has it
  std::map<std::string, std::string> measures;  ///< become the design's own
  std::string date, what, why;                  ///< of the revision; what and why must be said
  std::optional<std::string> new_name;          ///< a new design; else the next revision of `from`
};

struct SavedDesign {
  std::filesystem::path file;
  std::string id, text;
};

/// The number of its revision: 1 where it says none.
int revision_of(const DesignFile& design);
/// Whether a design's text is another than the catalogued one. An older state of it is not for its number and list of revisions and what was proven of it alone.
bool differs(const std::string& text, const DesignFile& catalogued);

/// The file that a new design of that name gets, without .yaml.
std::string design_id_for(const std::string& name);

/// Fails with "job.unsaid" (no date, nothing said of what is different and why) and the reasons of designs/save_design.h; nothing is written then.
Result<SavedDesign> save_design(FileSystem& files, const designs::House& house, const DesignToSave& design);

}  // namespace pommel::job
