// My machine and my rates as forms; a house of one's own.
#include <QImage>
#include <QTest>
#include <cstdlib>

#include "ui/models/own_house.h"
#include "ui/opened.h"
#include "ui/views/shop_forms.h"

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
