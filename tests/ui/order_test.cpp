// The order itself and its design, changed and saved in the window.
#include "ui/opened.h"
#include "ui/views/design_chooser.h"
#include "ui/views/design_saver.h"
#include "ui/views/order_editor.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

class OrderItself : public Opened {
 protected:
  // a catalog of its own, so that designs may be written
  void SetUp() override {
    Opened::SetUp();
    namespace fs = std::filesystem;
    desk_.reset();
    const fs::path designs = inside("catalog/designs");
    fs::remove(designs);
    fs::copy(fs::path(POMMEL_SOURCE_DIR) / "catalog/designs", designs, fs::copy_options::recursive);
    desk_ = std::make_unique<Desk>(fs::path(), inside("unsaved"));
    ASSERT_TRUE(desk_->open(order()).ok());
  }
  std::string file(const char* name) { return *real_files()->read(inside(name)); }
  /// As a new design of that name, without one as the next revision.
  ::testing::AssertionResult save_design(const char* as, bool with_measures) {
    DesignSaver saver(window().book(), *files_, family::kOrder);
    (as ? saver.as_new() : saver.as_revision()).setChecked(true);
    if (as) saver.name().setText(as);
    saver.with_measures().setChecked(with_measures);
    saver.what().setText("another");
    saver.why().setText("to try it");
    return saver.take() ? ::testing::AssertionSuccess() : ::testing::AssertionFailure() << saver.told().toStdString();
  }
};

TEST_F(OrderItself, IsEditedAsOneStepWithItsCommentsKept) {
  OrderEditor editor(window().book(), *files_);
  editor.line("client")->setText("N. Other");
  editor.line("cusp")->setText("0.06 mm");
  auto* rough = editor.choice("cutters rough");
  ASSERT_GT(rough->count(), 1);
  rough->setCurrentIndex(1);
  const std::string cutter = rough->currentData().toString().toStdString();
  ASSERT_TRUE(editor.take()) << editor.told().toStdString();
  const family::Order& now = *window().book().loaded().order;
  EXPECT_EQ(now.client, "N. Other");
  EXPECT_EQ(now.rough, cutter);
  EXPECT_EQ(now.cutter, "ball-8");
  EXPECT_DOUBLE_EQ(now.cusp, 0.06);
  EXPECT_TRUE(window().isWindowModified());
  ASSERT_TRUE(window().save(order()));
  const std::string text = file("catalog/orders/harvest-table.yaml");
  EXPECT_NE(text.find("client: N. Other\n"), std::string::npos) << text;
  EXPECT_NE(text.find("cutters: {rough: " + cutter + ", finish: ball-8}\n"), std::string::npos) << text;
  EXPECT_NE(text.find("# What this client wants different"), std::string::npos) << text;
  window().book().undo().undo();
  EXPECT_EQ(window().book().loaded().order->client, "M. Brandt");
  EXPECT_TRUE(window().isWindowModified());
}

TEST_F(OrderItself, WhatCannotStandIsToldAndChangesNothing) {
  OrderEditor editor(window().book(), *files_);
  editor.line("number")->setText("");
  editor.line("cusp")->setText("5 cats");
  EXPECT_FALSE(editor.take());
  EXPECT_TRUE(editor.told().contains("cats")) << editor.told().toStdString();
  EXPECT_TRUE(editor.told().contains("number")) << editor.told().toStdString();
  EXPECT_FALSE(window().isWindowModified());
  EXPECT_EQ(window().book().loaded().order->number, "26-041");
}

TEST_F(OrderItself, ADesignIsSavedAsANewOneWithTheMeasuresOfTheOrder) {
  DesignSaver saver(window().book(), *files_, family::kOrder);
  saver.name().setText("farmhouse vase, tall");
  EXPECT_FALSE(saver.take());  // nothing is said of it yet
  EXPECT_TRUE(saver.told().contains("why")) << saver.told().toStdString();
  saver.what().setText("two inches higher");
  saver.why().setText("for tall households");
  ASSERT_TRUE(saver.take()) << saver.told().toStdString();
  const std::string text = file("catalog/designs/farmhouse-vase-tall.yaml");
  EXPECT_NE(text.find("  table_height: 31 1/4 in"), std::string::npos) << text;
  EXPECT_NE(text.find("what: two inches higher"), std::string::npos) << text;
  EXPECT_EQ(window().book().loaded().order->design, "farmhouse-vase-tall");
  EXPECT_EQ(shown("table_height", SheetModel::kCatalogueValue), "31 1/4\"");
  ASSERT_TRUE(window().save(order()));
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_EQ(window().book().loaded().card.id, "farmhouse-vase-tall");
}

