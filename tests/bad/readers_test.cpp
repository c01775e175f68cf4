// Bad files from elsewhere, and the whole text that is said about each: readings, outlines, scans, programs.
//
// A corpus NAME.txt, line by line:
//     ## case WHAT        a file begins; what is wrong with it
//     unit: mm            of an outline or scan whose file has none; nobody says one where this is missing
//     text:               the lines up to 'says:' are the file; \xHH is a byte, {N*text} is text N times over
//     says:               the lines up to the next ## are what is said, to the letter; 'nothing' where nothing is wrong
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>

#include "base/number.h"
#include "base/text.h"
#include "exchange/drawing.h"
#include "exchange/readings.h"
#include "exchange/stl.h"
#include "program/reader.h"

namespace pommel {
namespace {

struct Case {
  std::string what, text, says;
  std::optional<LengthUnit> unit;
};

std::string unescaped(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::size_t star = text.find('*', i), end = text.find('}', i);
    if (text.substr(i, 2) == "\\x") {
      out += static_cast<char>(std::strtol(std::string(text.substr(i + 2, 2)).c_str(), nullptr, 16));
      i += 3;
    } else if (text[i] == '{' && star < end && end != text.npos) {
      const auto times = parse_number(text.substr(i + 1, star - i - 1));
      for (int n = 0; times && n < static_cast<int>(*times); ++n) out += text.substr(star + 1, end - star - 1);
      i = end;
    } else {
      out += text[i];
    }
  }
  return out;
}

std::vector<Case> corpus(const std::string& kind) {
  std::ifstream in(std::string(POMMEL_SOURCE_DIR) + "/tests/bad/" + kind + ".txt", std::ios::binary);
  std::vector<Case> all;
  std::string* into = nullptr;
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("## case ")) all.push_back({line.substr(8), {}, {}, {}}), into = nullptr;
    else if (all.empty()) continue;  // the head
    else if (line == "says:") into = &all.back().says;
    else if (into) *into += line + "\n";
    else if (line == "text:") into = &all.back().text;
    else if (line.starts_with("unit: ")) all.back().unit = exchange::unit_named(line.substr(6));
  }
  for (Case& one : all) {
    if (!one.text.empty()) one.text.pop_back();  // a file's last line ends where the corpus says so: \x0a
    one.text = unescaped(one.text);
    while (one.says.ends_with("\n\n")) one.says.pop_back();
  }
  return all;
}

template <class T>
std::string told(const Result<T>& result) {
  return result.ok() ? "nothing\n" : render(result.reasons());
}

std::string told(const Sink& sink) { return sink.all().empty() ? "nothing\n" : render(sink.all()); }

std::string said(const std::string& kind, const Case& one) {
  Sink sink;
  if (kind == "readings") return exchange::read_readings(one.text, "leg.csv", one.unit, sink), told(sink);
  if (kind == "programs") return program::read(one.text, "leg.ngc", sink), told(sink);
  if (kind == "drawings-dxf") return told(exchange::read_dxf(one.text, "leg.dxf", one.unit));
  if (kind == "drawings-svg") return told(exchange::read_svg(one.text, "leg.svg", one.unit));
  if (kind == "scans") return told(exchange::read_stl(one.text, "leg.stl", {one.unit, {}, 0.001, 5'000'000}));
  return "no such kind\n";
}

class BadFile : public ::testing::TestWithParam<const char*> {};

TEST_P(BadFile, IsToldToTheLetter) {
  const auto all = corpus(GetParam());
  EXPECT_GE(all.size(), 20u) << "the group is empty or cut off";
  std::map<std::string, int> seen;
  for (const Case& one : all) {
    EXPECT_EQ(said(GetParam(), one), one.says) << one.what;
    EXPECT_EQ(++seen[one.what], 1) << one.what << " stands twice";
  }
}
INSTANTIATE_TEST_SUITE_P(Kinds, BadFile, ::testing::Values("readings", "programs", "drawings-dxf", "drawings-svg", "scans"));

}  // namespace
}  // namespace pommel
