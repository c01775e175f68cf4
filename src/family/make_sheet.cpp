// A family, a design and an order become one sheet: the design's entries over the family's in the first column, the order's
// in the second.
#include <algorithm>

#include "base/text.h"
#include "family/family.h"
#include "family/names.h"

namespace pommel::family {
namespace {

using Entries = std::vector<std::pair<std::string, sheet::Entry>>;

// The entry's place is its value's; what is wrong is the name before it in the same line.
void point_at_name(Diagnostic& what, const std::string& name, const sheet::Entry& entry) {
  const std::string_view line = entry.source_line;
  for (std::size_t at = line.find(name); at != line.npos; at = line.find(name, at + 1)) {
    std::size_t after = at + name.size();
    while (after < line.size() && (line[after] == ' ' || line[after] == '"' || line[after] == '\'')) ++after;
    const int column = character_count(line.substr(0, at)) + 1;
    if (after >= line.size() || (line[after] != ':' && line[after] != '=') || column >= entry.place.column) continue;
    what.place.column = column;
    what.read = name;
    return;
  }
}

Diagnostic unknown_measure(const std::string& name, const sheet::Entry& entry, const std::vector<std::string>& known) {
  const std::string near = nearest_name(name, known);
  Diagnostic out;
  out.id = "family.unknown-measure";
  out.message = "'" + name + "' is no measure of this family";
  out.remedy = near.empty() ? "the measures are listed by 'pommel sheet'" : "did you mean '" + near + "'?";
  out.place = entry.place;
  out.read = entry.text;
  out.source_line = entry.source_line;
  point_at_name(out, name, entry);
  return out;
}

std::vector<std::string> names_of(const std::vector<sheet::Parameter>& measures) {
  std::vector<std::string> names;
  for (const sheet::Parameter& measure : measures) names.push_back(measure.name);
  return names;
}

// The rows: the family's measures with the design's entries in their place, then the design's own.
std::vector<sheet::Parameter> rows(const Family& family, const Design& design, const shop::Shop& shop, Sink& sink) {
  std::vector<sheet::Parameter> all = family.measures;
  all.insert(all.end(), design.measures.begin(), design.measures.end());
  const std::vector<std::string> known = names_of(all);
  for (const auto& [name, entry] : design.entries) {
    const auto row = std::find_if(all.begin(), all.end(), [&, &wanted = name](const sheet::Parameter& p) { return p.name == wanted; });
    if (row == all.end()) sink.add(unknown_measure(name, entry, known));
    else row->entry = entry;
  }
  for (sheet::Parameter& row : all) {
    if (row.choices != std::vector<std::string>{std::string(kBoardsOnHand)}) continue;
    row.choices.clear();
    for (const auto& [id, board] : shop.boards) row.choices.push_back(id);
  }
  return all;
}

// The uses of one piece's turning. Its words mean that piece's measures.
class Turning {
 public:
  Turning(sheet::Sheet& out, const Family& family, const std::string& piece) : out_(out), of_(uses_of(family, piece)) {
    if (const auto words = family.words.find(piece); words != family.words.end())
      for (const auto& [word, measure] : words->second) words_.emplace(word, measure.text);
  }

  void add(const std::vector<ElementText>& outline) {
    for (std::size_t i = 0; i < outline.size(); ++i) {
      for (const auto& [size, entry] : outline[i].sizes)
        add(element_use(of_, i, size), kind_of_size(size), entry);
      for (std::size_t station = 0; station < outline[i].through.size(); ++station) {
        add(station_use(of_, i, station, "at"), sheet::Kind::ratio(), outline[i].through[station].first);
        add(station_use(of_, i, station, "diameter"), sheet::Kind::length(), outline[i].through[station].second);
      }
    }
  }

  void add(const std::vector<TaperText>& tapers) {
    for (std::size_t i = 0; i < tapers.size(); ++i) {
      add(taper_use(of_, i, "from"), sheet::Kind::length(), tapers[i].from);
      add(taper_use(of_, i, "to"), sheet::Kind::length(), tapers[i].to);
      add(taper_use(of_, i, "width"), sheet::Kind::length(), tapers[i].width);
    }
  }

  void add_work(const std::vector<WorkText>& treatments, const std::vector<WorkText>& joints) {
    for (const std::vector<sheet::Use>& uses : {treatment_uses(of_, treatments), joint_uses(of_, joints)})
      for (const sheet::Use& use : uses) add(use.name, *use.kind, use.entry);
  }

 private:
  void add(const std::string& name, const sheet::Kind& kind, const sheet::Entry& entry) { out_.add(sheet::Use{name, kind, entry, words_}); }

