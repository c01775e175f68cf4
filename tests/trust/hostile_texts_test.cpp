// What a name can hold, and that it stays a name: an order whose texts are made to end comments, begin formulas, open elements and leave quotes is made whole, and
// every file of its folder is read back by a reader that is not ours: pdftotext, xmllint, unzip, a JSON library, the modelling kernel, and plain walks through CSV,
// DXF and ISO 6983 text. Beside it the same order with harmless texts, which must have the same words, cells and bodies.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <functional>

#include <nlohmann/json.hpp>

#include "base/number.h"
#include "base/text.h"
#include "family/save_order.h"
#include "paper/poppler.h"
#include "solid/step.h"
#include "whole/csv.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::trust {
namespace {

namespace fs = std::filesystem;
using namespace whole;
using paper::output_of;
using Files = std::map<std::string, std::string>;

// In front what a spreadsheet takes for a formula; then what ends a comment, an element, a string; letters of two, three and four bytes.
const std::string kHostile = R"(=cmd|' /C calc'!A0) G0 Z-50 (M3; % ~ & <script>alert("x")</script> ]]> \ '$(rm)' {{x}} )" "\u00DF\u0416\u6728\U0001FAB5";
constexpr const char* kHarmless = "Somebody";

std::string in_yaml(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? "''" : std::string(1, c);
  return out + "'";
}

void replace(std::string& text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  ASSERT_NE(at, text.npos) << from;
  text.replace(at, from.size(), to);
}

// The small house with `words` wherever a person may write some.
void lay_out(const fs::path& folder, const std::string& words) {
  House house;
  std::map<std::string, std::string> files(house.files.files().begin(), house.files.files().end());
  const std::string text = in_yaml(words);
  std::string& order = files.at("catalog/orders/low-table.yaml");
  replace(order, "order: A low table", "order: " + text);
  replace(order, "number: \"1\"", "number: " + text);
  replace(order, "client: nobody", "client: " + text);
  std::string& design = files.at("catalog/designs/low-table.yaml");
  replace(design, "design: low table", "design: " + text);
  replace(design, "about: for tests", "about: " + text);
  replace(design, "- bead:   {length: 10 mm}", "- bead:   {length: 10 mm, name: " + text + "}");
  replace(files.at("catalog/shop/boards.yaml"), "label: 10/4 rough cherry", "label: " + text);
  replace(files.at("catalog/shop/machines.yaml"), "label: router with a rotary axis in degrees beside X, Y and Z", "label: " + text);
  replace(files.at("catalog/shop/cutters.yaml"), "label: 8 mm ball, long reach", "label: " + text);
  replace(files.at("catalog/shop/terms.yaml"), "Delivery, mounting and the finish of parts that are not listed are not included.", text);
  replace(files.at("templates/table-leg.yaml"), "item: felt glides", "item: " + text);
  for (const auto& [name, bytes] : files) {
    fs::create_directories((folder / name).parent_path());
    std::ofstream(folder / name, std::ios::binary) << bytes;
  }
}

bool ends_with(const std::string& name, const char* ending) { return name.ends_with(ending); }

// --- programs -------------------------------------------------------------------------------------------------------

// ISO 6983 text without its comments; "?" where one is not closed in its line, holds another, or holds a sign that some controls act upon wherever it stands.
std::string without_comments(const std::string& text) {
  std::string out;
  for (const std::string_view line : split(text, '\n')) {
    bool inside = false;
    for (const char c : line) {
      if (c < ' ' || c > '~') return "? not plain: " + std::string(line);
      if (inside && (c == '(' || std::string_view(";%!~?{}$#@\\").find(c) != std::string_view::npos)) return "? " + std::string(line);
      if (!inside && c == ';') return "? " + std::string(line);
      if (c == '(') inside = true;
      else if (c == ')' && inside) inside = false;
      else if (!inside) out += c;
    }
    if (inside) return "? not closed: " + std::string(line);
    if (!out.empty() && out.back() != '\n') out += '\n';
  }
  return out;
}

void programs_have_the_same_words(const std::string& name, const std::string& hostile, const std::string& harmless) {
  const std::string words = without_comments(hostile);
  EXPECT_NE(words.front(), '?') << name << words;
  EXPECT_GT(words.size(), 1000u) << name;
  EXPECT_TRUE(words == without_comments(harmless)) << name << ": the words differ";
  EXPECT_THAT(hostile, testing::HasSubstr("(piece: =cmd-' /C calc'.A0] G0 Z-50 [M3, pct - &)\n(... [script]alert['x'][/script] ]]] - '-[rm]' [[x]] s___, leg")) << name;
}

// --- tables ---------------------------------------------------------------------------------------------------------

void tables_have_the_same_cells(const std::string& name, const std::string& hostile, const std::string& harmless) {
  const auto rows = rows_of(hostile), wanted = rows_of(harmless);
  ASSERT_EQ(rows.size(), wanted.size()) << name;
  bool seen = false;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    EXPECT_EQ(rows[r].size(), wanted[r].size()) << name << " row " << r;
    for (const std::string& cell : rows[r]) {
      EXPECT_FALSE(!cell.empty() && std::string_view("=+-@\t\r").find(cell[0]) != std::string_view::npos && !parse_number(cell)) << name << ": " << cell;
      seen = seen || cell == "'" + kHostile;
    }
  }
  EXPECT_TRUE(seen) << name << ": the board's label stands nowhere";
}

