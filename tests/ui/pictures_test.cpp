// What the window looks like in the sizes and lights that people have. With POMMEL_PICTURES=FOLDER the pictures are kept for looking at.
#include <QAction>
#include <QImage>
#include <QPalette>
#include <QStyleFactory>
#include <set>

#include "ui/opened.h"
#include "ui/views/design_chooser.h"
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
    const std::unique_ptr<ShopForm> machine(machine_form(*files_, window().book().loaded(), nullptr)), rates(rates_form(*files_, window().book().loaded(), nullptr, nullptr));
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

// A keystroke paints the frames of before it once more, as out of date, and finds nothing out about them anew: that was more than half of what it cost.
TEST_F(Pictures, AKeystrokeFindsNothingOutAboutTheStandingFrames) {
  settle();
  auto& view = *window().findChild<StandingView*>();
  view.grab();
  const std::size_t found = view.found_out();
  EXPECT_GE(found, 4u);
  ASSERT_TRUE(type("table_height", "33 in"));
  view.grab();
  EXPECT_EQ(view.found_out(), found);
  wait_for_piece();
  view.grab();
  EXPECT_EQ(view.found_out(), found);  // as many of the new piece, none of the catalogue's
}

}  // namespace
}  // namespace pommel::ui
