// My machine and my rates as forms; a house of one's own.
#include <QImage>
#include <QPushButton>
#include <QTest>
#include <cstdlib>
#include <functional>
#include <tuple>

#include "ui/models/own_house.h"
#include "ui/opened.h"
#include "ui/views/shop_forms.h"
#include "ui/views/tones.h"
#include "yaml/document.h"

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
  /// The form of another of the shop's machines.
  std::unique_ptr<ShopForm> form_of(const char* machine) {
    job::Loaded loaded = window().book().loaded();
    loaded.order->machine = machine;
    return std::unique_ptr<ShopForm>(machine_form(shop_, loaded, nullptr));
  }
  const shop::Machine& machine(const char* id) {
    EXPECT_TRUE(window().book().read_shop_again().ok());
    return window().book().loaded().shop.machines.at(id);
  }
  ShopBook shop_{*files_};
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
  const std::unique_ptr<ShopForm> form(machine_form(shop_, window().book().loaded(), nullptr));
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
  const std::unique_ptr<ShopForm> form(machine_form(shop_, window().book().loaded(), nullptr));
  const auto usual_choice = [&](const char* key) { return form->choice(key) && form->choice(key)->currentData().toString().isEmpty() ? form->choice(key)->currentText() : QString("stated"); };
  const auto usual = [&](const char* key) { return form->line(key) ? form->line(key)->text() + "|" + form->line(key)->placeholderText() : QString("left out"); };
  EXPECT_EQ(usual_choice("units"), "as usual: millimetres");
  EXPECT_EQ(form->choice("units")->palette().color(QPalette::ButtonText), tones().inherited);
  EXPECT_EQ(form->line("setting gauge")->palette().color(QPalette::PlaceholderText), tones().inherited);  // whose contrast is held in parts_test.cpp
  EXPECT_EQ(usual("decimals linear"), "3|as usual: 3");
  EXPECT_EQ(usual("setting gauge"), "|as usual: none");
  EXPECT_EQ(usual("largest_file_mb"), "|as usual: no limit");
  EXPECT_EQ(usual_choice("always_point"), "as usual: no");
  EXPECT_EQ(usual_choice("files"), "as usual: one");
  EXPECT_EQ(usual_choice("counting"), "stated");
  EXPECT_EQ(usual("swing"), "200 mm|");  // it must be stated
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  EXPECT_EQ(file("catalog/shop/machines.yaml"), before);  // nothing is stated unasked

  QTest::keyClicks(form->line("largest_file_mb"), "40");
  QTest::keyClicks(form->line("setting gauge"), "5 mm");
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

  const std::unique_ptr<ShopForm> again(machine_form(shop_, window().book().loaded(), nullptr));
  again->line("largest_file_mb")->clear();
  again->line("setting gauge")->clear();
  again->line("decimals linear")->clear();
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
  const std::string path = inside("catalog/shop/machines.yaml").generic_string();
  const auto seen = [](const shop::Machine& m) {
    return std::tuple(m.inches, m.x_decimals, m.rotary_decimals, m.feed_decimals, m.always_point, m.file_a_cutter, m.counting, m.x_word, m.z_word, m.rotary_word);
  };
  for (const char* id : {"rotary-for-y", "rotary-surface-feed"})
    for (const job::ShopKeys& keys : {job::ShopKeys{"units"}, {"decimals", "linear"}, {"decimals", "rotary"}, {"decimals", "feed"}, {"always_point"}, {"files"}, {"counting"}, {"words", "x"}, {"words", "z"}, {"words", "rotary"}}) {
      job::ShopKeys whole{"machines", id};
      whole.insert(whole.end(), keys.begin(), keys.end());
      const std::string without = *job::with_values(file("catalog/shop/machines.yaml"), path, {{whole, std::nullopt}});
      ASSERT_TRUE(files_->write(path, without).ok());
      const shop::Machine unsaid = machine(id);
      const auto form = form_of(id);
      const std::string name = keys.size() > 1 ? keys[0] + " " + keys[1] : keys[0];
      if (QLineEdit* line = form->line(name.c_str())) {
        line->setText(line->placeholderText().section(": ", 1));
      } else {
        QComboBox* box = form->choice(name.c_str());
        ASSERT_TRUE(box) << name;
        ASSERT_EQ(box->currentIndex(), 0) << name;
        ASSERT_GT(box->findText(box->currentText().section(": ", 1)), 0) << name;
        box->setCurrentIndex(box->findText(box->currentText().section(": ", 1)));
      }
      ASSERT_TRUE(form->take()) << form->told().toStdString();
      EXPECT_TRUE(job::value_at(file("catalog/shop/machines.yaml"), path, whole)) << name;
      EXPECT_EQ(seen(machine(id)), seen(unsaid)) << id << " " << name;
    }
}

