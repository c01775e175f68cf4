// pommel prove PROGRAM --for ORDER
#include "cli/cli.h"

#include "base/text.h"

namespace pommel::cli {
namespace {

struct Arguments {
  std::filesystem::path program, order;
  std::string piece;
};

constexpr std::size_t kMaxProgram = 256u << 20;

// Which piece a program turns: the one that is named, the only one, or the one whose id the program's file begins with.
Result<std::size_t> piece_of(const Arguments& arguments, const job::Column& column) {
  const auto& pieces = column.made.pieces;
  std::vector<std::string> known;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const std::string& id = pieces[i].wanted.id;
    if (arguments.piece.empty() ? pieces.size() == 1 || arguments.program.filename().string().starts_with(id + "-turning") : arguments.piece == id) return i;
    known.push_back(id);
  }
  return fail("cli.piece", arguments.piece.empty() ? "the program's name does not say which piece it turns" : "there is no piece '" + arguments.piece + "'",
              "say --piece, one of: " + listed(known));
}

int prove(const Arguments& arguments, const Shared& shared) {
  const auto text = shared.files->read(arguments.program, kMaxProgram);
  if (!text.ok()) return show(text.reasons(), shared);
  int exit = kDone;
  const auto loaded = load(arguments.order, shared, exit);
  if (!loaded) return exit;
  Sink sink;
  const auto sheet = family::make_sheet(loaded->family, loaded->design, loaded->order ? &*loaded->order : nullptr, loaded->shop, {}, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  const auto column = job::run_to_stock(*loaded, sheet, sheet.column_count() - 1, options_of(shared));
  if (!column.ok()) return show(column.reasons(), shared);
  const shop::Machine& machine = *job::machine_of(*loaded);
  const auto piece = piece_of(arguments, *column);
  if (!piece.ok()) return show(piece.reasons(), shared);
  const auto proof = proof::prove(*text, column->made.pieces[*piece].part, column->blanks[*piece].plan.blank, {machine.blank_off_centre, machine.blank_bow, machine.blank_oversize},
                                  *job::cutter_of(*loaded), machine, {}, shared.stop);
  end_progress(shared);
  if (!proof.ok()) {
    auto reasons = proof.reasons();
    for (Diagnostic& reason : reasons)
      if (reason.place.line > 0) reason.place.file = arguments.program.generic_string();
    const int code = show(reasons, shared);
    return code == kStopped ? code : kNotProved;
  }
  if (!print(shared.json ? job::proof_json(*proof) : proof::report(*proof))) return kCannotWrite;
  return proof->passed() ? kDone : kNotProved;
}

}  // namespace

void add_prove(CLI::App& app, Shared& shared, Run& run) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("prove", "cut the blank in simulation with a program's own text and say what it does to the piece");
  verb->add_option("PROGRAM", arguments->program, "a program's file, whoever wrote it")->required();
  verb->add_option("--for", arguments->order, "the order it is for")->required();
  verb->add_option("--piece", arguments->piece, "the piece it turns, where the order has several and the file's name does not tell");
  verb->add_flag("--json", shared.json, "print the proof as JSON");
  verb->callback([&, arguments] { run = [&, arguments] { return prove(*arguments, shared); }; });
}

}  // namespace pommel::cli
