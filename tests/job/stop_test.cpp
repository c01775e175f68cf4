// Work that is told to stop, by another thread and at any moment: it says that it was stopped or it is whole, leaves nothing in hand, and what is asked next is right.
#include <gtest/gtest.h>

#include <thread>

#include "job/stopped.h"
#include "whole/house.h"

namespace pommel::job {
namespace {

using testing::InHand;

class Stopped : public ::testing::Test {
 protected:
  void SetUp() override {
    house_.put("catalog/designs/low-table.yaml", whole::kSmallDesign);
    house_.put("catalog/orders/low.yaml", whole::kSmallOrder);
    loaded_ = house_.load("catalog/orders/low.yaml");
  }

  std::string whole_folder(const Options& options) const {
    const auto made = run(loaded_, {}, options);
    if (!made.ok()) return render(made.reasons());
    const auto files = files_of(*made, nullptr);
    if (!files.ok()) return render(files.reasons());
    std::string out;
    for (const File& file : *files) out += file.name + "\n" + sha256(file.bytes) + "\n";
    return out;
  }

  /// Whether the whole was there before the stop. Every second time what was milled is at hand, so that the moment falls into checking and building.
  bool made_before(std::chrono::microseconds moment, TurningMemo* milled) const {
    std::stop_source stop;
    Options options;
    options.stop = stop.get_token();
    options.memo = milled;
    std::jthread hand([&stop, moment] {
      std::this_thread::sleep_for(moment);
      stop.request_stop();
    });
    const auto made = run(loaded_, {}, options);
    EXPECT_TRUE(made.ok() || (made.reasons().size() == 1 && made.reasons().front().id == "cancelled")) << render(made.reasons());
    return made.ok();
  }

  whole::House house_;
  Loaded loaded_;
};

TEST_F(Stopped, AtAnyMomentItLeavesNothingInHandAndTheNextIsRight) {
  TurningMemo milled;
  Options options;
  options.memo = &milled;
  const std::string before = whole_folder(options);
  ASSERT_NE(before.find("READ-ME-FIRST.txt"), std::string::npos) << before;
  const std::size_t computed = milled.computed();
  testing::Moments moments(300, 8);
  InHand half;
  int stopped = 0;
  for (int i = 0; i < moments.count(); ++i) {
    if (i == moments.count() / 2) half = InHand();
    stopped += made_before(moments.next(), i % 2 == 0 ? &milled : nullptr) ? 0 : 1;
  }
  const InHand after;
  EXPECT_GT(stopped, moments.count() * 9 / 10);
  EXPECT_TRUE(testing::threads_come_down_to(half.threads));
  EXPECT_EQ(after.files, half.files);
  EXPECT_LT(after.bytes, half.bytes + (256u << 10));  // a hundred and fifty that left two kilobytes each would be seen
  EXPECT_EQ(milled.computed(), computed);
  EXPECT_EQ(whole_folder({}), before);
}

}  // namespace
}  // namespace pommel::job