// --- XML ------------------------------------------------------------------------------------------------------------

void xml_is_well_formed(const std::string& name, const fs::path& path, const std::string& query) {
  EXPECT_EQ(output_of("xmllint --nonet --noout '" + path.string() + "'"), "") << name;
  EXPECT_EQ(output_of("xmllint --nonet --xpath \"count(//*[local-name()='script'])\" '" + path.string() + "'"), "0\n") << name;
  if (!query.empty()) {
    EXPECT_THAT(output_of("xmllint --nonet --xpath \"" + query + "\" '" + path.string() + "'"), testing::HasSubstr(kHostile.substr(0, 60))) << name;
  }
}

void workbook_is_well_formed(const std::string& name, const fs::path& path, const fs::path& scratch) {
  const fs::path folder = scratch / ("unpacked-" + path.stem().string());
  EXPECT_EQ(output_of("unzip -q '" + path.string() + "' -d '" + folder.string() + "'"), "") << name;
  int parts = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    EXPECT_EQ(output_of("xmllint --nonet --noout '" + entry.path().string() + "'"), "") << name << " " << entry.path();
    ++parts;
  }
  EXPECT_GT(parts, 7) << name;
  // every formula of the sheets is ours, a sum
  const std::string formulas = output_of("xmllint --nonet --xpath \"//*[local-name()='f']/text()\" '" + (folder / "xl/worksheets/sheet1.xml").string() + "'");
  for (const std::string_view line : split(formulas, '\n')) EXPECT_TRUE(line.empty() || line.starts_with("SUM(") || line.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789+") == line.npos) << line;
  EXPECT_THAT(output_of("xmllint --nonet --xpath \"//*[local-name()='t']\" '" + (folder / "xl/sharedStrings.xml").string() + "'"), testing::Not(testing::HasSubstr(">=cmd"))) << name;
}

// --- drawings -------------------------------------------------------------------------------------------------------

// Group codes and values, a line each; the values of texts apart, since those may differ.
std::vector<std::string> groups_of(const std::string& dxf, std::vector<std::string>& texts) {
  std::vector<std::string_view> lines = split(dxf, '\n');
  std::vector<std::string> out;
  EXPECT_EQ(lines.size() % 2, 1u);
  for (std::size_t i = 0; i + 1 < lines.size(); i += 2) {
    const auto code = parse_number(trimmed(lines[i]));
    EXPECT_TRUE(code && *code >= 0 && *code <= 1071) << lines[i];
    for (const char c : lines[i + 1]) EXPECT_TRUE(c >= ' ' && c <= '~') << lines[i + 1];
    if (code == 1) texts.emplace_back(lines[i + 1]);
    else out.push_back(std::string(trimmed(lines[i])) + "=" + std::string(lines[i + 1]));
  }
  return out;
}

void drawings_have_the_same_groups(const std::string& name, const std::string& hostile, const std::string& harmless) {
  std::vector<std::string> texts, plain_texts;
  EXPECT_TRUE(groups_of(hostile, texts) == groups_of(harmless, plain_texts)) << name;
  EXPECT_EQ(texts.size(), plain_texts.size()) << name;
}

