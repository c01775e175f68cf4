// Claims on the disk: one writer at a time, whoever it is and however it ends.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>

#include "base/files.h"
#include "base/on_disk.h"
#include "base/saving.h"

namespace pommel {
namespace {

namespace fs = std::filesystem;

class Claims : public OnDisk {
 protected:
  // what a program that knows nothing of claims leaves there
  void put(const std::string& name, std::string_view bytes) { std::ofstream(root_ / name) << bytes; }
  void put_folder(const std::string& name, std::string_view bytes) {
    fs::create_directories(root_ / name);
    put(name + "/a", bytes);
  }
};

template <class T>
std::string id_of(const Result<T>& result) {
  return result ? "" : result.reasons()[0].id;
}

// A process that claims `path` and holds it until it is killed.
class Holder {
 public:
  explicit Holder(const fs::path& path) {
    int pipe[2];
    EXPECT_EQ(::pipe(pipe), 0);
    child_ = ::fork();
    if (child_ == 0) {
      const auto files = real_files();
      const auto claim = files->claim(path);
      (void)!::write(pipe[1], claim ? "y" : "n", 1);
      for (;;) ::pause();
    }
    EXPECT_EQ(::read(pipe[0], &says_, 1), 1);
    ::close(pipe[0]);
    ::close(pipe[1]);
  }
  ~Holder() {
    ::kill(child_, SIGKILL);
    ::waitpid(child_, nullptr, 0);
  }
  pid_t process() const { return child_; }
  bool holds() const { return says_ == 'y'; }

