// Writing a design: as a new one of the catalog, or as the next revision of the one it was; its maker's comments and layout stay.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>

#include "base/files.h"
#include "base/result.h"
#include "designs/designs.h"

namespace pommel::designs {

/// The design's text with these measures in its sheet, changed in place or added. Fails with yaml's reasons.
Result<std::string> with_measures(std::string_view text, const std::string& file, const std::map<std::string, std::string>& entries);

/// An id for a design of that name: "farmhouse vase, low" gives "farmhouse-vase-low". Empty where the name has neither letters a to z nor digits.
std::string id_for(std::string_view name);

/// What is said of a revision.
struct RevisionNote {
  std::string date;  ///< 2026-03-30
  std::string what, why;
};

/// The text as that of a new design: its name and id, its first revision; what was proven and pictured was another. Fails with yaml's reasons.
Result<std::string> as_new_design(std::string_view text, const std::string& file, const std::string& id, const std::string& name, const RevisionNote& note);
/// The text with what the catalog says of the design beside its measures and its shape (number and list of its revisions, what is proven) as `catalogued` says it:
/// the text may be an older state of it. Fails with yaml's reasons.
Result<std::string> with_record_of(std::string_view text, std::string_view catalogued, const std::string& file);
/// The text as the revision after `catalogued`, whichever revision the text says it is. Where more than the sheet is different, what was proven no longer is, and is
/// taken out. Fails with yaml's reasons.
Result<std::string> as_next_revision(std::string_view text, std::string_view catalogued, const std::string& file, const RevisionNote& note);

/// Writes a new design into the catalog; its file. Fails with "designs.id" (no name for a file), "files.exists", the text's own problems and the disk's.
Result<std::filesystem::path> save_new_design(FileSystem& files, const House& house, const std::string& id, const std::string& text);
/// Writes the next revision over the design's file, which is kept as earlier/NAME.N.yaml first. Fails with "files.changed-on-disk" where the file is not
/// `before` any more, "files.exists" where there is such an earlier file with another text, the text's own problems and the disk's.
Result<Done> save_revision(FileSystem& files, const House& house, const std::filesystem::path& file, const std::string& before, const std::string& text);

}  // namespace pommel::designs
