// The shop drawing: no two texts of a sheet overlap, nothing leaves it, and it says every place and size of the piece.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "paper/arc.h"
#include "paper/canvas.h"
#include "paper/drawing.h"
#include "paper/jobs.h"
#include "paper/section_area.h"
#include "paper/side_line.h"

namespace pommel::paper {
namespace {

std::string texts_of(const std::vector<Page>& pages) {
  std::string out;
  for (const Page& page : pages)
    for (const Text& text : page.texts) out += text.text + "\n";
  return out;
}

class Drawing : public testing::TestWithParam<const char*> {
 protected:
  Painting painting_;
  job::Job job_ = stock_job(GetParam());
  Heading heading_ = heading_of(job_);
  std::vector<Piece> pieces_ = pieces_of(job_);
};

TEST_P(Drawing, HasNoTextOverAnotherAndKeepsOnTheSheet) {
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter})
    for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch}) {
      heading_.paper = paper;
      heading_.lengths.unit = unit;
      for (const Piece& piece : pieces_) {
        const auto pages = shop_drawing(piece, heading_);
        ASSERT_FALSE(pages.empty());
        for (std::size_t i = 0; i < pages.size(); ++i) EXPECT_THAT(layout_faults(pages[i], 7.5), testing::IsEmpty()) << piece.file << ", sheet " << i + 1;
      }
    }
}

TEST_P(Drawing, SaysEveryMortiseFromTheHeadAndFromItsEdge) {
  for (const Piece& piece : pieces_) {
    const std::string texts = texts_of(shop_drawing(piece, heading_));
    for (const shape::Mortise& m : piece.part.mortises) {
      const double edge = piece.square / 2 - std::max(std::fabs(m.t0), std::fabs(m.t1));
      for (const double figure : {m.x0, m.x1, m.t1 - m.t0, m.depth, edge}) EXPECT_THAT(texts, testing::HasSubstr(heading_.figure(figure) + "\n")) << piece.file << " " << m.id;
    }
    for (const shape::ElementMark& element : piece.part.elements) EXPECT_THAT(texts, testing::HasSubstr(heading_.figure(element.x1) + "\n"));
  }
}

bool says(const Page& page, const std::string& words) {
  return std::any_of(page.texts.begin(), page.texts.end(), [&](const Text& text) { return text.text == words; });
}

// Nobody reads a table across two sheets while a cutter turns.
TEST_P(Drawing, KeepsTheTableOfElementsOnOneSheet) {
  for (const Piece& piece : pieces_) {
    int tables = 0;
    for (const Page& page : shop_drawing(piece, heading_)) {
      EXPECT_EQ(says(page, "no."), says(page, "Elements, from the head")) << piece.file;
      tables += says(page, "no.") ? 1 : 0;
    }
    EXPECT_EQ(tables, 1) << piece.file;
  }
}

INSTANTIATE_TEST_SUITE_P(Orders, Drawing, testing::Values("harvest-table", "cannonball-bed", "villa-stair", "pair-of-lamps"), [](const auto& name) {
  std::string order = name.param;
  std::replace(order.begin(), order.end(), '-', '_');
  return order;
});

// The sawn end of a raked baluster: a dashed line across it, from long point to short.
TEST(RakedHead, IsDrawnWhereItIsSawn) {
  const Painting painting;
  const job::Job job = stock_job("villa-stair");
  const Heading heading = heading_of(job);
  const Piece piece = pieces_of(job).front();
  ASSERT_EQ(piece.part.end_cuts.size(), 1U);
  const double rise = piece.square * std::tan(std::fabs(piece.part.end_cuts.front().angle));
  const Page page = shop_drawing(piece, heading).front();
  const auto across = [&](const Path& path) {
    if (path.pen != Pen::hidden || path.closed || path.points.size() < 2) return false;
    const Vertex &a = path.points.front(), &b = path.points.back();
    const double scale = std::fabs(b.y - a.y) / piece.square;
    return scale > 0.1 && std::fabs(std::fabs(b.x - a.x) - rise * scale) < 0.1;
  };
  EXPECT_TRUE(std::any_of(page.paths.begin(), page.paths.end(), across));
}

TEST(SectionOfABoredColumn, SaysAndShowsTheBore) {
  const Painting painting;
  const job::Job job = stock_job("pair-of-lamps");
  const Heading heading = heading_of(job);
  const Piece piece = pieces_of(job).front();
  const double bore = std::get<frame::Lamp>(job.order.made.frame).bore;
  EXPECT_THAT(texts_of(shop_drawing(piece, heading)), testing::HasSubstr(", bored " + heading.figure(bore)));
  Page page;
  add_section(page, piece, heading, section_places(piece.part).front().x, 1, 0, 0);
  const auto hole = [&](const Path& path) { return path.fill == Fill::paper && path.points.size() == 2 && std::fabs(path.points[1].x - path.points[0].x - bore) < 1e-9; };
  EXPECT_EQ(std::count_if(page.paths.begin(), page.paths.end(), hole), 1);
}

// Points of the path that the fit did not look at, against the field.
TEST(SideLine, FollowsTheFieldWithItsArcs) {
  for (const char* order : {"harvest-table", "cannonball-bed"}) {
    const job::Job job = stock_job(order);
    for (const family::MadePiece& made : job.order.made.pieces) {
      const auto line = side_line(made.part, std::numbers::pi / 2);
      int looked = 0;
      for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        for (const Vertex& v : flattened({line[i], line[i + 1]}, false)) {
          if (v.x <= line[i].x + 1e-6 || v.x >= line[i + 1].x - 1e-6) continue;
          // distance to the skin, not along the radius: arcs may stand upright
          double off = 1e9;
          for (int k = -200; k <= 200; ++k) {
            const double x = v.x + k * 1e-4;
            if (x > 0 && x < made.part.length) off = std::min(off, std::hypot(x - v.x, shape::radius_at(made.part, x, std::numbers::pi / 2) - v.y));
          }
          EXPECT_LT(off, kArcFit + 1e-4) << v.x;
          ++looked;
        }
      }
      EXPECT_GT(looked, 100);
    }
  }
}

TEST(SectionLine, HasTheAreaOfTheSection) {
  const job::Job job = stock_job("cannonball-bed");
  const shape::Part& part = job.order.made.pieces.front().part;
  for (double x = 5; x < part.length; x += 41.7) {
    EXPECT_NEAR(area_within(section_line(part, x)), shape::section_area(part, x, shape::Side::after), 1e-6 * shape::section_area(part, x, shape::Side::after)) << x;
  }
}

}  // namespace
}  // namespace pommel::paper
