#include "family/save_order.h"

#include <optional>
#include <vector>

#include "family/family.h"
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

namespace {

// The keys of an order's head as a maker writes them, one below another.
constexpr std::string_view kHead[] = {"order", "number", "date", "client", "units", "paper", "scale_bar_measures", "design", "written_for", "machine", "cutter", "cutters", "passes", "stepover", "cusp", "climb", "joints", "thin_stubs"};

// The entry of the head below which this one belongs: the nearest above it that is there.
std::string below_which(const yaml::Node& root, std::string_view key) {
  std::string out;
  for (const std::string_view one : kHead) {
    if (one == key) break;
    if (root.find(one)) out = one;
  }
  return out;
}

Result<std::string> with_one(const std::string& text, const std::string& file, const std::string& key, const std::optional<std::string>& value) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto there = root->find(key);
  if (!value) return there ? yaml::without_key(text, file, key) : Result<std::string>(text);
  if (there && there->is_scalar()) return there->text() == *value ? Result<std::string>(text) : yaml::patched(text, *there, *value);
  return yaml::with_line(text, file, below_which(*root, key), key, yaml::scalar_for(*value, key == "number"));
}

// One cutter that does all is `cutter`, several are `cutters`, one line of them.
Result<std::string> with_cutters(std::string text, const std::string& file, const HeadCutters& cutters) {
  Sink sink;
  const family::Order now = family::read_order(text, file, "order", sink);
  if (HeadCutters{now.cutter, now.rough, now.fine} == cutters) return text;
  const auto root = yaml::read(text, file, sink);
  if (!root) return Failure(sink.all());
  for (const char* key : {"cutter", "cutters"}) {
    if (!root->find(key)) continue;
    auto without = yaml::without_key(text, file, key);
    if (!without.ok()) return without;
    text = std::move(without).value();
  }
  const auto left = yaml::read(text, file, sink);
  if (!left) return Failure(sink.all());
  const std::string below = below_which(*left, "cutter");
  if (cutters.rough.empty() && cutters.fine.empty()) return yaml::with_line(text, file, below, "cutter", yaml::scalar_for(cutters.finish));
  std::string map = "{";
  if (!cutters.rough.empty()) map += "rough: " + yaml::scalar_for(cutters.rough) + ", ";
  map += "finish: " + yaml::scalar_for(cutters.finish);
  if (!cutters.fine.empty()) map += ", fine: " + yaml::scalar_for(cutters.fine);
  return yaml::with_line(text, file, below, "cutters", map + "}");
}

}  // namespace

Result<std::string> with_head(std::string_view text, const std::string& file, const HeadEntries& entries, const std::optional<HeadCutters>& cutters) {
  std::string now(text);
  for (const auto& [key, value] : entries) {
    auto step = with_one(now, file, key, value);
    if (!step.ok()) return step;
    now = std::move(step).value();
  }
  return cutters ? with_cutters(std::move(now), file, *cutters) : Result<std::string>(std::move(now));
}

std::string note_of(std::string_view order, const std::string& file, const std::string& measure) { return yaml::comment_of(order, file, kSheet, measure); }

Result<std::string> with_note(std::string_view order, const std::string& file, const std::string& measure, const std::string& note) {
  return yaml::with_comment(order, file, kSheet, measure, note);
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
