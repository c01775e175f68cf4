// The window as its user meets it: what is typed, and what is shown.
#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QImage>
#include <QTest>

#include "ui/opened.h"
#include "ui/models/element_measures.h"
#include "ui/views/design_chooser.h"
#include "ui/views/seek_dialog.h"

namespace pommel::ui {
namespace {

class Window : public Opened {};

TEST_F(Window, ShowsTheDemoOrderWithWhatFollowsAndItsCheck) {
  settle();
  EXPECT_EQ(shown("table_height"), "31 1/4\"");
  EXPECT_TRUE(shown("price").endsWith("USD")) << shown("price").toStdString();
  EXPECT_TRUE(window().told().contains("table height 31 1/4\" (catalogue 29 1/8\")")) << window().told().toStdString();
  ASSERT_TRUE(window().state_of(family::kOrder).checked);
  EXPECT_TRUE(window().told().contains("was cut in simulation and is sound")) << window().told().toStdString();

  // a line of its program is found on the piece, and a place of the piece in the program
  ProgramView& program = window().open_program();
  ASSERT_GE(program.passes().rowCount(), 3);
  program.passes().setCurrentCell(2, 0);
  EXPECT_EQ(program.line(), program.passes().item(2, 2)->text().toInt());
  EXPECT_TRUE(program.told().contains(program.passes().item(2, 0)->text())) << program.told().toStdString();
  ASSERT_TRUE(window().axis().hair());
  window().axis().set_hair(200);
  const int before = program.line();
  ASSERT_TRUE(program.find_hairline());
  EXPECT_GT(program.line(), before);
}

TEST_F(Window, ATallerTableIsALongerLegAtOnceAndTheRestFollows) {
  wait_for_piece();
  const double before = window().state_of(family::kOrder).made->pieces.front().part.length;
  ASSERT_TRUE(type("table_height", "33 1/4 in"));
  EXPECT_EQ(shown("leg_length"), "32 3/8\"");  // the sheet answers by itself
  EXPECT_EQ(shown("price"), QStringLiteral("…"));  // what followed from the old height is no longer true
  EXPECT_TRUE(window().state_of(family::kOrder).stale);
  wait_for_piece();
  EXPECT_NEAR(window().state_of(family::kOrder).made->pieces.front().part.length - before, 2 * 25.4, 1e-9);
}

TEST_F(Window, AWrongSizeIsToldInItsCellAndItsRow) {
  ASSERT_TRUE(type("table_height", "31 cats"));
  EXPECT_EQ(shown("table_height"), QStringLiteral("✗ 31 cats"));
  EXPECT_TRUE(shown("table_height", model().note_column()).startsWith(QStringLiteral("✗ "))) << shown("table_height", model().note_column()).toStdString();
  EXPECT_TRUE(window().at_foot().contains("cats")) << window().at_foot().toStdString();
  ASSERT_TRUE(type("table_height", ""));
  EXPECT_TRUE(model().problems().isEmpty()) << model().problems().join("\n").toStdString();
  EXPECT_EQ(shown("table_height"), "29 1/8\"");
}

TEST_F(Window, MeasuresThatMakeNoPieceSayWhy) {
  ASSERT_TRUE(type("table_height", "380 mm"));
  ASSERT_TRUE(type("head_length", "280 mm"));
  wait([this] { return !window().state_of(family::kOrder).reasons.empty(); });
  EXPECT_TRUE(window().at_foot().startsWith(QStringLiteral("✗ "))) << window().at_foot().toStdString();
}

TEST_F(Window, TheCatalogueAndWhatFollowsCannotBeTypedOver) {
  EXPECT_FALSE(type("table_height", "1 m", SheetModel::kCatalogueValue));
  EXPECT_FALSE(type("price", "1"));
}

TEST_F(Window, EverythingIsUndoneAndRedone) {
  const Sizes before = window().book().sizes();
  ASSERT_TRUE(type("table_height", "33 in"));
  window().book().try_another_size(family::kOrder);
  ASSERT_TRUE(type("square", "60 mm", SheetModel::kOrderValue + 1));
  EXPECT_EQ(model().note_column(), 4);
  const Sizes after = window().book().sizes();
  for (int step = 0; step < 3; ++step) window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), before);
  EXPECT_EQ(shown("table_height"), "31 1/4\"");
  EXPECT_EQ(model().note_column(), 3);
  for (int step = 0; step < 3; ++step) window().book().undo().redo();
  EXPECT_EQ(window().book().sizes(), after);
  EXPECT_EQ(shown("square", SheetModel::kOrderValue + 1), "2 3/8\"");
  EXPECT_EQ(shown("square"), "2 1/4\"");
}

