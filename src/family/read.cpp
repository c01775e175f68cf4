// The YAML of families, designs and orders, into the values of family.h.
#include <algorithm>

#include "base/text.h"
#include "family/fields.h"
#include "family/family.h"
#include "family/limits.h"
#include "family/names.h"
#include "yaml/map_reader.h"

namespace pommel::family {
namespace {

using yaml::MapReader;
using yaml::Node;
using yaml::required;

sheet::Entry entry_of(const Node& node) { return {node.text(), node.place_within(0), node.source_line(), node.is_literal()}; }

// A value or a formula; lists and maps are reported.
std::optional<sheet::Entry> entry(const Node& node, Sink& sink) {
  if (node.is_scalar() && !node.nothing()) return entry_of(node);
  sink.add(yaml::at(node, "family.entry", "a value or a formula is needed here", "write a size (750 mm) or a formula (= other_measure)"));
  return std::nullopt;
}

std::optional<sheet::Entry> entry(MapReader& map, std::string_view key, Sink& sink) {
  const auto node = map.find(key);
  return node ? entry(*node, sink) : std::nullopt;
}

// --- measures

std::vector<std::string> words(const Node& node, Sink& sink) {
  if (node.is_scalar()) return {node.text()};  // "boards on hand"
  std::vector<std::string> out;
  if (node.is_list())
    for (const Node& item : node.items())
      if (auto text = yaml::as_text(item, sink)) out.push_back(std::move(*text));
  if (out.empty()) sink.add(yaml::at(node, "family.choices", "the choices are a list of words", "write of: [this, that], or of: boards on hand"));
  return out;
}

void read_described(const Node& node, sheet::Parameter& row, Sink& sink) {
  MapReader map(node, "measure '" + row.name + "'", sink);
  if (const auto is = map.find("is")) {
    const auto kind = sheet::parse_kind(is->text());
    if (kind.ok()) row.kind = *kind;
    else {
      const Diagnostic& why = kind.reasons().front();
      sink.add(yaml::at(*is, why.id, why.message, why.remedy));
    }
  }
  row.entry = entry(map, "value", sink);
  if (!row.entry) map.require("value", "the size or formula it has in the catalogue");
  if (const auto between = map.list("between")) {
    if (between->size() == 2) {
      row.least = entry(between->item(0), sink);
      row.most = entry(between->item(1), sink);
    } else {
      sink.add(yaml::at(*between, "family.between", "'between' needs a least and a most", "write between: [400 mm, 1100 mm]"));
    }
  }
  if (const auto of = map.find("of")) row.choices = words(*of, sink);
  row.note = map.text("note").value_or("");
  map.finish();
}

void read_measures(const Node& groups, std::vector<sheet::Parameter>& into, Sink& sink) {
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const Node group = groups.value(g);
    if (!group.is_map()) {
      sink.add(yaml::at(groups.key(g), "family.group", "'" + groups.key(g).text() + "' should be a group of measures",
                        "indent the measures under a group's name"));
      continue;
    }
    for (std::size_t i = 0; i < group.size(); ++i) {
      if (into.size() == kMostMeasures)
        return sink.add(yaml::at(group.key(i), "family.too-many-measures", "this is one measure more than the " + std::to_string(kMostMeasures) + " that a family may have",
                                 "put what belongs to one piece into a family of its own"));
      sheet::Parameter row;
      row.name = group.key(i).text();
      row.place = group.key(i).place();
      row.group = groups.key(g).text();
      if (group.value(i).is_map()) read_described(group.value(i), row, sink);
      else row.entry = entry(group.value(i), sink);
      into.push_back(std::move(row));
    }
  }
}

std::vector<std::pair<std::string, sheet::Entry>> read_entries(MapReader& map, std::string_view key, Sink& sink) {
  std::vector<std::pair<std::string, sheet::Entry>> out;
  if (const auto node = map.map(key))
    for (std::size_t i = 0; i < node->size(); ++i)
      if (auto value = entry(node->value(i), sink)) {
        value->place = node->value(i).place_within(0);
        out.emplace_back(node->key(i).text(), std::move(*value));
      }
  return out;
}

// --- frame and blank

// A word that the file itself chooses, `tenon_rule: half of the rail`. Nothing is computed: the sheet gets it as a text, and here it
// is held against the words there are.
template <class Target>
std::optional<sheet::Use> chosen_word(const Node& node, const Field<Target>& field, const std::string& name, const sheet::Entry& entry, Sink& sink) {
  const std::string word(trimmed(entry.text));
  if (word.find('"') != word.npos || (!field.words.empty() && std::find(field.words.begin(), field.words.end(), word) == field.words.end())) {
    const std::string near = nearest_name(word, field.words);
    sink.add(yaml::at(node, "family.unknown-word", in_quotes(word) + " is no choice for '" + field.key + "'",
                      near.empty() ? "one of: " + listed(field.words) : "did you mean '" + near + "'?"));
    return std::nullopt;
  }
  sheet::Entry quoted = entry;
  quoted.text = '"' + word + '"';
  return sheet::Use{name, sheet::Kind::text(), std::move(quoted)};
}

template <class Target>
void read_fields(MapReader& map, const std::vector<Field<Target>>& fields, const std::string& prefix, std::vector<sheet::Use>& into, Sink& sink) {
  for (const Field<Target>& field : fields) {
    const auto node = field.required ? map.require(field.key, "the " + field.key) : map.find(field.key);
    if (!node) continue;
    auto value = entry(*node, sink);
    if (!value) continue;
    if (field.kind == sheet::Kind::choice() && !trimmed(value->text).starts_with('=')) {
      if (auto use = chosen_word(*node, field, prefix + field.key, *value, sink)) into.push_back(std::move(*use));
    } else {
      into.push_back({prefix + field.key, field.kind, std::move(*value)});
    }
  }
}

void read_frame(MapReader& document, Family& family, Sink& sink) {
  const std::string& name = family.stands_in;
  const auto node = document.map(name, required("how the measures make the frame"));
  if (!node) return;
  const FrameKeys& keys = keys_of(name);
  MapReader map(*node, name, sink);
  read_fields(map, keys.fields, name + "/", family.frame, sink);
  for (const FrameBlock& inner : keys.blocks) {
    const auto block = map.map(inner.key, inner.required ? required("its measures") : yaml::optional());
    if (!block) continue;
    MapReader fields(*block, inner.key, sink);
    read_fields(fields, inner.fields, name + "/" + inner.key + "/", family.frame, sink);
    fields.finish();
  }
  map.finish();
}

void read_blank(MapReader& document, Family& family, Sink& sink) {
  const auto node = document.map("blank", required("what becomes the blank"));
  if (!node) return;
  MapReader map(*node, "blank", sink);
  read_fields(map, blank_fields(), "blank/", family.blank, sink);
  map.finish();
  // a piece may differ in some of it
  std::vector<Field<BlankMeasures>> some = blank_fields();
  for (Field<BlankMeasures>& field : some) field.required = false;
  for (const std::string& piece : frame::piece_names(family.stands_in)) {
    const std::string key = of_piece("blank", piece);
    const auto own = document.map(key);
    if (!own) continue;
    MapReader fields(*own, key, sink);
    read_fields(fields, some, key + "/", family.blank, sink);
    fields.finish();
  }
}

// pieces: {head post: {post_length: head_post_length}}
void read_words(MapReader& document, Family& family, Sink& sink) {
  const auto node = document.map("pieces");
  if (!node) return;
  MapReader pieces(*node, "pieces", sink);
  for (const std::string& piece : frame::piece_names(family.stands_in)) {
    const auto words = pieces.map(piece);
    for (std::size_t i = 0; words && i < words->size(); ++i) {
      const Node& measure = words->value(i);
      if (measure.is_scalar()) family.words[piece][words->key(i).text()] = entry_of(measure);
      else sink.add(yaml::at(measure, "family.entry", "a word of the outline means one measure", "write post_length: head_post_length"));
    }
  }
  pieces.finish();
}

// --- outline

void read_through(MapReader& map, ElementText& element, Sink& sink) {
  const auto list = map.list("through");
  if (!list) return;
  for (const Node& station : list->items()) {
    if (!station.is_list() || station.size() != 2) {
      sink.add(yaml::at(station, "family.station", "a station is a fraction of the length and a diameter", "write [0.4, = square * 0.9]"));
      continue;
    }
    auto at = entry(station.item(0), sink), diameter = entry(station.item(1), sink);
    if (at && diameter) element.through.emplace_back(std::move(*at), std::move(*diameter));
  }
}

void read_element(const Node& node, std::vector<ElementText>& into, Sink& sink) {
  if (!node.is_map() || node.size() != 1) {
    sink.add(yaml::at(node, "family.element", "an element is one name with its sizes", "write - bead: {length: 9 mm}"));
    return;
  }
  const std::string word = node.key(0).text();
  const auto kind = shape::element_kind(word);
  if (!kind) {
    const std::string near = nearest_name(word, shape::element_words());
    sink.add(yaml::at(node.key(0), "family.unknown-element", "'" + word + "' is no element of a turning",
                      near.empty() ? "known: " + listed(shape::element_words()) : "did you mean '" + near + "'?"));
    return;
  }
  ElementText element;
  element.kind = *kind;
  element.place = node.key(0).place();
  MapReader map(node.value(0), word, sink);
  element.label = map.text("name").value_or("");
  for (const char* size : {"length", "share", "start", "end", "greatest", "least", kWhen, kDivide})
    if (auto value = entry(map, size, sink)) element.sizes.emplace(size, std::move(*value));
  element.step = map.yes_no("step").value_or(false);
  element.level_start = map.yes_no("level_start").value_or(false);
  element.level_end = map.yes_no("level_end").value_or(false);
  if (const auto cut = map.choice("cut", shape::pommel_cut_words())) element.cut = *shape::pommel_cut(shape::pommel_cut_words()[*cut]);
  read_through(map, element, sink);
  map.finish();
  into.push_back(std::move(element));
}

std::vector<ElementText> read_outline(MapReader& document, const std::string& key, const yaml::Need& need, Sink& sink) {
  std::vector<ElementText> out;
  if (const auto list = document.list(key, need)) {
    if (list->size() > kMostElements) {
      sink.add(yaml::at(*list, "family.too-many-elements", "an outline of " + std::to_string(list->size()) + " elements",
                        "at most " + std::to_string(kMostElements) + " are read: leave out those that no eye tells apart, or divide the piece"));
      return out;
    }
    for (const Node& node : list->items()) read_element(node, out, sink);
  }
  return out;
}

std::vector<TaperText> read_tapers(MapReader& document, const std::string& key, Sink& sink) {
  std::vector<TaperText> out;
  const auto list = document.list(key);
  if (!list) return out;
  for (const Node& node : list->items()) {
    TaperText taper;
    taper.place = node.place();
    MapReader map(node, "taper", sink);
    taper.faces = map.text("faces", required("letters of the faces, as CD")).value_or("");
    const auto from = entry(map, "from", sink), to = entry(map, "to", sink), width = entry(map, "width", sink);
    map.finish();
    if (!from || !to || !width) {
      sink.add(yaml::at(node, "family.taper", "a taper needs from, to and width", "write - {faces: CD, from: = head_length, to: = leg_length, width: 40 mm}"));
      continue;
    }
    std::string letters = taper.faces;
    std::sort(letters.begin(), letters.end());
    if (letters.empty() || letters.find_first_not_of("ABCD") != std::string::npos || std::adjacent_find(letters.begin(), letters.end()) != letters.end()) {
      sink.add(yaml::at(node, "family.taper-faces", "'" + taper.faces + "' are no faces of a square", "use letters of A, B, C, D, each once"));
      continue;
    }
    taper.from = *from;
    taper.to = *to;
    taper.width = *width;
    out.push_back(std::move(taper));
  }
  return out;
}

// `outline of the foot post:` and its tapers, for each of the pieces.
OwnTurnings read_own(MapReader& document, const std::vector<std::string>& pieces, Sink& sink) {
  OwnTurnings own;
  for (const std::string& piece : pieces) {
    TurningText turning{read_outline(document, of_piece("outline", piece), yaml::optional(), sink), read_tapers(document, of_piece("tapers", piece), sink),
                        read_treatments(document, of_piece("treatments", piece), sink), read_joints(document, of_piece("joints", piece), sink)};
    if (!turning.outline.empty() || !turning.tapers.empty() || !turning.treatments.empty() || !turning.joints.empty()) own.emplace(piece, std::move(turning));
  }
  return own;
}

// A design is read before its family is known: pieces of every frame there is.
std::vector<std::string> all_pieces() {
  std::vector<std::string> all;
  for (const std::string& frame : frame::frame_names())
    for (const std::string& piece : frame::piece_names(frame)) all.push_back(piece);
  return all;
}

// --- checks and hardware

std::vector<sheet::Check> read_checks(MapReader& document, const std::string& prefix, Sink& sink) {
  std::vector<sheet::Check> out;
  const auto list = document.list("checks");
  if (!list) return out;
  for (const Node& node : list->items()) {
    sheet::Check check;
    MapReader map(node, "check", sink);
    if (auto that = map.require("that", "what must hold"); that && that->is_scalar()) check.that = entry_of(*that);
    check.message = map.text("otherwise", required("what to say when it does not hold")).value_or("");
    check.stop = map.yes_no("stop").value_or(false);
    map.finish();
    check.name = prefix + std::to_string(out.size() + 1);
    out.push_back(std::move(check));
  }
  return out;
}

std::vector<HardwareText> read_hardware(MapReader& document, Sink& sink) {
  std::vector<HardwareText> out;
  const auto list = document.list("hardware");
  if (!list) return out;
  for (const Node& node : list->items()) {
    HardwareText item;
    MapReader map(node, "hardware", sink);
    item.item = map.text("item", required("what it is")).value_or("");
    item.each = map.money("each", {}, required("the price of one")).value_or(Money{});
    if (const auto count = map.require("count", "how many"))
      if (auto value = entry(*count, sink)) item.count = std::move(*value);
    map.finish();
    out.push_back(std::move(item));
  }
  return out;
}

bool is_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9})
    if (text[i] < '0' || text[i] > '9') return false;
  const int month = (text[5] - '0') * 10 + text[6] - '0', day = (text[8] - '0') * 10 + text[9] - '0';
  return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