// Nothing that the file says of a machine is out of the form's reach.
TEST_F(Forms, AllThatTheFileSaysOfAMachineIsInItsForm) {
  const std::string path = inside("catalog/shop/machines.yaml").generic_string();
  Sink sink;
  const auto root = yaml::read(file("catalog/shop/machines.yaml"), path, sink);
  ASSERT_TRUE(root);
  const yaml::Node machines = *root->find("machines");
  std::size_t held = 0;
  for (std::size_t i = 0; i < machines.size(); ++i) {
    const std::string id = machines.key(i).text();
    const auto form = form_of(id.c_str());
    const std::function<void(const yaml::Node&, job::ShopKeys)> walk = [&](const yaml::Node& node, const job::ShopKeys& keys) {
      if (keys == job::ShopKeys{"machines", id, "confirmed"}) return;
      if (const auto entry = form->entries().index_of(keys)) {
        EXPECT_FALSE(form->entries().values().entries[*entry].isEmpty()) << keys.back();
        ++held;
        return;
      }
      ASSERT_FALSE(node.is_scalar()) << id << " " << keys.back() << " is not in the form";
      for (std::size_t k = 0; k < node.size(); ++k) {
        job::ShopKeys below = keys;
        below.push_back(node.is_map() ? node.key(k).text() : std::to_string(k));
        walk(node.is_map() ? node.value(k) : node.item(k), below);
      }
    };
    walk(machines.value(i), {"machines", id});
  }
  EXPECT_GT(held, 200u);
}

TEST_F(Forms, LettersCountingAndProgramLinesOfAMachineAreShownAsTheFileHasThem) {
  const auto lock = form_of("rotary-lock");
  EXPECT_EQ(lock->choice("counting")->currentText(), "up to a limit");
  EXPECT_EQ(lock->line("rotary_limit_turns")->text(), "20");
  EXPECT_EQ(lock->program_lines("lock")->toPlainText(), "M10");
  EXPECT_EQ(lock->program_lines("unlock")->toPlainText(), "M11");
  EXPECT_EQ(lock->program_lines("reset")->toPlainText(), "");
  EXPECT_EQ(lock->program_lines("reset")->placeholderText(), "as usual: none");
  EXPECT_EQ(lock->program_lines("reset")->palette().color(QPalette::PlaceholderText), tones().inherited);
  EXPECT_EQ(lock->program_lines("header")->toPlainText(), "%\nG21 G90 G17 G40 G54\nM11\nT{tool} M6\nS{rpm} M3\nG4 P3");
  const auto modulo = form_of("rotary-modulo");
  EXPECT_EQ(modulo->choice("counting")->currentText(), "anew from 360 degrees");
  for (const auto& [key, letter] : {std::pair{"words x", "Y"}, {"words y", "X"}, {"words z", "Z"}, {"words rotary", "B"}}) EXPECT_EQ(modulo->choice(key)->currentText(), letter);
  EXPECT_EQ(form_of("rotary-inches")->program_lines("reset")->toPlainText(), "G92 {rotary}");
  const auto plain = form_of("rotary-for-y");
  EXPECT_EQ(plain->choice("counting")->currentText(), "as usual: on and on");
  EXPECT_EQ(plain->choice("words y")->currentText(), "as usual: no such axis");
  EXPECT_EQ(plain->line("travel y 0")->placeholderText(), "as usual: no such axis");
  EXPECT_EQ(plain->line("travel y 0")->accessibleName(), "How far the axes go, Y from");
  EXPECT_EQ(plain->line("travel x 1")->accessibleName(), "How far the axes go, X to");
}

