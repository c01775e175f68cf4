#include "job/first_run.h"

#include "base/text.h"
#include "program/first_run.h"
#include "program/replay.h"
#include "program/writer.h"
#include "shop/read.h"

namespace pommel::job {
namespace {

template <class Map>
Failure unknown(const std::string& id, const Map& known, const std::string& what) {
  std::vector<std::string> names;
  for (const auto& [name, value] : known) names.push_back(name);
  const std::string near = nearest_name(id, names);
  return fail("job.unknown-" + what, "the shop has no " + what + " '" + printable(id) + "'",
              near.empty() ? "known: " + listed(names) : "did you mean '" + near + "'?");
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

}  // namespace

Result<FirstRun> first_run(const FileSystem& files, const designs::House& house, const FirstRunWish& wish) {
  Sink sink;
  const shop::Shop shop = shop::read_shop(files, house.catalog / "shop", sink, [](const auto&, const auto&) {});
  if (sink.has_errors()) return Failure(sink.all());
  const auto machine = shop.machines.find(wish.machine);
  if (machine == shop.machines.end()) return unknown(wish.machine, shop.machines, "machine");
  const shop::Cutter* cutter = marker(shop, wish.cutter);
  if (!cutter) return unknown(wish.cutter, shop.cutters, "cutter");

  program::Scrap scrap;
  scrap.diameter = wish.diameter;
  const auto path = program::first_run(machine->second, *cutter, scrap);
  if (!path.ok()) return path.failure();
  program::Header header;
  header.program = wish.file_name;
  header.piece = "marks on a round scrap, to see sense, zero and degrees a turn";
  auto text = program::write(*path, machine->second, header);
  if (!text.ok()) return text.failure();
  // nothing leaves that the reader does not take for the same marks
  const auto read = program::read(*text, wish.file_name, sink, program::read_options(machine->second));
  if (sink.has_errors()) return Failure(sink.all());
  if (const auto replayed = program::replay(read, machine->second); !replayed.ok()) return replayed.failure();
  return FirstRun{std::move(text).value(), program::first_run_text(machine->second, scrap) + "\nCutter: " + cutter->label + "\n"};
}

}  // namespace pommel::job