TEST_F(OrderItself, ANextRevisionKeepsTheOneBefore) {
  const std::string before = file("catalog/designs/farmhouse-vase.yaml");
  DesignSaver saver(window().book(), *files_, family::kOrder);
  saver.as_revision().setChecked(true);
  saver.with_measures().setChecked(false);
  saver.what().setText("nothing yet");
  saver.why().setText("to try it");
  ASSERT_TRUE(saver.take()) << saver.told().toStdString();
  EXPECT_EQ(file("catalog/designs/earlier/farmhouse-vase.2.yaml"), before);
  EXPECT_NE(file("catalog/designs/farmhouse-vase.yaml").find("revision: 3\n"), std::string::npos);
  EXPECT_EQ(window().book().loaded().design.revision, 3);
  DesignSaver again(window().book(), *files_, family::kOrder);  // on what was saved just now
  again.as_revision().setChecked(true);
  again.with_measures().setChecked(false);
  again.what().setText("and again");
  again.why().setText("to try it");
  EXPECT_TRUE(again.take()) << again.told().toStdString();
}

// What holds where the order says nothing stands dim; another choice is stated, the usual one again is none.
TEST_F(OrderItself, WhatIsUsualIsShownAndNotStated) {
  const std::string before = file("catalog/orders/harvest-table.yaml");
  {
    OrderEditor editor(window().book(), *files_);
    EXPECT_EQ(editor.choice("passes")->currentText(), "as usual: whichever way is faster");
    EXPECT_EQ(editor.choice("thin_stubs")->currentText(), "as usual: are refused");
    EXPECT_EQ(editor.choice("units")->currentText(), "inches");
    EXPECT_EQ(editor.line("cusp")->placeholderText(), "as usual: 0.04 mm; or give the way between lines");
    EXPECT_NE(editor.choice("passes")->palette().color(QPalette::ButtonText), editor.choice("units")->palette().color(QPalette::ButtonText));
    EXPECT_EQ(editor.choice("passes")->palette().color(QPalette::ButtonText), tones().inherited);  // whose contrast is held in parts_test.cpp
    EXPECT_EQ(editor.line("cusp")->palette().color(QPalette::PlaceholderText), tones().inherited);
    ASSERT_TRUE(editor.take());
    EXPECT_FALSE(window().isWindowModified());
    for (const auto& [key, value] : {std::pair{"passes", "lengthwise"}, {"thin_stubs", "yes"}, {"joints", "bench"}}) editor.choice(key)->setCurrentIndex(editor.choice(key)->findData(value));
    editor.line("scale_bar_measures")->setText("199 mm");
    EXPECT_EQ(editor.choice("passes")->palette().color(QPalette::ButtonText), editor.choice("units")->palette().color(QPalette::ButtonText));
    ASSERT_TRUE(editor.take()) << editor.told().toStdString();
  }
  ASSERT_TRUE(window().save(order()));
  const std::string text = file("catalog/orders/harvest-table.yaml");
  for (const char* line : {"\npasses: lengthwise\n", "\nthin_stubs: yes\n", "\njoints: bench\n", "\nscale_bar_measures: 199 mm\n"}) EXPECT_NE(text.find(line), std::string::npos) << text;
  OrderEditor editor(window().book(), *files_);
  for (const char* key : {"passes", "thin_stubs", "joints"}) editor.choice(key)->setCurrentIndex(0);
  editor.line("scale_bar_measures")->clear();
  ASSERT_TRUE(editor.take()) << editor.told().toStdString();
  ASSERT_TRUE(window().save(order()));
  EXPECT_EQ(file("catalog/orders/harvest-table.yaml"), before);
  window().book().undo().undo();
  window().book().undo().undo();
  EXPECT_FALSE(window().isWindowModified());
  EXPECT_EQ(window().book().loaded().order->passes, family::Passes::fastest);
}

