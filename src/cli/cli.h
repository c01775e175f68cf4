// What the verbs share: options, exit codes, how problems are shown. One file for each verb.
#pragma once

#include <filesystem>
#include <optional>
#include <stop_token>
#include <string>
#include <utility>
#include <vector>

#include <CLI/CLI.hpp>

#include "base/files.h"
#include "job/job.h"

namespace pommel::cli {

/// Exit codes, documented in --help and README.
enum Exit : int {
  kDone = 0,
  kProblems = 1,      ///< the files have problems, or a check stops the job; nothing was written
  kUsage = 2,         ///< the command line cannot be understood
  kNotProved = 3,     ///< a program's check found a fault: it harms the piece or what holds it; nothing was released
  kCannotWrite = 4,   ///< the disk refused
  kNotReadable = 5,   ///< `prove`: the text cannot be read as a program
  kDoesNotFit = 6,    ///< `prove`: a program, and not for this piece, these cutters or this machine
  kStopped = 130      ///< interrupted by the user (as shells count SIGINT)
};

struct Shared {
  FileSystem* files = nullptr;
  std::optional<std::filesystem::path> catalog;
  std::filesystem::path installed;  ///< share/pommel of this installation
  std::stop_token stop;
  bool json = false;
};

/// Each verb adds itself to the command line; `run` is what the chosen one will do.
using Run = std::function<int()>;
void add_make(CLI::App& app, Shared& shared, Run& run);
void add_sheet(CLI::App& app, Shared& shared, Run& run);
void add_check(CLI::App& app, Shared& shared, Run& run);
void add_solid(CLI::App& app, Shared& shared, Run& run);
void add_prove(CLI::App& app, Shared& shared, Run& run);
void add_catalog(CLI::App& app, Shared& shared, Run& run);
void add_first_run(CLI::App& app, Shared& shared, Run& run);
void add_match(CLI::App& app, Shared& shared, Run& run);

/// Prints text to stdout; false when it could not be written (a closed pipe, a full disk).
bool print(const std::string& text);
/// Shows problems: as text on stderr, or with --json as a list on stdout. Returns the exit code they call for.
int show(const std::vector<Diagnostic>& found, const Shared& shared);

/// The house a file stands in, looked for above the folder we run in, too; named from there when the file is.
Result<designs::House> house_of(const std::filesystem::path& file, const Shared& shared);
/// Finds the house and loads; problems are shown and `exit` set when there is nothing to go on with.
std::optional<job::Loaded> load(const std::filesystem::path& file, const Shared& shared, int& exit);

/// "name=value" texts into entries; a text without '=' is reported.
std::vector<std::pair<std::string, sheet::Entry>> with_entries(const std::vector<std::string>& texts, Sink& sink);

/// Progress lines on stderr when it is a terminal and JSON is not asked for.
job::Options options_of(const Shared& shared);
/// Ends the progress line.
void end_progress(const Shared& shared);

}  // namespace pommel::cli
