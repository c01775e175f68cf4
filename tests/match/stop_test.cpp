// Fitting that is told to stop by another thread at any moment: it says so soon, or its answer is whole.
#include <gtest/gtest.h>

#include <pthread.h>

#include <ctime>
#include <thread>

#include "job/stopped.h"
#include "match/by_hand.h"
#include "match/recognise.h"

namespace pommel::match {
namespace {

using job::testing::Moments;

constexpr int kBeads = 12;
constexpr double kPitch = 50;  // mm

/// A spindle of our own: a half-round of 12 mm, then a taper, twelve times.
double radius_at(double x) {
  const double along = std::fmod(x, kPitch);
  return along < 12 ? 16 + std::sqrt(std::max(0.0, 36 - (along - 6) * (along - 6))) : 18 - 4 * (along - 12) / (kPitch - 12);
}

/// Ten readings a pitch, one in fifteen of them wrong, so that all is cut twice.
std::vector<Measure> spindle() {
  testing::Chance chance(5);
  std::vector<Measure> out;
  for (int k = 0; k < kBeads; ++k) {
    for (double along : {0.3, 3.0, 6.0, 9.0, 11.7, 12.3, 22.0, 31.0, 40.0, 49.7}) {
      const double x = k * kPitch + along, wrong = chance.even() < 1.0 / 15 ? 5 : 0;
      out.push_back({x + 0.05 * chance.normal(), 2 * radius_at(x) + 0.05 * chance.normal() + wrong, 0.05, 0.05, Measure::Of::round, {}, {}});
    }
  }
  return out;
}

std::string in_full(const Recognition& found) {
  std::string out;
  for (const Found& f : found.elements) {
    for (int k = 0; k < f.stroke.sizes(); ++k) out += std::to_string(f.stroke.size(k)) + " ";
    out += std::string(shape::word_of(f.name.kind)) + "\n";
  }
  return out;
}

double seconds(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

TEST(Stop, AtAnyMomentTheAnswerIsWholeOrSaysThatItWasStopped) {
  const auto measures = spindle();
  Wishes wishes;
  wishes.head = 0, wishes.foot = kBeads * kPitch;
  const auto before = recognise(measures, wishes, {});
  ASSERT_TRUE(before.ok()) << render(before.reasons());
  const std::string whole = in_full(*before);
  clockid_t mine{};
  ASSERT_EQ(pthread_getcpuclockid(pthread_self(), &mine), 0);
  Moments moments(60, 200);
  int stopped = 0;
  for (int i = 0; i < moments.count(); ++i) {
    std::stop_source stop;
    double told_at = 0;
    std::jthread hand([&, moment = moments.next()] {
      std::this_thread::sleep_for(moment);
      told_at = seconds(mine);
      stop.request_stop();
    });
    const auto found = recognise(measures, wishes, {}, stop.get_token());
    const double done_at = seconds(mine);
    hand.join();
    if (found.ok()) {
      EXPECT_EQ(in_full(*found), whole);
      continue;
    }
    ++stopped;
    EXPECT_EQ(found.reasons().size(), 1u);
    EXPECT_EQ(found.reasons().front().id, "cancelled");
    EXPECT_LT(done_at - told_at, 0.1) << "of this thread's processor time";
  }
  EXPECT_GT(stopped, 10);
}

TEST(Stop, BeforeTheBeginningNothingIsFitted) {
  std::stop_source stop;
  stop.request_stop();
  const auto found = recognise(spindle(), {}, {}, stop.get_token());
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.reasons().front().id, "cancelled");
}

}  // namespace
}  // namespace pommel::match
