// pommel prove PROGRAM... --for ORDER
#include "cli/cli.h"

#include <algorithm>

#include "base/text.h"
#include "job/prove.h"

namespace pommel::cli {
namespace {

struct Arguments {
  std::vector<std::filesystem::path> programs;  ///< that cut the piece one after the other
  std::filesystem::path order;
  std::string piece;
  std::vector<std::string> cutters;
};

constexpr std::size_t kMaxProgram = 256u << 20;

/// What a program is held against.
struct Subject {
  shape::Part part;
  std::size_t piece = 0;  ///< of Column::made.pieces
  bool joints = false;    ///< it cuts the joints of the turned piece
};

// As a piece is called: "leg" is turned; "leg-piece-1" (as job folders name it, lying as it was turned) and "leg-front-left" (with its own
// faces) are jointed. A program without --piece is called by its file's name.
Result<Subject> subject_of(const Arguments& arguments, const job::Column& column) {
  const frame::Set& set = column.made.set;
  std::vector<std::string> known;
  const std::string file = arguments.programs.front().filename().string();
  const auto called = [&](const std::string& name, const char* by_file) {
    known.push_back(name);
    return arguments.piece.empty() ? file.starts_with(name + by_file) : arguments.piece == name;
  };
  for (std::size_t i = 0; i < column.made.pieces.size(); ++i)
    if (called(column.made.pieces[i].wanted.id, "-turning")) return Subject{column.made.pieces[i].part, i, false};
  for (std::size_t kind = 0; kind < set.jointed_kinds.size(); ++kind) {
    const frame::Member& first = *std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& m) { return m.id == set.jointed_kinds[kind].members.front(); });
    if (called(job::piece_name(column, kind), "-joints")) return Subject{job::as_turned(set, first), first.piece, true};
  }
  for (const frame::Member& member : set.members)
    if (!member.spare && called(member.id, "-joints")) return Subject{member.part, member.piece, true};
  if (arguments.piece.empty() && column.made.pieces.size() == 1) return Subject{column.made.pieces.front().part, 0, false};
  return fail("cli.piece", arguments.piece.empty() ? "the program's name does not say which piece it cuts" : "there is no piece '" + arguments.piece + "'",
              "say --piece, one of: " + listed(known));
}

// The cutters that are stated; else those of the shop that the text names; else the order's.
Result<std::vector<shop::Cutter>> cutters_of(const Arguments& arguments, const std::vector<std::string>& texts, const job::Loaded& loaded) {
  const auto named = [&](const std::string& id) {
    return std::any_of(texts.begin(), texts.end(), [&](const std::string& text) { return text.find("(cutter: " + id + ")") != std::string::npos; });
  };
  std::vector<shop::Cutter> out;
  std::vector<std::string> known;
  for (const auto& [id, cutter] : loaded.shop.cutters) {
    known.push_back(id);
    if (arguments.cutters.empty() && named(id)) out.push_back(cutter);
  }
  for (const std::string& id : arguments.cutters) {
    const auto found = loaded.shop.cutters.find(id);
    if (found == loaded.shop.cutters.end()) return fail("cli.cutter", "the shop has no cutter '" + id + "'", "say --cutter, one of: " + listed(known));
    out.push_back(found->second);
  }
  if (out.empty()) out.push_back(*job::cutter_of(loaded));
  return out;
}

bool among(const std::string& id, std::initializer_list<const char*> ids) {
  return std::any_of(ids.begin(), ids.end(), [&](const char* one) { return id == one; });
}

// The cutter that only roughs, by the order.
std::vector<std::string> rough_only(const job::Loaded& loaded) {
  const shop::Cutter* rough = job::rough_cutter_of(loaded);
  return rough ? std::vector<std::string>{rough->id} : std::vector<std::string>{};
}

// A text that is sound in itself, and not for this piece, these cutters or this machine; or one that is no program.
int code_of_failure(const std::vector<Diagnostic>& reasons) {
  const std::string& id = reasons.front().id;
  if (among(id, {"proof.blank", "proof.cutter", "proof.part", "proof.settings", "program.machine"})) return kProblems;
  if (among(id, {"proof.off-axis", "proof.which-cutter", "proof.no-joint", "proof.too-much", "program.axis", "program.travel", "program.feed-limit", "program.modulo"})) return kDoesNotFit;
  return kNotReadable;
}

// Harm to the wood or to what holds it, before limits of the machine that the program asks too much of.
int code_of(const proof::Proof& proof) {
  if (proof.passed()) return kDone;
  const bool harm = std::any_of(proof.findings.begin(), proof.findings.end(), [](const proof::Finding& finding) {
    return finding.severity == Severity::error &&
           !among(finding.id, {"proof.travel", "proof.turns", "proof.feed", "proof.speed", "proof.wrong-cutter", "proof.swing", "proof.blank-too-small", "proof.no-joint-cut", "proof.changed"});
  });
  return harm ? kNotProved : kDoesNotFit;
}

