// Readings that were typed and not saved outlive a kill; and a fitting that nobody waits for any more is stopped.
#include <QTest>

#include <cmath>
#include <ctime>

#include "ui/killed.h"
#include "ui/opened.h"

namespace pommel::ui {
namespace {

bool put(ReadingsModel& table, int row, int column, const char* typed) { return table.setData(table.index(row, column), QString::fromUtf8(typed), Qt::EditRole); }

const ReadingsModel::Rows kTyped = {{"1 1/2", "2", "1/64", ""}, {"3", "1 7/8 in", "", "worn"}, {"4 1/4", "", "", ""}};

}  // namespace

int type_readings_and_be_killed(const std::filesystem::path& house) {
  Desk desk({}, house / "unsaved");
  if (!desk.open(house / "catalog/orders/harvest-table.yaml").ok()) return 1;
  MatchWindow& match = desk.match();
  match.square().setText("2 1/2 in");
  ReadingsModel& table = match.bench().readings();
  for (int row = 0; row < static_cast<int>(kTyped.size()); ++row)
    for (int column = 0; column < ReadingsModel::kTyped; ++column) {
      const QString& cell = kTyped[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
      if (!put(table, row, column, cell.toUtf8().constData())) return 2;
    }
  return be_killed_when_kept(house / "unsaved", ".txt");
}

namespace {

class MatchKept : public Opened {
 protected:
  MatchWindow& match() { return desk_->match(); }
  ReadingsModel& table() { return match().bench().readings(); }
  void start_again() {
    desk_ = std::make_unique<Desk>(std::filesystem::path(), inside("unsaved"));
    ASSERT_TRUE(desk_->open(order()).ok());
  }
  QPushButton* button(QWidget& of, const char* words) {
    for (QPushButton* one : of.findChildren<QPushButton*>())
      if (one->text() == QLatin1String(words)) return one;
    return nullptr;
  }
};

TEST_F(MatchKept, ReadingsOfAKilledProcessAreThereAgain) {
  kill_session();
  ASSERT_TRUE(was_killed(kTypeReadingsAndBeKilled, folder_.path().toStdString()));
  start_again();
  QPushButton* show = button(window(), "Show them");
  ASSERT_TRUE(show);
  show->click();
  EXPECT_TRUE(table().blank());  // nothing is taken over unasked
  QPushButton* take = button(match(), "Take them");
  ASSERT_TRUE(take && take->isVisible());
  take->click();
  EXPECT_EQ(table().rows(), kTyped);
  EXPECT_EQ(match().square().text(), "2 1/2 in");
  EXPECT_EQ(match().unit().currentText(), "in");  // the order's: plain numbers mean what they meant
  EXPECT_FALSE(take->isVisible());
  EXPECT_TRUE(match().isWindowModified());
  // killed again before anything is typed, they are still there
  kill_session();
  start_again();
  ASSERT_TRUE(match().offer_left_behind());
  match().take_left_behind();
  EXPECT_EQ(table().rows(), kTyped);
  table().undo().undo();
  EXPECT_TRUE(table().blank());
  EXPECT_EQ(copies().size(), 1u);
  wait([this] { return copies().empty(); });  // a table that is empty again is nothing to keep
}

TEST_F(MatchKept, WhatIsSavedIsForgottenAndWhatWasLeftIsNotWrittenOver) {
  ASSERT_TRUE(put(table(), 0, ReadingsModel::kPlace, "10"));
  wait_for_copy();
  kill_session();
  start_again();
  ASSERT_TRUE(match().offer_left_behind());
  ASSERT_TRUE(put(table(), 0, ReadingsModel::kPlace, "20"));  // not taken, typed beside it
  wait([this] { return copies().size() == 2; });
  match().bench().readings().undo().setClean();
  wait([this] { return copies().size() == 1; });
  ASSERT_TRUE(match().offer_left_behind());
  button(match(), "Throw them away")->click();
  EXPECT_TRUE(copies().empty());
  EXPECT_FALSE(match().offer_left_behind());
}

TEST_F(MatchKept, ADamagedCopyIsSetApartAndTold) {
  kill_session();
  std::filesystem::create_directories(inside("unsaved"));
  ASSERT_TRUE(files_->write(inside("unsaved/readings-1.txt"), "# readings that were not saved; do not edit: 00\n\nx; diameter; +-; note\n1;2;;\n").ok());
  start_again();
  EXPECT_FALSE(match().offer_left_behind());
  EXPECT_EQ(copies(), (std::vector<std::string>{"readings-1.damaged-1.txt"}));
}

TEST_F(MatchKept, TwoSessionsKeepCopiesOfTheirOwn) {
  BenchCopy here(*files_, inside("unsaved")), there(*files_, inside("unsaved"));
  const BenchDraft mine{{{"square", "64 mm"}, {"name", ""}}, "x; diameter; +-; note\n1;2;;\n"}, theirs{{}, "x; diameter; +-; note\n3;4;;\n"};
  ASSERT_TRUE(here.keep(mine).ok());
  ASSERT_TRUE(there.keep(theirs).ok());
  EXPECT_EQ(copies().size(), 2u);
  EXPECT_FALSE(BenchCopy::any_left(*files_, inside("unsaved")));  // both are claimed
  { const BenchCopy ended = std::move(here); }
  BenchCopy next(*files_, inside("unsaved"));
  EXPECT_EQ(next.left_behind(), mine);
  next.take_left();
  next.forget();
  EXPECT_FALSE(next.left_behind());
}

double processor_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// A spindle of beads and tapers with so many readings a pitch of 50 mm, every seventeenth wrong: half a second's work and more.
ReadingsModel::Rows spindle(int longer) {
  ReadingsModel::Rows rows;
  for (int k = 0; k < 12 + longer; ++k)
    for (const double along : {0.3, 3.0, 6.0, 9.0, 11.7, 12.3, 22.0, 31.0, 40.0, 49.7}) {
      const double ring = 16 + std::sqrt(std::max(0.0, 36 - (along - 6) * (along - 6))), taper = 18 - 4 * (along - 12) / 38;
      const double d = 2 * (along < 12 ? ring : taper) + (rows.size() % 17 == 5 ? 5 : 0) + 0.01 * static_cast<double>(rows.size() * 7 % 10);
      rows.push_back({QString::number(k * 50 + along), QString::number(d, 'f', 2), "", ""});
    }
  return rows;
}

// Of two requests the newer is answered, and what both took is little more than one takes; an older fitting that ran to its end would make it two.
TEST(MatchStop, ANewerRequestStopsTheOlderFitting) {
  const auto until_fitted = [](MatchBench& bench) {
    const double from = processor_seconds();
    for (int tries = 0; bench.working() && tries < 18'000; ++tries) QTest::qWait(10);
    EXPECT_TRUE(bench.fitted() && !bench.stale());
    return processor_seconds() - from;
  };
  MatchBench bench;
  bench.readings().change("readings", spindle(0));
  const double alone = until_fitted(bench);
  bench.readings().change("readings", spindle(1));
  QTest::qWait(20);  // it is under way
  ASSERT_TRUE(bench.working());
  bench.readings().change("readings", spindle(0));
  EXPECT_LT(until_fitted(bench), 1.5 * alone + 0.1);
  bench.readings().change("readings", spindle(2));
  QTest::qWait(20);
  bench.rest();
  const double rested = processor_seconds();
  QTest::qWait(600);
  EXPECT_LT(processor_seconds() - rested, 0.5 * alone + 0.1);
  EXPECT_TRUE(bench.stale());
  bench.wake();
  until_fitted(bench);
  EXPECT_EQ(bench.fitted()->read.measures.size(), spindle(2).size());
}

}  // namespace
}  // namespace pommel::ui
