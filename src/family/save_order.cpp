#include "family/save_order.h"

#include <optional>
#include <vector>

#include "yaml/entries.h"
#include "yaml/patch.h"

namespace pommel::family {
namespace {

constexpr std::string_view kSheet = "sheet";

// One step towards the wanted entries; nothing when they are reached.
Result<std::optional<std::string>> next_step(const std::string& text, const std::string& file, const std::map<std::string, std::string>& entries) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto sheet = root->find(kSheet);
  const auto made = [](Result<std::string> step) -> Result<std::optional<std::string>> {
    if (!step.ok()) return step.failure();
    return std::optional(std::move(step).value());
  };
  if (sheet && sheet->is_map())
    for (std::size_t i = 0; i < sheet->size(); ++i) {
      const auto wanted = entries.find(sheet->key(i).text());
      if (wanted == entries.end()) return made(yaml::without_entry(text, file, kSheet, sheet->key(i).text()));
      if (sheet->value(i).text() != wanted->second) return made(yaml::patched(text, sheet->value(i), wanted->second));
    }
  for (const auto& [key, value] : entries)
    if (!sheet || !sheet->is_map() || !sheet->find(key)) return made(yaml::with_entry(text, file, kSheet, key, value));
  return std::optional<std::string>();
}

}  // namespace

Result<std::string> saved_order(std::string_view text, const std::string& file, const std::map<std::string, std::string>& entries) {
  std::string now(text);
  for (;;) {
    auto step = next_step(now, file, entries);
    if (!step.ok()) return step.failure();
    if (!*step) return now;
    now = std::move(**step);
  }
}

std::string new_order_text(const NewOrder& order) {
  const auto line = [](const char* key, const std::string& value) { return std::string(key) + ": " + yaml::scalar_for(value) + "\n"; };
  std::string out = line("order", order.name) + "number: " + yaml::scalar_for(order.number, true) + "\n";
  if (!order.date.empty()) out += line("date", order.date);
  if (!order.client.empty()) out += line("client", order.client);
  out += line("units", order.unit == LengthUnit::millimetre ? "mm" : "in");
  out += line("design", order.design) + line("machine", order.machine) + line("cutter", order.cutter);
  return out + "\n# What this client wants different from the catalogued design. Everything else follows.\nsheet:\n  {}\n";
}

}  // namespace pommel::family