TEST_F(Forms, WhatIsWrongStandsBesideItsFieldUntilItIsMended) {
  const std::string before = file("catalog/shop/machines.yaml");
  const auto form = form_of("rotary-for-y");
  const auto refused = [&](const char* key, const char* words) {
    EXPECT_FALSE(form->take()) << words;
    EXPECT_TRUE(form->told_beside(key).contains(words)) << key << ": " << form->told_beside(key).toStdString() << " | " << form->told().toStdString();
    EXPECT_TRUE(form->told().contains(words)) << form->told().toStdString();
  };
  const auto choose = [&](const char* key, const char* id) { form->choice(key)->setCurrentIndex(form->choice(key)->findData(id)); };
  choose("counting", "limited");
  refused("counting", "add rotary_limit_turns");
  form->line("rotary_limit_turns")->setText("1");
  form->program_lines("reset")->setPlainText("G92 {rotary}");
  refused("rotary_limit_turns", "leave 'reset' out");
  EXPECT_EQ(form->told_beside("counting"), "");
  form->line("rotary_limit_turns")->setText("30");
  form->program_lines("reset")->setPlainText("G92 Y0");
  refused("reset", "write {rotary} where the word stands");
  form->program_lines("reset")->setPlainText("G92 {rotary}\nG4 P{second}\n");
  refused("reset", "'{second}' is no field");
  form->program_lines("reset")->setPlainText("G92 {rotary}\nG4 P1\n");
  form->program_lines("lock")->setPlainText("M10");
  refused("lock", "give both 'lock' and 'unlock', or neither");
  form->program_lines("unlock")->setPlainText("M11");
  choose("words x", "Y");
  refused("words x", "give each axis a letter of its own");
  choose("words x", "");
  EXPECT_EQ(file("catalog/shop/machines.yaml"), before);
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  EXPECT_EQ(form->told_beside("words x"), "");
  EXPECT_TRUE(form->told().startsWith("Kept in")) << form->told().toStdString();
  std::string wanted = before;
  const auto change = [&wanted](const std::string& from, const std::string& to) { wanted.replace(wanted.find(from), from.size(), to); };
  change("    words: {x: X, z: Z, rotary: Y}\n", "    words: {z: Z, rotary: Y}\n");
  const std::string last = "    files: one a cutter           # no tool change: the rotary stands in the way of the rack\n";
  change(last, last + "    unlock: [M11]\n    lock: [M10]\n    reset: ['G92 {rotary}', G4 P1]\n    rotary_limit_turns: 30\n    counting: limited\n");
  std::string now = file("catalog/shop/machines.yaml");
  for (const char* line : {"    counting: limited\n", "    rotary_limit_turns: 30\n", "    reset: ['G92 {rotary}', G4 P1]\n", "    lock: [M10]\n", "    unlock: [M11]\n"})  // in any order
    for (std::string* text : {&now, &wanted}) {
      const std::size_t at = text->find(line, text->find("  rotary-for-y:"));
      ASSERT_LT(at, text->find("  rotary-inches:")) << line << *text;
      text->erase(at, std::string(line).size());
    }
  EXPECT_EQ(now, wanted);
  const shop::Machine& made = machine("rotary-for-y");
  EXPECT_EQ(made.counting, shop::Machine::Counting::limited);
  EXPECT_EQ(made.reset, (std::vector<std::string>{"G92 {rotary}", "G4 P1"}));
  EXPECT_EQ(made.lock, std::vector<std::string>{"M10"});
  EXPECT_EQ(made.unlock, std::vector<std::string>{"M11"});

  const auto again = form_of("rotary-for-y");
  for (const char* key : {"reset", "lock", "unlock"}) again->program_lines(key)->clear();
  again->line("rotary_limit_turns")->clear();
  again->choice("counting")->setCurrentIndex(0);
  again->choice("words x")->setCurrentIndex(again->choice("words x")->findData("X"));
  ASSERT_TRUE(again->take()) << again->told().toStdString();
  now = file("catalog/shop/machines.yaml");
  now.replace(now.find("{z: Z, rotary: Y, x: X}"), 23, "{x: X, z: Z, rotary: Y}");
  EXPECT_EQ(now, before);
}

TEST_F(Forms, AProgramLineIsChangedWhereItStands) {
  const std::string path = "catalog/shop/machines.yaml";
  std::string before = file(path.c_str());
  before.replace(before.find("      - \"G4 P4\"\n"), 15, "      - \"G4 P4\"   # the spindle comes up\n");
  ASSERT_TRUE(files_->write(inside(path.c_str()), before).ok());
  const auto form = form_of("rotary-degrees");
  form->program_lines("header")->setPlainText("%\nG21 G90 G17 G40 G54\nM7\nM6 T{tool}\nS{rpm} M3\nG4 P6");
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  before.replace(before.find("      - \"M6 T{tool}\"\n"), 0, "      - M7\n");
  before.replace(before.find("\"G4 P4\""), 7, "'G4 P6'");
  EXPECT_EQ(file(path.c_str()), before);
}

