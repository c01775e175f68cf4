// The command as a process among others: killed from outside at any time, beside another that makes the same folder, and many of them over
// one catalog.
//
// Few kills and few orders unless POMMEL_KILLS or POMMEL_ORDERS says how many.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <set>
#include <thread>

#include "base/files.h"
#include "faults/saves.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::faults {
namespace {

namespace fs = std::filesystem;
using whole::Scratch, whole::Started, whole::Ended;
using std::chrono::steady_clock, std::chrono::milliseconds, std::chrono::duration_cast;

int asked_for(const char* name, int otherwise) {
  const char* const says = std::getenv(name);
  return says ? std::atoi(says) : otherwise;
}

void put(const fs::path& path, const std::string& text) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

// A house on the disk, and the small order with its joints left to the bench: quick to make.
class Processes : public testing::Test {
 protected:
  void SetUp() override {
    const whole::House house;
    for (const auto& [name, text] : house.files.files()) put(scratch_ / "house" / name, text);
    write_order("1", "390 mm");
  }
  std::string order_file(const std::string& number) const { return (scratch_ / "house" / "catalog/orders" / (number + ".yaml")).string(); }
  void write_order(const std::string& number, const std::string& height) {
    std::string text = whole::kSmallOrder;
    text.replace(text.find("\"1\""), 3, '"' + number + '"');
    text.replace(text.find("390 mm"), 6, height);
    text.replace(text.find("sheet:"), 6, "joints: bench\ncusp: 0.3 mm\nsheet:");
    put(order_file(number), text);
  }
  std::vector<std::string> make(const fs::path& into) const { return {"make", order_file("1"), "--into", into.string(), "--replace"}; }

  // a job folder of an earlier day, as small as one can be
  static void put_old(const fs::path& folder) {
    put(folder / "old.txt", "as it was");
    put(folder / "manifest.json", R"({"format": "pommel job folder", "files": [{"name": "old.txt"}]})");
  }
  // The hidden name beside `job` that says how far a maker has come.
  static bool stands_beside(const fs::path& folder, const std::string& beginning) {
    for (const std::string& name : real_files()->list(folder))
      if (name.starts_with(beginning)) return true;
    return false;
  }
  static void wait_for(const fs::path& folder, const std::string& beginning, Started& process) {
    while (!process.over() && !stands_beside(folder, beginning)) std::this_thread::sleep_for(milliseconds(1));
  }

  Scratch scratch_;
};

TEST_F(Processes, TheSecondWriterIsToldWhoTheFirstIs) {
  const fs::path job = scratch_ / "jobs" / "one";
  Started first(make(job));
  // it has the lock before it has said so in it
  const auto said = [&] {
    const auto text = real_files()->read(scratch_ / "jobs" / ".one.lock");
    return text.ok() && text->ends_with("\n");
  };
  while (!first.over() && !said()) std::this_thread::sleep_for(milliseconds(1));
  ASSERT_FALSE(first.over());
  first.send(SIGSTOP);  // however long it takes
  const Ended second = whole::pommel(make(job));
  char host[256] = {};
  ASSERT_EQ(::gethostname(host, sizeof host - 1), 0);
  EXPECT_EQ(second.code, 4);
  EXPECT_THAT(second.err, testing::StartsWith(job.string() + ": error: '" + job.string() + "' is being written by process " + std::to_string(first.id()) + " on " + host + ", since 2"));
  EXPECT_THAT(second.err, testing::EndsWith(" UTC [files.held]\n   do: wait until that has ended, or end it\n"));
  EXPECT_FALSE(fs::exists(job));
  first.send(SIGCONT);
  EXPECT_EQ(first.ended().code, 0);
  EXPECT_THAT(real_files()->list(scratch_ / "jobs"), testing::ElementsAre("one"));
}

// Every other kill falls while the folder is written, the others anywhere; half of them where an older folder stands.
TEST_F(Processes, AKillFromOutsideLeavesTheOldFolderOrTheNew) {
  const fs::path once = scratch_ / "once", folder = scratch_ / "jobs", job = folder / "job";
  const auto begun = steady_clock::now();
  Started reference(make(once / "job"));
  wait_for(once, ".job.in-making-", reference);
  const auto writing = steady_clock::now();
  ASSERT_EQ(reference.ended().code, 0);
  const auto over = steady_clock::now();
  const State fresh = state_of(once);

  const int kills = asked_for("POMMEL_KILLS", 2);
  int old = 0, anew = 0, hidden = 0, late = 0;
  for (int i = 0; i < kills; ++i) {
    fs::remove_all(folder);
    fs::create_directories(folder);
    const bool replaces = i % 4 < 2, while_writing = i % 2 == 0;
    if (replaces) put_old(job);
    const State before = state_of(folder);
    Started killed(make(job));
    if (while_writing) wait_for(folder, ".job.in-making-", killed);
    const auto most = while_writing ? over - writing : over - begun;
    std::this_thread::sleep_for(most * (i + 1) / (kills + 1));
    killed.send(SIGKILL);
    late += killed.ended().code == 0;
    const State now = seen(state_of(folder));
    EXPECT_TRUE(now == before || now == fresh) << "kill " << i;
    (now == before ? old : anew) += 1;
    hidden += stands_beside(folder, ".");
    ASSERT_EQ(whole::pommel(make(job)).code, 0) << "kill " << i;
    EXPECT_EQ(difference(state_of(folder), fresh), "") << "kill " << i;
  }
  std::printf("%d kills: the old folder %d times, the new one %d times (%d of them had ended before); something hidden was left %d times\n", kills, old, anew, late, hidden);
}

// What a maker types to make all orders of a list, two at a time.
struct Batch {
  fs::path list, orders, jobs;