// Text for papers: what a person may be called, without control characters.
std::string paper_text(MapReader& map, std::string_view key, const yaml::Need& need, Sink& sink) {
  const auto node = need.is_required() ? map.require(key, need.purpose()) : map.find(key);
  if (!node) return {};
  const auto text = yaml::as_text(*node, sink).value_or("");
  const bool control = std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
  if (control || character_count(text) > 200) {
    sink.add(yaml::at(*node, "family.paper-text", "'" + std::string(key) + "' goes on the papers: at most 200 letters in one line", "shorten it to one line"));
    return {};
  }
  return text;
}

std::string reference(MapReader& map, std::string_view key, const std::string& purpose, Place& place, Sink& sink) {
  const auto node = map.require(key, purpose);
  if (!node) return {};
  place = node->place();
  const std::string id = yaml::as_text(*node, sink).value_or("");
  std::string why;
  if (!id.empty() && !is_safe_file_name(id, &why)) {
    sink.add(yaml::at(*node, "family.name", "'" + id + "' cannot be a name: " + why, "use the name of a file of the catalog, without .yaml"));
    return {};
  }
  return id;
}

}  // namespace

Family read_family(std::string_view text, const std::string& file, const std::string& id, Sink& sink) {
  Family family;
  family.id = id;
  const auto root = yaml::read(text, file, sink);
  if (!root) return family;
  MapReader document(*root, "family", sink);
  family.name = document.text("family", required("what the part is, as: table leg")).value_or("");
  const auto stands_in = document.choice("stands_in", frame::frame_names(), required("the frame: " + joined(frame::frame_names(), ", ")));
  family.stands_in = frame::frame_names()[stands_in.value_or(0)];
  if (const auto groups = document.map("sheet", required("the measures, in groups"))) read_measures(*groups, family.measures, sink);
  read_frame(document, family, sink);
  read_blank(document, family, sink);
  read_words(document, family, sink);
  family.outline = read_outline(document, "outline", required("the turning, from the head down"), sink);
  family.tapers = read_tapers(document, "tapers", sink);
  family.treatments = read_treatments(document, "treatments", sink);
  family.joints = read_joints(document, "joints", sink);
  family.thin_stubs = document.yes_no("thin_stubs");
  family.own = read_own(document, frame::piece_names(family.stands_in), sink);
  family.hardware = read_hardware(document, sink);
  family.checks = read_checks(document, "check ", sink);
  for (const char* key : {"version", "renamed"}) document.find(key);  // designs/version.h reads them
  document.finish();
  return family;
}

