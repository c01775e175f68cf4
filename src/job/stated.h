// What the check found, stated in the header of the very text that was checked.
//
// A text cannot state its own checksum, nor figures that are found only once it stands. So the header reserves notes, "(note: check ...)",
// that text is checked, and the notes are filled in; the judge (proof::restated) lets the proof be carried over when nothing else changed, line
// by line. The checksum that the header states is of all other lines, those without "(note: check": it can be had again with
//     grep -v '^(note: check' leg-turning.nc | sha256sum
// The checksum of the whole file stands in its .check.json and in the folder's manifest.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/turning.h"

namespace pommel::job {

/// The header with notes reserved.
program::Header reserved(program::Header header);

/// The program with its notes filled in. A proof that did not pass fills in nothing: such a text goes nowhere. `text` and `proof`: as checked.
/// Fails with "proof.other-text" where the notes had no room.
Result<Program> stated(std::string text, proof::Proof proof);

/// Holds a text to what its header states: the fault "proof.changed" where the stated checksum is not that of its other lines, for then it was changed
/// after its check. A text that states none is judged by what it does alone.
std::optional<proof::Finding> changed_since_check(std::string_view text);

/// sha256 of all lines of a text but those that state its check.
std::string sum_of_other_lines(std::string_view text);

}  // namespace pommel::job
