// What every fuzzer has: one function over any bytes, and the properties that hold for all readers.
//
// A target is one file: try_one reads the bytes as its reader would and calls must() for everything that has to be true of them, whatever they are. fuzz.cpp
// calls it for libFuzzer and holds it to a bounded time. A broken property ends the process as a crash does.
#pragma once

#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::fuzz {

/// The target's own. Must not depend on anything but the bytes.
void try_one(std::string_view bytes);

/// Ends the process with `what` when it does not hold.
void must(bool holds, std::string_view what);

/// A carriage return alone ends a line of a program (program/reader.h), and none of the lines that places are judged by: such texts are left alone.
bool has_lone_return(std::string_view bytes);

/// What a reader may say: a stable id of the form room.what, a sentence in one line, a place inside of `text` (or none), the source line as it stands
/// there, and a text for the terminal that is UTF-8. Places in files of another name than `file` are not judged.
void must_be_told_well(const std::vector<Diagnostic>& found, std::string_view text, std::string_view file);

}  // namespace pommel::fuzz
