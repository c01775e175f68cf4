#include "exchange/readings.h"

#include <gtest/gtest.h>

namespace pommel::exchange {
namespace {

TEST(Readings, TakesMixedUnitsNotesAndAnyOrder) {
  Sink sink;
  const auto r = read_readings("# a leg\nx mm; diameter in; +- mm; note\n118.2; 1 7/8; 0.1; Square to here\n20 ; 50 mm\n\n140;;; edge # here\n", "leg.csv", std::nullopt, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  ASSERT_EQ(r.size(), 3u);
  EXPECT_DOUBLE_EQ(r[0].x, 118.2);
  EXPECT_DOUBLE_EQ(*r[0].diameter, 1.875 * 25.4);
  EXPECT_DOUBLE_EQ(*r[0].uncertainty, 0.1);
  EXPECT_EQ(r[0].note, "square to here");
  EXPECT_DOUBLE_EQ(*r[1].diameter, 50);
  EXPECT_FALSE(r[2].diameter);
  EXPECT_EQ(r[2].note, "edge");
  EXPECT_EQ(r[2].place.line, 6);
}

TEST(Readings, AsksForTheUnit) {
  Sink sink;
  read_readings("10, 50 mm\n", "leg.csv", std::nullopt, sink);
  ASSERT_EQ(sink.all().size(), 1u);
  EXPECT_EQ(render(sink.all()),
            "leg.csv:1:1: error: '10' has no unit, and neither the header nor --unit says one [readings.no-unit]\n"
            "    1 | 10, 50 mm\n"
            "      | ^~\n"
            "   do: write the unit in the header ('x mm; diameter mm') or give --unit\n");
}

TEST(Readings, TellsAllProblemsAtOnce) {
  Sink sink;
  read_readings("x; d\n10 mm; -3 mm\nnonsense; 4 mm\n1;2;3\n5 mm\n", "leg.csv", LengthUnit::millimetre, sink);
  std::vector<std::string> ids;
  for (const Diagnostic& d : sink.all()) ids.push_back(d.id + " " + std::to_string(d.place.line));
  EXPECT_EQ(ids, (std::vector<std::string>{"readings.diameter 2", "readings.number 3", "readings.columns 4", "readings.columns 5"}));
}

TEST(Readings, RefusesAnUnknownColumnAndAnEmptyFile) {
  Sink sink;
  read_readings("x; girth\n", "leg.csv", LengthUnit::millimetre, sink);
  ASSERT_EQ(sink.all().size(), 1u);
  EXPECT_EQ(sink.all()[0].id, "readings.header");
  Sink empty;
  read_readings("# nothing\n", "leg.csv", LengthUnit::millimetre, empty);
  ASSERT_EQ(empty.all().size(), 1u);
  EXPECT_EQ(empty.all()[0].id, "readings.empty");
}

}  // namespace
}  // namespace pommel::exchange
