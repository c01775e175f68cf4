#include "base/files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <functional>

#include "base/on_disk.h"
#include "base/text.h"

namespace pommel {
namespace {

namespace fs = std::filesystem;

using Disk = OnDisk;

std::string id_of(const Result<Done>& result) {
  return result ? "" : result.reasons()[0].id;
}
std::string message_of(const Result<Done>& result) {
  return result ? "" : result.reasons()[0].message;
}

// What every file system promises, run on both.
void check_contract(FileSystem& files, const fs::path& root) {
  const std::string binary("a\0\r\n\xFF", 5);
  EXPECT_EQ(id_of(files.write(root / "none" / "a", "x")), "files.cannot-write");
  EXPECT_TRUE(files.make_folder(root / "deep" / "er"));
  EXPECT_TRUE(files.make_folder(root / "deep" / "er"));
  EXPECT_TRUE(files.is_folder(root / "deep"));
  EXPECT_TRUE(files.write(root / "deep" / "b", binary));
  EXPECT_TRUE(files.write(root / "deep" / "a", "first"));
  EXPECT_TRUE(files.write(root / "deep" / "a", "second"));
  EXPECT_EQ(*files.read(root / "deep" / "a"), "second");
  EXPECT_EQ(*files.read(root / "deep" / "b"), binary);
  EXPECT_EQ(*files.read(root / "deep" / "a", 6), "second");
  EXPECT_EQ(files.read(root / "deep" / "a", 5).reasons()[0].id, "files.too-large");
  EXPECT_EQ(files.read(root / "deep").reasons()[0].id, "files.cannot-read");
  EXPECT_EQ(files.read(root / "none").reasons()[0].id, "files.cannot-read");
  EXPECT_THAT(files.list(root / "deep"), testing::ElementsAre("a", "b", "er"));
  EXPECT_THAT(files.list(root / "none"), testing::IsEmpty());
  EXPECT_TRUE(files.exists(root / "deep" / "a"));
  EXPECT_FALSE(files.is_folder(root / "deep" / "a"));
  EXPECT_FALSE(files.exists(root / "deep" / "c"));
  EXPECT_EQ(id_of(files.write(root / "deep", "x")), "files.cannot-write");
  EXPECT_EQ(id_of(files.make_folder(root / "deep" / "a" / "x")), "files.cannot-write");

  EXPECT_TRUE(files.rename(root / "deep" / "a", root / "deep" / "b"));
  EXPECT_EQ(*files.read(root / "deep" / "b"), "second");
  EXPECT_EQ(id_of(files.rename(root / "deep" / "a", root / "deep" / "c")), "files.cannot-write");
  EXPECT_EQ(id_of(files.rename(root / "deep" / "b", root / "deep" / "er")), "files.cannot-write");
  EXPECT_TRUE(files.rename(root / "deep", root / "moved"));
  EXPECT_EQ(*files.read(root / "moved" / "b"), "second");
  EXPECT_FALSE(files.exists(root / "deep"));

  EXPECT_TRUE(files.make_folder(root / "other"));
  EXPECT_TRUE(files.write(root / "other" / "o", "o"));
  EXPECT_TRUE(files.exchange(root / "moved", root / "other"));
  EXPECT_THAT(files.list(root / "moved"), testing::ElementsAre("o"));
  EXPECT_THAT(files.list(root / "other"), testing::ElementsAre("b", "er"));
  EXPECT_EQ(id_of(files.exchange(root / "moved", root / "none")), "files.cannot-write");
  EXPECT_TRUE(files.flush(root / "other" / "b"));

  EXPECT_TRUE(files.remove_all(root / "other"));
  EXPECT_TRUE(files.remove_all(root / "other"));
  EXPECT_FALSE(files.exists(root / "other" / "b"));
  EXPECT_THAT(files.list(root), testing::ElementsAre("moved"));
}

TEST_F(Disk, KeepsTheContract) {
  check_contract(*files_, root_);
}

TEST(MemoryFiles, KeepTheContract) {
  MemoryFiles files;
  ASSERT_TRUE(files.make_folder("/root"));
  check_contract(files, "/root");
  MemoryFiles relative;
  check_contract(relative, "");
}

TEST_F(Disk, SaysWhyInOurWords) {
  EXPECT_EQ(render(files_->read(root_ / "none").reasons()),
            (root_ / "none").string() + ": error: cannot read '" + (root_ / "none").string() +
                "': there is no such file or folder [files.cannot-read]\n   do: check the name, the rights and the "
                "room on the disk\n");
  EXPECT_EQ(files_->read(root_).reasons()[0].message, "cannot read '" + root_.string() + "': it is a folder");
  ASSERT_TRUE(files_->write(root_ / "a", "x"));
  EXPECT_EQ(files_->read(root_ / "a" / "b").reasons()[0].message,
            "cannot read '" + (root_ / "a" / "b").string() + "': a file stands where a folder should be");
  EXPECT_EQ(message_of(files_->write(root_ / std::string(300, 'n'), "x")),
            "cannot write '" + (root_ / std::string(300, 'n')).string() + "': the name is too long");
}

TEST_F(Disk, AFailedWriteLeavesTheOldFileAndNothingElse) {
  ASSERT_TRUE(files_->make_folder(root_ / "target"));
  EXPECT_FALSE(files_->write(root_ / "target", "x"));
  EXPECT_THAT(files_->list(root_), testing::ElementsAre("target"));
}

TEST_F(Disk, AReplacedFileKeepsItsRights) {
  ASSERT_TRUE(files_->write(root_ / "a", "1"));
  ASSERT_EQ(::chmod((root_ / "a").c_str(), 0640), 0);
  ASSERT_TRUE(files_->write(root_ / "a", "2"));
  struct stat now {};
  ASSERT_EQ(::stat((root_ / "a").c_str(), &now), 0);
  EXPECT_EQ(now.st_mode & 07777, 0640u);
}

// A pipe that nobody writes to would hold a plain open() for ever.
TEST_F(Disk, APipeIsRefused) {
  ASSERT_EQ(::mkfifo((root_ / "pipe").c_str(), 0600), 0);
  EXPECT_EQ(files_->read(root_ / "pipe").reasons()[0].message,
            "cannot read '" + (root_ / "pipe").string() + "': it is no plain file");
  EXPECT_EQ(files_->read("/dev/zero").reasons()[0].id, "files.cannot-read");
}

TEST_F(Disk, AFolderAppearsWholeAndReplacesTheOldOne) {
  const fs::path target = root_ / "jobs" / "order 7";
  {
    FolderInMaking making(*files_, target, false);
    EXPECT_FALSE(files_->exists(root_ / "jobs"));
    ASSERT_TRUE(making.add("a.txt", "1"));
    ASSERT_TRUE(making.add("sub/b.txt", "2"));
    const auto path = making.path_for("leg.step");
    ASSERT_TRUE(path);
    ASSERT_TRUE(files_->write(*path, "solid"));
    EXPECT_FALSE(files_->exists(target));
    EXPECT_THAT(files_->list(root_ / "jobs"), testing::ElementsAre(".order 7.in-making-" + std::to_string(::getpid()), ".order 7.lock"));
    ASSERT_TRUE(making.finish());
  }
  EXPECT_THAT(files_->list(root_ / "jobs"), testing::ElementsAre("order 7"));
  EXPECT_THAT(files_->list(target), testing::ElementsAre("a.txt", "leg.step", "sub"));
  {
    FolderInMaking making(*files_, target / "", true);  // a slash at the end names the same folder
    ASSERT_TRUE(making.add("c.txt", "3"));
    ASSERT_TRUE(making.finish());
    EXPECT_EQ(making.left_behind(), "");
  }
  EXPECT_THAT(files_->list(root_ / "jobs"), testing::ElementsAre("order 7"));
  EXPECT_THAT(files_->list(target), testing::ElementsAre("c.txt"));
}

TEST_F(Disk, AFolderInMakingThatIsDroppedLeavesNothing) {
  {
    FolderInMaking making(*files_, root_ / "job", false);
    ASSERT_TRUE(making.add("a", "1"));
  }
  EXPECT_THAT(files_->list(root_), testing::IsEmpty());
}

TEST(FolderInMaking, RefusesWhatWouldHarm) {
  MemoryFiles files;
  ASSERT_TRUE(files.make_folder("job"));
  ASSERT_TRUE(files.write("file", "x"));
  struct Row {
    const char* target;
    bool replace;
    std::function<Result<Done>(FolderInMaking&)> act;
    const char* id;
    const char* message;
  };
  const auto add = [](const char* name) { return [name](FolderInMaking& making) { return making.add(name, "x"); }; };
  const auto finish = [](FolderInMaking& making) { return making.finish(); };
  const auto twice = [](FolderInMaking& making) {
    (void)making.add("a", "1");
    return making.add("a", "2");
  };
  const auto promised = [](FolderInMaking& making) {
    (void)making.path_for("a");
    return making.finish();
  };
  for (const Row& row : std::vector<Row>{
           {"job", false, finish, "files.exists", "'job' exists already"},
           {"file", true, finish, "files.exists", "'file' exists already"},
           {"", true, finish, "files.unsafe-name", "'' does not name a folder that can be made"},
           {".", true, finish, "files.unsafe-name", "'.' does not name a folder that can be made"},
           {"/", true, finish, "files.unsafe-name", "'/' does not name a folder that can be made"},
           {"job/..", true, finish, "files.unsafe-name", "'.' does not name a folder that can be made"},
           {"../..", true, finish, "files.unsafe-name", "'../..' does not name a folder that can be made"},
           {"new", false, add(""), "files.unsafe-name", "'' cannot be the name of a file in the folder: it is empty"},
           {"new", false, add(".."), "files.unsafe-name",
            "'..' cannot be the name of a file in the folder: it begins or ends with a dot"},
           {"new", false, add("../x"), "files.unsafe-name",
            "'../x' cannot be the name of a file in the folder: it begins or ends with a dot"},
           {"new", false, add("a/../../x"), "files.unsafe-name",
            "'a/../../x' cannot be the name of a file in the folder: it begins or ends with a dot"},
           {"new", false, add("/etc/x"), "files.unsafe-name",
            "'/etc/x' cannot be the name of a file in the folder: it is empty"},
           {"new", false, add("a/"), "files.unsafe-name",
            "'a/' cannot be the name of a file in the folder: it is empty"},
           {"new", false, add("a//b"), "files.unsafe-name",
            "'a//b' cannot be the name of a file in the folder: it is empty"},
           {"new", false, add("NUL"), "files.unsafe-name",
            "'NUL' cannot be the name of a file in the folder: it is the name of a device on some systems"},
           {"new", false, twice, "files.twice", "'a' is written twice into one folder"},
           {"new", false, promised, "files.missing", "'a' was not written into the folder"},
       }) {
    const auto before = files.files();
    {
      FolderInMaking making(files, row.target, row.replace);
      const auto result = row.act(making);
      EXPECT_EQ(id_of(result), row.id) << row.target;
      EXPECT_EQ(message_of(result), row.message);
    }
    EXPECT_EQ(files.files(), before);
    EXPECT_THAT(files.list(""), testing::ElementsAre("file", "job"));
  }
}

const std::map<std::string, std::string> kOld = {{"jobs/order/a.txt", "old"}, {"jobs/order/kept/b.txt", "old"}};
const std::map<std::string, std::string> kNew = {{"jobs/order/a.txt", "new"}, {"jobs/order/sub/c.txt", "new"}};

bool make_order(MemoryFiles& files) {
  FolderInMaking making(files, "jobs/order", true);
  if (!making.add("a.txt", "new") || !making.add("sub/c.txt", "new")) return false;
  return making.finish().ok();
}

void fill(MemoryFiles& files, const std::map<std::string, std::string>& wanted) {
  for (const auto& [path, bytes] : wanted) {
    ASSERT_TRUE(files.make_folder(fs::path(path).parent_path()));
    ASSERT_TRUE(files.write(path, bytes));
  }
}

/// Lets the disk fail after every number of writes in turn, and asserts that the old or the new folder stands there,
/// whole. Returns how many points there were.
template <class Files>
int fail_everywhere(const std::map<std::string, std::string>& old, int failures) {
  for (int successes = 0;; ++successes) {
    Files files;
    fill(files, old);
    files.fail_writes_after(successes, failures);
    const bool made = make_order(files);
    EXPECT_EQ(files.files(), made ? kNew : old) << "after " << successes << " writes";
    const auto names = files.list("jobs");
    const bool stands = made || !old.empty();
    EXPECT_EQ(names, stands ? std::vector<std::string>{"order"} : std::vector<std::string>{})
        << "after " << successes << " writes";
    if (made || successes > 50) return successes;
  }
}

/// A disk that cannot swap two folders in one step.
struct PlainFiles : MemoryFiles {
  Result<Done> exchange(const fs::path& a, const fs::path& b) override { return FileSystem::exchange(a, b); }
};

constexpr int kForEver = 1 << 30;

// make the folder, write, make sub, write, swap
TEST(FolderInMaking, OldOrNewWhereverTheDiskFails) {
  EXPECT_EQ(fail_everywhere<MemoryFiles>(kOld, kForEver), 5);
  EXPECT_EQ(fail_everywhere<MemoryFiles>(kOld, 1), 5);
  EXPECT_EQ(fail_everywhere<MemoryFiles>({}, kForEver), 5);
}

// a swap of three renames: one that fails is taken back
TEST(FolderInMaking, OldOrNewOnADiskThatCannotSwap) {
  EXPECT_EQ(fail_everywhere<PlainFiles>(kOld, 1), 7);
}

// when taking back fails as well, the old folder is still whole, and the message says where
TEST(FolderInMaking, SaysWhereTheOldFolderStandsWhenItCannotBePutBack) {
  PlainFiles files;
  fill(files, kOld);
  FolderInMaking making(files, "jobs/order", true);
  ASSERT_TRUE(making.add("a.txt", "new"));
  files.fail_writes_after(1);
  const auto result = making.finish();
  const std::string aside = "jobs/.order.aside-" + std::to_string(::getpid());
  EXPECT_EQ(render(result.reasons()), "jobs/order: error: 'jobs/order' could not be replaced and stands now at '" +
                                          aside + "' [files.stranded]\n   do: rename it back by hand\n");
  EXPECT_EQ(*files.read(aside + "/a.txt"), "old");
  EXPECT_EQ(*files.read(aside + "/kept/b.txt"), "old");
}

// FIPS 180-4 example vectors (NIST, "Examples with intermediate values", SHA-256), and the empty text
TEST(Sha256, AgreesWithThePublishedExamples) {
  EXPECT_EQ(sha256(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(std::string(1'000'000, 'a')), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

}  // namespace
}  // namespace pommel
