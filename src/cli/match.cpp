// pommel match FILE --as NAME
#include "cli/cli.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "base/number.h"
#include "base/text.h"
#include "job/match_input.h"
#include "job/matched.h"

namespace pommel::cli {
namespace {

using Json = nlohmann::ordered_json;

struct Arguments {
  job::MatchInput input;
  std::string as, family;
  std::filesystem::path into, against;
  bool replace = false, as_read = false;
};

std::string shown(double v, int decimals = 2) { return format_fixed(v, decimals); }

std::string padded(std::string text, std::size_t width, bool left = false) {
  const auto have = static_cast<std::size_t>(character_count(text));
  if (have < width) text.insert(left ? text.size() : 0, width - have, ' ');
  return text;
}

std::string sizes_of(const match::Found& f) {
  const match::Stroke& s = f.stroke;
  if (f.square) return format_number(2 * s.r0, 2) + " square";
  std::string text = format_number(2 * s.r0, 2);
  if (!match::ends_alike(s)) text += " to " + format_number(2 * s.r1, 2);
  if (const auto between = match::crest_or_bottom(s)) text += (between->is_crest ? ", greatest " : ", least ") + format_number(2 * between->radius, 2);
  for (const match::InnerStation& inner : s.stations) text += ", " + format_number(2 * inner.radius, 1) + " at " + format_number(inner.at, 2);
  return text;
}

std::string name_of(const match::Found& f) {
  std::string name(shape::word_of(f.name.kind));
  return f.name.kind == shape::ElementKind::pommel ? name + ", " + std::string(shape::word_of(f.name.cut)) : name;
}

std::string table(const match::Recognition& found) {
  std::string out = "  n  element           from      to    length   readings  off (rms)  diameters, mm\n";
  for (std::size_t k = 0; k < found.elements.size(); ++k) {
    const match::Found& f = found.elements[k];
    out += padded(std::to_string(k + 1), 3) + "  " + padded(name_of(f), 15, true) + padded(shown(f.stroke.x0), 9) + padded(shown(f.stroke.x1), 9) +
           padded(shown(f.stroke.length()), 9) + padded(f.square ? "" : std::to_string(f.readings), 9) + padded(f.square ? "" : shown(f.rms, 3), 11) + "  " +
           sizes_of(f) + (f.like >= 0 ? "  (as " + std::to_string(f.like + 1) + ")" : "") + "\n";
  }
  return out;
}

std::string place_of(const match::Measure& m) { return m.place.line > 0 ? "line " + std::to_string(m.place.line) : "at " + shown(m.x) + " mm"; }

std::string remarks(const match::Recognition& found, const job::MatchRead& read) {
  std::string out;
  for (const match::Wrong& w : found.wrong)
    out += "believed wrong: " + place_of(read.measures[w.measure]) + ", " + shown(std::fabs(w.off)) + " mm " + (w.off > 0 ? "outside" : "inside") + " the outline\n";
  for (const match::Symmetry& s : found.symmetries)
    out += "elements " + std::to_string(s.first + 1) + " to " + std::to_string(s.last + 1) + " stand the same way about their middle\n";
  if (found.ovality > 0)
    out += "oval: two diameters at " + shown(found.ovality_x, 1) + " mm differ by " + shown(found.ovality) + " mm; the outline has their mean, as new it was hardly thinner than the greater\n";
  if (found.wear > 0) out += "worn: " + shown(found.wear) + " mm in diameter below the outline at " + shown(found.wear_x, 1) + " mm; the outline is the guess of how it was new\n";
  for (const std::string& line : read.remarks) out += line + "\n";
  if (found.misfit > 1.6)
    out += "the readings lie " + shown(found.misfit, 1) + " times as far off as their uncertainty says: say a larger one with --uncertainty, or give more readings\n";
  const std::size_t told = std::min<std::size_t>(found.wanted.size(), 6);
  for (std::size_t i = 0; i < told; ++i) {
    const match::Wanted& w = found.wanted[i];
    out += (i == 0 ? "more readings would settle most: " : "                                 ") + shown(w.from, 1) + (w.to > w.from ? " to " + shown(w.to, 1) : "") + " mm: " + match::in_words(w) + "\n";
  }
  return out;
}

Json json_of(const match::Recognition& found, const job::MatchRead& read) {
  Json all = {{"length", found.length}, {"square", found.square}, {"readings", found.readings}, {"rms", found.rms}, {"worst", found.worst}, {"misfit", found.misfit},
              {"ovality", {{"most", found.ovality}, {"at", found.ovality_x}}}, {"wear", {{"most", found.wear}, {"at", found.wear_x}}}};
  for (const match::Found& f : found.elements) {
    Json e = {{"kind", std::string(shape::word_of(f.name.kind))}, {"from", f.stroke.x0}, {"to", f.stroke.x1}, {"start", 2 * f.stroke.r0}, {"end", 2 * f.stroke.r1},
              {"step", f.step}, {"readings", f.readings}, {"rms", f.rms}, {"worst", f.worst}, {"unsure_from", f.unsure_start}, {"unsure_to", f.unsure_end}};
    if (f.name.kind == shape::ElementKind::pommel) e["cut"] = std::string(shape::word_of(f.name.cut));
    if (match::has_extreme(f.stroke.figure)) e[f.stroke.figure == match::Figure::arc_bulge ? "greatest" : "least"] = 2 * f.stroke.extreme;
    for (const match::InnerStation& s : f.stroke.stations) e["through"].push_back({s.at, 2 * s.radius});
    if (f.like >= 0) e["like"] = f.like;
    all["elements"].push_back(std::move(e));
  }
  all["wrong"] = Json::array();
  for (const match::Wrong& w : found.wrong)
    all["wrong"].push_back({{"line", read.measures[w.measure].place.line}, {"at", read.measures[w.measure].x}, {"off", w.off}});
  all["wanted"] = Json::array();
  for (const match::Wanted& w : found.wanted) all["wanted"].push_back({{"from", w.from}, {"to", w.to}, {"why", match::in_words(w)}});
  all["symmetric"] = Json::array();
  for (const match::Symmetry& s : found.symmetries) all["symmetric"].push_back({s.first, s.last});
  all["remarks"] = read.remarks;
  return all;
}

std::string said(const match::Comparison& c, const std::string& what) {
  return what + ": " + std::to_string(c.readings.size()) + " places; mean " + shown(c.mean, 3) + " mm, root of the mean square " + shown(c.rms, 3) + " mm, most " +
         shown(c.most, 3) + " mm at " + shown(c.most_at, 1) + " mm from the head\n";
}

Json json_of(const match::Comparison& c) { return {{"places", c.readings.size()}, {"mean", c.mean}, {"rms", c.rms}, {"most", c.most}, {"at", c.most_at}}; }

int against(const Arguments& a, const job::MatchRead& read, const designs::House& house, const Shared& shared) {
  const auto held = job::held_against(*shared.files, house, a.against, read);
  if (!held.ok()) return show(held.reasons(), shared);
  if (shared.json) return print(json_of(*held).dump(2) + "\n") ? kDone : kCannotWrite;
  return print(said(*held, "the copy against " + in_quotes(a.against.generic_string()) + " (above 0: wood was left)")) ? kDone : kCannotWrite;
}

int write_design(const Arguments& a, const match::Recognition& found, const designs::House& house, const Shared& shared, std::string& out, Json& json) {
  job::KeepAs as{a.as, a.into, a.replace, a.input.file.filename().string(), LengthUnit::millimetre, a.family};
  if (a.input.unit == "in" || a.input.unit == "inch") as.unit = LengthUnit::inch;
  const auto kept = job::keep_matched(*shared.files, house, found, as);
  if (!kept.ok()) return show(kept.reasons(), shared);
  const std::string file = kept->file.generic_string();
  out += "written as a " + designs::family_in_words(kept->choice.family) + ", since " + kept->choice.why + (a.family.empty() ? "; --for chooses another\n" : "\n");
  out += said(kept->read_back, in_quotes(file) + " read back and held against the elements above");
  out += "open it: pommel sheet " + file + "\n";
  json["design"] = {{"file", file}, {"family", kept->choice.family}, {"why", kept->choice.why}, {"read_back", json_of(kept->read_back)}};
  return kDone;
}

int match_file(const Arguments& a, const Shared& shared) {
  Sink sink;
  const auto read = job::read_for_match(a.input, *shared.files, sink);
  if (sink.has_errors() || !read) return show(sink.all(), shared);
  // readings lie anywhere; the house is the one we stand in where they lie in none
  auto house = house_of(a.against.empty() ? a.input.file : a.against, shared);
  if (!house.ok()) house = house_of("readings", shared);
  if (!house.ok() && (!a.against.empty() || !a.as.empty())) return show(house.reasons(), shared);
  if (!a.against.empty()) return against(a, *read, *house, shared);
  match::Options options = read->options;
  options.tidy = options.tidy && !a.as_read;
  const auto found = match::recognise(read->measures, read->wishes, options, shared.stop);
  if (!found.ok()) return show(found.reasons(), shared);
  std::string out = in_quotes(a.input.file.filename().string()) + ": " + shown(found->length, 1) + " mm long" +
                    (found->square > 0 ? ", square " + format_number(found->square, 2) + " mm" : "") + "; " + std::to_string(found->readings) +
                    " readings on " + std::to_string(found->elements.size()) + " elements, " + shown(found->rms, 3) + " mm off (root of the mean square), " +
                    shown(found->worst) + " mm at worst\n\n" + table(*found) + "\n" + remarks(*found, *read);
  Json json = json_of(*found, *read);
  if (!a.as.empty()) {
    const int exit = write_design(a, *found, *house, shared, out, json);
    if (exit != kDone) return exit;
  }
  if (!sink.all().empty() && !shared.json) show(sink.all(), shared);
  return print(shared.json ? json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n" : out) ? kDone : kCannotWrite;
}

}  // namespace

void add_match(CLI::App& app, Shared& shared, Run& run) {
  auto a = std::make_shared<Arguments>();
  CLI::App* verb = app.add_subcommand("match", "from readings, an outline or a scan of an existing turning to a design of ours");
  verb->add_option("FILE", a->input.file, "readings (.csv, .txt), an outline (.dxf, .svg) or a mesh (.stl)")->required();
  verb->add_option("--as", a->as, "write the design NAME.yaml into the catalog; without it only what was found is told");
  verb->add_option("--for", a->family, "what it becomes: table-leg, baluster, bed-post or lamp-column; unless told, what its ends look like");
  verb->add_option("--into", a->into, "another folder for it");
  verb->add_flag("--replace", a->replace, "replace a design of that name");
  verb->add_option("--against", a->against, "a design: hold these readings of a finished copy against it, and recognise nothing");
  verb->add_option("--unit", a->input.unit, "of numbers without one: mm, cm, m, in, ft; an outline or mesh without a unit must be told");
  verb->add_option("--square", a->input.square, "width of the square stretches, such as '64 mm'");
  verb->add_option("--uncertainty", a->input.uncertainty, "one standard deviation of a diameter: 0.1 mm for readings unless told; of an outline or a skin, square to it: 0.02 mm drawn, 0.05 mm scanned");
  verb->add_option("--place-uncertainty", a->input.place_uncertainty, "the same for places along the piece; unless told, as for diameters");
  verb->add_option("--gap", a->input.gap, "ends of an outline this near are joined")->default_str("0.1 mm");
  verb->add_option("--axis", a->input.axis, "a mesh's axis: x, y or z, or found")->default_str("found");
  verb->add_flag("--end-for-end", a->input.end_for_end, "an outline or mesh whose head is at the other end");
  verb->add_flag("--as-read", a->as_read, "no round numbers and repeated sizes: the best fit as it is");
  verb->add_flag("--json", shared.json, "print what was found as JSON");
  verb->callback([&, a] { run = [&, a] { return match_file(*a, shared); }; });
}

}  // namespace pommel::cli
