// The job folder: every file by name, all or nothing, with a manifest of checksums.
#include <algorithm>
#include <optional>
#include <set>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "job/job.h"
#include "job/text.h"

namespace pommel::job {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kManifest = "manifest.json";
constexpr const char* kFormat = "pommel job folder";  // by this a folder is known to be ours

Json listed_inputs(const Loaded& loaded) {
  Json out = Json::array();
  for (const InputFile& input : loaded.inputs) out.push_back({{"name", input.name}, {"sha256", input.sha256}, {"bytes", input.size}});
  return out;
}

// What the order's column says of its own, whether its file does or somebody said so beside it.
Json listed_entries(const sheet::Sheet& sheet) {
  Json out = Json::object();
  for (const std::string& name : sheet.parameters()) {
    const auto cell = sheet.cell(name, sheet.column_count() - 1);
    if (cell && cell->own && cell->entry) out[name] = cell->entry->text;
  }
  return out;
}

Json listed_entries(const Loaded& loaded) {
  Sink told;  // what is wrong with them is said where the job is made
  return listed_entries(family::make_sheet(loaded.family, loaded.design, loaded.order ? &*loaded.order : nullptr, loaded.shop, {}, told));
}

std::string manifest(const Job& job, const Papers* papers, const std::vector<File>& files) {
  Json out;
  out["format"] = kFormat;
  out["version"] = POMMEL_VERSION;
  out["order"] = job.loaded.order ? job.loaded.order->number : "";
  out["inputs"] = listed_inputs(job.loaded);
  out["entries"] = listed_entries(job.sheet);
  out["other_sizes_beside"] = papers && papers->say_more();
  out["files"] = Json::array();
  for (const File& file : files) out["files"].push_back({{"name", file.name}, {"sha256", sha256(file.bytes)}, {"bytes", file.bytes.size()}});
  return out.dump(2) + "\n";
}

Failure not_ours(const std::filesystem::path& folder, const std::string& why, const std::string& remedy) {
  return fail("job.not-ours", "'" + folder.generic_string() + "' is not replaced: " + why, remedy);
}

// Names of the files that the manifest of a job folder lists; nothing when it is no manifest of ours.
std::optional<std::set<std::string>> listed_files(const std::string& manifest) {
  const Json read = Json::parse(manifest, nullptr, false);
  if (!read.is_object() || read.value("format", Json()) != Json(kFormat) || !read.contains("files") || !read["files"].is_array()) return std::nullopt;
  std::set<std::string> names{kManifest};
  for (const Json& file : read["files"])
    if (file.is_object() && file.contains("name") && file["name"].is_string()) names.insert(file["name"].get<std::string>());
  return names;
}

// Every file below a folder by its name inside. A job folder is two levels deep; what lies deeper than `depth` counts as one file.
void collect(const FileSystem& files, const std::filesystem::path& folder, const std::string& prefix, int depth, std::vector<std::string>& into) {
  for (const std::string& name : files.list(folder)) {
    if (depth > 0 && files.is_folder(folder / name)) collect(files, folder / name, prefix + name + "/", depth - 1, into);
    else into.push_back(prefix + name);
  }
}

std::string cost_sheet(const Job& job) {
  return "COST SHEET, for the shop alone\n" + wrapped(job.loaded.order ? job.loaded.order->name + ", order " + job.loaded.order->number : job.loaded.design.name) + "\n" +
         quote::to_text(job.order.quote);
}

// "4 turned legs, 'harvest', 700 mm long", of several pieces one after the other.
std::string turned_pieces(const Job& job) {
  std::string out;
  const auto& pieces = job.order.made.pieces;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const int sold = job.order.blanks[i].quantity - job.order.blanks[i].spares;
    out += (i > 0 ? ", " : "") + std::to_string(sold) + " turned " + pieces[i].wanted.label + (sold == 1 ? "" : "s") + ", " +
           (i == 0 ? "'" + job.loaded.design.name + "', " : "") + format_length(pieces[i].part.length, job.sheet.settings().lengths) + " long";
  }
  return out;
}