Design read_design(std::string_view text, const std::string& file, const std::string& id, Sink& sink) {
  Design design;
  design.id = id;
  const auto root = yaml::read(text, file, sink);
  if (!root) return design;
  MapReader document(*root, "design", sink);
  design.name = paper_text(document, "design", required("its name in the catalog"), sink);
  design.family = reference(document, "family", "the file of the family in templates, without .yaml", design.family_place, sink);
  design.about = document.text("about").value_or("");
  design.thinnest = document.text("thinnest").value_or("");
  design.revision = document.count("revision").value_or(1);
  if (const auto groups = document.map("measures")) read_measures(*groups, design.measures, sink);
  design.entries = read_entries(document, "sheet", sink);
  design.outline = read_outline(document, "outline", yaml::optional(), sink);
  design.tapers = read_tapers(document, "tapers", sink);
  design.treatments = read_treatments(document, "treatments", sink);
  design.joints = read_joints(document, "joints", sink);
  design.thin_stubs = document.yes_no("thin_stubs");
  design.own = read_own(document, all_pieces(), sink);
  design.checks = read_checks(document, "design check ", sink);
  for (const char* key : {"id", "tags", "pictures", "revisions", "proven", "written_for"}) document.find(key);  // designs/card.h and version.h read them
  document.finish();
  return design;
}