TEST_F(Forms, AMachineIsGivenASidewaysAxisAndLosesIt) {
  const std::string before = file("catalog/shop/machines.yaml");
  const auto form = form_of("rotary-inches");
  form->choice("words y")->setCurrentIndex(form->choice("words y")->findData("Y"));
  EXPECT_FALSE(form->take());
  EXPECT_TRUE(form->told_beside("travel y 0").contains("this travel has no 'y'")) << form->told().toStdString();
  EXPECT_TRUE(form->told_beside("rapid y").contains("this rapid has no 'y'")) << form->told().toStdString();
  form->line("travel y 0")->setText("-3 in");
  form->line("travel y 1")->setText("3 in");
  form->line("rapid y")->setText("300 in");
  form->line("acceleration y")->setText("25 in");
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  EXPECT_TRUE(machine("rotary-inches").has_free_y());
  EXPECT_DOUBLE_EQ(machine("rotary-inches").y_max, 76.2);
  for (const char* key : {"travel y 0", "travel y 1", "rapid y", "acceleration y"}) form->line(key)->clear();
  form->choice("words y")->setCurrentIndex(0);
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  EXPECT_EQ(file("catalog/shop/machines.yaml"), before);
}

TEST_F(Forms, AWrongFigureIsToldAndNothingIsWritten) {
  const std::string before = file("catalog/shop/rates.yaml");
  const std::unique_ptr<ShopForm> form(rates_form(shop_, window().book().loaded(), nullptr, nullptr));
  form->line("shop_hour")->setText("many");
  EXPECT_FALSE(form->take());
  EXPECT_TRUE(form->told().contains("many")) << form->told().toStdString();
  EXPECT_EQ(file("catalog/shop/rates.yaml"), before);
}

TEST_F(Forms, OwnRatesChangeThePriceAndTheExampleGoes) {
  settle();
  const QString before = shown("price");
  const auto followed = window().state_of(family::kOrder).followed;
  const std::unique_ptr<ShopForm> form(rates_form(shop_, window().book().loaded(), &followed->quote, nullptr));
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

// Letters go to the field that has the keys, and so do the keys of undo; both are the form's.
class UndoneForms : public Forms {
 protected:
  static void keys(ShopForm& form, const QString& letters) { QTest::keyClicks(form.focusWidget(), letters); }
  static void into(ShopForm& form, QWidget* field) {
    field->setFocus();
    ASSERT_EQ(form.focusWidget(), field);
    if (auto* line = qobject_cast<QLineEdit*>(field)) line->selectAll();
  }
  static void open(ShopForm& form) {
    form.show();
    form.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&form));
  }
  static void undo(ShopForm& form) { QTest::keyClick(form.focusWidget(), Qt::Key_Z, Qt::ControlModifier); }
  static void redo(ShopForm& form) { QTest::keyClick(form.focusWidget(), Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier); }
};

TEST_F(UndoneForms, EachFieldIsAStepAndShowsItself) {
  const auto form = form_of("rotary-degrees");
  open(*form);
  form->confirmed().setChecked(true);
  into(*form, form->line("swing"));
  keys(*form, "180 mm");
  into(*form, form->line("jaw_swing"));
  keys(*form, "5");
  keys(*form, "5 mm");
  form->choice("units")->setCurrentIndex(2);
  into(*form, form->program_lines("lock"));
  keys(*form, "M10");
  EXPECT_EQ(form->entries().undo().count(), 5);
  const auto seen = [&] { return QStringList{form->line("swing")->text(), form->line("jaw_swing")->text(), form->choice("units")->currentData().toString(), form->program_lines("lock")->toPlainText()}.join(u'|'); };
  EXPECT_EQ(seen(), "180 mm|55 mm|inches|M10");
  undo(*form);
  EXPECT_EQ(seen(), "180 mm|55 mm|inches|");
  EXPECT_EQ(form->focusWidget(), form->program_lines("lock"));
  undo(*form);
  EXPECT_EQ(seen(), "180 mm|55 mm||");
  EXPECT_EQ(form->focusWidget(), form->choice("units"));
  EXPECT_EQ(form->choice("units")->currentText(), "as usual: millimetres");
  undo(*form);
  EXPECT_EQ(seen(), "180 mm|60 mm||");
  EXPECT_EQ(form->focusWidget(), form->line("jaw_swing"));
  EXPECT_FALSE(form->confirmed().isChecked());
  undo(*form);
  EXPECT_EQ(seen(), "200 mm|60 mm||");
  EXPECT_TRUE(form->confirmed().isChecked());  // these figures were confirmed
  undo(*form);
  EXPECT_FALSE(form->confirmed().isChecked());
  undo(*form);  // nothing is before it: not the field's own undo either
  EXPECT_EQ(seen(), "200 mm|60 mm||");
  for (int i = 0; i < 5; ++i) redo(*form);
  EXPECT_EQ(seen(), "180 mm|55 mm|inches|M10");
  EXPECT_FALSE(form->confirmed().isChecked());
  redo(*form);
  EXPECT_EQ(seen(), "180 mm|55 mm|inches|M10");
}