  sheet::Sheet& out_;
  std::string of_;
  std::map<std::string, std::string> words_;
};

void add_uses(sheet::Sheet& out, const Family& family, const Design& design) {
  for (const sheet::Use& use : family.frame) out.add(use);
  for (const sheet::Use& use : family.blank) out.add(use);
  for (const std::string& piece : frame::piece_names(family.stands_in)) {
    if (!speaks_of(family, design, piece)) continue;
    Turning turning(out, family, piece);
    turning.add(outline_of(family, design, piece));
    turning.add(tapers_of(family, design, piece));
    turning.add_work(treatments_of(family, design, piece), joints_of(family, design, piece));
  }
  for (std::size_t i = 0; i < family.hardware.size(); ++i)
    out.add(sheet::Use{hardware_use(i), sheet::Kind::count(), family.hardware[i].count});
}

// Names of elements in treatments and joints, each file's fault once however many pieces share the list.
void check_work(const Family& family, const Design& design, Sink& sink) {
  std::vector<Diagnostic> told;
  for (const std::string& piece : frame::piece_names(family.stands_in)) {
    std::vector<std::string> labels;
    for (const ElementText& element : outline_of(family, design, piece)) labels.push_back(element.label);
    Sink found;
    check_places(treatments_of(family, design, piece), labels, found);
    check_places(joints_of(family, design, piece), labels, found);
    for (const Diagnostic& one : found.all()) {
      if (std::find(told.begin(), told.end(), one) != told.end()) continue;
      told.push_back(one);
      sink.add(one);
    }
  }
}

// Each word of `pieces` means a measure of the sheet, and is none itself.
void check_words(const Family& family, const std::vector<std::string>& known, Sink& sink) {
  for (const auto& [piece, words] : family.words) {
    for (const auto& [word, measure] : words) {
      if (std::find(known.begin(), known.end(), measure.text) == known.end()) sink.add(unknown_measure(measure.text, measure, known));
      if (std::find(known.begin(), known.end(), word) == known.end()) continue;
      Diagnostic out = fail("family.piece-word", "'" + word + "' is a measure of the sheet, and for the " + piece + " a word that means another",
                            "call the word by a name of its own", measure.place).reasons.front();
      out.source_line = measure.source_line;
      sink.add(std::move(out));
    }
  }
}

void set_entries(sheet::Sheet& out, std::size_t column, const Entries& entries, Sink& sink) {
  for (const auto& [name, entry] : entries)
    if (!out.parameter(name)) sink.add(unknown_measure(name, entry, out.parameters()));
    else if (const auto set = out.set_entry(name, column, entry); !set.ok()) sink.add(set.reasons());
}

}  // namespace

namespace {

// Whether what a file says of all pieces is said of this one: of the only one, or one whose words are told under `pieces`.
bool takes_part(const Family& family, const std::string& piece) {
  return frame::piece_names(family.stands_in).size() == 1 || family.words.contains(piece);
}

template <class Text>
const std::vector<Text>& text_of(const Family& family, const Design& design, const std::string& piece, std::vector<Text> TurningText::*own,
                                 const std::vector<Text>& designs, const std::vector<Text>& familys) {
  if (const auto found = design.own.find(piece); found != design.own.end() && !(found->second.*own).empty()) return found->second.*own;
  const bool all_alike = takes_part(family, piece);
  if (all_alike && !designs.empty()) return designs;
  if (const auto found = family.own.find(piece); found != family.own.end() && !(found->second.*own).empty()) return found->second.*own;
  static const std::vector<Text> none;
  return all_alike ? familys : none;
}

// "head post" in a name of the sheet
std::string in_a_name(std::string piece) {
  std::replace(piece.begin(), piece.end(), ' ', '_');
  return piece;
}

}  // namespace

std::string uses_of(const Family& family, const std::string& piece) {
  return frame::piece_names(family.stands_in).size() > 1 ? piece + "/" : std::string();
}

bool speaks_of(const Family& family, const Design& design, const std::string& piece) {
  const auto own = [&](const OwnTurnings& turnings) {
    const auto found = turnings.find(piece);
    return found != turnings.end() && !found->second.outline.empty();
  };
  return takes_part(family, piece) || own(family.own) || own(design.own);
}

const std::vector<ElementText>& outline_of(const Family& family, const Design& design, const std::string& piece) {
  return text_of(family, design, piece, &TurningText::outline, design.outline, family.outline);
}

const std::vector<TaperText>& tapers_of(const Family& family, const Design& design, const std::string& piece) {
  return text_of(family, design, piece, &TurningText::tapers, design.tapers, family.tapers);
}

namespace {

bool has_own_outline(const Design& design, const std::string& piece) {
  const auto own = design.own.find(piece);
  return !design.outline.empty() || (own != design.own.end() && !own->second.outline.empty());
}

}  // namespace

const std::vector<WorkText>& treatments_of(const Family& family, const Design& design, const std::string& piece) {
  const auto own = design.own.find(piece);
  if (own != design.own.end() && (!own->second.outline.empty() || !own->second.treatments.empty())) return own->second.treatments;
  if (takes_part(family, piece) && has_own_outline(design, piece)) return design.treatments;
  return text_of(family, design, piece, &TurningText::treatments, design.treatments, family.treatments);
}

const std::vector<WorkText>& joints_of(const Family& family, const Design& design, const std::string& piece) {
  return text_of(family, design, piece, &TurningText::joints, design.joints, family.joints);
}

std::string finished_length_outcome(const std::string&, const std::string& piece) { return in_a_name(piece) + "_finished_length"; }

std::string blank_length_outcome(const std::string& stands_in, const std::string& piece) {
  return frame::piece_names(stands_in).size() > 1 ? in_a_name(piece) + "_blank_length" : "blank_length";
}

std::vector<sheet::Outcome> outcomes(const std::string& stands_in) {
  using sheet::Kind;
  const auto& pieces = frame::piece_names(stands_in);
  // "leg" where there is but one piece; of several, "piece"
  const std::string one = pieces.size() == 1 ? pieces.front() : "piece";
  std::vector<sheet::Outcome> all;
  for (const std::string& piece : pieces) all.push_back({finished_length_outcome(stands_in, piece), Kind::length(), "frame", "the " + piece + ", head to foot"});
  all.insert(all.end(), {{"thinnest_diameter", Kind::length(), "frame", "least turned diameter of the " + one},
                         {"least_wall", Kind::length(), "frame", "least wood left around the mortises"},
                         {"square_movement", Kind::length(), "rules", "of the square through the seasons, along the rings"},
                         {"out_of_round", Kind::length(), "rules", "of the thickest round through the seasons"},
                         {"slenderness", Kind::ratio(), "rules", "length over the thinnest place"},
                         {"push_share", Kind::ratio(), "rules", "stress of a side push at the foot over the wood's average bending strength"},
                         {"turned_pieces", Kind::count(), "frame", one + "s with spares"},
                         {"distinct_turnings", Kind::count(), "frame", "programs to set up for turning"},
                         {"distinct_pieces", Kind::count(), "frame", "different pieces once jointed"}});
  if (stands_in == "stair") all.push_back({"infill_share", Kind::ratio(), "stock", "of the wood's average strength that the load of guards takes, shared by the balusters of a foot"});
  for (const std::string& piece : pieces) all.push_back({blank_length_outcome(stands_in, piece), Kind::length(), "stock", "of one " + piece + " blank, rough"});
  all.insert(all.end(), {{"board_feet", Kind::ratio(), "stock", "board measure bought, all stock"},
                         {"boards_taken", Kind::count(), "stock", "boards that the cutting plan takes"},
                         {"boards_price", Kind::money(), "stock", "of those whole boards"},
                         {"boards_used", Kind::ratio(), "stock", "share of their face that goes into pieces"},
                         {"machine_time", Kind::time(), "mill", "of one " + one + "'s turning" + (pieces.size() == 1 ? "" : ", the mean of all")},
                         {"joint_time", Kind::time(), "mill", "of one jointed " + one + ", for the joints that the machine cuts, the mean of all"},
                         {"bench_joints", Kind::count(), "mill", "mortises and bores of all " + one + "s left to the bench"},
                         {"hand_places", Kind::count(), "mill", "places of a " + one + " that the cutter cannot reach"},
                         {"price", Kind::money(), "quote", "without tax"},
                         {"total", Kind::money(), "quote", "with tax"}});
  return all;
}

sheet::Sheet make_sheet(const Family& family, const Design& design, const Order* order, const shop::Shop& shop,
                        const std::vector<std::pair<std::string, sheet::Entry>>& extra, Sink& sink) {
  sheet::Settings settings;
  settings.currency = shop.rates.currency;
  if (order) settings.lengths = order->lengths;
  sheet::Sheet out("catalogue", settings);
  for (sheet::Parameter& row : rows(family, design, shop, sink)) out.add(std::move(row));
  for (sheet::Outcome& outcome : outcomes(family.stands_in)) out.add(std::move(outcome));
  check_words(family, out.parameters(), sink);
  add_uses(out, family, design);
  check_work(family, design, sink);
  for (const sheet::Check& check : family.checks) out.add(check);
  for (const sheet::Check& check : design.checks) out.add(check);
  const bool second = order != nullptr || !extra.empty();
  const std::size_t column = second ? out.add_column("order") : kCatalogue;
  if (order) set_entries(out, column, order->entries, sink);
  set_entries(out, column, extra, sink);
  out.settle();
  std::vector<Diagnostic> told;  // what is wrong with an outline that several pieces share is wrong once
  for (Diagnostic& what : out.diagnostics())
    if (std::find(told.begin(), told.end(), what) == told.end()) told.push_back(std::move(what));
  sink.add(told);
  return out;
}

}  // namespace pommel::family
