#include "designs/card.h"

#include <algorithm>
#include <map>

#include "base/files.h"
#include "base/text.h"
#include "yaml/map_reader.h"

namespace pommel::designs {
namespace {

using yaml::MapReader;
using yaml::Node;
using yaml::required;

std::vector<std::string> words_of(MapReader& document, std::string_view key, Sink& sink) {
  std::vector<std::string> out;
  if (const auto list = document.list(key))
    for (const Node& item : list->items())
      if (auto text = yaml::as_text(item, sink)) out.push_back(std::move(*text));
  return out;
}

// 2026-03-02: digits and hyphens in their places; a calendar is not asked.
bool looks_like_a_date(const std::string& text) {
  constexpr std::string_view kForm = "dddd-dd-dd";
  return text.size() == kForm.size() && std::equal(text.begin(), text.end(), kForm.begin(), [](char c, char form) { return form == 'd' ? c >= '0' && c <= '9' : c == form; });
}

void read_revisions(MapReader& document, Card& card, Sink& sink) {
  const auto list = document.list("revisions");
  if (!list) return;
  for (const Node& node : list->items()) {
    MapReader map(node, "revision", sink);
    Revision one;
    one.number = map.count("revision", required("its number")).value_or(0);
    one.date = map.text("date", required("when, as 2026-03-02")).value_or("");
    one.what = map.text("what", required("what changed")).value_or("");
    one.why = map.text("why", required("why")).value_or("");
    map.finish();
    if (!map.is_map()) continue;
    if (!one.date.empty() && !looks_like_a_date(one.date))
      sink.add(yaml::at(*map.find("date"), "designs.revisions", "'" + one.date + "' is no date", "write it as 2026-03-02"));
    if (!card.revisions.empty() && one.number != card.revisions.back().number + 1)
      sink.add(yaml::at(node, "designs.revisions", "revision " + std::to_string(one.number) + " follows " + std::to_string(card.revisions.back().number), "number them one by one, the newest last"));
    card.revisions.push_back(std::move(one));
  }
  if (!card.revisions.empty() && card.revisions.back().number != card.revision)
    sink.add(yaml::at(*list, "designs.revisions", "the newest of them is " + std::to_string(card.revisions.back().number) + ", the file says revision: " + std::to_string(card.revision),
                      "say what changed, and make both the same"));
}

void read_proven(MapReader& document, Card& card, Sink& sink) {
  const auto map = document.map("proven");
  if (!map) return;
  for (std::size_t i = 0; i < map->size(); ++i) {
    const Node range = map->value(i);
    if (!range.is_list() || range.size() != 2 || !range.item(0).is_scalar() || !range.item(1).is_scalar()) {
      sink.add(yaml::at(range, "designs.proven", "'" + map->key(i).text() + "' needs the least and the greatest size", "write it as [700 mm, 800 mm]"));
      continue;
    }
    card.proven.push_back({map->key(i).text(), range.item(0).text(), range.item(1).text(), map->key(i).place()});
  }
}

void read_id(MapReader& document, Card& card, Sink& sink) {
  const auto id = document.find("id");
  if (!id) return;
  std::string why;
  if (!is_safe_file_name(id->text(), &why) || id->text().find('@') != std::string::npos)
    sink.add(yaml::at(*id, "designs.id", "'" + id->text() + "' cannot be an id" + (why.empty() ? "" : ": " + why), "use letters, digits and hyphens"));
  else
    card.id = id->text();
}

}  // namespace

Card read_card(std::string_view text, const std::string& file, const std::string& stem, Sink& sink) {
  Card card;
  card.id = card.file = stem;
  const auto root = yaml::read(text, file, sink);
  if (!root || !root->is_map()) return card;
  MapReader document(*root, "design", sink);  // not finished: the other keys are the family reader's
  card.name = document.text("design").value_or("");
  card.family = document.text("family").value_or("");
  card.about = document.text("about").value_or("");
  card.revision = document.count("revision").value_or(1);
  read_id(document, card, sink);
  card.tags = words_of(document, "tags", sink);
  card.pictures = words_of(document, "pictures", sink);
  read_revisions(document, card, sink);
  read_proven(document, card, sink);
  return card;
}

bool matches(const Card& card, std::string_view words) {
  const std::string all = lowered(card.id + " " + card.name + " " + card.family + " " + joined(card.tags, " ") + " " + card.about);
  for (const std::string_view word : split(words, ' '))
    if (!word.empty() && all.find(lowered(word)) == std::string::npos) return false;
  return true;
}

std::vector<Diagnostic> shared_ids(const std::vector<Card>& cards) {
  std::map<std::string, std::vector<std::string>> files;
  for (const Card& card : cards) files[card.id].push_back("'" + card.file + ".yaml'");
  std::vector<Diagnostic> out;
  for (const auto& [id, names] : files)
    if (names.size() > 1) out.push_back(fail("designs.same-id", "the id '" + id + "' stands in " + listed(names), "an id names one design: give the younger another").reasons.front());
  return out;
}

}  // namespace pommel::designs