Result<std::vector<std::string>> read_all(const std::vector<std::filesystem::path>& programs, const FileSystem& files) {
  std::vector<std::string> out;
  Failure failure;
  for (const std::filesystem::path& program : programs) {
    auto text = files.read(program, kMaxProgram);
    if (text.ok()) out.push_back(std::move(text).value());
    else failure.reasons.insert(failure.reasons.end(), text.reasons().begin(), text.reasons().end());
  }
  if (!failure.reasons.empty()) return failure;
  return out;
}

// A proof for each text; of joints there is one.
Result<std::vector<proof::Proof>> judge(const Subject& subject, const job::Bench& bench, const std::vector<std::string>& texts, std::stop_token stop) {
  if (!subject.joints) return job::prove_turning({texts.begin(), texts.end()}, bench, std::move(stop));
  if (texts.size() > 1) return fail("cli.one-program", "programs that cut joints are judged one by one", "name one of them");
  auto proof = job::prove_joint_program(texts.front(), bench, std::move(stop));
  if (!proof.ok()) return proof.failure();
  return std::vector<proof::Proof>{std::move(proof).value()};
}

// One report: the files share their judgement, and each has its own sum.
std::string report_of(const std::vector<proof::Proof>& proofs, const Arguments& arguments) {
  std::string out = proof::report(proofs.front());
  for (std::size_t file = 1; file < proofs.size(); ++file)
    out += "  file " + std::to_string(file + 1) + ", " + arguments.programs[file].filename().string() + " (sha256): " + proofs[file].text_sha256 + "\n";
  return out;
}

std::string json_of(const std::vector<proof::Proof>& proofs) {
  if (proofs.size() == 1) return job::proof_json(proofs.front());
  std::string out;
  for (const proof::Proof& proof : proofs) out += (out.empty() ? "[" : ",\n") + std::string(trimmed(job::proof_json(proof)));
  return out + "]\n";
}

// The place of a reason in one of several texts is "file 2 of 3" and its line: said with the file's name.
void name_places(std::vector<Diagnostic>& reasons, const Arguments& arguments) {
  for (Diagnostic& reason : reasons) {
    if (reason.place.line <= 0) continue;
    std::size_t which = 0;
    for (std::size_t file = 1; file < arguments.programs.size(); ++file)
      if (reason.place.file.starts_with("file " + std::to_string(file + 1) + " of ")) which = file;
    reason.place.file = arguments.programs[which].generic_string();
  }
}

int prove(const Arguments& arguments, const Shared& shared) {
  const auto texts = read_all(arguments.programs, *shared.files);
  if (!texts.ok()) return show(texts.reasons(), shared);
  int exit = kDone;
  const auto loaded = load(arguments.order, shared, exit);
  if (!loaded) return exit;
  Sink sink;
  const auto sheet = family::make_sheet(loaded->family, loaded->design, loaded->order ? &*loaded->order : nullptr, loaded->shop, {}, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  const auto column = job::run_to_stock(*loaded, sheet, sheet.column_count() - 1, options_of(shared));
  if (!column.ok()) return show(column.reasons(), shared);
  const shop::Machine& machine = *job::machine_of(*loaded);
  const auto subject = subject_of(arguments, *column);
  if (!subject.ok()) return show(subject.reasons(), shared);
  const auto cutters = cutters_of(arguments, *texts, *loaded);
  if (!cutters.ok()) return show(cutters.reasons(), shared);
  const shape::Blank& blank = column->blanks[subject->piece].plan.blank;
  const auto proofs = judge(*subject, {subject->part, blank, machine, *cutters, rough_only(*loaded)}, *texts, shared.stop);
  end_progress(shared);
  if (!proofs.ok()) {
    auto reasons = proofs.reasons();
    name_places(reasons, arguments);
    const int code = show(reasons, shared);
    return code == kStopped ? code : code_of_failure(reasons);
  }
  if (!print(shared.json ? json_of(*proofs) : report_of(*proofs, arguments))) return kCannotWrite;
  return code_of(proofs->front());
}

}  // namespace

void add_prove(CLI::App& app, Shared& shared, Run& run) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("prove", "cut the blank in simulation with a program's own text and say what it does to the piece");
  verb->add_option("PROGRAM", arguments->programs, "a program's file, whoever wrote it; several that cut one piece in turn, a file a cutter, in their order")->required();
  verb->add_option("--for", arguments->order, "the order it is for")->required();
  verb->add_option("--piece", arguments->piece, "what it cuts, where the file's name does not tell: a piece to turn (leg), or the joints of a turned one (leg-front-left, leg-piece-1)");
  verb->add_option("--cutter", arguments->cutters,
                   "a cutter of the shop, as often as the program changes cutters, in its order (default: those it names in comments (cutter: id), else the order's)")
      ->allow_extra_args(false);
  verb->add_flag("--json", shared.json, "print the proof as JSON");
  verb->footer("Ends with 0: it may be cut; 3: it harms the piece or what holds it; 5: it cannot be read as a program; 6: it can be read and is not for\n"
               "this piece, these cutters or this machine, or is not the text whose check its header states.");
  verb->callback([&, arguments] { run = [&, arguments] { return prove(*arguments, shared); }; });
}

}  // namespace pommel::cli