TEST_F(Window, ASizeTriedBesideItHasItsOwnPiece) {
  const std::size_t column = window().book().try_another_size(family::kOrder);
  ASSERT_TRUE(type("table_height", "36 in", SheetModel::kOrderValue + 1));
  wait_for_piece(column);
  wait_for_piece(family::kOrder);
  EXPECT_NEAR(window().state_of(column).made->pieces[0].part.length - window().state_of(family::kOrder).made->pieces[0].part.length, (36 - 31.25) * 25.4, 1e-9);
  window().book().drop_size(column);
  EXPECT_EQ(model().note_column(), 3);
}

TEST_F(Window, CopiesAndPastesWhatASpreadsheetReads) {
  const QString copied = model().copied({at("table_height", SheetModel::kName), at("table_height"), at("table_width", SheetModel::kName), at("table_width")});
  EXPECT_EQ(copied, "table width\t35 7/16\"\ntable height\t31 1/4\"");
  model().paste(at("table_length"), "80 in\tnothing\n\"36 in\"\r\n32 in\n");
  EXPECT_EQ(shown("table_length"), "80\"");
  EXPECT_EQ(shown("table_width"), "36\"");
  EXPECT_EQ(shown("table_height"), "32\"");
  window().book().undo().undo();  // one step
  EXPECT_EQ(shown("table_length"), "78\"");
  EXPECT_EQ(shown("table_height"), "31 1/4\"");
}

TEST_F(Window, CarriesAnEntryAcrossAllSizes) {
  window().book().try_another_size(family::kOrder);
  ASSERT_TRUE(type("square", "55 mm"));
  EXPECT_NE(shown("square", SheetModel::kOrderValue + 1), shown("square"));
  model().carry_across(at("square"));
  EXPECT_EQ(shown("square", SheetModel::kOrderValue + 1), shown("square"));
}

TEST_F(Window, UnitsAreSwitchedForAllThatIsShownAndNothingElse) {
  const Sizes before = window().book().sizes();
  LengthFormat lengths;
  window().book().show_lengths(lengths);
  EXPECT_EQ(shown("table_height"), "793.8 mm");
  EXPECT_TRUE(window().told().contains("793.8 mm")) << window().told().toStdString();
  EXPECT_EQ(window().book().sizes(), before);
}

TEST_F(Window, FindsAndFoldsRows) {
  window().grid().find("rail depth");
  EXPECT_FALSE(window().grid().isRowHidden(model().row_of("long_rail_depth")));
  EXPECT_TRUE(window().grid().isRowHidden(model().row_of("table_height")));
  window().grid().find("");
  EXPECT_FALSE(window().grid().isRowHidden(model().row_of("table_height")));
  window().grid().fold(0, true);
  EXPECT_TRUE(window().grid().isRowHidden(model().row_of("table_height")));
  EXPECT_TRUE(window().grid().go_to("table_height", SheetModel::kOrderValue));  // unfolds it
  EXPECT_FALSE(window().grid().isRowHidden(model().row_of("table_height")));
}

TEST_F(Window, AFormulaShowsWhatGoesIntoItAndWhoFollows) {
  model().follow_formula(at("leg_length"));
  EXPECT_TRUE(shown("table_height", SheetModel::kName).contains("goes into it"));
  EXPECT_FALSE(shown("table_width", SheetModel::kName).contains("goes into it"));
  model().follow_formula(at("table_height"));
  EXPECT_TRUE(shown("leg_length", SheetModel::kName).contains("follows it"));
}