namespace {

// One `cutter`, or `cutters` by what each is to do.
void read_cutters(MapReader& document, Order& order, Sink& sink) {
  const auto several = document.find("cutters");
  if (!several) {
    order.cutter = reference(document, "cutter", "a cutter of the shop", order.cutter_place, sink);
    return;
  }
  if (const auto one = document.find("cutter"))
    sink.add(yaml::at(*one, "family.cutters", "the order names a `cutter` and `cutters`", "say one of them: `cutter` for one that does all, or `cutters`"));
  MapReader map(*several, "list of cutters", sink);
  if (!map.is_map()) return;
  order.cutter = reference(map, "finish", "a ball of the shop that finishes the turnings", order.cutter_place, sink);
  if (map.find("rough")) order.rough = reference(map, "rough", "", order.rough_place, sink);
  if (map.find("fine")) order.fine = reference(map, "fine", "", order.fine_place, sink);
  map.finish();
}

// How fine the last passes are, and which way the cutter's teeth run.
void read_steps(MapReader& document, Order& order, Sink& sink) {
  order.stepover = document.length("stepover", std::nullopt, yaml::optional().at_least(0.05).at_most(5)).value_or(0);
  const auto cusp = document.find("cusp");
  if (cusp) order.cusp = yaml::as_length(*cusp, std::nullopt, sink, yaml::optional().at_least(0.005).at_most(0.5)).value_or(0);
  if (cusp && order.stepover > 0)
    sink.add(yaml::at(*cusp, "family.steps", "the order asks for a `stepover` and for a `cusp`", "say one of them: the other follows from it"));
  order.climb = static_cast<Climb>(document.choice("climb", {"nowhere", "finishing", "everywhere"}).value_or(0));
}

}  // namespace