  std::string command() const {
    return "xargs -a " + list.string() + " -P2 -I{} " POMMEL_BINARY " make " + orders.string() + "/{}.yaml --into " + jobs.string() + "/{} --replace --unless-made >" + jobs.string() + ".said 2>&1";
  }
};

// While it lives: the `which`-th command seen at work in `jobs` (from 1) is killed, `after` it was seen. A lock names its process.
class KillsOne {
 public:
  KillsOne(fs::path jobs, std::size_t which, milliseconds after) : thread_([this, jobs, which, after](std::stop_token stop) { watch(jobs, which, after, stop); }) {}

 private:
  static void watch(const fs::path& jobs, std::size_t which, milliseconds after, std::stop_token stop) {
    const auto files = real_files();
    std::set<int> seen;
    for (; !stop.stop_requested(); std::this_thread::sleep_for(milliseconds(5))) {
      for (const std::string& name : files->list(jobs)) {
        const auto says = name.ends_with(".lock") ? files->read(jobs / name) : Result<std::string>(std::string());
        const int process = says.ok() && says->starts_with("process ") ? std::atoi(says->c_str() + 8) : 0;
        // the lock of one that was killed before stands there still
        if (process <= 0 || ::kill(process, 0) != 0 || !seen.insert(process).second || seen.size() != which) continue;
        std::this_thread::sleep_for(after);
        ::kill(process, SIGKILL);
        return;
      }
    }
  }

  std::jthread thread_;
};

TEST_F(Processes, ManyOrdersAtOnceAreThoseMadeOneByOneAndGoOnAfterKills) {
  const int orders = asked_for("POMMEL_ORDERS", 3);
  Batch batch{scratch_ / "list", scratch_ / "house/catalog/orders", scratch_ / "jobs"};
  const fs::path single = scratch_ / "single";
  std::string list;
  for (int i = 1; i <= orders; ++i) {
    write_order(std::to_string(i), std::to_string(380 + i) + " mm");
    list += std::to_string(i) + "\n";
  }
  put(batch.list, list);
  fs::create_directories(batch.jobs);

  // a command that is killed ends xargs, and with it the list
  const int kills = std::max(1, orders / 8);
  const auto begun = steady_clock::now();
  for (int i = 0; i < kills; ++i) {
    const KillsOne killer(batch.jobs, 2 + static_cast<std::size_t>(i % 5), milliseconds(i % 8 * 150));
    EXPECT_NE(std::system(batch.command().c_str()), 0) << "none was killed";
  }
  EXPECT_EQ(std::system(batch.command().c_str()), 0);
  std::printf("%d orders, cut off %d times by a kill: %.1f s\n", orders, kills, std::chrono::duration<double>(steady_clock::now() - begun).count());
  for (int i = 1; i <= orders; ++i) ASSERT_EQ(whole::pommel({"make", order_file(std::to_string(i)), "--into", (single / std::to_string(i)).string()}).code, 0);
  EXPECT_EQ(difference(state_of(batch.jobs), state_of(single)), "");
}

}  // namespace
}  // namespace pommel::faults
