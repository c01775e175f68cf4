// No name leads out of the folders that the tool writes into: what the maker's files name, what stands where a job folder shall come, and links there.
#include <gtest/gtest.h>

#include <fstream>

#include "base/text.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::trust {
namespace {

namespace fs = std::filesystem;
using namespace whole;

// Every key of an order that becomes a file's name or looks one up, and every name that is none.
TEST(Names, ThatLeaveTheFolderAreRefusedWhereverAnOrderNamesAFile) {
  struct Case {
    std::string name, because;
  };
  const Case cases[] = {{"../low-table", "it holds the reserved sign /"},
                        {"..", "it begins or ends with a dot"},
                        {"/etc/passwd", "it holds the reserved sign /"},
                        {"a\\b", "it holds the reserved sign \\"},
                        {"C:low-table", "it holds the reserved sign :"},
                        {"CON", "it is the name of a device on some systems"},
                        {"nul.yaml", "it is the name of a device on some systems"},
                        {"COM1", "it is the name of a device on some systems"},
                        {"com\u00B9", "it is the name of a device on some systems"},
                        {"a\u200Db", "it holds a character that nobody sees"},
                        {std::string(300, 'x'), "it is longer than 100 bytes"}};
  const std::pair<std::string, std::string> keys[] = {{"design: low-table", "design: "}, {"machine: rotary-degrees", "machine: "}, {"cutter: ball-8", "cutter: "}};
  for (const Case& one : cases)
    for (const auto& [from, key] : keys) {
      House house;
      std::string order = kSmallOrder;
      order.replace(order.find(from), from.size(), key + "'" + one.name + "'");
      house.put("catalog/orders/low-table.yaml", order);
      Sink sink;
      EXPECT_FALSE(house.load("catalog/orders/low-table.yaml", sink).has_value() && !sink.has_errors()) << key << one.name;
      const std::string said = render(sink.all());
      EXPECT_NE(said.find("' cannot be a name: " + one.because + " [family.name]"), said.npos) << said;
    }
}

class Links : public ::testing::Test {
 protected:
  Links() {
    const House house;
    for (const auto& [name, text] : house.files.files()) put(scratch / "house" / name, text);
    put(scratch / "elsewhere/notes.txt", "mine");
  }
  static void put(const fs::path& path, const std::string& text) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
  }
  Ended make(const std::string& into, bool replace) const {
    std::vector<std::string> arguments{"make", (scratch / "house/catalog/orders/low-table.yaml").string(), "--into", (scratch / into).string()};
    if (replace) arguments.push_back("--replace");
    return pommel(arguments);
  }
  void expect_elsewhere_untouched() const { EXPECT_EQ(contents(scratch / "elsewhere"), (std::map<std::string, std::string>{{"notes.txt", "mine"}})); }

  Scratch scratch;
};

TEST_F(Links, InTheFoldersPlaceAreNotFollowed) {
  fs::create_directory_symlink("elsewhere", scratch / "link");
  fs::create_symlink("nowhere", scratch / "dangling");
  for (const std::string name : {"link", "dangling"}) {
    const std::string place = (scratch / name).string();
    for (const bool replace : {false, true}) {
      EXPECT_EQ(make(name, replace).err, place + ": error: '" + place + "' is a link, and nothing is written through one: it may lead out of its folder [files.link]\n   do: name the place it leads to, or remove the link\n");
    }
    EXPECT_TRUE(fs::is_symlink(scratch / name));
  }
  expect_elsewhere_untouched();
  EXPECT_FALSE(fs::exists(scratch / "nowhere"));
}

// A folder of the job that somebody replaced by a link: what it leads to is not taken for the job's, nor is it cleared with it.
TEST_F(Links, InsideAJobFolderAreNotFollowed) {
  ASSERT_EQ(make("job", false).code, 0);
  const auto before = contents(scratch / "job");
  fs::rename(scratch / "job/programs", scratch / "programs");
  fs::create_directory_symlink("../elsewhere", scratch / "job/programs");
  const Ended refused = make("job", true);
  EXPECT_EQ(refused.err, "error: '" + (scratch / "job").string() + "' is not replaced: it holds 'programs/notes.txt', which this tool did not write [job.not-ours]\n   do: move them out of it first\n");
  expect_elsewhere_untouched();
  // and one to files of the same names
  fs::remove(scratch / "job/programs");
  fs::create_directory_symlink("../programs", scratch / "job/programs");
  const auto aside = contents(scratch / "programs");
  EXPECT_EQ(make("job", true).code, 0);
  EXPECT_EQ(contents(scratch / "programs"), aside);
  EXPECT_FALSE(fs::is_symlink(scratch / "job/programs"));
  EXPECT_EQ(contents(scratch / "job"), before);
}

TEST_F(Links, NoFileOfAJobFolderHasANameThatIsNotPlain) {
  ASSERT_EQ(make("job", false).code, 0);
  std::size_t count = 0;
  for (const auto& [name, bytes] : contents(scratch / "job")) {
    for (const std::string_view part : split(name, '/')) EXPECT_TRUE(is_safe_file_name(part)) << name;
    EXPECT_EQ(name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-./READMFIST"), name.npos) << name;
    ++count;
  }
  EXPECT_GT(count, 20u);
}

}  // namespace
}  // namespace pommel::trust
