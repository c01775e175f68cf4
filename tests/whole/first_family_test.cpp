// The guide "your first family in twenty minutes", followed to the letter: its own blocks are the files and the lines that are typed. And the page of
// pictures that it leads to: it names every measure of the families, and no other.
#include <gtest/gtest.h>

#include <array>
#include <cctype>
#include <cstdio>
#include <fstream>
#include <set>

#include "base/text.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::whole {
namespace {

struct Block {
  std::string file, text;
};

// The guide's YAML blocks, each begun by a comment with the name of its file, in the guide's order.
std::vector<Block> blocks_of(const std::string& guide) {
  std::vector<Block> blocks;
  bool inside = false;
  for (const std::string_view line : split(guide, '\n')) {
    if (line == "```yaml") {
      blocks.emplace_back();
      inside = true;
    } else if (line == "```") {
      inside = false;
    } else if (inside) {
      Block& block = blocks.back();
      if (block.text.empty()) block.file = std::string(line.substr(std::string_view("# my-shop/").size()));
      block.text += std::string(line) + "\n";
    }
  }
  return blocks;
}

TEST(FirstFamily, TheGuideGivesWhatItSays) {
  const std::vector<Block> blocks = blocks_of(repository_text("templates/first-family.md"));
  ASSERT_EQ(blocks.size(), 4u);
  House house;
  // the first is what a reader has after the first step, the second takes its place
  for (const Block& block : {blocks[0], blocks[1]}) {
    EXPECT_EQ(block.file, "templates/desk-lamp.yaml");
    house.put(block.file, block.text);
    Sink sink;
    job::check_family(house.files, {"catalog", "templates"}, block.file, block.text, sink);
    EXPECT_TRUE(sink.all().empty()) << render(sink.all());
  }
  for (const Block& block : {blocks[2], blocks[3]}) house.put(block.file, block.text);
  const job::Loaded loaded = house.load(blocks[3].file);
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto before = job::run_to_stock(loaded, sheet, family::kCatalogue, {}), after = job::run_to_stock(loaded, sheet, family::kOrder, {});
  ASSERT_TRUE(before.ok() && after.ok());
  const shape::Part &was = before->made.pieces.front().part, &is = after->made.pieces.front().part;
  EXPECT_EQ(was.length, 290);
  EXPECT_EQ(is.length, 330);
  ASSERT_EQ(was.elements.size(), is.elements.size());
  for (std::size_t i = 0; i < was.elements.size(); ++i) {
    const double more = (is.elements[i].x1 - is.elements[i].x0) - (was.elements[i].x1 - was.elements[i].x0);
    EXPECT_NEAR(more, was.elements[i].label == "neck" ? 16 : was.elements[i].label == "vase" ? 24 : 0, 1e-6) << was.elements[i].label;
  }
  EXPECT_GE(after->least_wall, 5);
}

struct Typed {
  std::string word, text;  // "yaml", "sh", as the guide marks its blocks
};

std::vector<Typed> typed_in(const std::string& guide) {
  std::vector<Typed> all;
  bool inside = false;
  for (const std::string_view line : split(guide, '\n')) {
    const bool fence = line.starts_with("```");
    if (fence && !inside) all.push_back({std::string(line.substr(3)), {}});
    else if (!fence && inside) all.back().text += std::string(line) + "\n";
    if (fence) inside = !inside;
  }
  return all;
}

// What the shell says to the lines, run in that folder with the program of this build among its commands.
std::string answer(const Scratch& scratch, const std::string& lines) {
  std::ofstream(scratch / "lines.sh") << "cd '" << scratch.path().string() << "'\nPATH='" << (scratch / "bin").string() << "':\"$PATH\"\n" << lines;
  std::string said;
  std::FILE* shell = ::popen(("sh -e '" + (scratch / "lines.sh").string() + "' 2>&1").c_str(), "r");
  EXPECT_NE(shell, nullptr);
  if (!shell) return said;
  std::array<char, 4096> some{};
  while (const std::size_t count = std::fread(some.data(), 1, some.size(), shell)) said.append(some.data(), count);
  EXPECT_EQ(::pclose(shell), 0) << lines << said;
  return said;
}

// In a folder that holds what a clone of the repository holds: every file is saved, and every line is typed, in the guide's order.
TEST(FirstFamily, TheGuideIsFollowedLineByLine) {
  namespace fs = std::filesystem;
  const Scratch scratch;
  for (const char* name : {"catalog", "templates"}) fs::create_directory_symlink(fs::path(POMMEL_SOURCE_DIR) / name, scratch / name);
  fs::create_directory(scratch / "bin");
  fs::create_symlink(POMMEL_BINARY, scratch / "bin/pommel");
  std::string said;
  for (const Typed& one : typed_in(repository_text("templates/first-family.md"))) {
    if (one.word == "sh") said += answer(scratch, one.text);
    if (one.word == "yaml") std::ofstream(scratch / one.text.substr(2, one.text.find('\n') - 2)) << one.text;
    if (one.word == "yaml" && one.text.find("family: desk lamp column") != std::string::npos) said += answer(scratch, "pommel check my-shop/templates/desk-lamp.yaml\n");
  }
  EXPECT_NE(said.find("'my-shop/templates/desk-lamp.yaml' is sound"), std::string::npos) << said;
  const std::size_t row = said.find("column_finished_length");
  ASSERT_NE(row, std::string::npos) << said;
  const std::string lengths = said.substr(row, said.find('\n', row) - row);
  EXPECT_LT(lengths.find("290 mm"), lengths.find("330 mm")) << lengths;
  EXPECT_TRUE(fs::exists(scratch / "my-shop/first-lamp/READ-ME-FIRST.txt")) << said;
  EXPECT_TRUE(fs::exists(scratch / "my-shop/first-lamp/programs/column-turning.nc")) << said;
}

const std::array<const char*, 4> kFamilies{"table-leg", "bed-post", "baluster", "lamp-column"};

family::Family family_of(const std::string& name) {
  Sink sink;
  family::Family family = family::read_family(repository_text("templates/" + name + ".yaml"), name + ".yaml", name, sink);
  EXPECT_TRUE(sink.all().empty()) << render(sink.all());
  return family;
}

// Words of letters and strokes below the line; `measures_only`: those with such a stroke, which no plain word has.
std::set<std::string> words_of(const std::string& text, bool measures_only) {
  std::set<std::string> words;
  std::string word;
  for (const char c : text + " ") {
    if (std::islower(static_cast<unsigned char>(c)) != 0 || c == '_') {
      word += c;
      continue;
    }
    const bool joined = word.find('_') != std::string::npos && std::isalpha(static_cast<unsigned char>(word.front())) != 0 && word.back() != '_';
    if (!word.empty() && (joined || !measures_only)) words.insert(word);
    word.clear();
  }
  return words;
}

TEST(MeasuresPage, NamesEveryMeasureOfTheFamiliesAndNoOther) {
  const std::string page = repository_text("templates/measures.md");
  const std::set<std::string> said = words_of(page, false);
  std::set<std::string> known;
  for (const char* name : kFamilies)
    for (const sheet::Parameter& one : family_of(name).measures) {
      known.insert(one.name);
      EXPECT_TRUE(said.contains(one.name)) << name << ": " << one.name;
    }
  EXPECT_GT(known.size(), 100u);
  for (const std::string& word : words_of(page, true)) EXPECT_TRUE(known.contains(word)) << word;
  EXPECT_NE(repository_text("templates/first-family.md").find("measures.md"), std::string::npos);
}

// A maker learns from the templates: each measure says what it is, and between what it makes sense.
TEST(MeasuresPage, EveryMeasureHasANoteAndEverySizeItsLimits) {
  for (const char* name : kFamilies)
    for (const sheet::Parameter& one : family_of(name).measures) {
      EXPECT_FALSE(one.note.empty()) << name << ": " << one.name;
      EXPECT_FALSE(one.group.empty()) << name << ": " << one.name;
      const bool size = one.kind && (*one.kind == sheet::Kind::length() || *one.kind == sheet::Kind::angle() || *one.kind == sheet::Kind::count() || *one.kind == sheet::Kind::ratio());
      EXPECT_EQ(one.least.has_value() && one.most.has_value(), size) << name << ": " << one.name;
    }
}

// What it tells a reader to type is what there is to type.
TEST(FirstFamily, TheGuideNamesFilesThatAreThere) {
  const std::string guide = repository_text("templates/first-family.md");
  for (const char* name : {"templates/lamp-column.yaml", "templates/table-leg.yaml", "templates/bed-post.yaml", "templates/baluster.yaml", "catalog/designs/pencil-post-bed.yaml", "templates/measures.md"}) {
    EXPECT_NE(guide.find(std::string(name).substr(std::string(name).rfind('/') + 1)), std::string::npos) << name;
    EXPECT_FALSE(repository_text(name).empty()) << name;
  }
  EXPECT_NE(repository_text("README.md").find("templates/first-family.md"), std::string::npos);
}

}  // namespace
}  // namespace pommel::whole