// What both designs have is kept, what the other does not know is told and goes; undo brings it back.
TEST_F(OrderItself, IsOfAnotherDesign) {
  ASSERT_TRUE(type("square", "66 mm"));
  ASSERT_TRUE(type("top_thickness", "1 in"));
  window().book().try_another_size(family::kOrder);
  const Sizes before = window().book().sizes();
  OrderEditor editor(window().book(), *files_);
  EXPECT_EQ(editor.design_told(), "farmhouse vase");
  EXPECT_FALSE(editor.choose_design("no-such-design"));
  EXPECT_TRUE(editor.told().contains("no-such-design")) << editor.told().toStdString();
  ASSERT_TRUE(editor.choose_design("melon-bulb")) << editor.told().toStdString();
  EXPECT_EQ(editor.design_told(), "melon bulb");  // of the same family: nothing goes
  ASSERT_TRUE(editor.choose_design("cannonball-bed")) << editor.told().toStdString();
  for (const char* said : {"these entries go: ", "table height 31 1/4 in", "table length 78 in", "top thickness 1 in"})
    EXPECT_TRUE(editor.design_told().contains(said)) << editor.design_told().toStdString();
  EXPECT_EQ(window().book().sizes(), before);  // chosen is not taken
  ASSERT_TRUE(editor.take()) << editor.told().toStdString();
  EXPECT_EQ(window().book().loaded().design.name, "cannonball");
  EXPECT_GE(model().row_of("mattress_width"), 0);
  EXPECT_EQ(model().row_of("table_height"), -1);
  EXPECT_FALSE(window().book().design_changed());
  wait_for_piece();
  ASSERT_TRUE(type("mattress_width", "60 in"));
  ASSERT_TRUE(window().save(order()));
  const std::string text = file("catalog/orders/harvest-table.yaml");
  EXPECT_NE(text.find("design: cannonball-bed\n"), std::string::npos) << text;
  EXPECT_EQ(text.find("table_height"), std::string::npos) << text;
  EXPECT_NE(text.find("# What this client wants different"), std::string::npos) << text;
  const Sizes bed = window().book().sizes();
  window().book().undo().undo();
  window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), before);
  EXPECT_EQ(shown("top_thickness"), "1\"");
  EXPECT_TRUE(window().isWindowModified());
  wait_for_piece();
  window().book().undo().redo();
  window().book().undo().redo();
  EXPECT_EQ(window().book().sizes(), bed);
  EXPECT_FALSE(window().isWindowModified());
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_EQ(window().book().sizes().columns.front().own, bed.columns.front().own);
}

// A table beside every other family: what stood on the pieces and measures of the one before is no longer there.
TEST_F(OrderItself, EveryDesignOfTheHouseCanBeTheOrders) {
  for (const char* id : {"spade-foot", "trumpet-bed", "bobbin-baluster", "candlestick-lamp", "ringed-column", "farmhouse-vase"}) {
    wait_for_piece();
    OrderEditor editor(window().book(), *files_);
    ASSERT_TRUE(editor.choose_design(id)) << id << editor.told().toStdString();
    ASSERT_TRUE(editor.take()) << id << editor.told().toStdString();
    wait_for_piece();
    window().grab();
  }
  while (window().book().undo().canUndo()) {
    window().book().undo().undo();
    wait_for_piece();
  }
  EXPECT_FALSE(window().isWindowModified());
}

TEST_F(OrderItself, TheChooserShowsTheOrdersDesignFirst) {
  DesignChooser chooser(*files_, window().book().loaded(), nullptr, DesignChooser::For::the_order);
  EXPECT_EQ(chooser.design(), "farmhouse-vase");
  chooser.words().setText("cannonball");
  EXPECT_EQ(chooser.design(), "cannonball-bed");
}

