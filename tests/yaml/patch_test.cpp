#include "yaml/patch.h"

#include <gtest/gtest.h>

#include <functional>
#include <random>

namespace pommel::yaml {
namespace {

Node parsed(std::string_view text) {
  Sink sink;
  const auto node = read(text, "f.yaml", sink);
  EXPECT_TRUE(node && sink.all().empty()) << text << "\n" << render(sink.all());
  return *node;
}

TEST(Patch, ReplacesOneScalarAndKeepsEveryOtherByte) {
  struct Row {
    const char* before;
    const char* value;
    const char* after;
  };
  for (const Row& row : {
           Row{"# a\nx:   750 mm   # height\n\ny: 1\n", "760 mm", "# a\nx:   760 mm   # height\n\ny: 1\n"},
           {"x: 750 mm", "760 mm", "x: 760 mm"},
           {"x: 'it''s'  # c\ny: 1", "that", "x: 'that'  # c\ny: 1"},
           {"x: \"28 1/4\\\"\"\n", "2' 4\"", "x: '2'' 4\"'\n"},
           {"x: 28 1/4\"\n", "2' 4\"", "x: 2' 4\"\n"},
           {"y: {a: 1, x: 2, b: 3}\n", "= a - 6 mm", "y: {a: 1, x: = a - 6 mm, b: 3}\n"},
           {"y: {a: 1, x: 2, b: 3}\n", "max(a, b)", "y: {a: 1, x: 'max(a, b)', b: 3}\n"},
           {"x: one\n  two\n\n  three # c\ny: 1\n", "four", "x: four # c\ny: 1\n"},
           {"x:\ny: 1\n", "5 mm", "x: 5 mm\ny: 1\n"},
           {"x:   # later\ny: 1\n", "5 mm", "x: 5 mm   # later\ny: 1\n"},
           {"y: {x: , b: 2}\n", "5 mm", "y: {x: 5 mm , b: 2}\n"},
           {"x: ~\n", "5", "x: 5\n"},
           {"x: null # c\n", "5", "x: 5 # c\n"},
           {"x: a\r\ny: b\r\n", "c", "x: c\r\ny: b\r\n"},
           {"\xEF\xBB\xBFx: 1\n", "2", "\xEF\xBB\xBFx: 2\n"},
           {"\xC3\xBC: \xC3\xA4 # \xC3\xB6\nx: \xC3\xA4\xC3\xA4 # \xC3\xB6\n", "\xC3\x9F",
            "\xC3\xBC: \xC3\xA4 # \xC3\xB6\nx: \xC3\x9F # \xC3\xB6\n"},
           // what cannot stand plain is quoted
           {"x: 1\n", "", "x: ''\n"},
           {"x: 1\n", " a ", "x: ' a '\n"},
           {"x: 1\n", "a: b", "x: 'a: b'\n"},
           {"x: 1\n", "a #b", "x: 'a #b'\n"},
           {"x: 1\n", "a#b", "x: a#b\n"},
           {"x: 1\n", "null", "x: 'null'\n"},
           {"x: 1\n", "~", "x: '~'\n"},
           {"x: 1\n", "*a", "x: '*a'\n"},
           {"x: 1\n", "- a", "x: '- a'\n"},
           {"x: 1\n", "-3 mm", "x: -3 mm\n"},
           {"x: 1\n", "'a'", "x: '''a'''\n"},
           {"x: 1\n", "a\nb\tc\"\\", "x: \"a\\nb\\x09c\\\"\\\\\"\n"},
       }) {
    const Node root = parsed(row.before);
    const auto top = root.find("x");
    const Node node = top ? *top : *root.find("y")->find("x");
    const auto after = patched(row.before, node, row.value);
    ASSERT_TRUE(after) << row.before << render(after.reasons());
    EXPECT_EQ(*after, row.after);
  }
}

TEST(Patch, RefusesWhatItCannotDoWhole) {
  const std::string text = "a: [1, 2]\nb: |\n  x\nc: {d: 1}\ne:\n  -\n  - 1\nf: 1\n";
  const Node root = parsed(text);
  const auto id_of = [&](const std::string& now, const Node& node, std::string_view value) {
    const auto after = patched(now, node, value);
    return after ? "made:\n" + *after : after.reasons()[0].id;
  };
  EXPECT_EQ(id_of(text, *root.find("a"), "5"), "yaml.cannot-patch");
  EXPECT_EQ(id_of(text, *root.find("b"), "5"), "yaml.cannot-patch");
  EXPECT_EQ(id_of(text, *root.find("c"), "5"), "yaml.cannot-patch");
  EXPECT_EQ(id_of(text, root.find("e")->item(0), "5"), "yaml.cannot-patch");
  EXPECT_EQ(id_of(text, *root.find("f"), "\xFF"), "yaml.cannot-patch");
  EXPECT_EQ(id_of(text, *root.find("f"), "a\x01"), "yaml.cannot-patch");
  EXPECT_EQ(id_of(text, *root.find("f"), "a\u202Eb"), "yaml.cannot-patch");
  EXPECT_EQ(id_of("# changed\n" + text, *root.find("f"), "5"), "yaml.other-text");
  EXPECT_EQ(render(patched(text, *root.find("b"), "5").reasons()),
            "f.yaml:2:4: error: this value cannot be replaced in place [yaml.cannot-patch]\n    2 | b: |\n      |    "
            "^\n   do: change it in an editor\n");
}

void each_scalar(const Node& node, const std::function<void(const Node&)>& visit) {
  if (node.is_scalar()) visit(node);
  for (const Node& item : node.items()) each_scalar(item, visit);
  for (std::size_t i = 0; node.is_map() && i < node.size(); ++i) each_scalar(node.value(i), visit);
}

// Each value of a document in turn gets texts of random signs; what comes back reads as that text, and taking it back
// gives the first bytes again.
TEST(Patch, AnyTextReadsBack) {
  const std::string text = "a: 1 # one\nb: {c: 'two', d: [3, \"four\"]}\n# five\ne:\n  - f: six\n    g: seven eight\n";
  static constexpr char kSigns[] = "ab1 :-[]{},?&*!|>'\"%@`#~<\\=\n\t.";
  std::mt19937 random(5);
  int done = 0;
  each_scalar(parsed(text), [&](const Node& node) {
    for (int i = 0; i < 400; ++i) {
      std::string value;
      for (unsigned n = random() % 8; n > 0; --n) value += kSigns[random() % (sizeof kSigns - 1)];
      const auto after = patched(text, node, value);
      ASSERT_TRUE(after) << testing::PrintToString(value) << render(after.reasons());
      bool found = false;
      Sink sink;
      const auto again = read(*after, "f.yaml", sink);
      ASSERT_TRUE(again);
      each_scalar(*again, [&](const Node& one) {
        if (one.place() != node.place()) return;
        found = true;
        EXPECT_EQ(one.text(), value);
        const auto back = patched(*after, one, node.text());
        ASSERT_TRUE(back);
        if (one.quoted() == node.quoted() && node.as_written().find('"') == std::string::npos) {
          EXPECT_EQ(*back, text);
        }
      });
      EXPECT_TRUE(found);
      ++done;
    }
  });
  EXPECT_EQ(done, 6 * 400);
}

}  // namespace
}  // namespace pommel::yaml
