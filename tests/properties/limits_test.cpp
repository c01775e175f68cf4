// What is read at most, as DEVELOPERS.md lists it under "Limits": exactly so much is taken; one more is refused at its place with what to do, and for
// little memory (counted, not timed: a clock tells more of the machine's other work than of ours).
#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <functional>
#include <ostream>

#include "exchange/drawing.h"
#include "exchange/readings.h"
#include "exchange/stl.h"
#include "family/limits.h"
#include "mill/envelope.h"
#include "program/reader.h"
#include "properties/allocated.h"
#include "properties/drawn_parts.h"
#include "whole/house.h"
#include "yaml/document.h"

namespace pommel::properties {
namespace {

std::string repeated(const std::string& text, std::size_t times) {
  std::string out;
  out.reserve(text.size() * times);
  for (std::size_t i = 0; i < times; ++i) out += text;
  return out;
}

// The first of the problems, its line and remedy; "" where there is none.
std::string first_of(const std::vector<Diagnostic>& all) {
  for (const Diagnostic& one : all) {
    if (one.severity != Severity::error) continue;
    std::string text = render({one}), remedy;
    const std::size_t to_do = text.rfind("   do: ");
    if (to_do != std::string::npos) remedy = "\n" + text.substr(to_do, text.find('\n', to_do) - to_do);
    return text.substr(0, text.find('\n')) + remedy;
  }
  return {};
}

template <class T>
std::string first_of(const Result<T>& result) {
  return result.ok() ? std::string() : first_of(result.reasons());
}

struct Limit {
  std::string name;
  std::size_t most;                                   // so much is taken
  std::function<std::string(std::size_t)> text;       // a file with so much
  std::function<std::string(const std::string&)> of;  // what is said of it
  std::string refusal;                                // of one more
  std::size_t bytes;                                  // a refusal of ten times as much asks for no more memory
};

std::string yaml_said(const std::string& text) {
  Sink sink;
  yaml::read(text, "f.yaml", sink);
  return first_of(sink.all());
}

std::string design_said(const std::string& text) {
  Sink sink;
  family::read_design(text, "f.yaml", "f", sink);
  return first_of(sink.all());
}

std::string family_said(const std::string& text) {
  Sink sink;
  family::read_family(text, "f.yaml", "f", sink);
  return first_of(sink.all());
}

std::string order_said(const std::string& text) {
  static whole::House house;
  house.put("catalog/orders/low-table.yaml", text);
  Sink sink;
  const auto of = house.load("catalog/orders/low-table.yaml", sink);
  if (of && !sink.has_errors()) family::make_sheet(of->family, of->design, &*of->order, of->shop, {}, sink);
  return first_of(sink.all());
}

std::string with_height(const std::string& formula) {
  std::string text = whole::kSmallOrder;
  const std::string was = "390 mm";
  return text.replace(text.find(was), was.size(), "\"" + formula + "\"");
}

std::string with_measures(std::size_t count) {
  static const std::string table = whole::repository_text("templates/table-leg.yaml");
  static const std::size_t has = [] {
    Sink sink;
    return family::read_family(table, "f.yaml", "f", sink).measures.size();
  }();
  std::string rows = "\nsheet:\n  more:\n", text = table;
  for (std::size_t i = has; i < count; ++i) rows += "    more_" + std::to_string(i) + ": 1 mm\n";
  const std::string sheet = "\nsheet:\n";
  return text.replace(text.find(sheet), sheet.size(), rows);
}

// The line of the last measure of that family when it has one too many.
std::string line_of_one_too_many() {
  const std::string text = with_measures(family::kMostMeasures + 1);
  return std::to_string(1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(text.find("\n    spares:")) + 1, '\n'));
}

std::string with_elements(std::size_t count) {
  const std::string text = whole::kSmallDesign;
  return text.substr(0, text.find("outline:")) + "outline:\n" + repeated("  - fillet: {length: 0.1 mm}\n", count);
}

// A closed row of facets is not asked for: what is said of a mesh is another matter than whether it is read.
std::string scan(std::size_t triangles) {
  std::string out(80, ' ');
  const auto put = [&](std::uint32_t word) {
    for (int k = 0; k < 4; ++k) out += static_cast<char>(word >> (8 * k) & 255u);
  };
  put(static_cast<std::uint32_t>(triangles));
  for (std::size_t i = 0; i < triangles; ++i) {
    for (int k = 0; k < 3; ++k) put(0);
    for (const float c : {0.f, 0.f, 1.f, 1.f, 0.f, 1.f, 0.f, 1.f, 2.f}) put(std::bit_cast<std::uint32_t>(c + static_cast<float>(i)));
    out += std::string(2, '\0');
  }
  return out;
}

std::string scan_said(const std::string& bytes) {
  exchange::StlOptions options;
  options.unit = LengthUnit::millimetre;
  options.most_triangles = 1000;
  return first_of(exchange::read_stl(bytes, "leg.stl", options));
}

std::string drawing(std::size_t dots) {
  std::string text = "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\n0\n90\n" + std::to_string(dots) + "\n70\n0\n";
  for (std::size_t i = 0; i < dots; ++i) text += "10\n" + std::to_string(i) + "e-3\n20\n20\n";
  return text + "0\nENDSEC\n0\nEOF\n";
}

std::string drawing_said(const std::string& text) { return first_of(exchange::read_dxf(text, "leg.dxf", LengthUnit::millimetre)); }

std::string readings(std::size_t rows) {
  std::string text = "x mm; diameter mm\n";
  for (std::size_t i = 0; i < rows; ++i) text += std::to_string(i) + "; 40\n";
  return text;
}

std::string readings_said(const std::string& text) {
  Sink sink;
  exchange::read_readings(text, "leg.csv", std::nullopt, sink);
  return first_of(sink.all());
}

std::string program_said(const std::string& text) {
  Sink sink;
  program::read(text, "leg.ngc", sink);
  return first_of(sink.all());
}

std::vector<Limit> limits() {
  // the formula itself is the first level
  const auto brackets = [](std::size_t deep) { return with_height("= " + repeated("(", deep) + "390 mm" + repeated(")", deep)); };
  return {
      {"BytesOfAHouseFile", 1u << 20, [](std::size_t n) { return "a: b\n#" + std::string(n - 6, '-'); }, yaml_said,
       "f.yaml: error: this file is larger than 1 MiB [yaml.too-large]\n   do: split it, or check that it is the right file", 4096},
      {"EntriesOfAHouseFile", 99'999, [](std::size_t n) { return repeated("- a\n", n); }, yaml_said, 
       "f.yaml:100000:3: error: this file has more than 100000 entries [yaml.too-many]\n   do: split it, or check that it is the right file", 32u << 20},
      {"LevelsOfAHouseFile", 40, [](std::size_t n) { return repeated("[", n) + repeated("]", n) + "\n"; }, yaml_said, 
       "f.yaml:1:41: error: this is nested more than 40 levels deep [yaml.too-deep]\n   do: write it flatter", 1u << 20},
      {"CharactersOfAFormula", 4000, [](std::size_t n) { return with_height("= 390 mm" + std::string(n - 15, ' ') + " + 0 mm"); }, order_said, 
       "catalog/orders/low-table.yaml:10:19: error: this formula is longer than 4000 characters [sheet.too-long]\n   do: compute a part of it in a row of its own", 64u << 20},
      {"LevelsOfAFormula", 99, brackets, order_said, 
       "catalog/orders/low-table.yaml:10:120: error: this formula is nested more than 100 deep [sheet.too-deep]\n   do: compute a part of it in a row of its own", 64u << 20},
      {"MeasuresOfAFamily", family::kMostMeasures, with_measures, family_said, 
       "f.yaml:" + line_of_one_too_many() + ":5: error: this is one measure more than the 5000 that a family may have [family.too-many-measures]\n   do: put what belongs to one piece into a family of its own", 64u << 20},
      {"ElementsOfAnOutline", family::kMostElements, with_elements, design_said, 
       "f.yaml:15:3: error: an outline of 1001 elements [family.too-many-elements]\n   do: at most 1000 are read: leave out those that no eye tells apart, or divide the piece", 64u << 20},
      {"TrianglesOfAScan", 1000, scan, scan_said, "leg.stl: error: the file has more than 1000 triangles [exchange.too-many]\n   do: thin the mesh out", 4096},
      {"DotsOfADrawing", exchange::kMostDots, drawing, drawing_said, 
       "leg.dxf:6:1: error: here the drawing goes beyond 500000 dots, the most that is read [drawing.too-large]\n   do: leave out what is no outline, or draw it with fewer curves", 400u << 20},
      {"RowsOfReadings", exchange::kMostReadings, readings, readings_said, 
       "leg.csv:1002:1: error: this is one row more than the 1000 that are read [readings.too-many]\n   do: keep those that tell where something begins, ends or is thickest; a scan is read as STL, a drawing as DXF or SVG", 4u << 20},
      {"LinesOfAProgram", 5'000'000, [](std::size_t n) { return std::string(n - 1, '\n') + "M2\n"; }, program_said, 
       "leg.ngc:5000001:1: error: the program has more than 5000000 lines [program.too-long]\n   do: cut with wider steps, or divide it into programs of fewer passes", 400u << 20},
  };
}

void PrintTo(const Limit& limit, std::ostream* out) { *out << limit.name; }

class Limits : public ::testing::TestWithParam<Limit> {};

TEST_P(Limits, SoMuchIsTakenAndOneMoreIsRefusedAtItsPlace) {
  const Limit& limit = GetParam();
  EXPECT_EQ(limit.of(limit.text(limit.most)), "");
  EXPECT_EQ(limit.of(limit.text(limit.most + 1)), limit.refusal);
}

TEST_P(Limits, TenTimesAsMuchIsRefusedForLittleMemory) {
  const Limit& limit = GetParam();
  const std::string text = limit.text(10 * limit.most);
  const std::size_t before = allocated();
  EXPECT_NE(limit.of(text), "");
  const std::size_t taken = allocated() - before;
  EXPECT_LE(taken, limit.bytes);
  std::printf("%s: %zu bytes of text, %zu asked for\n", limit.name.c_str(), text.size(), taken);
}

INSTANTIATE_TEST_SUITE_P(All, Limits, ::testing::ValuesIn(limits()), [](const auto& of) { return of.param.name; });

TEST(MoreLimits, AMillionElementsAreRefusedBeforeTheyAreRead) {
  const std::string text = with_elements(1'000'000);
  const std::size_t before = allocated();
  EXPECT_EQ(design_said(text), "f.yaml: error: this file is larger than 1 MiB [yaml.too-large]\n   do: split it, or check that it is the right file");
  EXPECT_LE(allocated() - before, 16'384u);
}

TEST(MoreLimits, LinesOfADrawingThatAreJoined) {
  std::vector<exchange::Path> paths;
  for (std::size_t i = 0; i < exchange::kMostPaths; ++i) paths.push_back({{{static_cast<double>(i), 20}, {static_cast<double>(i) + 1, 20}}, false});
  EXPECT_EQ(first_of(exchange::joined_paths(paths, 0.1)), "");
  paths.push_back({{{6000, 20}, {6001, 20}}, false});
  EXPECT_EQ(first_of(exchange::joined_paths(paths, 0.1)), "error: the drawing has 5001 lines, and an outline has 5000 at most [drawing.too-large]\n   do: leave out what is no outline, or draw it as one polyline");
}

TEST(MoreLimits, BytesThatAMachineTakes) {
  job::TurningRequest request = drawn_request(1);
  const auto turning = job::plan_turning(request, {});
  ASSERT_TRUE(turning.ok());
  const auto text = program::write_all(turning->paths, request.machine, {});
  ASSERT_TRUE(text.ok());
  request.machine.largest_file = static_cast<double>(text->front().size());
  EXPECT_EQ(first_of(program::write_all(turning->paths, request.machine, {})), "");
  request.machine.largest_file -= 1;
  EXPECT_NE(first_of(program::write_all(turning->paths, request.machine, {})).find("[program.too-large]"), std::string::npos);
}

TEST(MoreLimits, DirectionsOfAGridOfHeights) {
  const auto envelope = mill::Envelope::of(drawn_part(1), 4);
  ASSERT_TRUE(envelope.ok());
  mill::Heights heights;
  const std::vector<double> row{100};
  EXPECT_EQ(first_of(envelope->fill(row, 1'000'000, heights)), "");
  const std::size_t before = allocated();
  EXPECT_EQ(first_of(envelope->fill(row, 1'000'001, heights)), "error: the grid of cutter positions is too large [mill.grid]\n   do: ask for a coarser cusp");
  EXPECT_LE(allocated() - before, 4096u);
}

// Asked to stop at once, what is not too much is only stopped.
TEST(MoreLimits, PositionsOfAGridOfHeights) {
  const auto envelope = mill::Envelope::of(drawn_part(1), 4);
  ASSERT_TRUE(envelope.ok());
  std::stop_source source;
  source.request_stop();
  mill::Heights heights;
  std::vector<double> rows(250, 100);
  EXPECT_EQ(first_of(envelope->fill(rows, 1'000'000, heights, source.get_token())).substr(0, 14), "error: stopped");
  rows.push_back(100);
  EXPECT_EQ(first_of(envelope->fill(rows, 1'000'000, heights, source.get_token())), "error: the grid of cutter positions is too large [mill.grid]\n   do: ask for a coarser cusp");
}

}  // namespace
}  // namespace pommel::properties
