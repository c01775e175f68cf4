// My machine and my rates as forms; a house of one's own.
#include <QImage>
#include <QTest>
#include <cstdlib>
#include <string_view>
#include <tuple>

#include "ui/models/own_house.h"
#include "ui/opened.h"
#include "ui/views/shop_forms.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

class Forms : public Opened {
 protected:
  // a shop of its own, so that it may be written
  void SetUp() override {
    Opened::SetUp();
    namespace fs = std::filesystem;
    desk_.reset();
    fs::remove(inside("catalog/shop"));
    fs::copy(fs::path(POMMEL_SOURCE_DIR) / "catalog/shop", inside("catalog/shop"), fs::copy_options::recursive);
    desk_ = std::make_unique<Desk>(fs::path(), inside("unsaved"));
    ASSERT_TRUE(desk_->open(order()).ok());
  }
  std::string file(const char* name) { return *files_->read(inside(name)); }
  void keep(QWidget& form, const char* name) {
    form.show();
    QCoreApplication::processEvents();
    if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
      EXPECT_TRUE(form.grab().save(QString::fromLocal8Bit(folder) + "/" + name + ".png"));
    }
  }
};

TEST_F(Forms, AFigureOfTheMachineIsKeptWithItsCommentsAndConfirmedByAnActOfItsOwn) {
  const std::unique_ptr<ShopForm> form(machine_form(*files_, window().book().loaded(), nullptr));
  ASSERT_TRUE(form->line("swing"));
  EXPECT_FALSE(form->confirmed().isChecked());
  form->line("swing")->setFocus();
  keep(*form, "machine");
  form->line("swing")->selectAll();
  QTest::keyClicks(form->line("swing"), "180 mm");
  form->confirmed().setChecked(true);
  QTest::keyClicks(form->line("jaw_swing"), " ");  // another figure after confirming takes it back
  EXPECT_FALSE(form->confirmed().isChecked());
  form->confirmed().setChecked(true);
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  const std::string text = file("catalog/shop/machines.yaml");
  EXPECT_NE(text.find("    swing: 180 mm\n"), std::string::npos);
  EXPECT_NE(text.find("# farthest a chuck jaw reaches from the axis"), std::string::npos);
  EXPECT_NE(text.find("    confirmed: yes\n"), std::string::npos);
  ASSERT_TRUE(window().book().read_shop_again().ok());
  EXPECT_DOUBLE_EQ(job::machine_of(window().book().loaded())->max_swing, 180);
  EXPECT_TRUE(job::machine_of(window().book().loaded())->confirmed);
}

// What holds where the file says nothing is shown and is no entry; typed it is one, emptied it is none again.
TEST_F(Forms, WhatIsUsualStandsDimAndIsStatedByTyping) {
  const std::string before = file("catalog/shop/machines.yaml");
  const std::unique_ptr<ShopForm> form(machine_form(*files_, window().book().loaded(), nullptr));
  const auto usual = [&](const char* key) { return form->line(key) ? form->line(key)->text() + "|" + form->line(key)->placeholderText() : QString("left out"); };
  EXPECT_EQ(usual("units"), "|as usual: mm");
  EXPECT_EQ(form->line("units")->palette().color(QPalette::PlaceholderText), tones().inherited);  // whose contrast is held in parts_test.cpp
  EXPECT_EQ(usual("linear"), "3|as usual: 3");
  EXPECT_EQ(usual("gauge"), "|as usual: none");
  EXPECT_EQ(usual("largest_file_mb"), "|as usual: no limit");
  EXPECT_EQ(usual("always_point"), "|as usual: no");
  EXPECT_EQ(usual("files"), "|as usual: one");
  EXPECT_EQ(usual("swing"), "200 mm|");  // it must be stated
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  EXPECT_EQ(file("catalog/shop/machines.yaml"), before);  // nothing is stated unasked

  QTest::keyClicks(form->line("largest_file_mb"), "40");
  QTest::keyClicks(form->line("gauge"), "5 mm");
  form->line("blocks_per_second")->clear();
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  std::string wanted = before;
  const auto change = [&wanted](const std::string& from, const std::string& to) { wanted.replace(wanted.find(from), from.size(), to); };
  change("    blocks_per_second: 1000\n", "");
  change("height: 40 mm}   # above the rotary axis\n", "height: 40 mm, gauge: 5 mm}   # above the rotary axis\n    largest_file_mb: 40\n");
  EXPECT_EQ(file("catalog/shop/machines.yaml"), wanted);
  ASSERT_TRUE(window().book().read_shop_again().ok());
  const shop::Machine& now = *job::machine_of(window().book().loaded());
  EXPECT_DOUBLE_EQ(now.largest_file, 40e6);
  EXPECT_DOUBLE_EQ(now.setting_gauge, 5);
  EXPECT_DOUBLE_EQ(now.blocks_per_second, 0);

  const std::unique_ptr<ShopForm> again(machine_form(*files_, window().book().loaded(), nullptr));
  again->line("largest_file_mb")->clear();
  again->line("gauge")->clear();
  again->line("linear")->clear();
  again->line("swing")->clear();  // nothing is usual of it
  EXPECT_FALSE(again->take());
  EXPECT_TRUE(again->told().contains("What it holds, swing (diameter)")) << again->told().toStdString();
  again->line("swing")->setText("200 mm");
  ASSERT_TRUE(again->take()) << again->told().toStdString();
  wanted = before;
  change("    blocks_per_second: 1000\n", "");
  change("decimals: {linear: 3, rotary: 3, feed: 4}", "decimals: {rotary: 3, feed: 4}");
  EXPECT_EQ(file("catalog/shop/machines.yaml"), wanted);
}

