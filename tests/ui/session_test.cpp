// Sessions that end badly, and computers that write their numbers with a comma.
#include <QLocale>
#include <QProcess>
#include <QTest>
#include <algorithm>
#include <csignal>
#include <locale>

#include "ui/killed.h"
#include "ui/opened.h"

namespace pommel::ui {

int type_and_be_killed(const std::filesystem::path& house) {
  Desk desk({}, house / "unsaved");
  if (!desk.open(house / "catalog/orders/harvest-table.yaml").ok()) return 1;
  SheetModel& sheet = desk.window()->model();
  if (!sheet.setData(sheet.index(sheet.row_of("table_height"), SheetModel::kOrderValue), "33 1/2 in", Qt::EditRole)) return 2;
  return be_killed_when_kept(house / "unsaved", ".yaml");
}

int be_killed_when_kept(const std::filesystem::path& unsaved, const char* ending) {
  const auto files = real_files();
  const auto kept = [&] {
    const auto names = files->list(unsaved);
    return std::any_of(names.begin(), names.end(), [&](const std::string& name) { return !name.starts_with('.') && name.ends_with(ending); });
  };
  QElapsedTimer timer;
  timer.start();
  while (!kept() && timer.elapsed() < 60'000) QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents | QEventLoop::AllEvents, 50);
  return kept() ? std::raise(SIGKILL) : 3;
}

bool was_killed(const char* how, const std::filesystem::path& house) {
  QProcess child;
  QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
  environment.insert("QT_QPA_PLATFORM", "offscreen");
  child.setProcessEnvironment(environment);
  child.start(QCoreApplication::applicationFilePath(), {how, QString::fromStdString(house.generic_string())});
  const bool ended = child.waitForFinished(120'000), killed = ended && child.exitStatus() == QProcess::CrashExit;
  EXPECT_TRUE(killed) << child.exitCode() << child.readAll().toStdString();
  return killed;
}

namespace {

class Session : public Opened {};

TEST_F(Session, WhatAKilledProcessHadTypedIsThereAgain) {
  kill_session();  // it had the order to itself
  ASSERT_TRUE(was_killed(kTypeAndBeKilled, folder_.path().toStdString()));
  desk_ = std::make_unique<Desk>(std::filesystem::path(), inside("unsaved"));
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_EQ(shown("table_height"), "31 1/4\"");  // nothing is taken over unasked
  ASSERT_TRUE(window().offer_left_behind());
  window().take_left_behind();
  EXPECT_EQ(shown("table_height"), "33 1/2\"");
  window().book().undo().undo();
  EXPECT_EQ(shown("table_height"), "31 1/4\"");
}

struct Comma : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST_F(Session, ADecimalCommaBreaksNoFileAndNoProgram) {
  settle();
  const std::string program = window().state_of(family::kOrder).checked->turnings.front().programs->front().text;
  const std::locale before = std::locale::global(std::locale(std::locale(), new Comma));
  QLocale::setDefault(QLocale(QLocale::German));
  ASSERT_TRUE(desk_->open(order()).ok());
  settle();
  EXPECT_EQ(window().state_of(family::kOrder).checked->turnings.front().programs->front().text, program);
  EXPECT_TRUE(type("top_thickness", "22.5 mm"));
  EXPECT_TRUE(window().save(order()));
  std::locale::global(before);
  QLocale::setDefault(QLocale::c());
  EXPECT_NE(files_->read(order())->find("  top_thickness: 22.5 mm\n"), std::string::npos);
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_EQ(window().book().sizes().columns.front().own.at("top_thickness"), "22.5 mm");
}

// A program whose check failed is shown with its faults, each leading to its line; it is nothing that could be given out.
TEST_F(Session, AFailedCheckNamesThePassAndLeadsToThePlace) {
  settle();
  job::Programs wrong = *window().state_of(family::kOrder).checked->turnings.front().programs;
  proof::Finding fault;
  fault.id = "proof.gouge", fault.message = "0.4 mm too deep", fault.line = 900, fault.stage = "finish";
  wrong.front().proof.findings.insert(wrong.front().proof.findings.begin(), fault);
  ASSERT_FALSE(wrong.front().proof.passed());
  EXPECT_FALSE(proof::released(wrong.front().text, wrong.front().proof).ok());
  ProgramView view(window().axis(), nullptr);
  view.show_program(std::make_shared<const job::Programs>(wrong), *job::machine_of(window().book().loaded()), "leg", {});
  EXPECT_TRUE(view.verdict_shown().text().contains("line 900, finish: 0.4 mm too deep")) << view.verdict_shown().text().toStdString();
  emit view.verdict_shown().linkActivated("900");
  EXPECT_EQ(view.line(), 900);
  EXPECT_TRUE(window().axis().hair());
  EXPECT_TRUE(view.told().startsWith("Line 900: ")) << view.told().toStdString();
}

// A file a cutter: lines are counted through, shown as each file counts them, and a fault leads to the line of its file.
TEST_F(Session, ProgramsOfTwoFilesAreShownOneAfterTheOther) {
  settle();
  job::Programs two = *window().state_of(family::kOrder).checked->turnings.front().programs;
  ASSERT_EQ(two.size(), 1u);
  two.push_back(two.front());
  const int first = job::lines_before(two, 1);
  proof::Finding fault;
  fault.id = "proof.gouge", fault.message = "0.4 mm too deep", fault.line = 900, fault.stage = "finish", fault.file = 1;
  two.front().proof.findings.insert(two.front().proof.findings.begin(), fault);
  ProgramView view(window().axis(), nullptr);
  view.show_program(std::make_shared<const job::Programs>(two), *job::machine_of(window().book().loaded()), "leg", {});
  const auto& passes = view.passes();
  ASSERT_GE(passes.rowCount(), 2);
  ASSERT_EQ(passes.rowCount() % 2, 0);
  EXPECT_TRUE(passes.item(0, 2)->text().startsWith("1/"));
  const QString again = passes.item(passes.rowCount() / 2, 2)->text();
  EXPECT_EQ(again, "2" + passes.item(0, 2)->text().mid(1));
  emit view.verdict_shown().linkActivated(QString::number(first + 900));
  EXPECT_TRUE(view.verdict_shown().text().contains(QString("href=\"%1\"").arg(first + 900))) << view.verdict_shown().text().toStdString();
  EXPECT_EQ(view.line(), first + 900);
  EXPECT_TRUE(view.told().startsWith("Line 2/900: ")) << view.told().toStdString();
}

// Many edits and back: what was there is there again, to the byte.
TEST_F(Session, UndoHasNoEnd) {
  const Sizes before = window().book().sizes();
  for (int i = 0; i < 120; ++i) ASSERT_TRUE(type(i % 2 ? "square" : "thick", (std::to_string(50 + i % 10) + " mm").c_str()));
  while (window().book().undo().canUndo()) window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), before);
  EXPECT_FALSE(window().isWindowModified());
}

}  // namespace
}  // namespace pommel::ui