// What was saved stays where it is: undo goes back in what is shown alone.
TEST_F(OrderItself, UndoGoesBackOverADesignThatWasSaved) {
  const std::string order_before = file("catalog/orders/harvest-table.yaml"), design_before = file("catalog/designs/farmhouse-vase.yaml");
  const Sizes first = window().book().sizes();
  ASSERT_TRUE(type("table_height", "33 in"));
  const Sizes typed = window().book().sizes();
  const QString catalogued = shown("table_height", SheetModel::kCatalogueValue);
  ASSERT_TRUE(save_design("farmhouse vase, tall", true));
  const std::string tall = file("catalog/designs/farmhouse-vase-tall.yaml");
  const Sizes saved = window().book().sizes();
  ASSERT_TRUE(type("top_thickness", "1 in"));

  window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), saved);
  window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), typed);
  EXPECT_EQ(window().book().loaded().design.name, "farmhouse vase");
  EXPECT_EQ(shown("table_height", SheetModel::kCatalogueValue), catalogued);
  EXPECT_FALSE(window().book().design_changed());
  EXPECT_TRUE(window().isWindowModified());
  ASSERT_TRUE(window().save(order()));  // of the design that is shown, and nothing is asked
  EXPECT_NE(file("catalog/orders/harvest-table.yaml").find("design: farmhouse-vase\n"), std::string::npos) << file("catalog/orders/harvest-table.yaml");
  window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), first);

  for (int steps = 0; steps < 3; ++steps) window().book().undo().redo();
  EXPECT_FALSE(window().book().undo().canRedo());
  EXPECT_EQ(shown("top_thickness"), "1\"");
  EXPECT_EQ(shown("table_height", SheetModel::kCatalogueValue), "33\"");
  EXPECT_EQ(window().book().loaded().design.name, "farmhouse vase, tall");
  EXPECT_TRUE(window().isWindowModified());
  ASSERT_TRUE(window().save(order()));
  EXPECT_NE(file("catalog/orders/harvest-table.yaml").find("design: farmhouse-vase-tall"), std::string::npos);
  EXPECT_EQ(file("catalog/designs/farmhouse-vase-tall.yaml"), tall);
  EXPECT_EQ(file("catalog/designs/farmhouse-vase.yaml"), design_before);

  // its revision is one of the new design, and that of the old one is the old one's
  ASSERT_TRUE(save_design({}, true));
  EXPECT_NE(file("catalog/designs/farmhouse-vase-tall.yaml").find("revision: 2\n"), std::string::npos) << file("catalog/designs/farmhouse-vase-tall.yaml");
  EXPECT_EQ(file("catalog/designs/earlier/farmhouse-vase-tall.1.yaml"), tall);
  while (window().book().undo().canUndo()) window().book().undo().undo();
  EXPECT_EQ(window().book().sizes(), first);
  ASSERT_TRUE(window().save(order()));
  EXPECT_EQ(file("catalog/orders/harvest-table.yaml"), order_before);
  EXPECT_EQ(file("catalog/designs/farmhouse-vase.yaml"), design_before);
}

TEST_F(OrderItself, ARevisionSavedAgainAfterUndoIsTheNextOne) {
  const std::string second = file("catalog/designs/farmhouse-vase.yaml");
  ASSERT_TRUE(save_design({}, true));
  const std::string third = file("catalog/designs/farmhouse-vase.yaml");
  EXPECT_EQ(file("catalog/designs/earlier/farmhouse-vase.2.yaml"), second);
  EXPECT_EQ(shown("table_height", SheetModel::kCatalogueValue), "31 1/4\"");
  window().book().undo().undo();
  EXPECT_EQ(window().book().sizes().design, second);
  EXPECT_EQ(shown("table_height", SheetModel::kCatalogueValue), "29 1/8\"");  // as it was shown then
  EXPECT_EQ(DesignSaver(window().book(), *files_, family::kOrder).as_revision().text(), "as revision 4 of 'farmhouse vase'; the one before is kept");
  EXPECT_TRUE(window().book().design_changed());  // its height is not what the catalog has now
  EXPECT_TRUE(window().isWindowModified());

  ASSERT_TRUE(save_design({}, false));
  const std::string fourth = file("catalog/designs/farmhouse-vase.yaml");
  EXPECT_EQ(file("catalog/designs/earlier/farmhouse-vase.2.yaml"), second);
  EXPECT_EQ(file("catalog/designs/earlier/farmhouse-vase.3.yaml"), third);
  EXPECT_NE(fourth.find("revision: 4\nrevisions:\n  - {revision: 1,"), std::string::npos) << fourth;
  EXPECT_NE(fourth.find("\n  - {revision: 3, date: "), std::string::npos) << fourth;
  EXPECT_NE(fourth.find("\n  - {revision: 4, date: "), std::string::npos) << fourth;
  EXPECT_NE(fourth.find("\nproven:"), std::string::npos);  // the outline is what it was
  EXPECT_NE(fourth.find("  table_height: 740 mm\n"), std::string::npos) << fourth;
  EXPECT_FALSE(window().book().design_changed());
  EXPECT_EQ(window().book().loaded().design.revision, 4);
  window().book().undo().undo();
  EXPECT_FALSE(window().book().design_changed());  // but for its number that is what the catalog has
  window().book().undo().redo();
  EXPECT_EQ(window().book().sizes().design, fourth);
  EXPECT_EQ(file("catalog/designs/farmhouse-vase.yaml"), fourth);
}