// What the form calls usual is what the reader takes: stated in the file it changes nothing of the machine.
TEST_F(Forms, WhatIsCalledUsualIsWhatTheReaderTakes) {
  const auto machine = [this] { return *job::machine_of(window().book().loaded()); };
  const std::string path = inside("catalog/shop/machines.yaml").generic_string();
  for (const char* key : {"units", "linear", "rotary", "feed", "always_point", "files"}) {
    const bool decimals = std::string_view("linear rotary feed").find(key) != std::string_view::npos;
    const job::ShopKeys keys = decimals ? job::ShopKeys{"machines", "rotary-degrees", "decimals", key} : job::ShopKeys{"machines", "rotary-degrees", key};
    const std::string without = *job::with_values(file("catalog/shop/machines.yaml"), path, {{keys, std::nullopt}});
    ASSERT_TRUE(files_->write(path, without).ok());
    ASSERT_TRUE(window().book().read_shop_again().ok());
    const shop::Machine unsaid = machine();
    const std::unique_ptr<ShopForm> form(machine_form(*files_, window().book().loaded(), nullptr));
    const QString usual = form->line(key)->placeholderText().section(": ", 1);
    form->line(key)->setText(usual);
    ASSERT_TRUE(form->take()) << form->told().toStdString();
    EXPECT_EQ(job::value_at(file("catalog/shop/machines.yaml"), path, keys), usual.toStdString());
    ASSERT_TRUE(window().book().read_shop_again().ok());
    EXPECT_EQ(std::tuple(machine().inches, machine().x_decimals, machine().rotary_decimals, machine().feed_decimals, machine().always_point, machine().file_a_cutter),
              std::tuple(unsaid.inches, unsaid.x_decimals, unsaid.rotary_decimals, unsaid.feed_decimals, unsaid.always_point, unsaid.file_a_cutter))
        << key;
  }
}

TEST_F(Forms, AWrongFigureIsToldAndNothingIsWritten) {
  const std::string before = file("catalog/shop/rates.yaml");
  const std::unique_ptr<ShopForm> form(rates_form(*files_, window().book().loaded(), nullptr, nullptr));
  form->line("shop_hour")->setText("many");
  EXPECT_FALSE(form->take());
  EXPECT_TRUE(form->told().contains("many")) << form->told().toStdString();
  EXPECT_EQ(file("catalog/shop/rates.yaml"), before);
}

TEST_F(Forms, OwnRatesChangeThePriceAndTheExampleGoes) {
  settle();
  const QString before = shown("price");
  const auto followed = window().state_of(family::kOrder).followed;
  const std::unique_ptr<ShopForm> form(rates_form(*files_, window().book().loaded(), &followed->quote, nullptr));
  form->line("shop_hour")->setFocus();
  keep(*form, "rates");
  form->line("shop_hour")->setText("136.00");
  form->confirmed().setChecked(true);
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  ASSERT_TRUE(window().book().read_shop_again().ok());
  EXPECT_EQ(shown("price"), QStringLiteral("…"));
  settle();
  EXPECT_NE(shown("price"), before);
  EXPECT_TRUE(window().state_of(family::kOrder).followed->quote.confirmed);
}

TEST_F(Forms, AHouseOfOnesOwnIsCopiedOnce) {
  const std::filesystem::path source = POMMEL_SOURCE_DIR, own = inside("own");
  ASSERT_TRUE(make_own_house(*files_, source, own).ok());
  EXPECT_TRUE(files_->exists(own / "catalog/orders/harvest-table.yaml"));
  EXPECT_TRUE(files_->exists(own / "templates/table-leg.yaml"));
  ASSERT_TRUE(files_->write(own / "catalog/shop/rates.yaml", "mine\n").ok());
  ASSERT_TRUE(make_own_house(*files_, source, own).ok());
  EXPECT_EQ(*files_->read(own / "catalog/shop/rates.yaml"), "mine\n");  // never written over
  // where none came with the tool none is made: an empty one would stand in the way of the next start
  const auto none = make_own_house(*files_, inside("nothing-here"), inside("own2"));
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.reasons().front().id, "ui.no-house");
  EXPECT_TRUE(files_->list(inside("own2")).empty());
}

}  // namespace
}  // namespace pommel::ui