 private:
  pid_t child_ = -1;
  char says_ = 'n';
};

TEST_F(Claims, AreGivenToOneAtATime) {
  const fs::path path = root_ / "order.yaml";
  {
    const auto first = files_->claim(path);
    ASSERT_TRUE(first);
    EXPECT_EQ(id_of(files_->claim(path)), "files.held");
    EXPECT_TRUE(files_->claim(root_ / "other.yaml"));
    EXPECT_TRUE(files_->write(path, "by whoever has it"));
  }
  EXPECT_TRUE(files_->claim(path));
  EXPECT_THAT(files_->list(root_), testing::ElementsAre("order.yaml"));
  MemoryFiles memory;
  const auto first = memory.claim("a");
  EXPECT_EQ(id_of(memory.claim("./a")), "files.held");
  EXPECT_TRUE(memory.claim("b"));
}

TEST_F(Claims, MakeAFolderThatGoesAgainWhereNothingCameOfIt) {
  { ASSERT_TRUE(files_->claim(root_ / "a" / "b" / "order.yaml")); }
  EXPECT_THAT(files_->list(root_), testing::IsEmpty());
  {
    const auto claim = files_->claim(root_ / "a" / "b" / "order.yaml");
    ASSERT_TRUE(claim);
    ASSERT_TRUE(files_->write(root_ / "a" / "b" / "order.yaml", "x"));
  }
  EXPECT_THAT(files_->list(root_ / "a" / "b"), testing::ElementsAre("order.yaml"));
}

TEST_F(Claims, SayWhoHoldsThemAndEndWithTheirProcess) {
  const fs::path path = root_ / "order.yaml";
  {
    const Holder holder(path);
    ASSERT_TRUE(holder.holds());
    const auto refused = files_->claim(path);
    ASSERT_FALSE(refused);
    char host[256] = {};
    ASSERT_EQ(::gethostname(host, sizeof host - 1), 0);
    EXPECT_THAT(refused.reasons()[0].message, testing::StartsWith("'" + path.string() + "' is being written by process " + std::to_string(holder.process()) +
                                                                  " on " + host + ", since "));
    EXPECT_THAT(refused.reasons()[0].message, testing::ContainsRegex("since [0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2}:[0-9]{2} UTC$"));
  }
  // killed: what it left says nothing any more
  ASSERT_THAT(files_->list(root_), testing::ElementsAre(".order.yaml.lock"));
  { EXPECT_TRUE(files_->claim(path)); }
  EXPECT_THAT(files_->list(root_), testing::IsEmpty());
}

TEST_F(Claims, WhatStandsUnderTheirNamesIsNotWrittenThrough) {
  put("mine", "mine");
  fs::create_symlink("mine", root_ / ".order.yaml.lock");
  EXPECT_TRUE(files_->claim(root_ / "order.yaml"));
  fs::create_hard_link(root_ / "mine", root_ / ".order.yaml.lock");
  EXPECT_TRUE(files_->claim(root_ / "order.yaml"));
  const std::string temporary = ".write-" + sha256("order.yaml").substr(0, 16);
  fs::create_hard_link(root_ / "mine", root_ / temporary);
  EXPECT_TRUE(files_->write(root_ / "order.yaml", "new"));
  fs::create_symlink("mine", root_ / temporary);
  EXPECT_TRUE(files_->write(root_ / "order.yaml", "newer"));
  EXPECT_EQ(*files_->read(root_ / "mine"), "mine");
  EXPECT_THAT(files_->list(root_), testing::ElementsAre("mine", "order.yaml"));
}

TEST_F(Claims, AFolderThatAnotherMakesIsRefusedAtOnce) {
  const Holder holder(root_ / "job");
  ASSERT_TRUE(holder.holds());
  FolderInMaking making(*files_, root_ / "job", true);
  EXPECT_EQ(id_of(making.claim()), "files.held");
  EXPECT_EQ(id_of(making.add("a", "x")), "files.held");
  EXPECT_THAT(files_->list(root_), testing::ElementsAre(".job.lock"));
}

// What writers leave that were killed while they made a folder, or between the renames of a disk that cannot swap.
TEST_F(Claims, WhatKilledWritersLeftIsClearedAwayOrPutBack) {
  put_folder(".job.in-making-77", "half");
  put_folder(".job.aside-77", "old");
  put_folder(".job.in-making-mine", "a maker's own");
  put_folder(".jobs.in-making-77", "another folder's");
  {
    FolderInMaking making(*files_, root_ / "job", true);
    ASSERT_TRUE(making.claim());
    EXPECT_EQ(*files_->read(root_ / "job" / "a"), "old");
  }
  EXPECT_THAT(files_->list(root_), testing::ElementsAre(".job.in-making-mine", ".jobs.in-making-77", "job"));
  put_folder(".job.aside-78", "older");
  FolderInMaking making(*files_, root_ / "job", true);
  ASSERT_TRUE(making.claim());
  EXPECT_EQ(*files_->read(root_ / "job" / "a"), "old");
  EXPECT_FALSE(files_->exists(root_ / ".job.aside-78"));
}

TEST_F(Claims, SavingIsRefusedOverWhatOthersWrote) {
  const fs::path path = root_ / "order.yaml";
  ASSERT_TRUE(save_new(*files_, path, "one"));
  EXPECT_EQ(id_of(save_new(*files_, path, "two")), "files.exists");
  ASSERT_TRUE(save_over(*files_, path, "one", "two", "open it again"));
  const auto stale = save_over(*files_, path, "one", "three", "open it again");
  EXPECT_EQ(render(stale.reasons()), path.string() + ": error: '" + path.string() + "' has changed since it was read [files.changed-on-disk]\n   do: open it again\n");
  const Holder holder(path);
  EXPECT_EQ(id_of(save_over(*files_, path, "two", "three", "")), "files.held");
  EXPECT_EQ(id_of(save_new(*files_, path, "three")), "files.held");
  EXPECT_EQ(*files_->read(path), "two");
  fs::create_symlink("order.yaml", root_ / "link.yaml");
  EXPECT_EQ(id_of(save_over(*files_, root_ / "link.yaml", "two", "three", "")), "files.link");
  EXPECT_EQ(id_of(save_new(*files_, root_ / "link.yaml", "three")), "files.exists");
}

}  // namespace
}  // namespace pommel
