// What the window looks like in the sizes and lights that people have. With POMMEL_PICTURES=FOLDER the pictures are kept for looking at.
#include <QAbstractButton>
#include <QAbstractItemView>
#include <QAction>
#include <QComboBox>
#include <QFontInfo>
#include <QImage>
#include <QLocale>
#include <QPalette>
#include <QScrollArea>
#include <QScrollBar>
#include <QStyleFactory>
#include <QStyleOptionComboBox>
#include <QTest>
#include <QTranslator>
#include <set>

#include "ui/opened.h"
#include "ui/views/choice_box.h"
#include "ui/views/design_chooser.h"
#include "ui/views/kept_picture.h"
#include "ui/views/order_editor.h"
#include "ui/views/shop_forms.h"

namespace pommel::ui {
namespace {

class Pictures : public Opened {
 protected:
  QImage picture(const char* name) { return picture(name, window()); }
  QImage picture(const char* name, QWidget& of) {
    QCoreApplication::processEvents();
    const QImage image = of.grab().toImage();
    if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
      EXPECT_TRUE(image.save(QString::fromLocal8Bit(folder) + "/" + name + ".png"));
    }
    return image;
  }

  // How many different colours a widget shows: an empty one has one or two.
  static std::size_t colours(QWidget& widget) {
    const QImage image = widget.grab().toImage();
    std::set<QRgb> seen;
    for (int y = 0; y < image.height(); y += 2)
      for (int x = 0; x < image.width(); x += 2) seen.insert(image.pixel(x, y));
    return seen.size();
  }

  static QPalette dark() {
    QPalette out(QColor(0x2b, 0x2b, 0x2b));
    out.setColor(QPalette::Base, QColor(0x1e, 0x1e, 0x1e));
    out.setColor(QPalette::Text, Qt::white);
    out.setColor(QPalette::WindowText, Qt::white);
    out.setColor(QPalette::ButtonText, Qt::white);
    return out;
  }

  // Letters twice as large, until it goes.
  struct TwiceAsLarge {
    TwiceAsLarge() {
      QFont large = usual;
      large.setPointSizeF(usual.pointSizeF() * 2);
      QApplication::setFont(large);
    }
    ~TwiceAsLarge() { QApplication::setFont(usual); }
    const QFont usual = QApplication::font();
  };

  // Every caption and button is as wide as its words, and nothing is to be scrolled sideways.
  static void expect_all_words_have_room(QWidget& of, const std::string& where) {
    for (const QLabel* label : of.findChildren<QLabel*>()) {
      if (!label->isVisible() || label->text().isEmpty()) continue;
      EXPECT_GE(label->height(), label->wordWrap() ? label->heightForWidth(label->width()) : label->minimumSizeHint().height()) << where << ": " << label->text().toStdString();
      EXPECT_GE(label->width(), label->minimumSizeHint().width()) << where << ": " << label->text().toStdString();
    }
    for (const QAbstractButton* button : of.findChildren<QAbstractButton*>()) {
      if (!button->isVisible() || button->text().isEmpty()) continue;
      EXPECT_GE(button->width(), button->minimumSizeHint().width()) << where << ": " << button->text().toStdString();
    }
    for (const QComboBox* box : of.findChildren<QComboBox*>()) {
      if (!box->isVisible()) continue;
      QStyleOptionComboBox option;
      option.initFrom(box);
      const int room = box->style()->subControlRect(QStyle::CC_ComboBox, &option, QStyle::SC_ComboBoxEditField, box).width();
      EXPECT_GE(room, box->fontMetrics().horizontalAdvance(box->currentText().left(ChoiceBox::kShownLetters))) << where << ": " << box->currentText().toStdString();
    }
    for (const QScrollArea* area : of.findChildren<QScrollArea*>()) {
      if (!area->isVisible()) continue;
      EXPECT_EQ(area->horizontalScrollBar()->maximum(), 0) << where << ": " << area->accessibleName().toStdString();
    }
  }