// ", and 5 rails", of unlike ones ", and 2 lengths of rail and 27 fillets"; nothing where there are none.
std::string straight_pieces(const frame::Set& set) {
  std::vector<std::pair<std::string, int>> counts;
  for (const frame::Rail& rail : set.rails) {
    const auto known = std::find_if(counts.begin(), counts.end(), [&](const auto& one) { return one.first == rail.noun; });
    if (known == counts.end()) counts.emplace_back(rail.noun, rail.quantity);
    else known->second += rail.quantity;
  }
  std::vector<std::string> words;
  for (auto& [noun, count] : counts) {
    const std::size_t end = std::min(noun.find(' '), noun.size());  // "lengths of rail"
    words.push_back(std::to_string(count) + " " + (count == 1 ? noun : noun.substr(0, end) + "s" + noun.substr(end)));
  }
  return words.empty() ? std::string() : ", and " + listed(words);
}

// What the client reads: no cost lines, no markup.
std::string client_quote(const Job& job) {
  const quote::Quote& quote = job.order.quote;
  std::string out = "QUOTE\n";
  if (job.loaded.order) {
    out += wrapped(job.loaded.order->name) + "order " + job.loaded.order->number;
    if (!job.loaded.order->date.empty()) out += ", " + job.loaded.order->date;
    out += "\n";
    if (!job.loaded.order->client.empty()) out += "for " + job.loaded.order->client + "\n";
  }
  if (!quote.confirmed) out += "\nEXAMPLE RATES: put in your own before you send this to anyone\n";
  out += heading("What is included") + wrapped(what_is_included(job), "  ", "  ");
  TextTable figures({false, true});
  figures.row({"price", format_money(quote.price, quote.currency)});
  figures.row({"tax, " + quote.tax_words, format_money(quote.tax, quote.currency)});
  figures.row({"total", format_money(quote.total, quote.currency)});
  figures.row({"deposit, " + quote.deposit_words, format_money(quote.deposit, quote.currency)});
  out += heading("Price") + figures.text();
  const shop::Terms& terms = job.loaded.terms;
  const std::string until = job.loaded.order && terms.valid_days > 0 ? shop::days_after(job.loaded.order->date, terms.valid_days) : "";
  if (!until.empty()) out += "  holds until " + until + "\n";
  if (terms.lines.empty()) return out;
  out += heading("Terms");
  for (const std::string& line : terms.lines) out += wrapped(line, "  - ", "    ");
  if (!terms.confirmed) out += "\nEXAMPLE TERMS: put in your own before you send this to anyone\n";
  return out;
}

// What the folder holds, for the page that a maker opens first. What is not there is not spoken of.
std::string guide(const std::vector<File>& files) {
  static const std::pair<const char*, const char*> kWords[] = {
      {"quote.pdf", "for the client, with the picture; quote.txt says the same"},
      {"quote.txt", "for the client"},
      {"cost-sheet.pdf", "for the shop alone, variants side by side; also .xlsx"},
      {"cost-sheet.txt", "for the shop alone"},
      {"cut-list.pdf", "every piece, rough and finished, and boards; also .xlsx, .csv"},
      {"cut-list.csv", "every piece, rough and finished, for a spreadsheet"},
      {"cutting-plan.pdf", "how the boards are sawn, board by board; also .svg, .csv"},
      {"labels.pdf", "for every piece, to cut apart"},
      {"drawings/", "shop drawings: turned pieces (.pdf, .dxf), straight pieces (.pdf)"},
      {"full-scale/", "story sticks, profiles, faces: print at 100 %, measure the bar first"},
      {"programs/", "programs, each with its check and its set-up sheet"},
      {"solids/", "each distinct piece, and the whole assembled (.step, .stl, mm)"},
      {"pictures/", "the pieces and the whole as they stand"},
      {"measures.txt", "the sheet: every measure, catalogued and ordered"},
      {"job.json", "the same for other programs"},
      {"manifest.json", "checksums of what went in and came out"}};
  TextTable table({false, false});
  for (const auto& [name, words] : kWords) {
    const std::string is(name);
    const bool there = is == kManifest || std::any_of(files.begin(), files.end(), [&](const File& file) { return file.name.starts_with(is); });
    // the text beside a printed page needs no line of its own
    const bool told = is.ends_with(".txt") || is.ends_with(".csv") ? std::any_of(files.begin(), files.end(), [&](const File& file) { return file.name == is.substr(0, is.size() - 3) + "pdf"; }) : false;
    if (there && !told) table.row({is, words});
  }
  return heading("In this folder") + table.text();
}

