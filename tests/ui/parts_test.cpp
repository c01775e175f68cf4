// Parts of the window that need no order.
#include <gtest/gtest.h>

#include <QPalette>
#include <cmath>

#include "ui/models/sheet_model.h"
#include "ui/views/length_axis.h"
#include "ui/views/tones.h"
#include "ui/views/words_of_the_trade.h"

namespace pommel::ui {
namespace {

// Relative luminance and contrast as WCAG 2.1 defines them.
double luminance(const QColor& colour) {
  const auto linear = [](double c) { return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
  return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF());
}

double contrast(const QColor& a, const QColor& b) {
  const double one = luminance(a) + 0.05, other = luminance(b) + 0.05;
  return one > other ? one / other : other / one;
}

TEST(Tones, ContrastIsWhatEveryoneCanRead) {
  EXPECT_NEAR(contrast(Qt::white, Qt::black), 21, 1e-9);  // WCAG's own extreme
  const QColor paper(0xfb, 0xf9, 0xf4), ink(0x33, 0x2b, 0x23), faint(0x6f, 0x66, 0x5b);
  EXPECT_GE(contrast(ink, paper), 4.5);
  EXPECT_GE(contrast(faint, paper), 4.5);
  for (const bool dark : {false, true}) {
    const Tones tone = tones(dark);
    const QColor ground = dark ? QColor(0x1e, 0x1e, 0x1e) : QColor(Qt::white), text = dark ? QColor(Qt::white) : QColor(Qt::black);
    for (const QColor& under : {ground, tone.follows}) {
      EXPECT_GE(contrast(tone.wrong, under), 4.5) << dark;
      EXPECT_GE(contrast(tone.inherited, under), 4.5) << dark;
      EXPECT_GE(contrast(text, under), 4.5) << dark;
    }
    EXPECT_GE(contrast(text, tone.group), 4.5) << dark;
    EXPECT_GE(contrast(tone.mark, paper), 3) << dark;
  }
}

TEST(LengthAxis, KeepsWithinThePieceAndItsPlaceUnderThePointer) {
  LengthAxis axis;
  axis.set_whole(-50, 750);
  EXPECT_TRUE(axis.shows_all());
  const double before = axis.pixel(300, 1000);
  axis.zoom(4, 300);
  EXPECT_NEAR(axis.pixel(300, 1000), before, 1e-9);
  EXPECT_NEAR(axis.to() - axis.from(), 200, 1e-9);
  axis.shift(10'000);
  EXPECT_EQ(axis.to(), 750);
  axis.zoom(1e9, 740);
  EXPECT_NEAR(axis.to() - axis.from(), 20, 1e-9);
  axis.set_hair(9999);
  EXPECT_EQ(axis.hair(), 750);
  EXPECT_NEAR(axis.at_pixel(axis.pixel(741, 900), 900), 741, 1e-9);
  axis.show_all();
  EXPECT_TRUE(axis.shows_all());
}

TEST(CellsOfText, ReadWhatSpreadsheetsPutOnTheClipboard) {
  struct Row {
    const char* text;
    std::vector<QStringList> cells;
  };
  for (const Row& row : {Row{"a\tb\nc\td\n", {{"a", "b"}, {"c", "d"}}},
                         {"a\tb\r\nc", {{"a", "b"}, {"c"}}},
                         {"31 1/4\"\tx", {{"31 1/4\"", "x"}}},
                         {"\"two\nlines\"\t\"a \"\"word\"\"\"", {{"two\nlines", "a \"word\""}}},
                         {"a\t\tb", {{"a", "", "b"}}},
                         {"", {}}})
    EXPECT_EQ(cells_of_text(QString::fromUtf8(row.text)), row.cells) << row.text;
}

TEST(WordsOfTheTrade, EachHasAnotherNameAndAMeaning) {
  ASSERT_GE(trade_words().size(), 15u);
  for (const TradeWord& word : trade_words()) EXPECT_TRUE(*word.word && *word.others && *word.means) << word.word;
}

}  // namespace
}  // namespace pommel::ui
