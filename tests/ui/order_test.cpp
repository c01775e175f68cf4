// The order itself and its design, changed and saved in the window.
#include "ui/opened.h"
#include "ui/views/design_saver.h"
#include "ui/views/order_editor.h"

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
};

TEST_F(OrderItself, IsEditedAsOneStepWithItsCommentsKept) {
  OrderEditor editor(window().book());
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
  OrderEditor editor(window().book());
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

}  // namespace
}  // namespace pommel::ui
