#include "designs/designs.h"

#include <algorithm>

#include "base/saving.h"
#include "base/text.h"
#include "yaml/document.h"

namespace pommel::designs {
namespace {

constexpr std::size_t kMaxFile = 1u << 20;

std::vector<std::string> names_in(const FileSystem& files, const std::filesystem::path& folder) {
  std::vector<std::string> names;
  for (const std::string& file : files.list(folder)) {
    const std::string ending = ".yaml";
    if (file.size() > ending.size() && file.ends_with(ending)) names.push_back(file.substr(0, file.size() - ending.size()));
  }
  return names;
}

void unknown(const std::string& what, const std::string& id, const std::vector<std::string>& known, const Place& place, Sink& sink) {
  const std::string near = nearest_name(id, known);
  Diagnostic out;
  out.id = "designs.unknown-" + what;
  out.message = "there is no " + what + " '" + id + "'";
  out.remedy = !near.empty() ? "did you mean '" + near + "'?" : known.empty() ? "none was found; is this the right catalog?" : "known: " + listed(known);
  out.place = place;
  out.read = id;
  sink.add(std::move(out));
}

// The text of one file of a folder, or a message with the nearest name.
std::optional<std::string> text_of(const FileSystem& files, const std::filesystem::path& folder, const std::string& what, const std::string& id,
                                   const Place& place, Sink& sink, const Seen& seen) {
  const auto path = folder / (id + ".yaml");
  if (!is_safe_file_name(id) || !files.exists(path)) {
    unknown(what, id, names_in(files, folder), place, sink);
    return std::nullopt;
  }
  auto text = files.read(path, kMaxFile);
  if (!text.ok()) {
    sink.add(text.reasons());
    return std::nullopt;
  }
  if (seen) seen(path, *text);
  return std::move(text).value();
}

std::filesystem::path folder_of(const House& house) { return house.catalog / "designs"; }

std::optional<std::string> read_text(const FileSystem& files, const std::filesystem::path& path, Sink& sink, const Seen& seen) {
  auto text = files.read(path, kMaxFile);
  if (!text.ok()) {
    sink.add(text.reasons());
    return std::nullopt;
  }
  if (seen) seen(path, *text);
  return std::move(text).value();
}

// "farmhouse-vase@2": the file that was kept when revision 3 came.
std::optional<std::filesystem::path> earlier_file(const FileSystem& files, const House& house, const std::string& id) {
  const std::size_t at = id.find('@');
  if (at == std::string::npos) return std::nullopt;
  const std::string name = id.substr(0, at) + "." + id.substr(at + 1) + ".yaml";
  const auto path = folder_of(house) / "earlier" / name;
  if (!is_safe_file_name(name) || !files.exists(path)) return std::nullopt;
  return path;
}

// Read, or as it was kept; nothing where there is no such family.
std::shared_ptr<const Template> template_of(const FileSystem& files, const House& house, const family::Design& design, Sink& sink, const Seen& seen, Templates* templates) {
  if (auto kept = templates ? templates->kept(design.family) : nullptr) return kept;
  const auto text = text_of(files, house.templates, "family", design.family, design.family_place, sink, seen);
  if (!text) return nullptr;
  const std::string file = (house.templates / (design.family + ".yaml")).generic_string();
  Sink own;
  auto read = std::make_shared<Template>();
  read->family = family::read_family(*text, file, design.family, own);
  read->versions = versions_of(*text, file, own);
  sink.add(own.all());
  if (templates && own.all().empty()) templates->keep(design.family, read);
  return read;
}

std::string stem_of(const std::filesystem::path& file) { return file.stem().string(); }

}  // namespace

std::vector<std::string> design_names(const FileSystem& files, const House& house) { return names_in(files, folder_of(house)); }

std::vector<Card> cards(const FileSystem& files, const House& house, Sink& sink) {
  std::vector<Card> all;
  for (const std::string& name : design_names(files, house)) {
    const auto path = folder_of(house) / (name + ".yaml");
    if (const auto text = read_text(files, path, sink, {})) all.push_back(read_card(*text, path.generic_string(), name, sink));
  }
  return all;
}

std::optional<std::filesystem::path> design_file(const FileSystem& files, const House& house, const std::string& id) {
  const auto path = folder_of(house) / (id + ".yaml");
  if (is_safe_file_name(id) && files.exists(path)) return path;
  if (auto earlier = earlier_file(files, house, id)) return earlier;
  Sink quiet;  // whoever asked for this one is not told of the others' problems
  for (const Card& card : cards(files, house, quiet))
    if (card.id == id) return folder_of(house) / (card.file + ".yaml");
  return std::nullopt;
}

std::shared_ptr<const Template> Templates::kept(const std::string& family) const {
  const std::lock_guard lock(busy_);
  const auto found = kept_.find(family);
  return found == kept_.end() ? nullptr : found->second;
}

void Templates::keep(const std::string& family, std::shared_ptr<const Template> read) {
  const std::lock_guard lock(busy_);
  kept_[family] = std::move(read);
}

std::optional<Entry> find_design(const FileSystem& files, const House& house, const std::string& id, const Place& place, Sink& sink, const Seen& seen, Templates* templates) {
  const auto path = design_file(files, house, id);
  if (!path) {
    unknown("design", id, design_names(files, house), place, sink);
    return std::nullopt;
  }
  const auto text = read_text(files, *path, sink, seen);
  return text ? read_entry(files, house, *text, *path, sink, seen, templates) : std::nullopt;
}

std::optional<Entry> read_entry(const FileSystem& files, const House& house, std::string_view text, const std::filesystem::path& file, Sink& sink, const Seen& seen,
                                Templates* templates) {
  const std::string name = file.generic_string(), stem = stem_of(file);
  Entry entry;
  entry.design = family::read_design(text, name, stem, sink);
  if (entry.design.family.empty()) return std::nullopt;  // has been reported
  const auto stands_on = template_of(files, house, entry.design, sink, seen, templates);
  if (!stands_on) return std::nullopt;
  entry.family = stands_on->family;
  entry.versions = stands_on->versions;
  const auto now = up_to_date(text, name, entry.versions, sink);
  if (!now) return std::nullopt;
  Sink told;  // what is wrong with the text has been said once
  if (now->changed) entry.design = family::read_design(now->text, name, stem, told);
  const bool sound = !sink.has_errors();
  entry.card = read_card(now->text, name, stem, sound ? sink : told);
  return entry;
}

Result<std::string> update_file(FileSystem& files, const House& house, const std::filesystem::path& file) {
  const auto text = files.read(file, kMaxFile);
  if (!text.ok()) return text.failure();
  Sink sink;
  const auto root = yaml::read(*text, file.generic_string(), sink);
  if (!root || sink.has_errors()) return Failure(sink.all());
  const auto design = root->find("design");
  std::optional<Entry> entry;
  if (root->find("family")) entry = read_entry(files, house, *text, file, sink);
  else if (design) entry = find_design(files, house, design->text(), design->place(), sink);
  if (!entry || sink.has_errors()) return sink.has_errors() ? Failure(sink.all()) : fail("designs.neither", "'" + file.generic_string() + "' is neither a design nor an order", "name one of them");
  const auto now = up_to_date(*text, file.generic_string(), entry->versions, sink);
  if (!now) return Failure(sink.all());
  const std::string written = says_written_for(now->text, entry->versions.version);
  if (written == *text) return "'" + file.generic_string() + "' is up to date";
  if (const auto done = save_over(files, file, *text, written, "try again"); !done.ok()) return done.failure();
  return "'" + file.generic_string() + "' is now written for version " + std::to_string(entry->versions.version) + " of the family '" + entry->versions.family + "'";
}

}  // namespace pommel::designs
