// Work off the window's thread, given up at any moment: no answer comes any more, no thread, file or request is left, and what is asked next is answered right.
#include <gtest/gtest.h>

#include <QCoreApplication>
#include <QElapsedTimer>
#include <QTemporaryDir>
#include <future>
#include <optional>
#include <thread>

#include "job/stopped.h"
#include "ui/models/folder_maker.h"
#include "ui/models/follower.h"
#include "whole/house.h"

#ifdef __linux__
#include <sys/resource.h>
#endif

namespace pommel::ui {
namespace {

using job::testing::InHand;
using job::testing::Moments;

class GivenUp : public ::testing::Test {
 protected:
  void SetUp() override {
    house_.put("catalog/designs/low-table.yaml", whole::kSmallDesign);
    house_.put("catalog/orders/low.yaml", whole::kSmallOrder);
    basis_.loaded = std::make_shared<const job::Loaded>(house_.load("catalog/orders/low.yaml"));
    Sink sink;
    basis_.sheet = family::make_sheet(basis_.loaded->family, basis_.loaded->design, &*basis_.loaded->order, basis_.loaded->shop, {}, sink);
    ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  }

  template <class Until>
  static bool wait(Until until) {
    QElapsedTimer timer;
    timer.start();
    while (!until() && timer.elapsed() < 180'000) {
      QCoreApplication::processEvents();
      std::this_thread::sleep_for(std::chrono::microseconds(100));
    }
    return until();
  }

  whole::House house_;
  Basis basis_;
};

/// A follower whose answers are held against what was asked.
class Listener {
 public:
  Listener() {
    QObject::connect(&follower, &Follower::sketched, [this](const auto& said) { heard(said->column); });
    QObject::connect(&follower, &Follower::followed, [this](const auto& said) { heard(said->column); });
    QObject::connect(&follower, &Follower::checked, [this](const auto& said) {
      heard(said->column);
      program = said->turnings.front().programs ? said->turnings.front().programs->front().text : "";
    });
    QObject::connect(&follower, &Follower::rested, [this] { rested = true; });
  }
  void ask(const Basis& basis, std::size_t column) {
    asked = column, rested = false;
    follower.follow(basis, basis, {column}, column);
  }
  void give_up() {
    follower.give_up();
    asked.reset();
  }

  Follower follower;
  std::optional<std::size_t> asked;
  int unasked = 0;
  bool rested = false;
  std::string program;

 private:
  void heard(std::size_t column) { unasked += asked == column ? 0 : 1; }
};

TEST_F(GivenUp, AThousandRequestsLeaveNothingAndTheNextIsAnswered) {
  Listener known;
  std::string program;
  for (const std::size_t column : {family::kCatalogue, family::kOrder}) {
    known.ask(basis_, column);
    ASSERT_TRUE(wait([&] { return known.rested; }));
    program = known.program;
  }
  ASSERT_FALSE(program.empty());
  Moments moments(1000, 8);
  InHand half;
  int given_up = 0;
  const auto answered = [&] {
    known.ask(basis_, family::kOrder);
    return wait([&] { return known.rested; });
  };
  for (int i = 0; i < moments.count(); ++i) {
    if (i == moments.count() / 2) {
      ASSERT_TRUE(answered());  // what is in hand is compared at rest: an answer with its program is half a megabyte
      half = InHand();
    }
    // by turns one that has its turnings at hand and goes on afterwards, and a new one, which must mill and goes with its request
    std::optional<Listener> passing;
    Listener& one = i % 2 == 0 ? known : passing.emplace();
    one.ask(basis_, i % 4 < 2 ? family::kOrder : family::kCatalogue);
    std::this_thread::sleep_for(moments.next());
    if (i % 3 == 0) QCoreApplication::processEvents();  // what has been answered is heard; else it is on its way when the request is given up
    given_up += one.rested ? 0 : 1;
    one.give_up();
    QCoreApplication::processEvents();
    ASSERT_EQ(one.unasked, 0) << "of request " << i;
  }
  EXPECT_GT(given_up, moments.count() * 9 / 10);
  known.program.clear();
  ASSERT_TRUE(answered());
  EXPECT_EQ(known.program, program);
  EXPECT_EQ(known.unasked, 0);
  const InHand after;
  EXPECT_TRUE(job::testing::threads_come_down_to(half.threads));
  EXPECT_EQ(after.files, half.files);
  EXPECT_LT(after.bytes, half.bytes + (1u << 20));  // five hundred that left two kilobytes each would be seen
  EXPECT_TRUE(wait([&] { return basis_.loaded.use_count() == 1; })) << "requests that are kept";  // the worker lets go of the last after its answer
}

TEST_F(GivenUp, FoldersStoppedInTheirMakingLeaveNothingAndTheNextIsWhole) {
  QTemporaryDir folder;
  const std::filesystem::path here = folder.path().toStdString();
  FolderMaker maker;
  std::vector<Diagnostic> reasons;
  int ended = 0;
  QObject::connect(&maker, &FolderMaker::ended, [&](const std::vector<Diagnostic>& said) { reasons = said, ++ended; });
  Moments moments(200, 6);
  InHand half;
  for (int i = 0; i < moments.count(); ++i) {
    if (i == moments.count() / 2) half = InHand();
    maker.make(*basis_.loaded, here / "job", false);
    std::this_thread::sleep_for(moments.next());
    maker.cancel();
    ASSERT_TRUE(wait([&] { return !maker.busy(); }));
    ASSERT_EQ(ended, i + 1);
    ASSERT_EQ(reasons.size(), 1u) << "of folder " << i;
    ASSERT_EQ(reasons.front().id, "cancelled") << render(reasons);
    ASSERT_TRUE(std::filesystem::is_empty(here)) << "after folder " << i;
  }
  const InHand after;
  EXPECT_TRUE(job::testing::threads_come_down_to(half.threads));
  EXPECT_EQ(after.files, half.files);
  EXPECT_LT(after.bytes, half.bytes + (256u << 10));
  maker.make(*basis_.loaded, here / "job", false);
  ASSERT_TRUE(wait([&] { return !maker.busy(); }));
  EXPECT_TRUE(reasons.empty()) << render(reasons);
  EXPECT_TRUE(std::filesystem::exists(here / "job" / "READ-ME-FIRST.txt"));
  EXPECT_TRUE(job::may_write(*real_files(), here / "job", true).ok()) << "it holds what its manifest lists and nothing else";
}

#ifdef __linux__
// So that typing and what is seen first do not wait for a check.
TEST(Behind, GivesWayWithAllTheThreadsThatItStarts) {
  QObject home;
  const int own = ::getpriority(PRIO_PROCESS, 0);
  for (const auto& [pace, gives_way] : {std::pair{NewestWork::Pace::at_once, false}, {NewestWork::Pace::behind, true}}) {
    std::optional<std::pair<int, int>> seen;
    NewestWork worker(home, pace);
    worker.ask([&](std::stop_token) {
      const auto niceness = [] { return ::getpriority(PRIO_PROCESS, 0); };
      const std::pair found{niceness(), std::async(std::launch::async, niceness).get()};
      return [&seen, found] { seen = found; };
    });
    while (!seen) QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents);
    EXPECT_EQ(seen->first > own, gives_way);
    EXPECT_EQ(seen->second, seen->first);
  }
  EXPECT_EQ(::getpriority(PRIO_PROCESS, 0), own);
}
#endif

}  // namespace
}  // namespace pommel::ui
