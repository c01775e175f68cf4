// A process that is killed, or refused by the system, at any call by which it writes: what stands there is the old state or the new one, byte
// for byte, and the next run is not confused by what the dead one left.
//
// Every n-th call is tried, beginning with another one for each kind of fault; POMMEL_EVERY_CALL=1 tries all of them.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <memory>

#include "faults/calls.h"
#include "faults/saves.h"
#include "whole/process.h"

namespace pommel::faults {
namespace {

namespace fs = std::filesystem;
using whole::Scratch;

// In memory where the system has such a place: what is asked is what stands there, not how fast a disk is.
const bool in_memory = ::access("/dev/shm", W_OK) == 0 && ::setenv("TMPDIR", "/dev/shm", 0) == 0;

int step() { return std::getenv("POMMEL_EVERY_CALL") ? 1 : 7; }

/// One way of writing, with the states before and after it. Always in one folder, since names are made from where a file stands.
struct Tried {
  const Save& save;
  Scratch scratch;
  std::unique_ptr<FileSystem> files = real_files();
  State before, after;
  int calls = 0;

  explicit Tried(const Save& one) : save(one) {
    before = seen(laid_out());
    plan({});
    const auto done = act();
    calls = planned_calls();
    EXPECT_TRUE(done.ok()) << save.name << "\n" << render(done.reasons());
    const State all = now();
    after = seen(all);
    EXPECT_EQ(difference(all, after), "") << save.name << " leaves something hidden";
    EXPECT_NE(difference(before, after), "") << save.name << " changes nothing: nothing is tried";
  }
  /// What stands there before, laid out anew.
  State laid_out() const {
    for (const auto& entry : fs::directory_iterator(scratch.path())) fs::remove_all(entry.path());
    save.prepare(*files, scratch.path());
    return now();
  }
  Result<Done> act() const { return save.act(*files, scratch.path()); }
  State now() const { return state_of(scratch.path()); }
};

// A revision keeps the file before first: it may stand there while the design itself is still the old one.
bool sound(const Tried& tried, const State& now) {
  if (now == tried.before || now == tried.after) return true;
  State less = now;
  std::erase_if(less, [](const auto& one) { return one.first.find("designs/earlier/") != std::string::npos; });
  const bool kept_whole = std::all_of(now.begin(), now.end(), [&](const auto& one) { return less.contains(one.first) || (tried.after.contains(one.first) && tried.after.at(one.first) == one.second); });
  return less == tried.before && kept_whole;
}

// The next run: it succeeds, and afterwards the new state stands there and nothing else; a lock that a dead process left may, while nobody
// had to write.
void run_again(const Tried& tried, const std::string& when) {
  const auto again = tried.act();
  ASSERT_TRUE(again.ok()) << when << "\n" << render(again.reasons());
  State all = tried.now();
  std::erase_if(all, [](const auto& one) { return one.first.ends_with(".lock"); });
  EXPECT_EQ(difference(all, tried.after), "") << when << ": after the next run";
}

void kill_at(const Tried& tried, int call) {
  const std::string when = tried.save.name + ", killed at call " + std::to_string(call) + " of " + std::to_string(tried.calls);
  tried.laid_out();
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    plan({Plan::kKill, call, 0});
    (void)tried.act();
    ::_exit(0);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  ASSERT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL) << when << ": it lived";
  EXPECT_TRUE(sound(tried, seen(tried.now()))) << when << "\n" << difference(tried.now(), tried.before);
  run_again(tried, when);
}

void fail_at(const Tried& tried, const Plan& fault) {
  const std::string when = tried.save.name + ", errno " + std::to_string(fault.error) + (fault.what == Plan::kFull ? " from" : " at") + " call " + std::to_string(fault.at);
  tried.laid_out();
  plan(fault);
  const auto done = tried.act();
  planned_calls();
  const State now = seen(tried.now());
  EXPECT_TRUE(sound(tried, now)) << when << "\n" << difference(now, tried.before);
  if (done.ok()) {
    EXPECT_EQ(difference(now, tried.after), "") << when << ": said to be done";
  } else {
    const std::string& id = done.reasons().front().id;
    EXPECT_TRUE(id.starts_with("files.")) << when << "\n" << render(done.reasons());
    EXPECT_EQ(render(done.reasons()).find("system error"), std::string::npos) << when << "\n" << render(done.reasons());
  }
  run_again(tried, when);
}

/// Calls `try_one` with every step()-th call of every way of writing, beginning with `first`. Prints how many.
void at_calls(const char* what, int first, const std::function<void(const Tried&, int)>& try_one) {
  int points = 0;
  for (const Save& save : saves()) {
    const Tried tried(save);
    for (int call = first % step(); call < tried.calls; call += step(), ++points) try_one(tried, call);
  }
  std::printf("%s: %d points of %zu ways of writing\n", what, points, saves().size());
  EXPECT_GE(points, 60);
}

TEST(EveryCall, AKillLeavesTheOldStateOrTheNew) { at_calls("killed", 0, kill_at); }

TEST(EveryCall, AFullDiskLeavesTheOldStateOrTheNew) {
  at_calls("disk full", 1, [](const Tried& tried, int call) { fail_at(tried, {Plan::kFull, call, ENOSPC}); });
}

TEST(EveryCall, ADiskThatCanOnlyBeReadLeavesTheOldState) {
  at_calls("read only", 2, [](const Tried& tried, int call) { fail_at(tried, {Plan::kFull, call, EROFS}); });
}

TEST(EveryCall, ACallThatIsNotPermittedOrMeetsAFaultLeavesTheOldStateOrTheNew) {
  at_calls("not permitted", 3, [](const Tried& tried, int call) { fail_at(tried, {Plan::kFail, call, EACCES}); });
  at_calls("a fault of the disk", 4, [](const Tried& tried, int call) { fail_at(tried, {Plan::kFail, call, EIO}); });
}

TEST(EveryCall, AnInterruptedCallIsMadeAgainAndAShortOneGoneOnWith) {
  for (const Save& save : saves()) {
    const Tried tried(save);
    tried.laid_out();
    plan({Plan::kInterrupt});
    const auto done = tried.act();
    EXPECT_GT(planned_calls(), tried.calls) << save.name << ": nothing was interrupted";
    EXPECT_TRUE(done.ok()) << save.name << "\n" << render(done.reasons());
    EXPECT_EQ(difference(tried.now(), tried.after), "") << save.name;
  }
}

TEST(EveryCall, AFolderThatVanishesLeavesTheOldStateOrTheNew) {
  at_calls("vanished", 0, [](const Tried& tried, int call) { fail_at(tried, {Plan::kFail, call, ENOENT}); });
}

}  // namespace
}  // namespace pommel::faults
