// pommel check FILE
#include "cli/cli.h"

namespace pommel::cli {
namespace {

// A family alone has no design: its own sizes make the only column.
int check_family(const std::filesystem::path& file, const std::string& text, const Shared& shared) {
  const auto house = house_of(file, shared);
  if (!house.ok()) return show(house.reasons(), shared);
  Sink sink;
  job::check_family(*shared.files, *house, file, text, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  return print(shared.json ? "[]\n" : "'" + file.generic_string() + "' is sound\n") ? kDone : kCannotWrite;
}

int check_loaded(const std::filesystem::path& file, const Shared& shared) {
  int exit = kDone;
  const auto loaded = load(file, shared, exit);
  if (!loaded) return exit;
  Sink sink;
  auto sheet = family::make_sheet(loaded->family, loaded->design, loaded->order ? &*loaded->order : nullptr, loaded->shop, {}, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  for (std::size_t column = 0; column < sheet.column_count(); ++column) {
    const auto made = job::run_column(*loaded, sheet, column, options_of(shared));
    if (!made.ok()) {
      sink.add(made.reasons());
      continue;
    }
    if (const auto set = sheet.set_outcomes(column, made->outcomes); !set.ok()) sink.add(set.reasons());
    for (const sheet::CheckResult& check : sheet.checks(column))
      if (check.said) sink.add(*check.said);
    for (const auto* notes : {&made->made.notes, &made->made.set.notes}) sink.add(*notes);
    for (const stock::TurnedBlanks& turned : made->blanks) sink.add(turned.plan.notes);
    if (made->load) sink.add(made->load->notes);
  }
  end_progress(shared);
  const bool errors = sink.has_errors();
  if (!sink.all().empty() || shared.json) show(sink.all(), shared);
  if (!errors && !shared.json) return print("'" + file.generic_string() + "' is sound\n") ? kDone : kCannotWrite;
  return errors ? kProblems : kDone;
}

int check(const std::filesystem::path& file, const Shared& shared) {
  const auto text = shared.files->read(file, 1u << 20);
  if (!text.ok()) return show(text.reasons(), shared);
  return job::kind_of_file(*text) == "family" ? check_family(file, *text, shared) : check_loaded(file, shared);
}

}  // namespace

void add_check(CLI::App& app, Shared& shared, Run& run) {
  auto file = std::make_shared<std::filesystem::path>();
  CLI::App* verb = app.add_subcommand("check", "read a family, a design or an order and say all that is wrong with it");
  verb->add_option("FILE", *file, "the file")->required();
  verb->add_flag("--json", shared.json, "print the problems as JSON");
  verb->callback([&, file] { run = [&, file] { return check(*file, shared); }; });
}

}  // namespace pommel::cli