// The only way out of the house for a program: with a proof of this very text that passed.
Result<Done> add_program(const std::string& program_name, const Program& program, const std::string& set_up, std::vector<File>& files) {
  if (const auto free = proof::released(program.text, program.proof); !free.ok()) return free.failure();
  const std::string name = "programs/" + program_name;
  files.push_back({name, program.text});
  files.push_back({name + ".check.txt", proof::report(program.proof)});
  files.push_back({name + ".check.json", proof_json(program.proof)});
  files.push_back({name + ".setup.txt", set_up});
  return Done{};
}

Result<Done> add_programs(const Job& job, std::vector<File>& files) {
  for (std::size_t i = 0; i < job.programs.size(); ++i)
    for (std::size_t file = 0; file < job.programs[i].size(); ++file)
      if (const auto done = add_program(program_name(job, i, file), job.programs[i][file], setup_text(job, i, file), files); !done.ok()) return done;
  for (std::size_t i = 0; i < job.joint_programs.size(); ++i)
    for (std::size_t file = 0; file < job.joint_programs[i].size(); ++file)
      if (const auto done = add_program(joint_program_name(job, i, file), job.joint_programs[i][file], joint_setup_text(job, i, file), files); !done.ok()) return done;
  return Done{};
}

}  // namespace

std::string what_is_included(const Job& job) {
  const frame::Set& set = job.order.made.set;
  return turned_pieces(job) + straight_pieces(set) + (set.rails.empty() ? ", sanded and finished, " : ", joined, sanded and finished, ") +
         frame::said_of(job.order.made.frame, job.sheet.settings().lengths);
}

Result<std::vector<File>> files_of(const Job& job, const Papers* papers) {
  std::vector<File> files = job.solids;
  if (const auto done = add_programs(job, files); !done.ok()) return done.failure();
  files.push_back({"measures.txt", sheet_text(job.sheet)});
  files.push_back({"job.json", job_json(job)});
  files.push_back({"cut-list.csv", stock::to_csv(job.order.cuts, job.sheet.settings().lengths)});
  files.push_back({"cutting-plan.csv", stock::plan_csv(job.order.cuts.plans, job.sheet.settings().lengths)});
  files.push_back({"cutting-plan.svg", stock::plan_svg(job.order.cuts.plans, job.sheet.settings().lengths)});
  files.push_back({"quote.txt", client_quote(job)});
  files.push_back({"cost-sheet.txt", cost_sheet(job)});
  if (papers) {
    auto more = papers->write(job);
    if (!more.ok()) return more.failure();
    for (File& file : *more) files.push_back(std::move(file));
  }
  files.push_back({"READ-ME-FIRST.txt", summary(job) + guide(files)});
  std::sort(files.begin(), files.end(), [](const File& a, const File& b) { return a.name < b.name; });
  return files;
}

