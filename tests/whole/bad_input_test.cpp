// Bad input: bad_input.txt holds small house files, and for each case what is changed in them and the whole text that is said.
// Nothing may be written for any of them.
//
// The corpus, line by line:
//     ## file NAME            the lines up to the next ## are that file
//     ## case WHAT
//     in NAME: FROM => TO     the first FROM of the file becomes TO; \n, \t and \xHH as in C; {N*text} is text N times over
//     with: name=value        an entry as the command line gives it
//     says:                   the lines up to the next ## are what is said, to the letter
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <map>

#include "base/number.h"
#include "base/text.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

struct Edit {
  std::string file, from, to;
};
struct Case {
  std::string what, says;
  std::vector<Edit> edits;
  Extra with;
};
struct Corpus {
  std::map<std::string, std::string> files;
  std::vector<Case> cases;
};

std::string unescaped(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\\' && i + 1 < text.size()) {
      const char c = text[++i];
      if (c == 'x') {
        out += static_cast<char>(std::strtol(std::string(text.substr(i + 1, 2)).c_str(), nullptr, 16));
        i += 2;
      } else {
        out += c == 'n' ? '\n' : c == 't' ? '\t' : c;
      }
    } else if (text[i] == '{' && i + 1 < text.size() && text[i + 1] >= '0' && text[i + 1] <= '9' && text.find('*', i) != text.npos) {
      const std::size_t star = text.find('*', i), end = text.find('}', star);
      const auto times = parse_number(text.substr(i + 1, star - i - 1));
      for (int n = 0; times && n < static_cast<int>(*times); ++n) out += unescaped(text.substr(star + 1, end - star - 1));
      i = end;
    } else {
      out += text[i];
    }
  }
  return out;
}

Corpus read_corpus(const std::string& text) {
  Corpus out;
  std::string* into = nullptr;
  for (std::string_view line : split(text, '\n')) {
    if (line.starts_with("## file ")) into = &out.files[std::string(line.substr(8))];
    else if (line.starts_with("## case ")) {
      out.cases.push_back({std::string(line.substr(8)), {}, {}, {}});
      into = nullptr;
    } else if (into) *into += std::string(line) + "\n";
    else if (out.cases.empty()) continue;  // the head
    else if (line.starts_with("in ")) {
      const std::size_t colon = line.find(": "), arrow = line.find(" => ");
      EXPECT_TRUE(colon != line.npos && arrow != line.npos) << line;
      out.cases.back().edits.push_back({std::string(line.substr(3, colon - 3)), unescaped(line.substr(colon + 2, arrow - colon - 2)), unescaped(line.substr(arrow + 4))});
    } else if (line.starts_with("with: ")) {
      const std::size_t equals = line.find('=');
      out.cases.back().with.emplace_back(line.substr(6, equals - 6), unescaped(line.substr(equals + 1)));
    } else if (line == "says:") into = &out.cases.back().says;
  }
  for (Case& one : out.cases)  // the blank line before the next case is no part of it
    while (one.says.ends_with("\n\n")) one.says.pop_back();
  return out;
}

const Corpus& corpus() {
  static const Corpus all = read_corpus(repository_text("tests/whole/bad_input.txt"));
  return all;
}

constexpr const char* kOrderFile = "catalog/orders/bench.yaml";

// What `pommel make` would say, and whether it would go on.
std::string said(const House& house, const Case& one) {
  Sink sink;
  auto loaded = house.load(kOrderFile, sink);
  if (!loaded || sink.has_errors()) return render(sink.all());
  const auto job = job::run(std::move(*loaded), entries(one.with), {});
  return job.ok() ? "nothing; the job was made\n" : render(job.reasons());
}

class BadInput : public ::testing::TestWithParam<std::size_t> {};

TEST_P(BadInput, SaysThisAndWritesNothing) {
  const Case& one = corpus().cases.at(GetParam());
  SCOPED_TRACE(one.what);
  House house;
  for (const auto& [name, text] : corpus().files) house.put(name, text);
  for (const Edit& edit : one.edits) {
    std::string text = *house.files.read(edit.file, 64u << 20);
    const std::size_t at = text.find(edit.from);
    ASSERT_NE(at, text.npos) << "'" << edit.from << "' does not stand in " << edit.file;
    house.put(edit.file, text.replace(at, edit.from.size(), edit.to));
  }
  const auto before = house.files.files();
  const std::string found = said(house, one);
  EXPECT_EQ(found, one.says);
  EXPECT_EQ(house.files.files(), before) << "something was written";
}
INSTANTIATE_TEST_SUITE_P(Corpus, BadInput, ::testing::Range<std::size_t>(0, std::max<std::size_t>(1, corpus().cases.size())));

TEST(BadInputCorpus, IsThereAndItsFilesAreSoundUntilTheyAreChanged) {
  ASSERT_GE(corpus().cases.size(), 150u);
  std::vector<std::string> names;
  for (const Case& one : corpus().cases) {
    EXPECT_FALSE(one.says.empty()) << one.what;
    EXPECT_FALSE(one.edits.empty() && one.with.empty()) << one.what;
    names.push_back(one.what);
  }
  std::sort(names.begin(), names.end());
  EXPECT_EQ(std::adjacent_find(names.begin(), names.end()), names.end()) << "two cases of one name";
  House house;
  for (const auto& [name, text] : corpus().files) house.put(name, text);
  const job::Loaded loaded = house.load(kOrderFile);
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  for (std::size_t column = 0; column < 2; ++column) {
    const auto made = job::run_to_stock(loaded, sheet, column, {});
    EXPECT_TRUE(made.ok()) << render(made.reasons());
  }
}

}  // namespace
}  // namespace pommel::whole