  // Every label has the room that its text asks for.
  void expect_no_label_cut() {
    for (const QLabel* label : window().findChildren<QLabel*>()) {
      if (!label->isVisible() || label->text().isEmpty()) continue;
      EXPECT_GE(label->height(), label->wordWrap() ? label->heightForWidth(label->width()) : label->minimumSizeHint().height()) << label->text().toStdString();
    }
  }
};

TEST_F(Pictures, AllStripsAndThePicturesShowSomething) {
  for (const auto& [width, height] : {std::pair{1280, 800}, {1920, 1080}}) {
    window().resize(width, height);
    settle();
    for (QAction* action : window().findChildren<QAction*>())
      if (action->isCheckable() && !action->actionGroup() && !action->isChecked()) action->trigger();
    picture(width == 1280 ? "strips-1280" : "strips-1920");
    expect_no_label_cut();
    for (AxisStrip* strip : window().findChildren<AxisStrip*>()) {
      EXPECT_TRUE(strip->isVisible()) << strip->accessibleName().toStdString();
      EXPECT_GT(colours(*strip), 8u) << strip->accessibleName().toStdString();
    }
    EXPECT_GT(colours(*window().findChild<StandingView*>()), 8u);
  }
  ProgramView& program = window().open_program();
  program.go_to_line(400);
  picture("program", program);
  EXPECT_FALSE(program.told().isEmpty());
}

TEST_F(Pictures, DesignsAreShownWithTheirPieces) {
  DesignChooser chooser(*files_, window().book().loaded());
  chooser.show();
  picture("designs", chooser);
  for (int i = 0; i < chooser.designs().count(); ++i) EXPECT_FALSE(chooser.designs().item(i)->icon().isNull()) << chooser.designs().item(i)->text().toStdString();
}

TEST_F(Pictures, EveryWidgetThatTakesKeysHasAName) {
  for (const QWidget* widget : window().findChildren<QWidget*>()) {
    if (!widget->isVisible() || !(widget->focusPolicy() & Qt::TabFocus) || !widget->parentWidget()) continue;
    const QString type = widget->metaObject()->className();
    if (type.startsWith("Q") && type != "QTableView" && type != "QLineEdit" && type != "QComboBox" && type != "QPlainTextEdit") continue;
    EXPECT_FALSE(widget->accessibleName().isEmpty()) << type.toStdString();
  }
}

TEST_F(Pictures, DarkAndTwiceAsLarge) {
  wait_for_piece();
  const QPalette light = QApplication::palette();
  const QFont usual = QApplication::font();
  QApplication::setPalette(dark());
  ASSERT_TRUE(type("square", "31 cats"));
  picture("dark");
  expect_no_label_cut();
  QApplication::setPalette(light);
  QFont large = usual;
  large.setPointSizeF(usual.pointSizeF() * 2);
  QApplication::setFont(large);
  ASSERT_TRUE(desk_->open(order()).ok());
  window().resize(1920, 1080);
  wait_for_piece();
  picture("large");
  expect_no_label_cut();
  QApplication::setFont(usual);
}

// Each in the light, in the dark and with letters twice as large, on a small screen: what has no room is scrolled to, and nothing is cut off.
TEST_F(Pictures, TheFormsInEveryLight) {
  wait_for_piece();
  const QPalette light = QApplication::palette();
  const QFont usual = QApplication::font();
  const auto show = [&](const char* name) {
    OrderEditor order(window().book(), *files_);
    ASSERT_TRUE(order.choose_design("cannonball-bed"));
    DesignChooser chooser(*files_, window().book().loaded(), nullptr, DesignChooser::For::the_order);
    ShopBook shop(*files_);
    const std::unique_ptr<ShopForm> machine(machine_form(shop, window().book().loaded(), nullptr)), rates(rates_form(shop, window().book().loaded(), nullptr, nullptr));
    for (const auto& [what, form] : {std::pair<const char*, QDialog*>{"order", &order}, {"chooser", &chooser}, {"machine", machine.get()}, {"rates", rates.get()}}) {
      form->resize(form->size().expandedTo(QSize(960, 760)).boundedTo(QSize(1280, 800)));
      form->show();
      picture((std::string("form-") + what + "-" + name).c_str(), *form);
      EXPECT_LE(form->width(), 1280) << what << name;
      EXPECT_LE(form->height(), 800) << what << name;
    }
    EXPECT_GT(colours(order), 8u);
  };
  show("light");
  QApplication::setPalette(dark());
  show("dark");
  QApplication::setPalette(light);
  QFont large = usual;
  large.setPointSizeF(usual.pointSizeF() * 2);
  QApplication::setFont(large);
  show("large");
  QApplication::setFont(usual);
}

TEST_F(Pictures, TwiceAsLargeTheWindowHasRoomForItsWords) {
  const TwiceAsLarge large;
  ASSERT_TRUE(desk_->open(order()).ok());
  for (const auto& [width, height] : {std::pair{1280, 800}, {1920, 1080}}) {
    const std::string name = "large-" + std::to_string(width);
    window().resize(width, height);
    settle();
    picture((name + "-first").c_str());
    EXPECT_EQ(window().size(), QSize(width, height)) << "it does not go on that screen";
    expect_all_words_have_room(window(), name);
    for (QAction* action : window().findChildren<QAction*>())
      if (action->isCheckable() && !action->actionGroup() && !action->isChecked()) action->trigger();
    picture(name.c_str());
    EXPECT_EQ(window().size(), QSize(width, height)) << "with all strips it does not go on that screen";
    expect_all_words_have_room(window(), name);
    EXPECT_EQ(window().grid().horizontalScrollBar()->maximum(), 0) << name;  // names, catalogue and this order side by side
    for (AxisStrip* strip : window().findChildren<AxisStrip*>()) picture((name + "-strip-" + strip->accessibleName().left(9).toStdString()).c_str(), *strip);
  }
  ProgramView& program = window().open_program();
  picture("large-program", program);
  expect_all_words_have_room(program, "program");
  for (const QAbstractItemView* list : program.findChildren<QAbstractItemView*>()) EXPECT_GE(QFontInfo(list->font()).pixelSize(), QFontInfo(QApplication::font()).pixelSize()) << list->accessibleName().toStdString();
}

// On a screen 1280 wide, in both languages: German words are longer.
TEST_F(Pictures, TwiceAsLargeNoFormIsScrolledSideways) {
  wait_for_piece();
  const TwiceAsLarge large;
  QTranslator german;
  ASSERT_TRUE(german.load(QLocale(QLocale::German), "pommel", "_", ":/translations"));
  for (const char* language : {"en", "de"}) {
    if (language == std::string_view("de")) QCoreApplication::installTranslator(&german);
    OrderEditor order(window().book(), *files_);
    DesignChooser chooser(*files_, window().book().loaded(), nullptr, DesignChooser::For::the_order);
    ShopBook shop(*files_);
    const std::unique_ptr<ShopForm> machine(machine_form(shop, window().book().loaded(), nullptr)), rates(rates_form(shop, window().book().loaded(), nullptr, nullptr));
    for (const auto& [what, form] : {std::pair<const char*, QDialog*>{"order", &order}, {"chooser", &chooser}, {"machine", machine.get()}, {"rates", rates.get()}}) {
      const std::string name = std::string("wide-") + what + "-" + language;
      form->resize(1280, 800);
      form->show();
      picture(name.c_str(), *form);
      EXPECT_EQ(form->size(), QSize(1280, 800)) << name;
      expect_all_words_have_room(*form, name);
      if (auto* scroll = form->findChild<QScrollArea*>()) {
        scroll->verticalScrollBar()->setValue(scroll->verticalScrollBar()->maximum());
        picture((name + "-foot").c_str(), *form);
      }
    }
  }
  QCoreApplication::removeTranslator(&german);
}

// A keystroke shows piece and frames of before it once more, as out of date. To find out how they look and to paint them was nearly all that it cost.
TEST_F(Pictures, AKeystrokePaintsNothingOfBeforeAnew) {
  window().resize(1280, 800);
  settle();
  auto& view = *window().findChild<StandingView*>();
  auto& elevation = *window().findChild<Elevation*>();
  view.grab();
  elevation.grab();
  const std::size_t found = view.found_out(), frames = view.painted(), pieces = elevation.painted();
  EXPECT_GE(found, 4u);
  ASSERT_TRUE(type("table_height", "33 in"));
  const QImage before = view.grab().toImage(), piece = elevation.grab().toImage();
  EXPECT_EQ(view.found_out(), found);
  EXPECT_EQ(view.painted(), frames);
  EXPECT_EQ(elevation.painted(), pieces);
  wait_for_piece();
  EXPECT_NE(view.grab().toImage(), before);  // no longer "before the last change"
  EXPECT_NE(elevation.grab().toImage(), piece);
  EXPECT_EQ(view.found_out(), found);  // as many of the new piece, none of the catalogue's
  EXPECT_GT(view.painted(), frames);
  EXPECT_GT(elevation.painted(), pieces);
}

// The hairline goes over the strips at each move of the mouse.
TEST_F(Pictures, TheHairlinePaintsNoPieceAnew) {
  window().resize(1280, 800);
  settle();
  auto& elevation = *window().findChild<Elevation*>();
  const QImage without = elevation.grab().toImage();
  const std::size_t pieces = elevation.painted();
  for (int x = 100; x < 900; x += 100) {
    QTest::mouseMove(&elevation, QPoint(x, 60));
    EXPECT_NE(elevation.grab().toImage(), without);
  }
  EXPECT_EQ(elevation.painted(), pieces);
}

TEST(KeptPicture, LooksAsIfItWerePaintedEachTime) {
  const auto paint = [](QPainter& painter, paper::Voice voice) {
    painter.setPen(QPen(paper::voiced(paper::tone::ink, voice), 3));
    painter.setBrush(paper::voiced(paper::tone::wood_edge, voice));
    painter.drawEllipse(QRectF(10.3, 12.7, 60, 30));
  };
  const auto ground = [](QImage& image, qreal ratio) {
    image.setDevicePixelRatio(ratio);
    image.fill(paper::tone::paper);
  };
  KeptPicture<int> kept;
  for (const qreal ratio : {1.0, 1.5, 2.0})
    for (const paper::Voice voice : {paper::Voice::full, paper::Voice::light, paper::Voice::full}) {
      const QSize size(90, 60);
      QImage direct(size * ratio, QImage::Format_ARGB32_Premultiplied), shown = direct;
      ground(direct, ratio);
      ground(shown, ratio);
      QPainter on_direct(&direct), on_shown(&shown);
      on_direct.setRenderHint(QPainter::Antialiasing);
      on_shown.setRenderHint(QPainter::Antialiasing);
      paint(on_direct, voice);
      kept.show(on_shown, size, 7, voice, [&](QPainter& on) { paint(on, paper::Voice::full); });
      int worst = 0;
      for (int y = 0; y < direct.height(); ++y)
        for (int x = 0; x < direct.width(); ++x) {
          const QColor a = direct.pixelColor(x, y), b = shown.pixelColor(x, y);
          worst = std::max({worst, std::abs(a.red() - b.red()), std::abs(a.green() - b.green()), std::abs(a.blue() - b.blue())});
        }
      EXPECT_LE(worst, 3) << ratio;  // of 255: colours are rounded more often
    }
  EXPECT_EQ(kept.painted(), 3u);  // one for each ratio
  QImage image(20, 20, QImage::Format_RGB32);
  QPainter painter(&image);
  const auto nothing = [](QPainter&) {};
  kept.show(painter, {20, 20}, 7, paper::Voice::full, nothing);
  kept.show(painter, {20, 20}, 8, paper::Voice::full, nothing);
  EXPECT_EQ(kept.painted(), 5u);
}

}  // namespace
}  // namespace pommel::ui
