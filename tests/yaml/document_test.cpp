#include "yaml/document.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace pommel::yaml {
namespace {

/// One line a node, indented by depth: kind, text, place. Places are line:column.
void dump(const Node& node, int depth, std::string& out) {
  const Place place = node.place();
  out += std::string(static_cast<std::size_t>(2 * depth), ' ');
  const std::string where = " @" + std::to_string(place.line) + ":" + std::to_string(place.column) + "\n";
  if (node.is_scalar()) {
    out += (node.nothing() ? "nothing" : node.quoted() ? "\"" + node.text() + "\"" : node.text()) + where;
    return;
  }
  out += (node.is_list() ? "list" : "map") + where;
  for (const Node& item : node.items()) dump(item, depth + 1, out);
  for (std::size_t i = 0; node.is_map() && i < node.size(); ++i) {
    dump(node.key(i), depth + 1, out);
    dump(node.value(i), depth + 2, out);
  }
}

std::string dumped(std::string_view text) {
  Sink sink;
  const auto node = read(text, "f.yaml", sink);
  if (!node || !sink.all().empty()) return render(sink.all());
  std::string out;
  dump(*node, 0, out);
  return out;
}

TEST(Document, IsReadWithItsPlaces) {
  struct Row {
    const char* text;
    const char* dump;
  };
  for (const Row& row : {
           Row{"a: 1\nb: two words\n", "map @1:1\n  a @1:1\n    1 @1:4\n  b @2:1\n    two words @2:4\n"},
           {"- x\n- [1, .5]\n- {k: v, w: = a - 6 mm}\n",
            "list @1:1\n  x @1:3\n  list @2:3\n    1 @2:4\n    .5 @2:7\n  map @3:3\n    k @3:4\n      v @3:7\n    w "
            "@3:10\n      = a - 6 mm @3:13\n"},
           {"a: '28 1/4\"'\nb: \"2' 4\\\"\"\nc: 28 1/4\"\n",
            "map @1:1\n  a @1:1\n    \"28 1/4\"\" @1:4\n  b @2:1\n    \"2' 4\"\" @2:4\n  c @3:1\n    28 1/4\" @3:4\n"},
           {"a:\nb: ~\nc: null\nd: {e: , f}\n",
            "map @1:1\n  a @1:1\n    nothing @1:1\n  b @2:1\n    nothing @2:4\n  c @3:1\n    nothing @3:4\n  d @4:1\n  "
            "  map @4:4\n      e @4:5\n        nothing @4:5\n      f @4:10\n        nothing @4:10\n"},
           {"-\n- a\n", "list @1:1\n  nothing @1:1\n  a @2:3\n"},
           {"a: one\n  two\n\n  three # note\n", "map @1:1\n  a @1:1\n    one two\nthree @1:4\n"},
           {"a: |\n  x\n   y\nb: >\n  x\n  y\n",
            "map @1:1\n  a @1:1\n    \"x\n y\n\" @1:4\n  b @4:1\n    \"x y\n\" @4:4\n"},
           {"# c\n---\na: 1 # c\n...\n", "map @3:1\n  a @3:1\n    1 @3:4\n"},
           {"? a\n: b\n", "map @1:1\n  a @1:3\n    b @2:3\n"},
           {"\xEF\xBB\xBF"
            "a: 1\n",
            "map @1:1\n  a @1:1\n    1 @1:4\n"},
           {"a: x\r\nb:\r\n  c: y\r\n",
            "map @1:1\n  a @1:1\n    x @1:4\n  b @2:1\n    map @3:3\n      c @3:3\n        y @3:6\n"},
           // columns count characters: four of the bytes before 1 are the second bytes of theirs
           {"\xC3\xBC: [\xC3\xA4\xC3\xB6, \xC3\x9F: 1]\n",
            "map @1:1\n  \xC3\xBC @1:1\n    list @1:4\n      \xC3\xA4\xC3\xB6 @1:5\n      map @1:9\n        \xC3\x9F "
            "@1:9\n          1 @1:12\n"},
           {"just text", "just text @1:1\n"},
           {"yes", "yes @1:1\n"},
       }) {
    EXPECT_EQ(dumped(row.text), row.dump) << row.text;
  }
}

TEST(Document, IsRefusedWithLineCaretAndRemedy) {
  struct Row {
    std::string text;
    const char* told;
  };
  const std::vector<Row> rows = {
      {"a: 1\nb: 2\na: 3\n",
       "f.yaml:3:1: error: 'a' stands here twice: first in line 1 [yaml.doubled-key]\n    3 | a: 3\n      | ^\n   do: "
       "keep one of them\n"},
      {"x: {h\xC3\xB6he: 1, 'h\xC3\xB6he': 2}\n",
       "f.yaml:1:14: error: 'h\xC3\xB6he' stands here twice: first in line 1 [yaml.doubled-key]\n    1 | x: "
       "{h\xC3\xB6he: 1, 'h\xC3\xB6he': 2}\n"
       "      |              ^~~~~~\n   do: keep one of them\n"},
      {"a: &top 1\nb: *top\n",
       "f.yaml:1:4: error: anchors and aliases (& and *) are not used here [yaml.anchor]\n    1 | a: &top 1\n      |   "
       " ^\n   do: write the value out in each place\n"
       "f.yaml:2:4: error: anchors and aliases (& and *) are not used here [yaml.anchor]\n    2 | b: *top\n      |    "
       "^\n   do: write the value out in each place\n"},
      {"a: *top\n",
       "f.yaml:1:4: error: anchors and aliases (& and *) are not used here [yaml.anchor]\n    1 | a: *top\n      |    "
       "^\n   do: put the text in quotes, or write the value out in each place\n"},
      {"a: * 2\n",
       "f.yaml:1:5: error: anchors and aliases (& and *) are not used here [yaml.anchor]\n    1 | a: * 2\n      |     "
       "^\n   do: put the text in quotes, or write the value out in each place\n"},
      {"<<: {a: 1}\nb: 2\n",
       "f.yaml:1:1: error: merge keys (<<) are not used here [yaml.merge-key]\n    1 | <<: {a: 1}\n      | ^~\n   do: "
       "write the entries out\n"},
      {"a: !!int 3\nb: !leg {}\n",
       "f.yaml:1:4: error: tags (!) are not used here [yaml.tag]\n    1 | a: !!int 3\n      |    ^\n   do: take it "
       "out\n"
       "f.yaml:2:4: error: tags (!) are not used here [yaml.tag]\n    2 | b: !leg {}\n      |    ^\n   do: take it "
       "out\n"},
      {"a: ! 3\n",
       "f.yaml:1:4: error: tags (!) are not used here [yaml.tag]\n    1 | a: ! 3\n      |    ^\n   do: take it out\n"},
      {"[a, b]: 1\n~: 2\n{c: 1}: 3\n",
       "f.yaml:1:1: error: a key must be a word, not a list, a map or nothing [yaml.key-kind]\n    1 | [a, b]: 1\n     "
       " | ^\n   do: write it as 'word: value'\n"
       "f.yaml:2:1: error: a key must be a word, not a list, a map or nothing [yaml.key-kind]\n    2 | ~: 2\n      | "
       "^\n   do: write it as 'word: value'\n"
       "f.yaml:3:1: error: a key must be a word, not a list, a map or nothing [yaml.key-kind]\n    3 | {c: 1}: 3\n     "
       " | ^\n   do: write it as 'word: value'\n"},
      {"a:\t1\n\tb: 2\t\t\nc: 3\n",
       "f.yaml:1:3: error: there is a tab here [yaml.tab]\n    1 | a: 1\n      |   ^\n   do: use blanks; most editors "
       "can be told to write them for the tab key\n"
       "f.yaml:2:1: error: there is a tab here [yaml.tab]\n    2 |  b: 2\n      | ^\n   do: use blanks; most editors "
       "can be told to write them for the tab key\n"},
      {"a: 1\n---\nb: 2\n",
       "f.yaml:2:1: error: a second document begins here; a file holds one [yaml.documents]\n    2 | ---\n      | "
       "^~~\n   do: take out the line '---', or make two files\n"},
      {"", "f.yaml: error: there is nothing in this file [yaml.empty]\n"},
      {"\n# only a note\n", "f.yaml: error: there is nothing in this file [yaml.empty]\n"},
      {"a: \xC3(\n",
       "f.yaml:1:4: error: this file is not UTF-8 text [yaml.not-utf8]\n    1 | a: \xEF\xBF\xBD(\n      |    ^\n   do: "
       "save it as UTF-8 in your editor\n"},
      {"h\xC3\xB6he: 1\nbreite: \xE4\n",
       "f.yaml:2:9: error: this file is not UTF-8 text [yaml.not-utf8]\n    2 | breite: \xEF\xBF\xBD\n      |         "
       "^\n   do: save it as UTF-8 in your editor\n"},
      {std::string("a: x\0y\n", 7),
       "f.yaml:1:5: error: there is a control character here [yaml.control]\n    1 | a: x y\n      |     ^\n   do: "
       "delete it; text files have none\n"},
      {"a: x\x04\nb: 1\n",
       "f.yaml:1:5: error: there is a control character here [yaml.control]\n    1 | a: x\n      |     ^\n   do: "
       "delete it; text files have none\n"},
      {"a: 1\rb: 2\r",
       "f.yaml:1:5: error: there is a control character here [yaml.control]\n    1 | a: 1 b: 2\n      |     ^\n   do: "
       "delete it; text files have none\n"},
      {"a: pay\u202Eab\n",
       "f.yaml:1:7: error: a character that nobody sees stands here, U+202E [yaml.unseen]\n    1 | a: pay\uFFFDab\n      |       ^\n   do: "
       "delete it, and type the word again; it may have been copied in with the text\n"},
      {"a: \"x\\u202Ey\"\n",
       "f.yaml:1:4: error: an escape in this text is a character that nobody sees, U+202E [yaml.control]\n    1 | a: \"x\\u202Ey\"\n      |    ^\n   do: write the text without it\n"},
      {"a: \"x\\x1By\"\n",
       "f.yaml:1:4: error: an escape in this text is a control character [yaml.control]\n    1 | a: \"x\\x1By\"\n      |    ^\n   do: write the text without it\n"},
      {"a: b: c\n",
       "f.yaml:1:5: error: a second ': ' stands in this line [yaml.syntax]\n    1 | a: b: c\n      |     ^\n   do: put "
       "the text in quotes, or the entry on a line of its own\n"},
      {"a: 1\nb\nc: 2\n",
       "f.yaml:3:2: error: this entry does not follow from the line above it [yaml.syntax]\n    3 | c: 2\n      |  ^\n "
       "  do: look there for a missing colon, or give both lines the same indent\n"},
      {"a:\n  b: 1\n   c: 2\n",
       "f.yaml:3:5: error: this entry does not follow from the line above it [yaml.syntax]\n    3 |    c: 2\n      |   "
       "  ^\n   do: look there for a missing colon, or give both lines the same indent\n"},
      {"a:\n  b: 1\n c: 2\n",
       "f.yaml:3:2: error: this line does not fit into the entries above it [yaml.syntax]\n    3 |  c: 2\n      |  ^\n "
       "  do: give the entries of one group the same indent, each as 'word: value'\n"},
      {"  a: 1\n b: 2\n",
       "f.yaml:2:2: error: this line does not belong to what stands above it [yaml.syntax]\n    2 |  b: 2\n      |  "
       "^\n   do: give the entries of one group the same indent, or close what is open above\n"},
      {"- a\nb: 1\n",
       "f.yaml:2:1: error: this line does not belong to what stands above it [yaml.syntax]\n    2 | b: 1\n      | ^\n  "
       " do: give the entries of one group the same indent, or close what is open above\n"},
      {"a: - b\n",
       "f.yaml:1:4: error: a list item cannot begin here [yaml.syntax]\n    1 | a: - b\n      |    ^\n   do: put '- ' "
       "on a line of its own indent\n"},
      {"a: [1, 2\n\n",
       "f.yaml:1:8: error: a list in [ ] is not closed, or a comma is missing in it [yaml.syntax]\n    1 | a: [1, 2\n  "
       "    |        ^\n   do: close it, and check the lines before\n"},
      {"a: [\xC3\xA9\n",  // once the second byte of the last letter was taken for a letter of its own
       "f.yaml:1:5: error: a list in [ ] is not closed, or a comma is missing in it [yaml.syntax]\n    1 | a: [\xC3\xA9\n"
       "      |     ^\n   do: close it, and check the lines before\n"},
      {"a: {b: 1\nc: 2\n",
       "f.yaml:2:2: error: a group in { } is not closed, or a comma is missing in it [yaml.syntax]\n    2 | c: 2\n     "
       " |  ^\n   do: close it, and check the lines before\n"},
      {"a: ]\n",
       "f.yaml:1:4: error: this bracket closes nothing [yaml.syntax]\n    1 | a: ]\n      |    ^\n   do: take it out, "
       "or put the text in quotes\n"},
      {"a: 'x\nb: 1\n",
       "f.yaml:1:4: error: a quoted text is not closed [yaml.syntax]\n    1 | a: 'x\n      |    ^\n   do: add the "
       "closing quote\n"},
      {"a: \"x\n",
       "f.yaml:1:4: error: a quoted text is not closed [yaml.syntax]\n    1 | a: \"x\n      |    ^\n   do: add the "
       "closing quote\n"},
      {"a: \"\\q\"\n",
       "f.yaml:1:7: error: a backslash in double quotes begins a special sign, and this is none [yaml.syntax]\n    1 | "
       "a: \"\\q\"\n      |       ^\n   do: write the text in single quotes\n"},
      {"a: @x\n",
       "f.yaml:1:4: error: a text cannot begin with this sign [yaml.syntax]\n    1 | a: @x\n      |    ^\n   do: put "
       "the text in quotes\n"},
      {"a: 'x' y\n",
       "f.yaml:1:8: error: this line does not fit into the entries above it [yaml.syntax]\n    1 | a: 'x' y\n      |   "
       "     ^\n   do: give the entries of one group the same indent, each as 'word: value'\n"},
      {std::string(41, '[') + std::string(41, ']'),
       "f.yaml:1:41: error: this is nested more than 40 levels deep [yaml.too-deep]\n"
       "    1 | [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\n"
       "      |                                         ^\n   do: write it flatter\n"},
      {std::string(kMaxBytes + 1, '#'),
       "f.yaml: error: this file is larger than 1 MiB [yaml.too-large]\n   do: split it, or check that it is the right "
       "file\n"},
  };
  for (const Row& row : rows) EXPECT_EQ(dumped(row.text), row.told) << row.text.substr(0, 100);
}

std::string repeated(std::string_view piece, std::size_t bytes) {
  std::string text;
  while (text.size() + piece.size() <= bytes) text += piece;
  return text;
}

std::vector<std::string> ids(std::string_view text) {
  Sink sink;
  (void)read(text, "f.yaml", sink);
  std::vector<std::string> all;
  for (const Diagnostic& one : sink.all()) all.push_back(one.id);
  return all;
}

TEST(Document, LimitsHoldToTheLast) {
  EXPECT_THAT(ids(std::string(kMaxDepth, '[') + std::string(kMaxDepth, ']')), testing::IsEmpty());
  EXPECT_THAT(ids("a: 1 #" + std::string(kMaxBytes - 6, 'x')), testing::IsEmpty());
  // a list and its items
  EXPECT_THAT(ids(repeated("- a\n", 4 * (kMaxNodes - 1))), testing::IsEmpty());
  EXPECT_THAT(ids(repeated("- a\n", 4 * kMaxNodes)), testing::ElementsAre("yaml.too-many"));
}

// A megabyte of nesting in each way that YAML can nest: the library would go one call deeper for each.
TEST(Document, DeepNestingIsRefusedInAnyStyle) {
  for (const char* piece : {"[", "{", "- ", "? ", "{a: ", "[{a: ", "- - ? ", "- ? - "}) {
    EXPECT_THAT(ids(repeated(piece, kMaxBytes)), testing::Contains("yaml.too-deep")) << piece;
  }
  std::string steps;
  for (std::size_t depth = 0; depth < 1000; ++depth) steps += std::string(depth, ' ') + "a:\n";
  EXPECT_THAT(ids(steps), testing::ElementsAre("yaml.too-deep"));
}

// Nine lines that stand for a thousand million words when aliases are followed.
TEST(Document, AnAliasBombIsAListOfErrors) {
  std::string bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n";
  for (int i = 1; i < 9; ++i) {
    const std::string before = "*a" + std::to_string(i - 1), name = "a" + std::to_string(i);
    bomb += name + ": &" + name + " [" + before;
    for (int k = 1; k < 10; ++k) bomb += ", " + before;
    bomb += "]\n";
  }
  const auto found = ids(bomb);
  EXPECT_EQ(found.size(), 9u + 80);
  EXPECT_THAT(found, testing::Each("yaml.anchor"));
}

TEST(Document, AFileOfFaultsStopsAtAHundred) {
  EXPECT_EQ(ids(repeated("a: 1\n", 5000)).size(), 100u);
  EXPECT_EQ(ids(repeated("\ta\n", 5000)).size(), 100u);
}

// A tree that had faults is still given, so that its reader can report more; refused entries are left out of it.
TEST(Document, GoesOnAfterAFault) {
  Sink sink;
  const auto node = read("a: 1\na: 2\n<<: 3\n[x]: 4\nb: *c\n", "f", sink);
  EXPECT_FALSE(node);  // *c stands for nothing: the library ends there
  Sink again;
  const auto tree = read("a: 1\na: 2\n<<: 3\n[x]: 4\nb: &c 5\nd: *c\n", "f", again);
  ASSERT_TRUE(tree);
  EXPECT_EQ(again.all().size(), 5u);
  std::string out;
  dump(*tree, 0, out);
  EXPECT_EQ(out, "map @1:1\n  a @1:1\n    1 @1:4\n  b @5:1\n    5 @5:4\n  d @6:1\n    nothing @6:4\n");
}

TEST(Document, NodesOutliveTheirReader) {
  std::optional<Node> kept;
  {
    Sink sink;
    kept = read("a: [1, 2]\n", "f", sink)->find("a")->item(1);
  }
  EXPECT_EQ(kept->text(), "2");
  EXPECT_EQ(kept->place(), (Place{"f", 1, 8}));
  EXPECT_EQ(kept->source_line(), "a: [1, 2]");
  EXPECT_EQ(kept->document_text(), "a: [1, 2]\n");
}

TEST(Document, NodesTellHowTheyWereWritten) {
  const std::string long_text = repeated("\xC3\xBC", 400);
  Sink clean;
  const auto tree = read(
      "a: 'it''s'\nb: one\n  two # c\nc: |\n  x\nd: [1]\ne: ~\nf:\ng: \"a\\\"b\"\nh: a" + long_text + "\n", "f", clean);
  ASSERT_TRUE(tree);
  ASSERT_TRUE(clean.all().empty());
  struct Row {
    const char* key;
    std::string written;
  };
  const std::vector<Row> rows = {
      {"a", "'it''s'"}, {"b", "one\n  two"}, {"c", ""},           {"d", ""},
      {"e", "~"},       {"f", ""},           {"g", "\"a\\\"b\""}, {"h", "a" + repeated("\xC3\xBC", 198)}};
  for (const Row& row : rows) EXPECT_EQ(tree->find(row.key)->as_written(), row.written) << row.key;
  EXPECT_FALSE(tree->find("z"));
  EXPECT_EQ(tree->find("f")->place(), (Place{"f", 8, 1}));
}

TEST(Document, ReadsFromAFileSystem) {
  MemoryFiles files;
  ASSERT_TRUE(files.write("order.yaml", "a: 1\n"));
  Sink sink;
  const auto node = read_file(files, "order.yaml", sink);
  ASSERT_TRUE(node);
  EXPECT_EQ(node->find("a")->place(), (Place{"order.yaml", 1, 4}));
  EXPECT_FALSE(read_file(files, "other.yaml", sink));
  ASSERT_TRUE(files.write("big.yaml", std::string(kMaxBytes + 4, '#')));
  EXPECT_FALSE(read_file(files, "big.yaml", sink));
  EXPECT_EQ(sink.all()[0].id, "files.cannot-read");
  EXPECT_EQ(sink.all()[1].id, "files.too-large");
}

// Documents of random signs, and a good one with random bytes put in: an answer every time, and each problem says what
// to do.
TEST(Document, AnyBytesGiveAnAnswer) {
  const std::string good =
      "family: leg\nsheet:\n  h: {is: length, value: 750 mm, between: [400 mm, 1100 mm]}\noutline:\n  - bead: {length: "
      "9 mm}\n  - 'x': |\n      a\n";
  static constexpr char kSigns[] = "ab1 \n\n:-  []{},?&*!|>'\"%@`#~<\\=\t.\xC3\xBC";
  std::mt19937 random(3);
  int trees = 0, refused = 0;
  for (int i = 0; i < 40000; ++i) {
    std::string text = i % 2 ? good : "";
    const unsigned changes = i % 2 ? 1 + random() % 4 : random() % 40;
    for (unsigned n = 0; n < changes; ++n)
      text.insert(text.begin() + random() % (text.size() + 1), kSigns[random() % (sizeof kSigns - 1)]);
    Sink sink;
    const auto node = read(text, "f", sink);
    ASSERT_TRUE(node || sink.has_errors()) << text;
    node ? ++trees : ++refused;
    for (const Diagnostic& one : sink.all()) {
      EXPECT_TRUE(!one.remedy.empty() || one.id == "yaml.empty") << render(one);
      EXPECT_FALSE(render(one).empty());
    }
    std::string out;
    if (node) dump(*node, 0, out);
  }
  EXPECT_GT(trees, 1000);
  EXPECT_GT(refused, 1000);
}

}  // namespace
}  // namespace pommel::yaml