bool made_before(const FileSystem& files, const std::filesystem::path& into, const Loaded& loaded) {
  const auto text = files.read(into / kManifest);
  const auto listed = text.ok() ? listed_files(*text) : std::nullopt;
  if (!listed) return false;
  const Json read = Json::parse(*text, nullptr, false);
  if (read.value("version", Json()) != Json(POMMEL_VERSION) || read.value("inputs", Json()) != listed_inputs(loaded)) return false;
  // another size was said beside the files, or shown beside the order
  if (read.value("entries", Json()) != listed_entries(loaded) || read.value("other_sizes_beside", Json()) != Json(false)) return false;
  return std::all_of(read["files"].begin(), read["files"].end(), [&](const Json& file) {
    if (!file.is_object() || !file.value("name", Json()).is_string()) return false;
    const auto bytes = files.read(into / file["name"].get<std::string>());
    return bytes.ok() && file.value("sha256", Json()) == Json(sha256(*bytes));
  });
}

Result<Done> may_write(const FileSystem& files, const std::filesystem::path& into, bool replace) {
  if (files.is_link(into)) return leads_elsewhere(into);
  if (!files.exists(into)) {
    // a folder can be made below the nearest one that is there
    std::filesystem::path above = into.parent_path();
    while (above.has_relative_path() && !files.exists(above)) above = above.parent_path();
    if (!above.empty() && files.exists(above) && !files.is_folder(above))
      return fail("files.cannot-write", "no folder can be made in '" + above.generic_string() + "': it is a file", "choose another folder");
    return Done{};
  }
  if (!replace) return fail("files.exists", "'" + into.generic_string() + "' exists already", "choose another folder, or say --replace for a job folder");
  const bool stands = files.is_folder(into) && files.exists(into / kManifest);
  const auto text = stands ? files.read(into / kManifest) : Result<std::string>(std::string());
  if (!text.ok()) return text.failure();
  const auto ours = listed_files(*text);
  if (!ours) return not_ours(into, "it is not a job folder", "choose another folder, or remove it yourself");
  std::vector<std::string> found, strange;
  collect(files, into, "", 4, found);
  for (const std::string& name : found)
    if (!ours->contains(name)) strange.push_back("'" + printable(name) + "'");
  if (strange.empty()) return Done{};
  const std::size_t shown = std::min<std::size_t>(strange.size(), 3), more = strange.size() - shown;
  strange.resize(shown);
  return not_ours(into, "it holds " + listed(strange) + (more > 0 ? " and " + std::to_string(more) + " more" : "") + ", which this tool did not write",
                  "move them out of it first");
}

Result<std::unique_ptr<FolderInMaking>> claim_folder(FileSystem& files, const std::filesystem::path& into, bool replace) {
  if (const auto may = may_write(files, into, replace); !may.ok()) return may.failure();
  auto folder = std::make_unique<FolderInMaking>(files, into, replace);
  if (const auto claimed = folder->claim(); !claimed.ok()) return claimed.failure();
  // asked again: a folder that a killed run had moved aside may stand there now
  if (const auto may = may_write(files, into, replace); !may.ok()) return may.failure();
  return folder;
}

Result<Done> write_folder(const Job& job, const Papers* papers, FileSystem& files, const std::filesystem::path& into, bool replace) {
  const auto folder = claim_folder(files, into, replace);
  if (!folder.ok()) return folder.failure();
  return write_folder(job, papers, files, **folder, replace);
}

Result<Done> write_folder(const Job& job, const Papers* papers, FileSystem& files, FolderInMaking& folder, bool replace) {
  const auto all = files_of(job, papers);
  if (!all.ok()) return all.failure();
  // a job takes minutes: somebody may have put his own files there
  if (const auto may = may_write(files, folder.target(), replace); !may.ok()) return may;
  for (const File& file : *all)
    if (const auto done = folder.add(file.name, file.bytes); !done.ok()) return done.failure();
  if (const auto done = folder.add(kManifest, manifest(job, papers, *all)); !done.ok()) return done.failure();
  return folder.finish();
}

}  // namespace pommel::job
