#include "match/recognise.h"

#include <gtest/gtest.h>

#include <cmath>

#include "match/compare.h"
#include "match/notes.h"

namespace pommel::match {
namespace {

/// A square to 100, a square-cut neck, a bead, a long taper with a ring half-way: four kinds at known places.
double radius_at(double x) {
  if (x < 108) return 24;
  if (x < 118) return 20 + std::sqrt(std::max(0.0, 25 - (x - 113) * (x - 113)));
  if (x < 400) return 22 - 8 * (x - 118) / 282;
  if (x < 412) return 15 + std::sqrt(std::max(0.0, 36 - (x - 406) * (x - 406)));
  return 16 - 2 * (x - 412) / 188;
}

std::vector<Measure> leg() {
  std::vector<Measure> out;
  const auto at = [&](double x) { out.push_back({x, 2 * radius_at(x), 0.05, 0.05, Measure::Of::round, {}, {}}); };
  for (double x : {100.3, 104.0, 107.7, 108.3, 110.0, 113.0, 116.0, 117.7, 118.3, 400.3, 402.0, 404.0, 406.0, 408.0, 410.0, 411.7, 412.3, 599.7}) at(x);
  for (int i = 1; i < 8; ++i) at(118 + 35.0 * i), at(412 + 23.0 * i);
  out.back().x += 0.001;
  return out;
}

Wishes squared() {
  Wishes w;
  w.head = 0, w.foot = 600, w.square = 60;
  w.squares = {{0, 100, true, true}};
  return w;
}

std::string kinds(const Recognition& r) {
  std::string text;
  for (const Found& f : r.elements) text += (text.empty() ? "" : ", ") + std::string(shape::word_of(f.name.kind));
  return text;
}

// A half-round of 14 mm stands 7 mm over its ends, and a hollow lies as deep.
TEST(Figures, TellTheirCrestOrBottom) {
  Stroke s;
  s.x0 = 100, s.x1 = 114, s.r0 = s.r1 = 22;
  s.figure = Figure::half_bulge;
  ASSERT_TRUE(crest_or_bottom(s));
  EXPECT_NEAR(crest_or_bottom(s)->radius, 29, 1e-9);
  EXPECT_TRUE(crest_or_bottom(s)->is_crest);
  s.figure = Figure::half_hollow;
  ASSERT_TRUE(crest_or_bottom(s));
  EXPECT_NEAR(crest_or_bottom(s)->radius, 15, 1e-9);
  EXPECT_FALSE(crest_or_bottom(s)->is_crest);
  s.figure = Figure::arc_hollow, s.extreme = 20;
  EXPECT_EQ(crest_or_bottom(s)->radius, 20);
  s.figure = Figure::level;
  EXPECT_FALSE(crest_or_bottom(s));
}

TEST(Recognise, FindsElementsWhateverTheOrderOfReadings) {
  auto measures = leg();
  std::reverse(measures.begin(), measures.end());
  const auto r = recognise(measures, squared(), {});
  ASSERT_TRUE(r.ok()) << render(r.reasons());
  EXPECT_EQ(kinds(*r), "square, pommel, bead, taper, bead, taper");
  EXPECT_NEAR(r->elements[2].stroke.x0, 108, 0.05);
  EXPECT_NEAR(r->elements[4].stroke.x1, 412, 0.05);
  for (const Wrong& w : r->wrong) ADD_FAILURE() << w.measure << " at " << measures[w.measure].x << " off " << w.off;
  EXPECT_LT(r->worst, 0.02);
}

TEST(Recognise, NamesTheReadingThatIsWrong) {
  auto measures = leg();
  measures[20].diameter += 3;
  const auto r = recognise(measures, squared(), {});
  ASSERT_TRUE(r.ok());
  EXPECT_EQ(kinds(*r), "square, pommel, bead, taper, bead, taper");
  ASSERT_EQ(r->wrong.size(), 1u);
  EXPECT_EQ(r->wrong[0].measure, 20u);
  EXPECT_NEAR(std::fabs(r->wrong[0].off), 1.5, 0.05);
}

TEST(Recognise, DoesAsTheMakerWishes) {
  const auto split = recognise(leg(), with_edge(squared(), 250), {});
  ASSERT_TRUE(split.ok());
  EXPECT_EQ(split->elements.size(), 7u);
  EXPECT_DOUBLE_EQ(split->elements[3].stroke.x1, 250);
  const auto changed = recognise(leg(), with_kind(squared(), 250, shape::ElementKind::vase), {});
  ASSERT_TRUE(changed.ok());
  EXPECT_EQ(changed->elements[3].name.kind, shape::ElementKind::vase);
  const auto merged = recognise(leg(), without_edge(squared(), 118), {false, 0.5});
  ASSERT_TRUE(merged.ok());
  for (const Found& f : merged->elements) EXPECT_GT(std::fabs(f.stroke.x1 - 118), 0.15);
}

TEST(Recognise, RefusesWhatItCannotDo) {
  const auto ids = [](const auto& result) { return result.ok() ? "" : result.reasons()[0].id; };
  Wishes nameless = squared();
  nameless.square.reset();
  EXPECT_EQ(ids(recognise(leg(), nameless, {})), "match.square");
  EXPECT_EQ(ids(recognise({leg()[0]}, squared(), {})), "match.few");
  Wishes backwards = squared();
  backwards.squares = {{100, 50, true, true}};
  EXPECT_EQ(ids(recognise(leg(), backwards, {})), "match.squares");
  Wishes shorter = squared();
  shorter.foot = 500;
  EXPECT_EQ(ids(recognise(leg(), shorter, {})), "match.ends");
}

TEST(Recognise, TellsOvalAndWornApartFromWhatItFits) {
  auto measures = leg();
  Measure across = measures[20], worn = measures[22];
  across.diameter += 0.6;
  worn.diameter -= 1.2, worn.of = Measure::Of::worn;
  measures.push_back(across);
  measures.push_back(worn);
  const auto r = recognise(measures, squared(), {});
  ASSERT_TRUE(r.ok());
  EXPECT_NEAR(r->ovality, 0.6, 1e-9);
  EXPECT_NEAR(r->ovality_x, across.x, 1e-9);
  EXPECT_NEAR(r->wear, 1.2, 0.1);
}

TEST(Recognise, AsksForReadingsWhereAnEdgeIsNotKnown) {
  std::vector<Measure> measures;
  for (double x : {1.0, 20.0, 40.0, 60.0, 100.0, 120.0, 140.0, 160.0}) measures.push_back({x, x < 80 ? 40.0 : 30.0, 0.05, 0.05, Measure::Of::round, {}, {}});
  Wishes w;
  w.head = 0, w.foot = 161;
  const auto r = recognise(measures, w, {});
  ASSERT_TRUE(r.ok());
  ASSERT_EQ(kinds(*r), "cylinder, pin");
  ASSERT_FALSE(r->wanted.empty());
  EXPECT_NEAR(r->wanted[0].from, 60, 0.2);
  EXPECT_NEAR(r->wanted[0].to, 100, 0.2);
}

// Three readings on a ring of 10 mm: its two edges as thick as the cylinders beside it, and one between that makes it a half-round, or is wrong.
TEST(Recognise, SaysThatOneReadingAloneMakesItRound) {
  std::vector<Measure> measures;
  for (const auto& [x, d] : {std::pair{1.0, 30.0}, {30.0, 30.0}, {60.0, 30.0}, {99.7, 30.0}, {100.3, 40.0}, {105.0, 50.0}, {109.7, 40.0}, {110.3, 30.0}, {150.0, 30.0}, {199.0, 30.0}})
    measures.push_back({x, d, 0.05, 0.05, Measure::Of::round, {}, {}});
  Wishes w;
  w.head = 0, w.foot = 200;
  const auto r = recognise(measures, w, {});
  ASSERT_TRUE(r.ok());
  const auto alone = std::find_if(r->wanted.begin(), r->wanted.end(), [](const Wanted& wanted) { return wanted.why == Wanted::Why::alone; });
  ASSERT_NE(alone, r->wanted.end()) << kinds(*r);
  EXPECT_EQ(alone->from, 105);
  EXPECT_EQ(in_words(*alone), "the reading there alone says that this is a bead and nothing straight: take it again, and another beside it");
}

TEST(Compare, SaysWhereTheCopyIsOff) {
  shape::Profile outline;
  outline.pieces = {shape::line_piece(0, 20, 100, 20)};
  std::vector<Measure> copy;
  for (double x : {10.0, 50.0, 90.0}) copy.push_back({x + 5, x == 50 ? 40.6 : 40.0, 0.05, 0.05, Measure::Of::round, {}, {}});
  const Comparison c = compared(outline, copy, 5);
  EXPECT_EQ(c.readings.size(), 3u);
  EXPECT_NEAR(c.mean, 0.1, 1e-12);
  EXPECT_NEAR(c.most, 0.3, 1e-12);
  EXPECT_DOUBLE_EQ(c.most_at, 50);
}

TEST(Notes, SayWhatRowsMean) {
  Sink sink;
  const auto rows = exchange::read_readings("x mm; d mm; +-; note\n0;;;head\n100;60;;square to here\n50;60;;square\n120;40;;is a cove\n130;;;edge\n140;38;;worn\n600;;;foot\n", "leg.csv", std::nullopt, sink);
  const Noted n = noted(rows, 0.1, 0.2, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  EXPECT_EQ(n.measures.size(), 3u);
  ASSERT_EQ(n.wishes.squares.size(), 1u);
  EXPECT_TRUE(n.wishes.squares[0].to_known);
  EXPECT_FALSE(n.wishes.squares[0].from_known);
  EXPECT_EQ(n.wishes.edges, (std::vector<double>{130}));
  EXPECT_EQ(n.wishes.kinds.at(0).kind, shape::ElementKind::cove);
  EXPECT_EQ(*n.wishes.foot, 600);
}

TEST(Notes, SuggestTheNearest) {
  Sink sink;
  noted(exchange::read_readings("x mm; d mm; +-; note\n1; 2; ; squar\n2;2;;is a beed\n", "leg.csv", LengthUnit::millimetre, sink), 0.1, 0.1, sink);
  ASSERT_EQ(sink.all().size(), 2u);
  EXPECT_EQ(sink.all()[0].remedy, "did you mean 'square'?");
  EXPECT_EQ(sink.all()[1].remedy, "did you mean 'bead'?");
}

}  // namespace
}  // namespace pommel::match
