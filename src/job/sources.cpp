#include "job/sources.h"

#include "family/save_order.h"
#include "job/inputs.h"

namespace pommel::job {
namespace {

// The text as the family calls its measures now; said so where that made a difference.
Result<std::string> of_today(const std::string& text, const std::filesystem::path& file, const designs::Versions& versions) {
  Sink sink;
  auto now = designs::up_to_date(text, file.generic_string(), versions, sink);
  if (!now) return Failure(sink.all());
  return now->changed ? designs::says_written_for(std::move(now->text), versions.version) : std::move(now->text);
}

struct Found {
  DesignFile design;
  designs::Versions versions;
};

Result<Found> found_design(const FileSystem& files, const designs::House& house, const std::string& id) {
  const auto file = designs::design_file(files, house, id);
  if (!file) return fail("designs.unknown-design", "the catalog has no design '" + id + "' any more", "open the order again");
  const auto read = files.read(*file);
  if (!read.ok()) return read.failure();
  Sink sink;
  const auto entry = designs::read_entry(files, house, *read, *file, sink);
  if (!entry || sink.has_errors()) return Failure(sink.all());
  auto now = of_today(*read, *file, entry->versions);
  if (!now.ok()) return now.failure();
  return Found{{*file, std::move(now).value(), *read, entry->versions.version}, entry->versions};
}

}  // namespace

Result<DesignFile> design_file(const FileSystem& files, const designs::House& house, const std::string& id) {
  auto found = found_design(files, house, id);
  return found.ok() ? Result<DesignFile>(std::move(found->design)) : Result<DesignFile>(found.failure());
}

Result<Sources> sources_of(const FileSystem& files, const Loaded& loaded, const std::filesystem::path& order_file) {
  auto design = found_design(files, loaded.house, loaded.order->design);
  if (!design.ok()) return design.failure();
  const auto order = files.read(order_file);
  if (!order.ok()) return order.failure();
  auto now = of_today(*order, order_file, design->versions);
  if (!now.ok()) return now.failure();
  return Sources{order_file, std::move(now).value(), std::move(design->design)};
}

// What is said of a version is of another family: where nothing is said, names are those of the first.
Result<std::string> of_design(const std::string& order, const std::string& file, const std::string& name, const DesignFile& design) {
  return family::with_head(order, file, {{"design", name}, {"written_for", design.version == 1 ? std::nullopt : std::optional(std::to_string(design.version))}});
}

std::optional<Loaded> reloaded(const FileSystem& files, const Loaded& loaded, const Sources& sources, Sink& sink) {
  const std::string order_name = sources.order_file.generic_string(), design_name = sources.design.file.generic_string();
  Sink found;
  Loaded out = loaded;
  out.texts[order_name] = sources.order;
  out.texts[design_name] = sources.design.text;
  out.order = family::read_order(sources.order, order_name, loaded.order->id, found);
  must_be_in_shop(out.shop, *out.order, found);
  Inputs inputs(loaded.house);
  const auto seen = [&](const std::filesystem::path& path, const std::string& text) { inputs.saw(path, text); };
  seen(sources.order_file, sources.order);
  seen(sources.design.file, sources.design.text);
  auto entry = designs::read_entry(files, loaded.house, sources.design.text, sources.design.file, found, seen);
  inputs.keep(loaded.inputs, [](const std::string& name) { return !of_the_shop(name); });
  out.inputs = inputs.take();
  sink.add(with_lines(out.texts, found.all()));
  if (!entry) return std::nullopt;
  out.card = std::move(entry->card);
  out.family = std::move(entry->family);
  out.design = std::move(entry->design);
  return out;
}

Result<Loaded> with_shop_again(const FileSystem& files, const Loaded& loaded) {
  Loaded out = loaded;
  Sink sink;
  out.shop = {};
  Inputs inputs(loaded.house);
  read_shop(files, loaded.house, out, [&](const std::filesystem::path& path, const std::string& text) { inputs.saw(path, text); }, sink);
  if (sink.has_errors()) return Failure(sink.all());
  inputs.keep(loaded.inputs, of_the_shop);
  out.inputs = inputs.take();
  return out;
}

}  // namespace pommel::job
