// The forms of cutters: what each needs, and what is said when its figures do not make a cutter.
#include <gtest/gtest.h>

#include <numbers>

#include "shop/read.h"

namespace pommel::shop {
namespace {

std::string entry(const std::string& end, const std::string& flutes = "30 mm") {
  return "cutters:\n  one:\n    label: one\n" + end + "    flutes: 2\n    flute_length: " + flutes +
         "\n    shank: {diameter: 6 mm, length: 50 mm}\n    collet: {diameter: 28 mm, length: 30 mm}\n    rpm: 18000\n"
         "    chip_load: 0.1 mm\n    max_depth_of_cut: 3 mm\nmortises: [6 mm]\n";
}

Cutter read_one(const std::string& text, Sink& sink) {
  Shop shop;
  read_cutters(text, "cutters.yaml", shop, sink);
  return shop.cutters["one"];
}

TEST(Cutters, EachFormHasItsMeridian) {
  struct Row { const char* end; Cutter::Form form; double tip_radius, half_angle, tip_flat; };
  constexpr double degree = std::numbers::pi / 180;
  const Row table[] = {
      {"    form: ball\n    diameter: 6 mm\n", Cutter::Form::ball, 0, 0, 0},
      {"    form: flat\n    diameter: 6 mm\n", Cutter::Form::flat, 0, 0, 0},
      {"    form: bull nose\n    diameter: 12 mm\n    corner_radius: 2 mm\n", Cutter::Form::bull_nose, 2, 0, 0},
      {"    form: tapered ball\n    diameter: 6 mm\n    tip_radius: 0.75 mm\n    taper: 5 deg\n", Cutter::Form::tapered_ball, 0.75, 5 * degree, 0},
      {"    form: vee\n    diameter: 12 mm\n    angle: 60 deg\n    tip_flat: 0.2 mm\n", Cutter::Form::vee, 0, 30 * degree, 0.2},
  };
  for (const Row& row : table) {
    Sink sink;
    const Cutter cutter = read_one(entry(row.end), sink);
    ASSERT_TRUE(sink.all().empty()) << row.end << render(sink.all());
    EXPECT_EQ(cutter.form, row.form) << row.end;
    EXPECT_DOUBLE_EQ(cutter.tip_radius, row.tip_radius) << row.end;
    EXPECT_NEAR(cutter.half_angle, row.half_angle, 1e-12) << row.end;
    EXPECT_DOUBLE_EQ(cutter.tip_flat, row.tip_flat) << row.end;
  }
}

TEST(Cutters, OneWithoutTeethInItsMiddleSaysHowSteeplyItSinks) {
  Sink sink;
  const Cutter ramps = read_one(entry("    form: flat\n    diameter: 6 mm\n    ramp: 5 deg\n"), sink), plunges = read_one(entry("    form: flat\n    diameter: 6 mm\n"), sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  EXPECT_NEAR(ramps.ramp, 5 * std::numbers::pi / 180, 1e-12);
  EXPECT_FALSE(ramps.plunges());
  EXPECT_TRUE(plunges.plunges());
  for (const char* wrong : {"0 deg", "60 deg", "steep"}) {
    Sink said;
    read_one(entry("    form: flat\n    diameter: 6 mm\n    ramp: " + std::string(wrong) + "\n"), said);
    EXPECT_TRUE(said.has_errors()) << wrong;
  }
}

TEST(Cutters, TheHolderIsABodyOfItsOwn) {
  Sink sink;
  const Cutter cutter = read_one(entry("    form: flat\n    diameter: 6 mm\n    holder: {diameter: 60 mm, length: 80 mm}\n"), sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  EXPECT_EQ(cutter.holder_diameter, 60);
  EXPECT_EQ(cutter.holder_length, 80);
}

TEST(Cutters, WhatMakesNoCutterIsSaid) {
  struct Row { const char *end, *flutes, *says; };
  const Row table[] = {
      {"    form: bull nose\n    diameter: 12 mm\n    corner_radius: 6 mm\n", "30 mm", "a corner of half the diameter is a ball"},
      {"    form: tapered ball\n    diameter: 6 mm\n    tip_radius: 3 mm\n    taper: 5 deg\n", "30 mm", "the tip's ball is as wide as the whole cutter"},
      {"    form: tapered ball\n    diameter: 12 mm\n    tip_radius: 0.75 mm\n    taper: 5 deg\n", "30 mm", "the sides reach the full diameter only 60.73 mm above the tip"},
      {"    form: vee\n    diameter: 12 mm\n    angle: 60 deg\n", "8 mm", "the sides reach the full diameter only 10.39 mm above the tip"},
      {"    form: ball\n    diameter: 6 mm\n", "2 mm", "the flutes end below the ball's equator"},
      {"    form: ball\n    diameter: 6 mm\n", "55 mm", "the flutes reach into the collet nut: they end at 55 mm, the nut begins at 50 mm"},
      {"    form: flat\n    diameter: 6 mm\n    taper: 5 deg\n", "30 mm", "'taper' is no entry of a cutter"},
      {"    form: rose\n    diameter: 6 mm\n", "30 mm", "rose"},
      {"    form: vee\n    diameter: 12 mm\n    angle: 60\n", "30 mm", "60"},
  };
  for (const Row& row : table) {
    Sink sink;
    read_one(entry(row.end, row.flutes), sink);
    EXPECT_TRUE(sink.has_errors()) << row.end;
    EXPECT_NE(render(sink.all()).find(row.says), std::string::npos) << render(sink.all());
  }
}

TEST(Cutters, AllProblemsAtOnce) {
  Sink sink;
  read_one(entry("    form: vee\n    diameter: -12 mm\n    angle: 60\n    tip_flat: 0.2\n", "0 mm"), sink);
  EXPECT_GE(sink.all().size(), 4u) << render(sink.all());
}

}  // namespace
}  // namespace pommel::shop
