// What becomes of a turning that was recognised: a design of the house that is read back before it is kept; and a finished copy held against one.
#pragma once

#include <filesystem>
#include <string>

#include "base/files.h"
#include "base/quantity.h"
#include "designs/designs.h"
#include "designs/matched.h"
#include "job/match_input.h"
#include "match/compare.h"

namespace pommel::job {

struct KeepAs {
  std::string name;            ///< of the design, and with .yaml of its file
  std::filesystem::path into;  ///< folder; empty: the catalog's designs
  bool replace = false;        ///< whether a design of that name may be replaced
  std::string source;          ///< what it was matched from, for the comment
  LengthUnit unit = LengthUnit::millimetre;  ///< in which its lengths are written: millimetre or inch
  std::string family;          ///< one of designs::matched_families(); empty: as its ends look
};

struct KeptMatch {
  std::filesystem::path file;
  designs::FamilyChoice choice;
  match::Comparison read_back;  ///< the part that the written text makes, against what was recognised
};

/// Writes the design, all or nothing, after it was read back and made. Fails with "job.match-name" (no safe file name), "files.exists",
/// "match.not-made" before what the family says against the design, and with the reasons of designs::matched_design and of the disk.
Result<KeptMatch> keep_matched(FileSystem& files, const designs::House& house, const match::Recognition& found, const KeepAs& as);

/// Readings of a finished copy against the outline of a design's file: of the piece that is nearest in length to what was measured. Fails with the reasons of its readers.
Result<match::Comparison> held_against(const FileSystem& files, const designs::House& house, const std::filesystem::path& design, const MatchRead& read);

}  // namespace pommel::job
