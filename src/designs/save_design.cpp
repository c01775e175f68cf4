#include "designs/save_design.h"

#include <cctype>
#include <optional>
#include <utility>

#include "base/names.h"
#include "base/saving.h"
#include "base/text.h"
#include "yaml/entries.h"
#include "yaml/map_reader.h"
#include "yaml/patch.h"

namespace pommel::designs {
namespace {

// Where a measure's value stands: `square: 64 mm`, or the `value` of a measure that the design states itself.
Result<std::string> with_measure(const std::string& text, const std::string& file, const std::string& name, const std::string& value) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto sheet = root->find("sheet");
  auto there = sheet && sheet->is_map() ? sheet->find(name) : std::nullopt;
  if (there && there->is_map()) there = there->find("value");
  if (!there) return yaml::with_entry(text, file, "sheet", name, value);
  return there->text() == value ? Result<std::string>(text) : yaml::patched(text, *there, value);
}

Result<std::string> with_top(const std::string& text, const std::string& file, const std::string& below, const std::string& key, const std::string& value) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  if (const auto there = root->find(key)) return yaml::patched(text, *there, value);
  return yaml::with_line(text, file, below, key, yaml::scalar_for(value));
}

Result<std::string> without(const std::string& text, const std::string& file, const std::string& key) {
  Sink sink;
  const auto root = yaml::read(text, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  return root->find(key) ? yaml::without_key(text, file, key) : Result<std::string>(text);
}

std::string said(int number, const RevisionNote& note) {
  return "{revision: " + std::to_string(number) + ", date: " + yaml::scalar_for(note.date) + ", what: " + yaml::scalar_for(note.what) + ", why: " + yaml::scalar_for(note.why) + "}";
}

// A list that stands in one line (`[{revision: 1, ...}]`) cannot grow there: its revisions in lines of their own. Nothing where more is written than that.
std::optional<std::string> said_before(const std::string& text, const yaml::Node& list) {
  const std::string_view line = split(text, '\n')[static_cast<std::size_t>(list.place().line) - 1];
  if (!list.is_list() || !trimmed(line).ends_with(']')) return std::nullopt;
  std::string out;
  for (std::size_t i = 0; i < list.size(); ++i) {
    Sink sink;
    yaml::MapReader map(list.item(i), "revision", sink);
    const auto number = map.count("revision");
    const RevisionNote note{map.text("date").value_or(""), map.text("what").value_or(""), map.text("why").value_or("")};
    map.finish();
    if (!number || sink.has_errors()) return std::nullopt;
    out += "  - " + said(*number, note) + "\n";
  }
  return out;
}

Result<std::string> with_revision(std::string text, const std::string& file, int number, const RevisionNote& note) {
  auto numbered = with_top(text, file, "family", "revision", std::to_string(number));
  if (!numbered.ok()) return numbered;
  Sink sink;
  const auto root = yaml::read(*numbered, file, sink);
  if (!root) return Failure(sink.all());
  const auto list = root->find("revisions");
  auto listed = list ? yaml::with_item(*numbered, file, "revisions", list->size(), said(number, note)) : Result<std::string>(std::string());
  if (list && listed.ok()) return listed;
  const auto before = list ? said_before(*numbered, *list) : std::string();
  if (!before) return listed;
  return yaml::with_key_as_in(*numbered, "revisions:\n" + *before + "  - " + said(number, note) + "\n", file, "revision", "revisions");
}

// A design that its own reader refuses is not written.
Result<Done> sound(const FileSystem& files, const House& house, const std::filesystem::path& file, const std::string& text) {
  Sink sink;
  const auto entry = read_entry(files, house, text, file, sink);
  if (!entry || sink.has_errors()) return Failure(sink.all());
  return Done{};
}

}  // namespace

Result<std::string> with_measures(std::string_view text, const std::string& file, const std::map<std::string, std::string>& entries) {
  std::string now(text);
  for (const auto& [name, value] : entries) {
    auto step = with_measure(now, file, name, value);
    if (!step.ok()) return step;
    now = std::move(step).value();
  }
  return now;
}