TEST_F(Window, KeysOfTheGridTypeReplaceAndClear) {
  window().grid().setFocus();
  window().grid().setCurrentIndex(at("table_height"));
  QTest::keyClicks(&window().grid(), "3");
  auto* editor = window().grid().findChild<QLineEdit*>();
  ASSERT_TRUE(editor);
  QTest::keyClicks(editor, "2 in");
  QTest::keyClick(editor, Qt::Key_Return);
  QCoreApplication::processEvents();  // the editor closes after the key
  EXPECT_EQ(shown("table_height"), "32\"");
  QTest::keyClick(&window().grid(), Qt::Key_Delete);
  EXPECT_EQ(shown("table_height"), "29 1/8\"");
}

TEST_F(Window, TheHairlineReadsPlaceAndDiameter) {
  wait_for_piece();
  window().axis().set_hair(10);
  const QString reading = window().findChild<Elevation*>()->reading();
  EXPECT_TRUE(reading.contains("13/32\" from the head")) << reading.toStdString();
  EXPECT_TRUE(reading.contains(QStringLiteral("□"))) << reading.toStdString();  // the square head
}

TEST_F(Window, AnElementLeadsToItsMeasure) {
  const auto names = measures_of_element(window().book().loaded(), "leg", 0, window().book().sheet());
  ASSERT_FALSE(names.empty());
  EXPECT_EQ(names.front(), "head_length");
  EXPECT_TRUE(measures_of_element(window().book().loaded(), "leg", 999, window().book().sheet()).empty());
}

TEST_F(Window, TheStepsLeadThroughTheWindowUntilTheyAreKnown) {
  ASSERT_TRUE(window().steps().isVisible());
  const auto buttons = window().steps().findChildren<QPushButton*>();
  ASSERT_EQ(buttons.size(), 6);
  buttons[1]->click();
  EXPECT_EQ(window().grid().currentIndex(), at("table_height"));
  buttons[2]->click();
  EXPECT_EQ(model().kind_of(window().grid().currentIndex().row()), SheetModel::RowKind::outcome);
  buttons[5]->click();
  EXPECT_FALSE(window().steps().isVisible());
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_FALSE(window().steps().isVisible());
}

TEST_F(Window, FindsTheMeasureThatGives) {
  SeekDialog seek(window().book(), family::kOrder, "leg_length");
  seek.moving().setCurrentIndex(seek.moving().findData("table_height"));
  seek.value().setText("28 in");
  seek.find();
  wait([&] { return !seek.busy() && !seek.told().contains(QStringLiteral("…")); });
  EXPECT_TRUE(seek.told().startsWith("table height of 28 7/8\" gives leg length of 28\"")) << seek.told().toStdString();
  seek.take();
  EXPECT_EQ(shown("leg_length"), "28\"");
}

TEST_F(Window, AWishOutOfReachSaysWhatTheLimitsAllow) {
  SeekDialog seek(window().book(), family::kOrder, "leg_length");
  seek.moving().setCurrentIndex(seek.moving().findData("table_height"));
  seek.value().setText("90 in");
  seek.find();
  wait([&] { return !seek.busy() && !seek.told().contains(QStringLiteral("…")); });
  EXPECT_TRUE(seek.told().startsWith(QStringLiteral("✗ "))) << seek.told().toStdString();
  seek.value().setText("90");
  seek.find();
  EXPECT_TRUE(seek.told().startsWith(QStringLiteral("✗ "))) << seek.told().toStdString();  // 90 what?
}

TEST_F(Window, AFixedThicknessSaysSo) {
  const auto entry = entry_for_diameter(window().book().loaded(), "leg", 999, 0.5, 40, window().book().sheet(), family::kOrder, {});
  ASSERT_FALSE(entry.ok());
  EXPECT_EQ(entry.reasons().front().id, "ui.fixed-size");
}

TEST_F(Window, AMakersNoteStandsBesideTheEntryInTheFile) {
  const int note = model().note_column();
  EXPECT_FALSE(model().flags(at("table_width", note)) & Qt::ItemIsEditable);  // it is the catalogue's
  ASSERT_TRUE(model().setData(at("table_height", note), "as high as the old one", Qt::EditRole));
  EXPECT_TRUE(shown("table_height", note).contains("as high as the old one")) << shown("table_height", note).toStdString();
  EXPECT_TRUE(shown("table_height", note).contains("floor to the upper face"));
  ASSERT_TRUE(type("top_thickness", "1 in"));
  ASSERT_TRUE(model().setData(at("top_thickness", note), "from stock", Qt::EditRole));  // an entry that is not in the file yet
  ASSERT_TRUE(window().save(order()));
  const std::string text = *files_->read(order());
  EXPECT_NE(text.find("  table_height: 31 1/4 in   # as high as the old one\n"), std::string::npos) << text;
  EXPECT_NE(text.find("  top_thickness: 1 in   # from stock\n"), std::string::npos) << text;
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_TRUE(shown("table_height", note).contains("as high as the old one"));
}