TEST_F(UndoneForms, LettersAfterAnUndoneStepAreAStepOfTheirOwn) {
  const auto form = form_of("rotary-degrees");
  open(*form);
  into(*form, form->line("swing"));
  keys(*form, "180 mm");
  form->choice("units")->setCurrentIndex(2);
  undo(*form);
  into(*form, form->line("swing"));
  keys(*form, "190 mm");
  undo(*form);
  EXPECT_EQ(form->line("swing")->text(), "180 mm");
  undo(*form);
  EXPECT_EQ(form->line("swing")->text(), "200 mm");
  // typed and taken back by hand is no step
  into(*form, form->line("keep_out"));
  form->line("keep_out")->end(false);
  keys(*form, "5");
  QTest::keyClick(form->line("keep_out"), Qt::Key_Backspace);
  EXPECT_FALSE(form->entries().undo().canUndo());
}

TEST_F(UndoneForms, SavingAndOpeningAgainLoseNoStep) {
  const std::string before = file("catalog/shop/machines.yaml");
  {
    const auto form = form_of("rotary-degrees");
    open(*form);
    into(*form, form->line("swing"));
    keys(*form, "180 mm");
    ASSERT_TRUE(form->take()) << form->told().toStdString();
    keys(*form, "5");  // in the same field: a step since the file was written
    undo(*form);
    EXPECT_EQ(form->line("swing")->text(), "180 mm");
    into(*form, form->line("jaw_swing"));
    keys(*form, "55 mm");
    form->reject();
    EXPECT_EQ(form->line("jaw_swing")->text(), "60 mm");
  }
  EXPECT_NE(file("catalog/shop/machines.yaml"), before);
  const auto form = form_of("rotary-degrees");
  open(*form);
  EXPECT_EQ(form->line("swing")->text(), "180 mm");
  EXPECT_EQ(form->line("jaw_swing")->text(), "60 mm");
  into(*form, form->line("swing"));
  undo(*form);
  EXPECT_EQ(form->line("jaw_swing")->text(), "55 mm");  // what was given up
  undo(*form);
  undo(*form);
  EXPECT_EQ(form->line("swing")->text(), "200 mm");
  ASSERT_TRUE(form->take()) << form->told().toStdString();
  EXPECT_EQ(file("catalog/shop/machines.yaml"), before);
  redo(*form);
  EXPECT_EQ(form->line("swing")->text(), "180 mm");

  // of another's file there is nothing to undo
  ASSERT_TRUE(files_->write(inside("catalog/shop/machines.yaml"), "# ours\n" + before).ok());
  const auto other = form_of("rotary-degrees");
  EXPECT_EQ(other->line("swing")->text(), "200 mm");
  EXPECT_FALSE(other->entries().undo().canUndo());
  EXPECT_FALSE(other->entries().undo().canRedo());
}

TEST_F(UndoneForms, TheButtonsSayWhatTheyUndo) {
  const std::unique_ptr<ShopForm> form(rates_form(shop_, window().book().loaded(), nullptr, nullptr));
  open(*form);
  QPushButton *undo = nullptr, *redo = nullptr;
  for (QPushButton* one : form->findChildren<QPushButton*>()) {
    if (one->text() == "Undo") undo = one;
    if (one->text() == "Redo") redo = one;
  }
  ASSERT_TRUE(undo && redo);
  EXPECT_FALSE(undo->isEnabled());
  into(*form, form->line("shop_hour"));
  keys(*form, "91.00");
  EXPECT_TRUE(undo->isEnabled());
  EXPECT_EQ(undo->toolTip(), "Undo The hour, shop hour");
  undo->click();
  EXPECT_NE(form->line("shop_hour")->text(), "91.00");
  EXPECT_FALSE(undo->isEnabled());
  redo->click();
  EXPECT_EQ(form->line("shop_hour")->text(), "91.00");
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
