#include "designs/designs.h"

#include "base/text.h"

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

}  // namespace

std::vector<std::string> design_names(const FileSystem& files, const House& house) { return names_in(files, house.catalog / "designs"); }

std::optional<Entry> find_design(const FileSystem& files, const House& house, const std::string& id, const Place& place, Sink& sink, const Seen& seen) {
  const auto folder = house.catalog / "designs";
  const auto design_text = text_of(files, folder, "design", id, place, sink, seen);
  if (!design_text) return std::nullopt;
  return with_family(files, house, family::read_design(*design_text, (folder / (id + ".yaml")).generic_string(), id, sink), sink, seen);
}

std::optional<Entry> with_family(const FileSystem& files, const House& house, family::Design design, Sink& sink, const Seen& seen) {
  if (design.family.empty()) return std::nullopt;  // has been reported
  Entry entry;
  entry.design = std::move(design);
  const auto family_text = text_of(files, house.templates, "family", entry.design.family, entry.design.family_place, sink, seen);
  if (!family_text) return std::nullopt;
  entry.family = family::read_family(*family_text, (house.templates / (entry.design.family + ".yaml")).generic_string(), entry.design.family, sink);
  return entry;
}

}  // namespace pommel::designs
