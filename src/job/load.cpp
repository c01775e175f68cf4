#include "job/load.h"

#include <algorithm>

#include "base/text.h"
#include "job/inputs.h"
#include "shop/read.h"

namespace pommel::job {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMaxFile = 1u << 20;

bool is_catalog(const FileSystem& files, const fs::path& folder) {
  return files.is_folder(folder / "designs") && files.is_folder(folder / "shop");
}

fs::path templates_beside(const fs::path& catalog) { return (catalog.has_filename() ? catalog : catalog.parent_path()).parent_path() / "templates"; }

template <class Thing>
void must_know(const std::map<std::string, Thing>& known, const std::string& id, const Place& place, const std::string& what, Sink& sink) {
  if (id.empty() || known.contains(id)) return;  // an empty one has been reported by its reader
  std::vector<std::string> names;
  for (const auto& [name, thing] : known) names.push_back(name);
  const std::string near = nearest_name(id, names);
  Diagnostic out;
  out.id = "job.unknown-" + what;
  out.message = "the shop has no " + what + " '" + id + "'";
  out.remedy = near.empty() ? "known: " + listed(names) : "did you mean '" + near + "'?";
  out.place = place;
  out.read = id;
  sink.add(std::move(out));
}

}  // namespace

Result<designs::House> find_house(const FileSystem& files, const fs::path& file, const std::optional<fs::path>& stated, const fs::path& installed) {
  if (stated) {
    if (is_catalog(files, *stated)) return designs::House{*stated, templates_beside(*stated)};
    return fail("job.no-catalog", "'" + stated->generic_string() + "' is no catalog: it needs folders designs and shop", "name the folder that holds them");
  }
  for (fs::path folder = file.parent_path();; folder = folder.parent_path()) {
    if (is_catalog(files, folder)) return designs::House{folder, templates_beside(folder)};
    if (is_catalog(files, folder / "catalog")) return designs::House{folder / "catalog", folder / "templates"};
    if (folder.empty() || folder == folder.parent_path()) break;
  }
  if (is_catalog(files, installed / "catalog")) return designs::House{installed / "catalog", installed / "templates"};
  return fail("job.no-catalog", "no catalog was found at or above '" + file.generic_string() + "'", "say where it is: --catalog DIR");
}

std::string kind_of_file(std::string_view text) {
  bool order = false, design = false, family = false;
  for (std::string_view line : split(text, '\n')) {
    order = order || line.starts_with("order:");
    design = design || line.starts_with("design:");
    family = family || line.starts_with("family:");
  }
  return order || (design && !family) ? "order" : design ? "design" : family ? "family" : "";
}

std::vector<Diagnostic> with_lines(const std::map<std::string, std::string>& texts, std::vector<Diagnostic> found) {
  constexpr std::size_t kLongest = 2000;  // a longer line is no help
  for (Diagnostic& what : found) {
    const auto text = texts.find(what.place.file);
    if (!what.source_line.empty() || what.place.line <= 0 || text == texts.end()) continue;
    const auto lines = split(text->second, '\n');
    const auto line = static_cast<std::size_t>(what.place.line);
    if (line > lines.size() || lines[line - 1].size() > kLongest) continue;
    what.source_line = lines[line - 1];
    if (what.source_line.ends_with('\r')) what.source_line.pop_back();
  }
  return found;
}

void read_shop(const FileSystem& files, const designs::House& house, Loaded& loaded, const designs::Seen& seen, Sink& sink) {
  loaded.shop = shop::read_shop(files, house.catalog / "shop", sink, seen);
  if (const fs::path path = house.catalog / "shop" / "terms.yaml"; files.exists(path)) {
    const auto terms = files.read(path, kMaxFile);
    if (terms.ok()) {
      if (seen) seen(path, *terms);
      loaded.terms = shop::read_terms(*terms, path.generic_string(), sink);
    } else {
      sink.add(terms.reasons());
    }
  }
}

void must_be_in_shop(const shop::Shop& shop, const family::Order& order, Sink& sink) {
  must_know(shop.machines, order.machine, order.machine_place, "machine", sink);
  must_know(shop.cutters, order.cutter, order.cutter_place, "cutter", sink);
  must_know(shop.cutters, order.rough, order.rough_place, "cutter", sink);
  must_know(shop.cutters, order.fine, order.fine_place, "cutter", sink);
}

