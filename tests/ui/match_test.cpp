// An existing turning matched in its window: readings typed and pasted, the outline seen over them, mended by the maker, kept as a design and opened.
#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QImage>
#include <QTest>
#include <algorithm>
#include <cmath>

#include "ui/opened.h"

namespace pommel::ui {
namespace {

// A table leg of our own: a square of 64 mm to 120 mm, a square-cut pommel, a half-round of 14 mm, a long taper and a cylinder at the foot.
double diameter_at(double x) {
  if (x < 140) return 50;
  if (x < 154) return 44 + 2 * std::sqrt(std::max(0.0, 49 - (x - 147) * (x - 147)));
  if (x < 660) return 44 - 16 * (x - 154) / 506;
  return 34;
}

QString readings() {
  QString out = QStringLiteral("place mm\tdiameter mm\t+-\tnote\n0\t\t\thead\n60\t64\t\tsquare\n120\t\t\tsquare to here\n700\t\t\tfoot\n");
  for (const double x : {120.5, 124.0, 130.0, 136.0, 139.6, 140.4, 141.5, 143.0, 145.0, 147.0, 149.0, 151.0, 152.5, 153.6, 154.4, 200.0, 280.0, 360.0, 440.0, 520.0, 600.0, 640.0, 659.6, 660.4, 670.0, 680.0, 690.0, 699.5})
    out += QString::number(x) + u'\t' + QString::number(diameter_at(x), 'f', 2) + QStringLiteral("\t\t\n");
  return out;
}

class Match : public Opened {
 protected:
  // designs that are kept are written, so the catalog's folder is a copy
  void SetUp() override {
    Opened::SetUp();
    namespace fs = std::filesystem;
    const fs::path designs = inside("catalog/designs");
    fs::remove(designs);
    fs::copy(fs::path(POMMEL_SOURCE_DIR) / "catalog/designs", designs, fs::copy_options::recursive);
    for (QAction* action : window().findChildren<QAction*>())
      if (action->shortcut() == QKeySequence(Qt::CTRL | Qt::Key_M)) action->trigger();
    ASSERT_TRUE(match().isVisible());
    choose(match().unit(), "mm");  // the order's are inches
    wait_for_fit();
    tester_ = std::make_unique<QAbstractItemModelTester>(&table(), QAbstractItemModelTester::FailureReportingMode::Fatal);
    elements_tester_ = std::make_unique<QAbstractItemModelTester>(match().elements().model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
  }
  void TearDown() override {
    tester_.reset();
    elements_tester_.reset();
    Opened::TearDown();
  }

  static void choose(QComboBox& box, const char* data) {
    box.setCurrentIndex(box.findData(data));
    emit box.activated(box.currentIndex());
  }
  MatchWindow& match() { return desk_->match(); }
  ReadingsModel& table() { return match().bench().readings(); }
  QString cell(int row, int column) { return table().data(table().index(row, column), Qt::DisplayRole).toString(); }
  bool put(int row, int column, const char* text) { return table().setData(table().index(row, column), QString::fromUtf8(text), Qt::EditRole); }
  void paste(const QString& text) {
    QGuiApplication::clipboard()->setText(text);
    match().grid().setCurrentIndex(table().index(0, 0));
    match().grid().paste();
  }
  void wait_for_fit() {
    wait([this] { return !match().bench().working(); });
  }
  QString element(int row, int column = FoundModel::kName) { return match().elements().model()->index(row, column).data().toString(); }
  QStringList elements() {
    QStringList out;
    for (int row = 0; row < match().elements().model()->rowCount(); ++row) out << element(row);
    return out;
  }
  void paste_leg() {
    paste(readings());
    wait_for_fit();
    ASSERT_TRUE(match().bench().fitted()) << match().told().toStdString();
  }
  QImage picture(const char* name) {
    QCoreApplication::processEvents();
    const QImage image = match().grab().toImage();
    if (const QByteArray folder = qgetenv("POMMEL_PICTURES"); !folder.isEmpty()) {
      EXPECT_TRUE(image.save(QString::fromLocal8Bit(folder) + "/" + name + ".png"));
    }
    return image;
  }

  std::unique_ptr<QAbstractItemModelTester> tester_, elements_tester_;
};

TEST_F(Match, APastedLegIsSeenAsItsElementsKeptAndOpened) {
  EXPECT_TRUE(match().told().contains("square to here")) << match().told().toStdString();  // how to begin
  EXPECT_FALSE(match().keep_button().isEnabled());
  paste_leg();
  EXPECT_EQ(elements(), (QStringList{"square", "pommel, square", "torus", "taper", "cylinder"})) << match().told().toStdString();
  EXPECT_EQ(element(0, FoundModel::kDiameters), QStringLiteral("□ 64 mm across"));
  EXPECT_EQ(element(2, FoundModel::kDiameters), QStringLiteral("⌀ 44 mm, greatest 58 mm"));
  EXPECT_EQ(cell(5, ReadingsModel::kPlace), "124 mm");
  EXPECT_TRUE(cell(5, ReadingsModel::kSeen).endsWith("outline")) << cell(5, ReadingsModel::kSeen).toStdString();
  match().axis().set_hair(60);
  EXPECT_TRUE(match().strip().reading().contains(QStringLiteral("□ 64 mm across"))) << match().strip().reading().toStdString();

  match().name().setText("tavern-leg");
  ASSERT_TRUE(match().keep_button().isEnabled());
  match().keep_button().click();
  EXPECT_TRUE(std::filesystem::exists(inside("catalog/designs/tavern-leg.yaml"))) << match().told_of_keeping().toStdString();
  EXPECT_TRUE(match().told_of_keeping().contains("a table leg")) << match().told_of_keeping().toStdString();
  // the sheet of the new design, and the piece that it makes
  EXPECT_EQ(window().book().loaded().design.name, "tavern-leg");
  EXPECT_TRUE(std::filesystem::exists(inside("catalog/orders/tavern-leg-order.yaml")));
  wait_for_piece();
  EXPECT_NEAR(window().state_of(family::kOrder).made->pieces.front().part.length, 700, 0.01);
  // a second one of that name is refused, and told
  EXPECT_FALSE(match().keep());
  EXPECT_TRUE(match().told_of_keeping().startsWith(QStringLiteral("✗ "))) << match().told_of_keeping().toStdString();
  EXPECT_TRUE(match().told_of_keeping().contains("is there already")) << match().told_of_keeping().toStdString();
  match().hold_against("tavern-leg");
  EXPECT_TRUE(match().told().startsWith("the copy against 'tavern-leg'")) << match().told().toStdString();
}

TEST_F(Match, ReadingsAreTypedWithTheKeyboardUndoneAndRedone) {
  ReadingsGrid& grid = match().grid();
  grid.setFocus();
  grid.setCurrentIndex(table().index(0, ReadingsModel::kPlace));
  QTest::keyClicks(&grid, "1");
  auto* editor = grid.findChild<QLineEdit*>();
  ASSERT_TRUE(editor);
  QTest::keyClicks(editor, " 1/2 in");
  QTest::keyClick(editor, Qt::Key_Return);
  QCoreApplication::processEvents();
  EXPECT_EQ(cell(0, ReadingsModel::kPlace), "1 1/2 in");
  EXPECT_EQ(grid.currentIndex(), table().index(1, ReadingsModel::kPlace));  // on to the next reading
  table().undo().undo();
  EXPECT_EQ(table().rowCount(), 1);
  table().undo().redo();
  EXPECT_EQ(cell(0, ReadingsModel::kPlace), "1 1/2 in");
  EXPECT_EQ(table().rowCount(), 2);
  wait_for_fit();
}

TEST_F(Match, AWrongCellSaysItsRemedyAndTheOutlineStaysLight) {
  paste_leg();
  ASSERT_TRUE(put(10, ReadingsModel::kDiameter, "5,5"));
  EXPECT_TRUE(match().bench().stale());
  EXPECT_FALSE(match().keep_button().isEnabled());
  wait_for_fit();
  EXPECT_TRUE(match().bench().stale());  // nothing was recognised of this
  EXPECT_EQ(cell(10, ReadingsModel::kDiameter), QStringLiteral("✗ 5,5"));
  EXPECT_EQ(table().copied({table().index(10, ReadingsModel::kDiameter)}), QStringLiteral("5,5"));  // as typed
  EXPECT_TRUE(cell(10, ReadingsModel::kSeen).startsWith(QStringLiteral("✗ "))) << cell(10, ReadingsModel::kSeen).toStdString();
  EXPECT_TRUE(cell(10, ReadingsModel::kSeen).contains("5.5")) << cell(10, ReadingsModel::kSeen).toStdString();
  EXPECT_TRUE(match().told().contains("row 11")) << match().told().toStdString();
  ASSERT_TRUE(put(10, ReadingsModel::kNote, "ege"));
  table().undo().undo();
  table().undo().undo();
  wait_for_fit();
  EXPECT_FALSE(match().bench().stale());
  EXPECT_EQ(match().bench().problems().size(), 0u);
  ASSERT_TRUE(put(10, ReadingsModel::kNote, "ege"));
  wait_for_fit();
  EXPECT_EQ(cell(10, ReadingsModel::kNote), QStringLiteral("✗ ege"));
  EXPECT_TRUE(cell(10, ReadingsModel::kSeen).contains("'edge'")) << cell(10, ReadingsModel::kSeen).toStdString();
}

TEST_F(Match, AReadingThatIsBelievedWrongIsMarkedInTheTableAndOnTheStrip) {
  paste_leg();
  ASSERT_TRUE(put(21, ReadingsModel::kDiameter, "51"));
  wait_for_fit();
  EXPECT_TRUE(cell(21, ReadingsModel::kSeen).startsWith(QStringLiteral("✗ believed wrong"))) << cell(21, ReadingsModel::kSeen).toStdString();
  EXPECT_TRUE(match().told().contains(QStringLiteral("✗ believed wrong"))) << match().told().toStdString();
  // the cross on the strip has its own colour, where no reading else is red
  const QImage image = match().strip().grab().toImage();
  int red = 0;
  for (int y = 0; y < image.height(); ++y)
    for (int x = 0; x < image.width(); ++x) red += image.pixelColor(x, y).red() > 140 && image.pixelColor(x, y).green() < 60 && image.pixelColor(x, y).blue() < 60;
  EXPECT_GT(red, 20);
}

TEST_F(Match, TheMakerPinsPartsJoinsAndNamesElements) {
  paste_leg();
  const int rows = table().rowCount();
  match().elements().selectRow(3);  // the taper
  match().axis().set_hair(400);
  match().split();
  wait_for_fit();
  ASSERT_FALSE(match().bench().stale()) << match().told().toStdString();
  EXPECT_EQ(elements().size(), 6);
  EXPECT_EQ(cell(rows - 1, ReadingsModel::kNote), "edge");
  match().elements().selectRow(3);
  match().merge();  // takes that edge back
  wait_for_fit();
  ASSERT_FALSE(match().bench().stale()) << match().told().toStdString();
  EXPECT_EQ(elements().size(), 5);
  EXPECT_EQ(cell(rows - 1, ReadingsModel::kNote), "no edge");
  match().elements().selectRow(3);
  choose(match().kind(), "entasis");
  wait_for_fit();
  EXPECT_TRUE(match().bench().stale());  // nothing swells there, and it is said
  EXPECT_TRUE(match().told().startsWith(QStringLiteral("✗ between 120 mm and 700 mm nothing can be drawn"))) << match().told().toStdString();
  table().undo().undo();
  wait_for_fit();
  match().elements().selectRow(3);
  choose(match().kind(), "vase");
  wait_for_fit();
  ASSERT_FALSE(match().bench().stale()) << match().told().toStdString();
  EXPECT_EQ(element(3), "vase");
  match().elements().selectRow(2);
  match().pin();
  wait_for_fit();
  ASSERT_FALSE(match().bench().stale()) << match().told().toStdString();
  EXPECT_EQ(element(2), "torus");
  EXPECT_EQ(cell(table().rowCount() - 2, ReadingsModel::kNote), "is a torus");
  for (int step = 0; step < 4; ++step) table().undo().undo();
  wait_for_fit();
  EXPECT_EQ(table().rowCount(), rows);
  EXPECT_EQ(element(3), "taper");
}

TEST_F(Match, ADrawingIsAskedItsUnitAndFitted) {
  // a baluster-like column of a taper between two cylinders, half of it, in user units without a unit
  ASSERT_TRUE(files_->write(inside("column.svg"), "<svg xmlns='http://www.w3.org/2000/svg'><path d='M 0 0 L 0 20 L 60 20 L 60 26 L 300 18 L 300 22 L 340 22 L 340 0'/></svg>").ok());
  emit window().reopen_wanted(QString::fromStdString(inside("column.svg").string()));  // as a file that is dropped on the order
  wait_for_fit();
  EXPECT_FALSE(match().bench().fitted());
  EXPECT_TRUE(match().told().contains("choose its unit above")) << match().told().toStdString();
  choose(match().drawn_unit(), "mm");
  wait_for_fit();
  ASSERT_TRUE(match().bench().fitted()) << match().told().toStdString();
  EXPECT_NEAR(match().bench().fitted()->found.length, 340, 0.01);
  EXPECT_EQ(elements(), (QStringList{"pin", "taper", "cylinder"})) << match().told().toStdString();
  match().bench().put_drawn_away();
  wait_for_fit();
  EXPECT_FALSE(match().bench().fitted());
}

TEST_F(Match, ADrawingIsReadOnceHoweverOftenReadingsBesideItAreEdited) {
  const auto draw = [&](const char* end) {
    return files_->write(inside("column.svg"), std::string("<svg xmlns='http://www.w3.org/2000/svg'><path d='M 0 0 L 0 20 L 60 20 L 60 26 L 300 18 L 300 22 L ") + end + " 22 L " + end + " 0'/></svg>").ok();
  };
  ASSERT_TRUE(draw("340"));
  ASSERT_TRUE(match().open(inside("column.svg")));
  choose(match().drawn_unit(), "mm");
  wait_for_fit();
  const int read = match().bench().drawn_was_read();
  EXPECT_GT(read, 0);
  for (const char* x : {"20", "30", "40"}) {
    ASSERT_TRUE(put(0, ReadingsModel::kPlace, x));
    ASSERT_TRUE(put(0, ReadingsModel::kDiameter, "40"));
    wait_for_fit();
    ASSERT_TRUE(match().bench().fitted()) << match().told().toStdString();
    EXPECT_EQ(match().bench().measures().back().x, std::atof(x));
  }
  EXPECT_EQ(match().bench().drawn_was_read(), read);
  // the file was changed: opened again it is read again
  ASSERT_TRUE(draw("350"));
  ASSERT_TRUE(match().open(inside("column.svg")));
  wait_for_fit();
  EXPECT_EQ(match().bench().drawn_was_read(), read + 1);
  EXPECT_NEAR(match().bench().fitted()->found.length, 350, 0.01);
  // and so it is for another uncertainty, which its measures have
  MatchHow how = match().bench().how();
  how.input.uncertainty = "0.1 mm";
  match().bench().take_how(how);
  wait_for_fit();
  EXPECT_EQ(match().bench().drawn_was_read(), read + 2);
}

TEST_F(Match, AFileOfReadingsComesWithItsUnitsAndGoesBackAsItWas) {
  ASSERT_TRUE(files_->write(inside("leg.csv"), "x in, diameter mm\n# a comment\n4 1/2, 50\n120 mm, 48.5\n").ok());
  ASSERT_TRUE(match().open(inside("leg.csv")));
  EXPECT_EQ(cell(0, ReadingsModel::kPlace), "4 1/2 in");
  EXPECT_EQ(cell(0, ReadingsModel::kDiameter), "50 mm");
  EXPECT_EQ(cell(1, ReadingsModel::kPlace), "120 mm");
  EXPECT_EQ(match().bench().text_to_save().substr(0, 20), std::string("x mm; diameter mm; +-; note").substr(0, 20));
  wait_for_fit();
}

TEST_F(Match, PicturesInTheSizesAndLightsThatPeopleHave) {
  paste_leg();
  ASSERT_TRUE(put(21, ReadingsModel::kDiameter, "51"));
  match().name().setText("tavern-leg");
  wait_for_fit();
  match().elements().selectRow(2);
  match().grid().setCurrentIndex(table().index(9, 1));
  match().axis().set_hair(300);
  const QPalette light = QApplication::palette();
  QPalette dark(QColor(0x2b, 0x2b, 0x2b));
  dark.setColor(QPalette::Base, QColor(0x1e, 0x1e, 0x1e));
  for (const auto role : {QPalette::Text, QPalette::WindowText, QPalette::ButtonText}) dark.setColor(role, Qt::white);
  for (const auto& [width, height, name] : {std::tuple{1280, 800, "match-1280"}, {1920, 1080, "match-1920"}}) {
    match().resize(width, height);
    picture(name);
    QApplication::setPalette(dark);
    picture((std::string(name) + "-dark").c_str());
    QApplication::setPalette(light);
    EXPECT_EQ(match().size(), QSize(width, height));  // nothing asks for more room
    for (const QLabel* label : match().findChildren<QLabel*>())
      if (label->isVisible() && !label->text().isEmpty()) {
        EXPECT_GE(label->width(), label->minimumSizeHint().width()) << label->text().toStdString();
      }
    for (const QPushButton* button : match().findChildren<QPushButton*>())
      if (button->isVisible()) {
        EXPECT_GE(button->width(), button->sizeHint().width()) << button->text().toStdString();
      }
  }
  for (const QWidget* widget : match().findChildren<QWidget*>()) {
    if (!widget->isVisible() || !(widget->focusPolicy() & Qt::TabFocus)) continue;
    if (qobject_cast<const QPushButton*>(widget) || qobject_cast<const QCheckBox*>(widget)) continue;  // their words are their names
    const QString type = widget->metaObject()->className();
    if (type == "QTableView" || type == "QLineEdit" || type == "QComboBox" || type == "QPlainTextEdit" || !type.startsWith("Q")) {
      EXPECT_FALSE(widget->accessibleName().isEmpty()) << type.toStdString();
    }
  }
}

}  // namespace
}  // namespace pommel::ui