void solids_have_the_same_bodies(const std::string& name, const std::string& hostile, const std::string& harmless) {
  const auto read = solid::read_step(hostile), plain = solid::read_step(harmless);
  ASSERT_TRUE(read.ok() && plain.ok()) << name;
  ASSERT_EQ(read->size(), plain->size()) << name;
  for (std::size_t i = 0; i < read->size(); ++i) {
    const std::size_t at = (*plain)[i].name.find(kHarmless);
    std::string wanted = (*plain)[i].name;
    if (at != wanted.npos) wanted.replace(at, std::string(kHarmless).size(), kHostile);
    EXPECT_EQ((*read)[i].name, wanted) << name;
  }
}

// --- all of it ------------------------------------------------------------------------------------------------------

void read_back(const fs::path& job, const Files& hostile, const Files& harmless, const fs::path& scratch) {
  for (const auto& [name, bytes] : hostile) {
    const std::string& plain = harmless.at(name);
    const fs::path path = job / name;
    if (ends_with(name, ".nc")) programs_have_the_same_words(name, bytes, plain);
    else if (ends_with(name, ".csv")) tables_have_the_same_cells(name, bytes, plain);
    else if (ends_with(name, ".svg")) xml_is_well_formed(name, path, name == "cutting-plan.svg" ? "string(/)" : "string(//*[local-name()='title'])");
    else if (ends_with(name, ".xlsx")) workbook_is_well_formed(name, path, scratch);
    else if (ends_with(name, ".dxf")) drawings_have_the_same_groups(name, bytes, plain);
    else if (ends_with(name, ".step")) solids_have_the_same_bodies(name, bytes, plain);
    else if (ends_with(name, ".stl")) EXPECT_TRUE(bytes.starts_with("pommel: ") && bytes.substr(80) == plain.substr(80)) << name;
    else if (ends_with(name, ".json")) EXPECT_FALSE(nlohmann::json::parse(bytes, nullptr, false).is_discarded()) << name;
    else if (ends_with(name, ".txt")) EXPECT_TRUE(is_utf8(bytes) && printable(bytes).find("\uFFFD") == bytes.npos) << name;
    else if (ends_with(name, ".pdf")) EXPECT_NE(output_of("pdftotext -layout '" + path.string() + "' -"), "") << name;
    else EXPECT_TRUE(ends_with(name, ".png")) << name << " is read back by nobody";
  }
}

TEST(HostileTexts, StayTextsInEveryFileOfTheFolder) {
  const Scratch scratch;
  Files files[2];
  for (int i = 0; i < 2; ++i) {
    const fs::path house = scratch / ("house" + std::to_string(i)), job = scratch / ("job" + std::to_string(i));
    lay_out(house, i == 0 ? kHostile : kHarmless);
    const Ended ended = pommel({"make", (house / "catalog/orders/low-table.yaml").string(), "--into", job.string()});
    ASSERT_EQ(ended.code, 0) << ended.out << ended.err;
    files[i] = contents(job);
  }
  ASSERT_EQ(files[0].size(), files[1].size());
  for (const auto& [name, bytes] : files[1]) ASSERT_TRUE(files[0].contains(name)) << name;
  read_back(scratch / "job0", files[0], files[1], scratch.path());
  EXPECT_EQ(nlohmann::json::parse(files[0].at("job.json")).at("order").at("name").get<std::string>(), kHostile);
#ifdef POMMEL_WITH_PAPER
  ASSERT_TRUE(files[0].contains("quote.pdf"));
  EXPECT_THAT(output_of("pdftotext -raw '" + (scratch / "job0/quote.pdf").string() + "' -"), testing::HasSubstr("=cmd|' /C calc'!A0) G0 Z-50 (M3; % ~ & <script>"));
#endif
}

#ifdef POMMEL_WITH_PAPER
TEST(HostileTexts, StayTextsInTheCatalogsPage) {
  const Scratch scratch;
  lay_out(scratch / "house", kHostile);
  const fs::path page = scratch / "designs.html";
  const Ended ended = pommel({"catalog", "--catalog", (scratch / "house/catalog").string(), "--pictures", page.string()});
  ASSERT_EQ(ended.code, 0) << ended.err;
  // its parser knows HTML 4 and remarks on what came later
  const auto asked = [&](const std::string& query) { return output_of("(xmllint --nonet --html --xpath \"" + query + "\" '" + page.string() + "' 2>/dev/null)"); };
  EXPECT_EQ(asked("count(//script)"), "0\n");
  EXPECT_EQ(asked("count(//figure)"), "1\n");
  EXPECT_EQ(asked("string(//figcaption/b)"), kHostile + "\n");
  EXPECT_EQ(asked("string(//@aria-label)"), kHostile + "\n");
}
#endif

