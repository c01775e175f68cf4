#include "job/sources.h"

namespace pommel::job {
namespace {

// The text as the family calls its measures now; said so where that made a difference.
Result<std::string> of_today(const std::string& text, const std::filesystem::path& file, const designs::Versions& versions) {
  Sink sink;
  auto now = designs::up_to_date(text, file.generic_string(), versions, sink);
  if (!now) return Failure(sink.all());
  return now->changed ? designs::says_written_for(std::move(now->text), versions.version) : std::move(now->text);
}

}  // namespace

Result<Sources> sources_of(const FileSystem& files, const Loaded& loaded, const std::filesystem::path& order_file) {
  Sources out;
  out.order_file = order_file;
  const auto design_file = designs::design_file(files, loaded.house, loaded.order->design);
  if (!design_file) return fail("designs.unknown-design", "the file of the design '" + loaded.order->design + "' is gone", "open the order again");
  out.design_file = *design_file;
  const auto order = files.read(order_file), design = files.read(*design_file);
  if (!order.ok()) return order.failure();
  if (!design.ok()) return design.failure();
  out.design_read = *design;
  Sink sink;
  const auto entry = designs::read_entry(files, loaded.house, *design, *design_file, sink);
  if (!entry || sink.has_errors()) return Failure(sink.all());
  for (const auto& [text, file, into] : {std::tuple{&*order, &order_file, &out.order}, {&*design, &*design_file, &out.design}}) {
    auto now = of_today(*text, *file, entry->versions);
    if (!now.ok()) return now.failure();
    *into = std::move(now).value();
  }
  return out;
}

std::optional<Loaded> reloaded(const FileSystem& files, const Loaded& loaded, const Sources& sources, Sink& sink) {
  const std::string order_name = sources.order_file.generic_string(), design_name = sources.design_file.generic_string();
  Sink found;
  Loaded out = loaded;
  out.texts[order_name] = sources.order;
  out.texts[design_name] = sources.design;
  out.order = family::read_order(sources.order, order_name, loaded.order->id, found);
  must_be_in_shop(out.shop, *out.order, found);
  auto entry = designs::read_entry(files, loaded.house, sources.design, sources.design_file, found);
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
  read_shop(files, loaded.house, out, [](const std::filesystem::path&, const std::string&) {}, sink);
  if (sink.has_errors()) return Failure(sink.all());
  return out;
}

}  // namespace pommel::job
