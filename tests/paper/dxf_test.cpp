// DXF read back by a small reader of its own, which knows group codes and nothing of our writer, and measured.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <sstream>

#include "paper/canvas.h"
#include "paper/full_scale.h"
#include "paper/jobs.h"

namespace pommel::paper {
namespace {

struct Group {
  int code = 0;
  std::string value;
};

struct Read {
  std::vector<std::vector<Group>> entities;  // each begins with its type
  std::set<std::string> layers;
  std::vector<std::string> handles;
  std::map<std::string, std::string> header;
};

Read read(const std::string& text) {
  Read out;
  std::istringstream in(text);
  std::string code, value, section, variable, table;
  bool begun = false;
  while (std::getline(in, code) && std::getline(in, value)) {
    const int number = std::stoi(code);
    if (number == 0) {
      begun = value == "SECTION";
      if (value == "ENDSEC") section.clear();
      if (section == "TABLES" && value == "LAYER") table = "LAYER";
      else if (section == "TABLES") table.clear();
      if (section == "ENTITIES") out.entities.push_back({});
    } else if (number == 2 && begun) {
      section = value;
      begun = false;
      continue;
    }
    if (section == "ENTITIES" && !out.entities.empty()) out.entities.back().push_back({number, value});
    if (section == "HEADER" && number == 9) variable = value;
    else if (section == "HEADER") out.header[variable] = value;
    if (table == "LAYER" && number == 2) out.layers.insert(value);
    if (!section.empty() && section != "HEADER" && (number == 5 || number == 105)) out.handles.push_back(value);
  }
  return out;
}

std::string value_of(const std::vector<Group>& entity, int code) {
  for (const Group& group : entity)
    if (group.code == code) return group.value;
  return "";
}

std::vector<Vertex> vertices_of(const std::vector<Group>& polyline) {
  std::vector<Vertex> out;
  for (const Group& group : polyline) {
    if (group.code == 10) out.push_back({std::stod(group.value), 0, 0});
    if (group.code == 20) out.back().y = std::stod(group.value);
    if (group.code == 42) out.back().bulge = std::stod(group.value);
  }
  return out;
}

// Green's theorem; the segment of an arc of sweep w over the chord s: s²/(8 sin²(w/2)) (w - sin w), signed by the bulge.
double area_of(const std::vector<Vertex>& line) {
  double area = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const Vertex &a = line[i], &b = line[(i + 1) % line.size()];
    area += (a.x * b.y - b.x * a.y) / 2;
    if (a.bulge == 0) continue;
    const double w = 4 * std::atan(std::fabs(a.bulge)), s = std::hypot(b.x - a.x, b.y - a.y);
    area += (a.bulge > 0 ? 1 : -1) * s * s / (8 * std::pow(std::sin(w / 2), 2)) * (w - std::sin(w));
  }
  return area;
}

double field_area(const shape::Part& part, double theta) {
  const int steps = 200000;
  double area = 0;
  for (int i = 0; i < steps; ++i) area += shape::radius_at(part, part.length * (i + 0.5) / steps, theta);
  return area * part.length / steps;
}

TEST(DxfFile, IsWholeAndNamesItsLayersAndHandlesOnce) {
  const Painting painting;
  for (const char* order : {"harvest-table", "cannonball-bed"})
    for (const Piece& piece : pieces_of(stock_job(order))) {
      const std::string text = dxf_text(piece_dxf(piece));
      EXPECT_TRUE(text.ends_with("  0\nEOF\n"));
      const Read found = read(text);
      EXPECT_EQ(found.header.at("$ACADVER"), "AC1015");
      EXPECT_EQ(found.header.at("$INSUNITS"), "4");
      std::set<std::string> once(found.handles.begin(), found.handles.end());
      EXPECT_EQ(once.size(), found.handles.size());
      for (const std::string& handle : once) EXPECT_LT(std::stoul(handle, nullptr, 16), std::stoul(found.header.at("$HANDSEED"), nullptr, 16));
      ASSERT_FALSE(found.entities.empty());
      for (const auto& entity : found.entities) {
        if (entity.front().value == "ENDSEC") continue;
        EXPECT_THAT(entity.front().value, testing::AnyOf("LINE", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT"));
        EXPECT_TRUE(found.layers.contains(value_of(entity, 8))) << value_of(entity, 8);
      }
    }
}

TEST(DxfFile, HoldsTheContourAndTheJointsInTrueSize) {
  const Painting painting;
  for (const Piece& piece : pieces_of(stock_job("cannonball-bed"))) {
    const Read found = read(dxf_text(piece_dxf(piece)));
    double joints = 0, holes = 0;
    int contours = 0;
    for (const auto& entity : found.entities) {
      const std::string layer = value_of(entity, 8);
      if (layer.ends_with("-OUTLINE")) {
        const int face = layer[5] - 'A';
        const double quarter = std::numbers::pi / 2, both = field_area(piece.part, (face - 1) * quarter) + field_area(piece.part, (face + 1) * quarter);
        EXPECT_NEAR(std::fabs(area_of(vertices_of(entity))), both, both * 2e-5);
        ++contours;
      }
      if (layer.ends_with("-JOINTS") && entity.front().value == "LWPOLYLINE") joints += std::fabs(area_of(vertices_of(entity)));
      if (layer.ends_with("-JOINTS") && entity.front().value == "CIRCLE") holes += 1;
    }
    EXPECT_EQ(contours, 4);
    double mouths = 0, bores = 0;
    for (const shape::Mortise& m : piece.part.mortises) mouths += (m.x1 - m.x0) * (m.t1 - m.t0) - (4 - std::numbers::pi) * m.corner_radius * m.corner_radius;
    for (const shape::Bore& bore : piece.part.bores) bores += 2 + (bore.seat_diameter > 0 ? 1 : 0);  // through: on both faces
    EXPECT_NEAR(joints, mouths, 1e-6);
    EXPECT_EQ(holes, bores);
  }
}

TEST(StickDxf, IsTheHalfProfileInOneClosedLineAndAgainInLinesAndArcs) {
  const Painting painting;
  const job::Job job = stock_job("harvest-table");
  const shape::Part& part = job.order.made.pieces.front().part;
  const Read found = read(dxf_text(stick_dxf(part)));
  double length = 0;
  int arcs = 0, closed = 0;
  for (const auto& entity : found.entities) {
    if (value_of(entity, 8) == "CUT") {
      EXPECT_EQ(value_of(entity, 70), "1");
      const double area = field_area(part, 0);
      EXPECT_NEAR(std::fabs(area_of(vertices_of(entity))), area, area * 2e-5);
      ++closed;
    }
    if (value_of(entity, 8) != "PROFILE") continue;
    if (entity.front().value == "LINE") length += std::fabs(std::stod(value_of(entity, 11)) - std::stod(value_of(entity, 10)));
    if (entity.front().value == "ARC") {
      const auto along = [&](int code) { return std::stod(value_of(entity, 10)) + std::stod(value_of(entity, 40)) * std::cos(std::stod(value_of(entity, code)) * std::numbers::pi / 180); };
      length += std::fabs(along(51) - along(50));
      ++arcs;
    }
  }
  EXPECT_EQ(closed, 1);
  EXPECT_GT(arcs, 5);
  EXPECT_NEAR(length, part.length, 1e-5);
}

TEST(DxfText, WritesForeignLettersByTheirNumbers) {
  Dxf drawing;
  drawing.texts.push_back({"WORDS", 0, 0, 3, "Füße ⌀ 3\n0\nEOF"});
  const Read found = read(dxf_text(drawing));
  ASSERT_FALSE(found.entities.empty());
  EXPECT_EQ(value_of(found.entities.front(), 1), "F\\U+00FC\\U+00DFe \\U+2300 3 0 EOF");
}

}  // namespace
}  // namespace pommel::paper