// What the window writes into the maker's files reads back as what was typed.
TEST(HostileTexts, WrittenIntoAnOrderReadBackAsTheyWere) {
  for (const std::string& words : {kHostile, std::string("@SUM(A1)"), std::string("- a"), std::string("{a: b} # c"), std::string("'\"\\"), std::string("yes"), std::string("1e3"), std::string("*x &y !z |")}) {
    family::NewOrder order;
    order.name = order.number = order.client = words;
    order.date = "2026-03-02";
    order.design = "low-table";
    order.machine = "rotary-degrees";
    order.cutter = "ball-8";
    Sink sink;
    const family::Order read = family::read_order(family::new_order_text(order), "order.yaml", "order", sink);
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    EXPECT_EQ(read.name, words);
    EXPECT_EQ(read.number, words);
    EXPECT_EQ(read.client, words);
  }
}

// What no paper can show as it is, is refused, at its place.
TEST(HostileTexts, ThatNobodyCouldSeeAreRefusedWhereTheyStand) {
  struct Case {
    std::string written, says;
  };
  const std::string unseen = "   do: delete it, and type the word again; it may have been copied in with the text\n", one_line = "'client' goes on the papers: at most 200 letters in one line [family.paper-text]\n";
  for (const Case& one : std::vector<Case>{
           {"A\u202Efdp", "orders/low-table.yaml:4:10: error: a character that nobody sees stands here, U+202E [yaml.unseen]\n    4 | client: A\uFFFDfdp\n      |          ^\n" + unseen},
           {"A\u200BB", "orders/low-table.yaml:4:10: error: a character that nobody sees stands here, U+200B [yaml.unseen]\n    4 | client: A\uFFFDB\n      |          ^\n" + unseen},
           {"A\u2066B", "orders/low-table.yaml:4:10: error: a character that nobody sees stands here, U+2066 [yaml.unseen]\n    4 | client: A\uFFFDB\n      |          ^\n" + unseen},
           {"A\xED\xA0\x80", "orders/low-table.yaml:4:10: error: this file is not UTF-8 text [yaml.not-utf8]\n    4 | client: A\uFFFD\uFFFD\uFFFD\n      |          ^\n   do: save it as UTF-8 in your editor\n"},
           {"A\xFF", "orders/low-table.yaml:4:10: error: this file is not UTF-8 text [yaml.not-utf8]\n    4 | client: A\uFFFD\n      |          ^\n   do: save it as UTF-8 in your editor\n"},
           {std::string("A\0B", 3), "orders/low-table.yaml:4:10: error: there is a control character here [yaml.control]\n    4 | client: A B\n      |          ^\n   do: delete it; text files have none\n"},
           {"\"A\\0B\"", "orders/low-table.yaml:4:9: error: an escape in this text is a control character [yaml.control]\n    4 | client: \"A\\0B\"\n      |         ^\n   do: write the text without it\n"},
           {"\"A\\u202EB\"", "orders/low-table.yaml:4:9: error: an escape in this text is a character that nobody sees, U+202E [yaml.control]\n    4 | client: \"A\\u202EB\"\n      |         ^\n   do: write the text without it\n"},
           {"\"A\\nB\"", "orders/low-table.yaml:4:9: error: " + one_line + "    4 | client: \"A\\nB\"\n      |         ^~~~~~\n   do: shorten it to one line\n"},
       }) {
    House house;
    std::string order = kSmallOrder;
    replace(order, "nobody", one.written);
    house.put("catalog/orders/low-table.yaml", order);
    Sink sink;
    house.load("catalog/orders/low-table.yaml", sink);
    EXPECT_EQ(render(sink.all()), "catalog/" + one.says) << one.written;
  }
}

TEST(HostileTexts, MayHaveTwoHundredLettersWhateverTheirBytes) {
  for (const int count : {200, 201}) {
    House house;
    std::string order = kSmallOrder, name;
    for (int i = 0; i < count; ++i) name += "\u6728";
    replace(order, "nobody", name);
    house.put("catalog/orders/low-table.yaml", order);
    Sink sink;
    house.load("catalog/orders/low-table.yaml", sink);
    EXPECT_EQ(sink.has_errors(), count > 200) << render(sink.all());
  }
}

}  // namespace
}  // namespace pommel::trust
