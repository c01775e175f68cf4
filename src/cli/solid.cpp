// pommel solid FILE --into X.step|X.stl
#include "cli/cli.h"

#include <nlohmann/json.hpp>

namespace pommel::cli {
namespace {

struct Arguments {
  std::filesystem::path file, into;
  std::vector<std::string> with;
  std::string piece = "turned";
  double deflection = 0.05;
};

int solid(const Arguments& arguments, const Shared& shared) {
  const std::string ending = arguments.into.extension().string();
  if (ending != ".step" && ending != ".stl")
    return show(fail("cli.ending", "'" + arguments.into.generic_string() + "' is neither .step nor .stl", "name the file leg.step or leg.stl").reasons, shared);
  int exit = kDone;
  const auto loaded = load(arguments.file, shared, exit);
  if (!loaded) return exit;
  Sink sink;
  const auto extra = with_entries(arguments.with, sink);
  const auto sheet = family::make_sheet(loaded->family, loaded->design, loaded->order ? &*loaded->order : nullptr, loaded->shop, extra, sink);
  if (sink.has_errors()) return show(sink.all(), shared);
  const auto column = job::run_to_stock(*loaded, sheet, sheet.column_count() - 1, options_of(shared));
  end_progress(shared);
  if (!column.ok()) return show(column.reasons(), shared);

  const auto bytes = job::solid_bytes(*loaded, *column, arguments.piece, arguments.into.filename().string(), ending == ".stl", arguments.deflection, shared.stop);
  if (!bytes.ok()) return show(bytes.reasons(), shared);
  const auto written = shared.files->write(arguments.into, *bytes);
  if (!written.ok()) return show(written.reasons(), shared);
  const nlohmann::ordered_json said = {{"file", arguments.into.generic_string()}, {"piece", arguments.piece}, {"bytes", bytes->size()}};
  const std::string text = arguments.into.generic_string() + ": " + std::to_string(bytes->size()) + " bytes";
  return print((shared.json ? said.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) : text) + "\n") ? kDone : kCannotWrite;
}

}  // namespace

void add_solid(CLI::App& app, Shared& shared, Run& run) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("solid", "write the piece as a solid: STEP or STL");
  verb->add_option("FILE", arguments->file, "an order or a design")->required();
  verb->add_option("--into", arguments->into, "the file to write: X.step or X.stl")->required();
  verb->add_option("--piece", arguments->piece, "'turned' (no joints), a piece with its joints: leg-front-left ..., or 'assembled': all of them in their places")->capture_default_str();
  verb->add_option("--with", arguments->with, "another size: name=value")->allow_extra_args(false);
  verb->add_option("--deflection", arguments->deflection, "STL: farthest a triangle may lie from the surface, mm")->check(CLI::Range(0.005, 5.0))->capture_default_str();
  verb->add_flag("--json", shared.json, "print what was written as JSON");
  verb->callback([&, arguments] { run = [&, arguments] { return solid(*arguments, shared); }; });
}

}  // namespace pommel::cli
