// pommel catalog
#include "cli/cli.h"

#include <nlohmann/json.hpp>

#include "job/text.h"

namespace pommel::cli {
namespace {

struct Row {
  std::string id;
  family::Design design;
  double length = 0, square = 0, thinnest = 0;
  std::size_t elements = 0;
};

// A design that cannot be made is a problem of the catalog: it is told, and the others are listed all the same.
std::optional<Row> row_of(const designs::House& house, const std::string& id, const Shared& shared, Sink& sink) {
  Sink own;
  const auto loaded = job::load(*shared.files, house, house.catalog / "designs" / (id + ".yaml"), own);
  if (loaded && !own.has_errors()) {
    const auto sheet = family::make_sheet(loaded->family, loaded->design, nullptr, loaded->shop, {}, own);
    if (!own.has_errors()) {
      const auto column = job::run_to_stock(*loaded, sheet, family::kCatalogue, {});
      if (column.ok()) return Row{id, loaded->design, column->made.leg.length, column->made.table.square, column->thinnest_diameter, column->made.leg.elements.size()};
      own.add(column.reasons());
    }
  }
  sink.add(own.all());
  return std::nullopt;
}

std::string text_of(const std::vector<Row>& rows) {
  std::string out;
  const LengthFormat lengths;
  for (const Row& row : rows) {
    out += row.id + "\n" + job::wrapped(row.design.about, "  ", "  ");
    out += "  leg " + format_length(row.length, lengths) + ", square " + format_length(row.square, lengths) + ", thinnest " + format_length(row.thinnest, lengths) + ", " +
           std::to_string(row.elements) + " elements, revision " + std::to_string(row.design.revision) + "\n\n";
  }
  return out;
}

std::string json_of(const std::vector<Row>& rows) {
  nlohmann::ordered_json out = nlohmann::ordered_json::array();
  for (const Row& row : rows)
    out.push_back({{"id", row.id}, {"name", row.design.name}, {"family", row.design.family}, {"revision", row.design.revision}, {"about", row.design.about},
                   {"thinnest_why", row.design.thinnest}, {"leg_length", row.length}, {"square", row.square}, {"thinnest_diameter", row.thinnest}, {"elements", row.elements}});
  return out.dump(2) + "\n";
}

int catalog(const Shared& shared) {
  const auto house = job::find_house(*shared.files, std::filesystem::path("catalog") / "designs" / "any.yaml", shared.catalog, shared.installed);
  if (!house.ok()) return show(house.reasons(), shared);
  Sink sink;
  std::vector<Row> rows;
  for (const std::string& id : designs::design_names(*shared.files, *house))
    if (auto row = row_of(*house, id, shared, sink)) rows.push_back(std::move(*row));
  if (!print(shared.json ? json_of(rows) : text_of(rows))) return kCannotWrite;
  if (!sink.has_errors()) return kDone;
  Shared aside = shared;
  aside.json = false;  // the list is on stdout already
  return show(sink.all(), aside);
}

}  // namespace

void add_catalog(CLI::App& app, Shared& shared, Run& run) {
  CLI::App* verb = app.add_subcommand("catalog", "list the house designs");
  verb->add_flag("--json", shared.json, "print as JSON: lengths in mm");
  verb->callback([&] { run = [&] { return catalog(shared); }; });
}

}  // namespace pommel::cli