namespace {

// An order written for an older version of the design's family; false where it is too new.
bool bring_up_to_date(const std::string& text, const fs::path& file, const designs::Versions& versions, family::Order& order, Sink& sink) {
  const auto now = designs::up_to_date(text, file.generic_string(), versions, sink);
  Sink told;  // what is wrong with the text has been said
  if (now && now->changed) order = family::read_order(now->text, file.generic_string(), order.id, told);
  return now.has_value();
}

std::optional<Loaded> load_all(const FileSystem& files, const designs::House& house, const fs::path& file, std::map<std::string, std::string>& texts, Sink& sink) {
  const auto text = files.read(file, kMaxFile);
  if (!text.ok()) {
    sink.add(text.reasons());
    return std::nullopt;
  }
  Loaded loaded;
  loaded.house = house;
  Inputs inputs(house);
  const auto seen = [&](const fs::path& path, const std::string& bytes) {
    inputs.saw(path, bytes);
    texts[path.generic_string()] = bytes;
  };
  seen(file, *text);

  std::string design = file.stem().string();
  Place place;
  const std::string kind = kind_of_file(*text);
  if (kind == "order") {
    loaded.order = family::read_order(*text, file.generic_string(), design, sink);
    place = loaded.order->design_place;
    design = loaded.order->design;
  } else if (kind != "design") {
    Diagnostic out = fail("job.no-order", "'" + file.generic_string() + "' is neither an order nor a design", "an order begins with order:, a design with design:").reasons.front();
    sink.add(std::move(out));
    return std::nullopt;
  }
  read_shop(files, house, loaded, seen, sink);
  if (loaded.order) {
    must_be_in_shop(loaded.shop, *loaded.order, sink);
    if (design.empty()) return std::nullopt;
  }
  std::optional<designs::Entry> entry;
  if (loaded.order) {
    entry = designs::find_design(files, house, design, place, sink, seen);
  } else {
    // the file itself is the design, wherever it stands
    entry = designs::read_entry(files, house, *text, file, sink, seen);
  }
  if (!entry) return std::nullopt;
  if (loaded.order && !bring_up_to_date(*text, file, entry->versions, *loaded.order, sink)) return std::nullopt;
  loaded.card = std::move(entry->card);
  loaded.family = std::move(entry->family);
  loaded.design = std::move(entry->design);
  loaded.inputs = inputs.take();
  return loaded;
}

}  // namespace

std::optional<Loaded> load(const FileSystem& files, const designs::House& house, const fs::path& file, Sink& sink) {
  std::map<std::string, std::string> texts;
  Sink found;
  auto loaded = load_all(files, house, file, texts, found);
  sink.add(with_lines(texts, found.all()));
  if (!loaded) return loaded;
  for (const Diagnostic& what : found.all())
    if (what.severity != Severity::error) loaded->notes.push_back(what);
  loaded->texts = std::move(texts);
  return loaded;
}

const shop::Machine* machine_of(const Loaded& loaded) {
  if (!loaded.order) return loaded.shop.machines.empty() ? nullptr : &loaded.shop.machines.begin()->second;
  const auto found = loaded.shop.machines.find(loaded.order->machine);
  return found == loaded.shop.machines.end() ? nullptr : &found->second;
}

namespace {

const shop::Cutter* named(const Loaded& loaded, const std::string& id) {
  const auto found = loaded.shop.cutters.find(id);
  return found == loaded.shop.cutters.end() ? nullptr : &found->second;
}

}  // namespace

const shop::Cutter* cutter_of(const Loaded& loaded) {
  if (!loaded.order) return loaded.shop.cutters.empty() ? nullptr : &loaded.shop.cutters.begin()->second;
  return named(loaded, loaded.order->cutter);
}

const shop::Cutter* rough_cutter_of(const Loaded& loaded) {
  return loaded.order && loaded.order->rough != loaded.order->cutter ? named(loaded, loaded.order->rough) : nullptr;
}

const shop::Cutter* fine_cutter_of(const Loaded& loaded) {
  return loaded.order && loaded.order->fine != loaded.order->cutter ? named(loaded, loaded.order->fine) : nullptr;
}

}  // namespace pommel::job
