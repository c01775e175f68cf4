// Pages and their PDF: the check of a layout finds what it is for, and the same pages give the same bytes wherever and whenever.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>

#include "paper/canvas.h"
#include "paper/page.h"
#include "paper/poppler.h"

namespace pommel::paper {
namespace {

Page some_page() {
  Page page = sheet(PaperSize::a4);
  page.texts.push_back({20, 30, "a leg, ⌀ 44.5 – □ 57 & <b>", 4});
  page.paths.push_back({{{20, 60, 0.5}, {60, 60, -0.2}, {60, 90, 0}}, true, Pen::outline, Fill::wood});
  return page;
}

TEST(LayoutFaults, AreNoneOnAGoodPage) {
  const Painting painting;
  EXPECT_THAT(layout_faults(some_page()), testing::IsEmpty());
}

TEST(LayoutFaults, FindTextOnTextTextOffTheSheetAndALineThroughText) {
  const Painting painting;
  Page page = some_page();
  page.texts.push_back({22, 31, "over it", 4});
  page.texts.push_back({200, 100, "too far to the right", 4});
  page.texts.push_back({100, 200, "crossed", 4});
  page.texts.push_back({150, 250, "upwards", 4, Align::left, Face::plain, Ink::black, true});
  page.texts.push_back({145, 240, "meets it", 4});
  add_line(page, 90, 195, 140, 202);
  add_line(page, 180, 100, 100, 299);
  EXPECT_THAT(layout_faults(page), testing::UnorderedElementsAre("'a leg, ⌀ 44.5 – □ 57 & <b>' and 'over it' overlap", "'too far to the right' leaves the sheet",
                                                                 "'upwards' and 'meets it' overlap", "a line runs through 'crossed'", "a line comes to 100, 299"));
}

TEST(Pdf, SaysItsTextsAndTheOrdersDate) {
  const Painting painting;
  const auto bytes = pdf({some_page(), some_page()}, {"a title", "2026-03-02"});
  ASSERT_TRUE(bytes.ok());
  EXPECT_THAT(*bytes, testing::HasSubstr("/CreationDate (D:20260302000000Z)"));
  EXPECT_THAT(text_of_pdf(*bytes), testing::HasSubstr("a leg, ⌀ 44.5 – □ 57 & <b>"));
  EXPECT_EQ(pages_of_pdf(*bytes), 2);
}

// The writer puts the machine's zone behind the time and so moves every later byte; the table of places is counted anew.
TEST(Pdf, IsTheSameInEveryZone) {
  const Painting painting;
  const auto here = pdf({some_page()}, {"zones", ""});
  ASSERT_TRUE(here.ok());
  for (const char* zone : {"IST-5:30", "EST5", "UTC"}) {
    setenv("TZ", zone, 1);
    tzset();
    const auto there = pdf({some_page()}, {"zones", ""});
    ASSERT_TRUE(there.ok());
    EXPECT_EQ(*here, *there) << zone;
    EXPECT_THAT(text_of_pdf(*there), testing::HasSubstr("a leg"));
  }
  unsetenv("TZ");
  tzset();
}

TEST(Broken, KeepsEveryWordAndShortensWhatFitsNowhere) {
  const Painting painting;
  const auto lines = broken("one two three Rindfleischetikettierungsueberwachung four", 4, Face::plain, 30);
  ASSERT_GE(lines.size(), 3u);
  for (const std::string& line : lines) EXPECT_LE(text_width({0, 0, line, 4}), 30);
  EXPECT_EQ(lines.front(), "one two three");
  EXPECT_EQ(lines.back(), "four");
}

}  // namespace
}  // namespace pommel::paper
