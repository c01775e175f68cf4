// pommel first-run MACHINE --into FILE
#include "program/first_run.h"

#include "base/text.h"
#include "cli/cli.h"
#include "program/replay.h"
#include "program/writer.h"
#include "shop/read.h"

namespace pommel::cli {
namespace {

struct Arguments {
  std::string machine, cutter;
  std::filesystem::path into;
  double diameter = 50;
};

template <class Map>
Failure unknown(const std::string& id, const Map& known, const std::string& what) {
  std::vector<std::string> names;
  for (const auto& [name, value] : known) names.push_back(name);
  const std::string near = nearest_name(id, names);
  return fail("cli.unknown-" + what, "the shop has no " + what + " '" + id + "'", near.empty() ? "known: " + listed(names) : "did you mean '" + near + "'?");
}

// A vee draws the finest marks; without one the thinnest cutter does.
const shop::Cutter* marker(const shop::Shop& shop, const std::string& wished) {
  if (!wished.empty()) {
    const auto found = shop.cutters.find(wished);
    return found == shop.cutters.end() ? nullptr : &found->second;
  }
  const shop::Cutter* best = nullptr;
  const auto rank = [](const shop::Cutter& cutter) { return cutter.form == shop::Cutter::Form::vee ? cutter.tip_flat : 100 + cutter.diameter; };
  for (const auto& [id, cutter] : shop.cutters)
    if (!best || rank(cutter) < rank(*best)) best = &cutter;
  return best;
}

int first_run(const Arguments& arguments, const Shared& shared) {
  const auto house = house_of(arguments.into, shared);
  if (!house.ok()) return show(house.reasons(), shared);
  Sink sink;
  const shop::Shop shop = shop::read_shop(*shared.files, house->catalog / "shop", sink, [](const auto&, const auto&) {});
  if (sink.has_errors()) return show(sink.all(), shared);
  const auto machine = shop.machines.find(arguments.machine);
  if (machine == shop.machines.end()) return show(unknown(arguments.machine, shop.machines, "machine").reasons, shared);
  const shop::Cutter* cutter = marker(shop, arguments.cutter);
  if (!cutter) return show(unknown(arguments.cutter, shop.cutters, "cutter").reasons, shared);

  program::Scrap scrap;
  scrap.diameter = arguments.diameter;
  const auto path = program::first_run(machine->second, *cutter, scrap);
  if (!path.ok()) return show(path.reasons(), shared);
  program::Header header;
  header.program = arguments.into.filename().string();
  header.piece = "marks on a round scrap, to see sense, zero and degrees a turn";
  const auto text = program::write(*path, machine->second, header);
  if (!text.ok()) return show(text.reasons(), shared);
  // nothing leaves that the reader does not take for the same marks
  const auto read = program::read(*text, arguments.into.generic_string(), sink, program::read_options(machine->second));
  if (sink.has_errors()) return show(sink.all(), shared);
  if (const auto replayed = program::replay(read, machine->second); !replayed.ok()) return show(replayed.reasons(), shared);
  if (const auto written = shared.files->write(arguments.into, *text); !written.ok()) return show(written.reasons(), shared);
  return print(program::first_run_text(machine->second, scrap) + "\nCutter: " + cutter->label + "\nThe program: " + arguments.into.generic_string() + "\n") ? kDone
                                                                                                                                                         : kCannotWrite;
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
