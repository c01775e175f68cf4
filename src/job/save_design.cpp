#include "job/save_design.h"

#include "designs/save_design.h"

namespace pommel::job {

std::string design_id_for(const std::string& name) { return designs::id_for(name); }

int revision_of(const DesignFile& design) {
  Sink told;  // it has been read before
  return family::read_design(design.text, design.file.generic_string(), design.file.stem().string(), told).revision;
}

bool differs(const std::string& text, const DesignFile& catalogued) {
  if (text == catalogued.text) return false;
  const auto recorded = designs::with_record_of(text, catalogued.text, catalogued.file.generic_string());
  return !recorded.ok() || *recorded != catalogued.text;
}

Result<SavedDesign> save_design(FileSystem& files, const designs::House& house, const DesignToSave& design) {
  if (design.date.empty() || design.what.empty() || design.why.empty())
    return fail("job.unsaid", "a design is saved with a date, what is different, and why", "fill in all three: whoever opens the catalog next year will ask");
  const std::string file = design.from.file.generic_string();
  const designs::RevisionNote note{design.date, design.what, design.why};
  const auto measured = designs::with_measures(design.text, file, design.measures);
  if (!measured.ok()) return measured.failure();
  if (!design.new_name) {
    const auto text = designs::as_next_revision(*measured, design.from.text, file, note);
    if (!text.ok()) return text.failure();
    if (const auto done = designs::save_revision(files, house, design.from.file, design.from.read, *text); !done.ok()) return done.failure();
    return SavedDesign{design.from.file, design.from.file.stem().string(), *text};
  }
  const std::string id = designs::id_for(*design.new_name);
  const auto text = designs::as_new_design(*measured, file, id, *design.new_name, note);
  if (!text.ok()) return text.failure();
  const auto saved = designs::save_new_design(files, house, id, *text);
  if (!saved.ok()) return saved.failure();
  return SavedDesign{*saved, id, *text};
}

}  // namespace pommel::job
