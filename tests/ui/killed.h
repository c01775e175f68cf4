// What the tests' own program does instead of testing when another of it starts it so: a session that the system ends.
#pragma once

#include <filesystem>

namespace pommel::ui {

inline constexpr const char* kTypeAndBeKilled = "--type-and-be-killed";

/// Opens the order of that house, types a table height of 33 1/2 in, waits for the copy of what is unsaved, and kills itself. Comes back with what went
/// wrong: 1 the order cannot be opened, 2 the cell takes nothing, 3 no copy within a minute.
int type_and_be_killed(const std::filesystem::path& house);

inline constexpr const char* kTypeReadingsAndBeKilled = "--type-readings-and-be-killed";

/// The same with readings in inches in the matching window, the last of them with its place alone, and the width of the squares. 2: a cell takes nothing.
int type_readings_and_be_killed(const std::filesystem::path& house);

/// For both: waits for a copy with that ending, and kills itself.
int be_killed_when_kept(const std::filesystem::path& unsaved, const char* ending);

/// Starts the tests' own program so; whether it was killed.
bool was_killed(const char* how, const std::filesystem::path& house);

}  // namespace pommel::ui
