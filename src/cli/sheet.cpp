// pommel sheet FILE [--with name=value]...
#include "cli/cli.h"

namespace pommel::cli {
namespace {

struct Arguments {
  std::filesystem::path file;
  std::vector<std::string> with;
  bool measures_only = false;
};

// The sheet is shown even when a column cannot be made: its problems go to stderr beside it.
int sheet(const Arguments& arguments, const Shared& shared) {
  int exit = kDone;
  const auto loaded = load(arguments.file, shared, exit);
  if (!loaded) return exit;
  Sink sink;
  const auto extra = with_entries(arguments.with, sink);
  auto book = family::make_sheet(loaded->family, loaded->design, loaded->order ? &*loaded->order : nullptr, loaded->shop, extra, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  job::TurningMemo memo;
  job::Options options = options_of(shared);
  options.memo = &memo;
  for (std::size_t column = 0; column < book.column_count() && !arguments.measures_only; ++column) {
    const auto made = job::run_column(*loaded, book, column, options);
    if (!made.ok()) sink.add(made.reasons());
    else if (const auto set = book.set_outcomes(column, made->outcomes); !set.ok()) sink.add(set.reasons());
  }
  end_progress(shared);
  if (sink.has_errors() && shared.json) return show(sink.all(), shared);
  if (!print(shared.json ? job::sheet_json(book) : job::sheet_text(book))) return kCannotWrite;
  return sink.has_errors() ? show(sink.all(), shared) : kDone;
}

}  // namespace

void add_sheet(CLI::App& app, Shared& shared, Run& run) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("sheet", "show the measures of an order or a design, and what follows from them");
  verb->add_option("FILE", arguments->file, "an order or a design")->required();
  verb->add_option("--with", arguments->with, "try another size: name=value")->allow_extra_args(false);
  verb->add_flag("--measures-only", arguments->measures_only, "leave out what follows (blank, machine time, price)");
  verb->add_flag("--json", shared.json, "print as JSON: lengths in mm, times in minutes");
  verb->callback([&, arguments] { run = [&, arguments] { return sheet(*arguments, shared); }; });
}

}  // namespace pommel::cli
