// A whole order: both columns of the sheet through the rooms, solids, programs with their proofs, checks; and its folder.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "base/files.h"
#include "job/column.h"
#include "job/load.h"

namespace pommel::job {

/// A finished file of the job folder, by its name inside.
struct File {
  std::string name, bytes;
};

struct Job {
  Loaded loaded;
  sheet::Sheet sheet{"catalogue"};
  Column catalogue, order;
  std::vector<Programs> programs;  ///< beside order.turnings; of each its files, one but where the machine takes a file a cutter
  std::vector<std::vector<Program>> joint_programs;  ///< beside order.joints; none where all is left to the bench
  std::vector<File> solids;       ///< STEP and STL of each turned piece and of each distinct jointed piece
  std::vector<sheet::CheckResult> checks;
};

/// Writes papers that need more than text (pictures, pages). paper/ registers one where it is built in.
class Papers {
 public:
  virtual ~Papers() = default;
  virtual Result<std::vector<File>> write(const Job& job) const = 0;
  /// Whether they show what neither the order nor its files say: other sizes beside it.
  virtual bool say_more() const { return false; }
};

/// Runs everything. Entries of `extra` ("--with name=value") stand in the order's column. Fails with all reasons: the sheet's,
/// each room's, "sheet.check" where a stopping check does not hold, "job.not-proved" where a program's check found a fault.
Result<Job> run(Loaded loaded, const std::vector<std::pair<std::string, sheet::Entry>>& extra, const Options& options);

/// "leg-turning"; of several turnings of one piece "leg-turning-2".
std::string turning_name(const Job& job, std::size_t i);
/// Name of the `file`-th program of the `i`-th turning: "leg-turning.nc"; of several "leg-turning-1-bull-nose-12.nc".
std::string program_name(const Job& job, std::size_t i, std::size_t file);
/// All of them in their order, in words: "leg-turning-1-bull-nose-12.nc, then leg-turning-2-ball-8.nc".
std::string programs_in_words(const Job& job, std::size_t i);

/// Of a distinct piece as its solids are named ("leg-piece-1"), and of the `file`-th program of the `i`-th of order.joints.
std::string piece_name(const Column& column, std::size_t kind);
std::string joint_program_name(const Job& job, std::size_t i, std::size_t file);

/// Everything that goes into the folder but the manifest, in the order of its names. A program whose text is not the one that
/// was proved, or whose proof did not pass, makes it fail: nothing is released then.
Result<std::vector<File>> files_of(const Job& job, const Papers* papers);

/// Whether a job folder may be written there: "files.exists" when something stands there and `replace` is not said;
/// "job.not-ours" when what stands there is not a job folder, or holds files that its manifest does not know: those are somebody's,
/// and a replaced folder goes with all that it holds.
Result<Done> may_write(const FileSystem& files, const std::filesystem::path& into, bool replace);

/// Whether `into` is a job folder that this version made from these very files, with no size said beside them or shown beside the order, and every file in it is as it was made.
bool made_before(const FileSystem& files, const std::filesystem::path& into, const Loaded& loaded);

/// Takes a job folder's place, before long work: nobody else makes that folder until what is returned ends ("files.held" says who does),
/// and what a killed run left beside it is cleared away. Fails with the reasons of may_write() and of the disk. REQUIRES: `files` outlives it.
Result<std::unique_ptr<FolderInMaking>> claim_folder(FileSystem& files, const std::filesystem::path& into, bool replace);

/// Writes the folder, all or nothing. `replace`: as for claim_folder. Fails with the reasons of files_of(), may_write() and the disk.
Result<Done> write_folder(const Job& job, const Papers* papers, FileSystem& files, FolderInMaking& folder, bool replace);
/// The same with a claim of its own.
Result<Done> write_folder(const Job& job, const Papers* papers, FileSystem& files, const std::filesystem::path& into, bool replace);

/// One piece of a column that has come to stock: "turned" (no joints; of several pieces "head-post-turned" ...) or a member's id (with its joints), as STEP or, with `stl`, as binary
/// STL no farther than `deflection` mm from the surface. Fails with "job.unknown-piece" (nearest name given) and solid's reasons.
Result<std::string> solid_bytes(const Loaded& loaded, const Column& column, const std::string& piece, const std::string& file_name, bool stl,
                                double deflection, std::stop_token stop);

/// Reads a family by itself, with the shop of its house, and makes it with its own sizes; says all that is wrong with it to `sink`.
void check_family(const FileSystem& files, const designs::House& house, const std::filesystem::path& file, const std::string& text, Sink& sink);

/// The page a maker opens first, plain text of 80 columns: what changed, what to mill, the programs and their check, hand
/// work, warnings, the price beside the catalogue's, cautions.
std::string summary(const Job& job);
/// The sheet with both columns and what follows at its foot.
std::string sheet_text(const sheet::Sheet& sheet);
/// "4 turned legs, ... and 4 rails, joined, sanded and finished, for a table ...": what the client gets.
std::string what_is_included(const Job& job);
/// Of the `file`-th program of the `i`-th turning.
std::string setup_text(const Job& job, std::size_t i, std::size_t file);
/// Of the `file`-th program of the `i`-th of order.joints.
std::string joint_setup_text(const Job& job, std::size_t i, std::size_t file);

/// JSON for other programs (RFC 8259), two blanks a level: keys in a fixed order, lengths in mm, money in cents.
std::string job_json(const Job& job);
std::string sheet_json(const sheet::Sheet& sheet);
std::string diagnostics_json(const std::vector<Diagnostic>& found);
std::string proof_json(const proof::Proof& proof);

}  // namespace pommel::job
