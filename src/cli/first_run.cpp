// pommel first-run MACHINE --into FILE
#include "job/first_run.h"

#include "cli/cli.h"

namespace pommel::cli {
namespace {

struct Arguments {
  std::string machine, cutter;
  std::filesystem::path into;
  double diameter = 50;
};

int first_run(const Arguments& arguments, const Shared& shared) {
  const auto house = house_of(arguments.into, shared);
  if (!house.ok()) return show(house.reasons(), shared);
  const auto made = job::first_run(*shared.files, *house, {arguments.machine, arguments.cutter, arguments.diameter, arguments.into.filename().string()});
  if (!made.ok()) return show(made.reasons(), shared);
  if (const auto written = shared.files->write(arguments.into, made->text); !written.ok()) {
    show(written.reasons(), shared);
    return kCannotWrite;
  }
  return print(made->guide + "The program: " + arguments.into.generic_string() + "\n") ? kDone : kCannotWrite;
}

}  // namespace

void add_first_run(CLI::App& app, Shared& shared, Run& run) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("first-run", "write a program that marks a round scrap, so that a machine's sense, zero and degrees are seen before any leg is cut");
  verb->add_option("MACHINE", arguments->machine, "a machine of the shop")->required();
  verb->add_option("--into", arguments->into, "the program's file")->required();
  verb->add_option("--cutter", arguments->cutter, "a cutter of the shop (default: the finest vee, else the thinnest)");
  verb->add_option("--diameter", arguments->diameter, "of the scrap, mm")->check(CLI::Range(30.0, 300.0))->capture_default_str();
  verb->callback([&, arguments] { run = [&, arguments] { return first_run(*arguments, shared); }; });
}

}  // namespace pommel::cli