Order read_order(std::string_view text, const std::string& file, const std::string& id, Sink& sink) {
  Order order;
  order.id = id;
  const auto root = yaml::read(text, file, sink);
  if (!root) return order;
  MapReader document(*root, "order", sink);
  order.name = paper_text(document, "order", required("what is ordered, in words"), sink);
  order.number = paper_text(document, "number", required("the order's number"), sink);
  order.client = paper_text(document, "client", yaml::optional(), sink);
  if (const auto date = document.find("date")) {
    order.date = yaml::as_text(*date, sink).value_or("");
    if (!order.date.empty() && !is_date(order.date)) sink.add(yaml::at(*date, "family.date", "'" + order.date + "' is no date", "write it as 2026-03-02"));
  }
  if (document.choice("units", {"mm", "in"}).value_or(0) == 1) order.lengths.unit = LengthUnit::inch;
  if (const auto paper = document.choice("paper", {"A4", "letter"})) order.paper = *paper == 1 ? "letter" : "A4";
  order.scale_bar_measures = document.length("scale_bar_measures", std::nullopt, yaml::optional().at_least(190).at_most(210)).value_or(200);
  order.design = reference(document, "design", "the file of the design in the catalog, without .yaml", order.design_place, sink);
  order.machine = reference(document, "machine", "a machine of the shop", order.machine_place, sink);
  read_cutters(document, order, sink);
  order.passes = static_cast<Passes>(document.choice("passes", {"fastest", "lengthwise", "round and round"}).value_or(0));
  read_steps(document, order, sink);
  order.joints = static_cast<Joints>(document.choice("joints", {"machine", "bench"}).value_or(0));
  order.thin_stubs = document.yes_no("thin_stubs");
  order.entries = read_entries(document, "sheet", sink);
  document.find("written_for");  // designs/version.h reads it
  document.finish();
  return order;
}

}  // namespace pommel::family