// An outline changed, saved and gone back from is asked about as one that was never saved; a kill costs neither state.
TEST_F(OrderItself, AnOlderOutlineIsUnsavedAndOutlivesAKill) {
  std::string changed = window().book().sizes().design;
  changed.replace(changed.find("{length: 9 mm,"), 14, "{length: 7 mm,");
  ASSERT_TRUE(window().book().write_design("a smaller bead", changed).ok());
  ASSERT_TRUE(save_design({}, false));
  const std::string third = file("catalog/designs/farmhouse-vase.yaml");
  EXPECT_EQ(third.find("\nproven:"), std::string::npos);
  EXPECT_FALSE(window().book().design_changed());
  window().book().undo().undo();
  EXPECT_EQ(window().book().sizes().design, changed);
  EXPECT_FALSE(window().book().design_changed());
  window().book().undo().undo();
  EXPECT_TRUE(window().book().design_changed());
  const std::string shown_then = window().book().sizes().design;
  wait_for_copy();
  kill_session();
  desk_ = std::make_unique<Desk>(std::filesystem::path(), inside("unsaved"));
  ASSERT_TRUE(desk_->open(order()).ok());
  ASSERT_TRUE(window().offer_left_behind());
  window().take_left_behind();
  EXPECT_EQ(window().book().sizes().design, shown_then);
  ASSERT_TRUE(save_design({}, false));
  EXPECT_EQ(file("catalog/designs/earlier/farmhouse-vase.3.yaml"), third);
  EXPECT_NE(file("catalog/designs/farmhouse-vase.yaml").find("revision: 4\n"), std::string::npos);
  EXPECT_NE(file("catalog/designs/farmhouse-vase.yaml").find("{length: 9 mm,"), std::string::npos);
}

// The order that a kill left names a design that its file does not.
TEST_F(OrderItself, AKillAfterADesignWasSavedCostsNothing) {
  ASSERT_TRUE(save_design("farmhouse vase, tall", true));
  wait_for_copy();
  kill_session();
  desk_ = std::make_unique<Desk>(std::filesystem::path(), inside("unsaved"));
  ASSERT_TRUE(desk_->open(order()).ok());
  EXPECT_EQ(window().book().loaded().design.name, "farmhouse vase");
  ASSERT_TRUE(window().offer_left_behind());
  window().take_left_behind();
  EXPECT_EQ(window().book().loaded().design.name, "farmhouse vase, tall");
  EXPECT_FALSE(window().book().design_changed());
  window().book().undo().undo();
  EXPECT_EQ(window().book().loaded().design.name, "farmhouse vase");
}

// Changed by another hand meanwhile: told, and nothing is written over.
TEST_F(OrderItself, ARevisionOfAnotherHandIsNotWrittenOver) {
  ASSERT_TRUE(save_design({}, false));
  const std::string theirs = file("catalog/designs/farmhouse-vase.yaml") + "# theirs\n";
  ASSERT_TRUE(files_->write(inside("catalog/designs/farmhouse-vase.yaml"), theirs).ok());
  window().book().undo().undo();
  EXPECT_FALSE(save_design({}, false));
  EXPECT_EQ(file("catalog/designs/farmhouse-vase.yaml"), theirs);
  EXPECT_FALSE(files_->exists(inside("catalog/designs/earlier/farmhouse-vase.3.yaml")));
}

}  // namespace
}  // namespace pommel::ui