TEST_F(Window, TheModelKeepsItsWord) {
  QAbstractItemModelTester tester(&model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
  ASSERT_TRUE(type("square", "55 mm"));
  window().book().try_another_size(family::kOrder);
  window().book().undo().undo();
  EXPECT_EQ(shown("square"), "2 5/32\"");
}

TEST_F(Window, SavesWithTheMakersCommentsAndKeepsACopyUntilThen) {
  ASSERT_TRUE(type("table_height", "32 in"));
  EXPECT_TRUE(window().isWindowModified());
  wait_for_copy();
  ASSERT_TRUE(window().save(order()));
  EXPECT_FALSE(window().isWindowModified());
  EXPECT_TRUE(copies().empty());
  const std::string text = *real_files()->read(order());
  EXPECT_NE(text.find("  table_height: 32 in\n"), std::string::npos) << text;
  EXPECT_NE(text.find("# What this client wants different"), std::string::npos) << text;
}

TEST_F(Window, WhatAKilledSessionLeftIsOfferedAndTaken) {
  ASSERT_TRUE(type("table_height", "32 in"));
  wait_for_copy();
  kill_session();  // the next one finds the copy, since nobody forgot it
  Desk next({}, inside("unsaved"));
  ASSERT_TRUE(next.open(order()).ok());
  EXPECT_TRUE(next.window()->offer_left_behind());
  next.window()->take_left_behind();
  EXPECT_EQ(next.window()->book().sizes().columns.front().own.at("table_height"), "32 in");
  next.window()->book().undo().undo();
  EXPECT_EQ(next.window()->book().sizes().columns.front().own.at("table_height"), "31 1/4 in");
}

// Cut off, a letter changed, no order's text: each is set apart under a name of its own, whole copies are taken as before.
TEST_F(Window, ADamagedCopyIsSetApartAndSaid) {
  ASSERT_TRUE(type("table_height", "32 in"));
  wait_for_copy();
  kill_session();
  ASSERT_EQ(copies().size(), 1u);
  const std::filesystem::path copy = inside("unsaved") / copies().front();
  const std::string whole = *files_->read(copy);
  std::string changed = whole;
  changed[changed.find("32 in")] = '9';
  int apart = 0;
  for (const std::string& damaged : {whole.substr(0, whole.size() / 2), changed, std::string("order: [")}) {
    ASSERT_TRUE(files_->write(copy, damaged).ok());
    Desk next({}, inside("unsaved"));
    ASSERT_TRUE(next.open(order()).ok());
    EXPECT_FALSE(next.window()->offer_left_behind());
    const std::filesystem::path kept = inside("unsaved") / (copy.stem().string() + ".damaged-" + std::to_string(++apart) + ".yaml");
    EXPECT_EQ(*files_->read(kept), damaged);
    EXPECT_FALSE(files_->exists(copy));
  }
  ASSERT_TRUE(files_->write(copy, whole).ok());
  Desk next({}, inside("unsaved"));
  ASSERT_TRUE(next.open(order()).ok());
  EXPECT_EQ(next.window()->notice(), "");
  EXPECT_TRUE(next.window()->offer_left_behind());
  EXPECT_EQ(copies().size(), 4u);
}

TEST_F(Window, SaysWhereADamagedCopyIsKept) {
  ASSERT_TRUE(type("table_height", "32 in"));
  wait_for_copy();
  kill_session();
  const std::filesystem::path copy = inside("unsaved") / copies().front();
  ASSERT_TRUE(files_->write(copy, "order: [").ok());
  Desk next({}, inside("unsaved"));
  ASSERT_TRUE(next.open(order()).ok());
  EXPECT_EQ(next.window()->notice().toStdString(),
            "Unsaved changes of the last session cannot be read. What is left of them is kept as " + (inside("unsaved") / copies().front()).string());
}

// Two sessions with one order: the second neither takes up, keeps nor forgets the first one's copy, and says who has it.
TEST_F(Window, OneSessionAloneKeepsTheCopy) {
  ASSERT_TRUE(type("table_height", "32 in"));
  wait_for_copy();
  const std::filesystem::path copy = inside("unsaved") / copies().front();
  const std::string kept = *files_->read(copy);
  {
    Desk second({}, inside("unsaved"));
    ASSERT_TRUE(second.open(order()).ok());
    EXPECT_FALSE(second.window()->offer_left_behind());
    EXPECT_TRUE(second.window()->notice().contains("This order is open in another session")) << second.window()->notice().toStdString();
    EXPECT_TRUE(second.window()->notice().contains("process " + QString::number(QCoreApplication::applicationPid()) + " on "));
    ASSERT_TRUE(second.window()->save(order()));
    EXPECT_EQ(*files_->read(copy), kept);
  }
  EXPECT_EQ(window().notice(), "");
  // opened again in its own session: the new window has it
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_EQ(window().notice(), "");
  EXPECT_TRUE(window().offer_left_behind());
}

TEST_F(Window, AFileChangedByOthersIsNotWrittenOver) {
  const auto files = real_files();
  const std::string text = *files->read(order());
  ASSERT_TRUE(files->write(order(), text + "# a note by another hand\n").ok());
  OrderFile file(*files, order(), text, inside("unsaved"));
  const auto saved = file.save(text, order());
  ASSERT_FALSE(saved.ok());
  EXPECT_EQ(saved.reasons().front().id, "files.changed-on-disk");
}

TEST_F(Window, ANewOrderBeginsFromADesign) {
  DesignChooser chooser(*files_, window().book().loaded());
  ASSERT_GE(chooser.designs().count(), 12);
  chooser.words().setText("cannonball");
  const family::NewOrder order = chooser.order();
  EXPECT_EQ(order.design, "cannonball-bed");
  const auto begun = desk_->begin_order(order, inside("catalog/orders/bed.yaml"));
  ASSERT_TRUE(begun.ok()) << render(begun.reasons());
  EXPECT_GE(model().row_of("mattress_width"), 0);
  EXPECT_FALSE(desk_->begin_order(order, inside("catalog/orders/bed.yaml")).ok());  // never over a file
}

TEST_F(Window, DesignsAreFoundByWhatTheyMustBe) {
  DesignChooser chooser(*files_, window().book().loaded());
  const auto seen = [&] {
    QStringList out;
    for (int i = 0; i < chooser.designs().count(); ++i)
      if (!chooser.designs().item(i)->isHidden()) out << chooser.designs().item(i)->text();
    return out;
  };
  const QStringList all = seen();
  chooser.measures().setText("table_height = 750 mm");
  chooser.find_by_measures();
  wait([&] { return !chooser.busy(); });
  const QStringList tables = seen();
  EXPECT_GE(tables.size(), 3);
  EXPECT_LT(tables.size(), all.size());
  EXPECT_TRUE(tables.contains("farmhouse vase"));
  EXPECT_TRUE(chooser.told().startsWith(QString::number(tables.size()))) << chooser.told().toStdString();
  chooser.measures().setText("table_height = 750 mm; thinnest_diameter >= 500 mm");
  chooser.find_by_measures();
  wait([&] { return !chooser.busy(); });
  EXPECT_TRUE(seen().isEmpty());
  chooser.measures().setText("thick as a fist");
  chooser.find_by_measures();
  wait([&] { return !chooser.busy(); });
  EXPECT_TRUE(chooser.told().startsWith(QStringLiteral("✗ "))) << chooser.told().toStdString();
  chooser.measures().setText("");
  chooser.find_by_measures();
  wait([&] { return !chooser.busy(); });
  EXPECT_EQ(seen(), all);
}

TEST_F(Window, StopsMakingAFolderAndLeavesNothing) {
  window().make_folder(inside("job"), false);
  window().folder_maker().cancel();
  wait([this] { return !window().folder_maker().busy(); });
  EXPECT_FALSE(std::filesystem::exists(inside("job")));
}

}  // namespace
}  // namespace pommel::ui