std::string id_for(std::string_view name) {
  std::string out;
  for (const char c : lowered(name)) {
    if (std::isalnum(static_cast<unsigned char>(c)) && static_cast<unsigned char>(c) < 0x80) out += c;
    else if (!out.empty() && out.back() != '-') out += '-';
  }
  while (out.ends_with('-')) out.pop_back();
  return out;
}

Result<std::string> as_new_design(std::string_view text, const std::string& file, const std::string& id, const std::string& name, const RevisionNote& note) {
  Result<std::string> now(std::string{text});
  for (const char* key : {"revisions", "proven", "pictures"}) {
    if (now.ok()) now = without(*now, file, key);
  }
  if (now.ok()) now = with_top(*now, file, "", "design", name);
  if (now.ok()) now = with_top(*now, file, "family", "id", id);
  return now.ok() ? with_revision(*now, file, 1, note) : now;
}

Result<std::string> with_record_of(std::string_view text, std::string_view catalogued, const std::string& file) {
  Result<std::string> now(std::string{text});
  for (const auto& [below, key] : {std::pair{"family", "revision"}, {"revision", "revisions"}, {"revisions", "proven"}})
    if (now.ok()) now = yaml::with_key_as_in(*now, catalogued, file, below, key);
  return now;
}

Result<std::string> as_next_revision(std::string_view text, std::string_view catalogued, const std::string& file, const RevisionNote& note) {
  Sink sink;
  const auto root = yaml::read(catalogued, file, sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto says = root->find("revision");
  const int now = says ? yaml::as_count(*says, sink).value_or(1) : 1;
  auto out = with_record_of(text, catalogued, file);
  if (!out.ok()) return out;
  const auto with_its_sheet = yaml::with_key_as_in(*out, catalogued, file, "", "sheet");
  if (!with_its_sheet.ok() || *with_its_sheet != catalogued) out = without(*out, file, "proven");
  return out.ok() ? with_revision(*out, file, now + 1, note) : out;
}

Result<std::filesystem::path> save_new_design(FileSystem& files, const House& house, const std::string& id, const std::string& text) {
  if (!is_safe_file_name(id)) return fail("designs.id", "'" + id + "' is no name for a design's file", "use letters, digits and dashes");
  const auto path = house.catalog / "designs" / (id + ".yaml");
  if (files.exists(path)) return fail("files.exists", "the catalog has a design '" + id + "' already", "choose another name");
  if (const auto same = one_file_with(files.list(house.catalog / "designs"), id + ".yaml"))
    return fail("files.exists", "the catalog has '" + *same + "', which is one file with '" + id + ".yaml' on some systems", "choose another name");
  if (const auto fit = sound(files, house, path, text); !fit.ok()) return fit.failure();
  if (const auto done = save_new(files, path, text); !done.ok()) return done.failure();
  return path;
}

Result<Done> save_revision(FileSystem& files, const House& house, const std::filesystem::path& file, const std::string& before, const std::string& text) {
  const auto claim = claim_unchanged(files, file, before, "save as a new design, or open the order again");
  if (!claim.ok()) return claim.failure();
  if (const auto fit = sound(files, house, file, text); !fit.ok()) return fit;
  Sink sink;
  const int number = family::read_design(before, file.generic_string(), file.stem().string(), sink).revision;
  const auto folder = file.parent_path() / "earlier", kept = folder / (file.stem().string() + "." + std::to_string(number) + ".yaml");
  if (files.exists(kept)) {
    const auto there = files.read(kept);
    if (!there.ok() || *there != before) return fail("files.exists", "'" + kept.generic_string() + "' is there already with another text", "move it away");
  }
  if (const auto made = files.make_folder(folder); !made.ok()) return made;
  if (const auto written = files.write(kept, before); !written.ok()) return written;
  return files.write(file, text);
}

}  // namespace pommel::designs
