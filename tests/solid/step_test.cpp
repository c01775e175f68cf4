// STEP written, looked at as text by a small reader of our own, and read back by the kernel.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <regex>
#include <set>
#include <thread>

#include "base/diagnostic.h"
#include "solid/legs.h"
#include "solid/mesh.h"
#include "solid/step.h"

namespace pommel::solid {
namespace {

using namespace testing;

const Stamp kStamp{"leg.step", "2024-05-01T12:00:00", "the shop", "bench and lathe", "pommel"};

Solid leg() {
  static const Result<Solid> one = jointed(bench_leg_jointed(5));
  EXPECT_TRUE(one.ok()) << (one.ok() ? "" : render(one.reasons()));
  return *one;
}

std::string written(const std::vector<NamedSolid>& solids) {
  const Result<std::string> text = write_step(solids, kStamp);
  EXPECT_TRUE(text.ok()) << (text.ok() ? "" : render(text.reasons()));
  return text ? *text : "";
}

// ISO 10303-21: strings in apostrophes, doubled inside; #n names an instance.
struct Instances {
  std::set<long> defined, used;
  bool doubled = false;
};

Instances instances_of(const std::string& text) {
  Instances found;
  bool in_string = false, statement_start = true;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\'') in_string = !in_string;
    if (in_string) continue;
    if (c == ';')
      statement_start = true;
    else if (c == '#') {
      const long n = std::strtol(text.c_str() + i + 1, nullptr, 10);
      if (statement_start)
        found.doubled |= !found.defined.insert(n).second;
      else
        found.used.insert(n);
      statement_start = false;
    } else if (!std::isspace(static_cast<unsigned char>(c)))
      statement_start = false;
  }
  return found;
}

TEST(Step, TextIsWellFormed) {
  const auto since = std::chrono::steady_clock::now();
  const std::string text = written({{"table leg", leg()}});
  const double ms = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - since).count();
  EXPECT_TRUE(text.starts_with("ISO-10303-21;"));
  EXPECT_NE(text.find("\nHEADER;"), std::string::npos);
  EXPECT_NE(text.find("\nDATA;"), std::string::npos);
  EXPECT_NE(text.find("\nEND-ISO-10303-21;"), std::string::npos);
  EXPECT_NE(text.find("AUTOMOTIVE_DESIGN"), std::string::npos) << "AP214";
  EXPECT_NE(text.find("PRODUCT('table leg','table leg'"), std::string::npos);
  EXPECT_NE(text.find("SI_UNIT(.MILLI.,.METRE.)"), std::string::npos);
  EXPECT_NE(text.find("FILE_NAME('leg.step','2024-05-01T12:00:00',('the shop'),("), std::string::npos)
      << text.substr(0, 800);
  const Instances found = instances_of(text);
  EXPECT_GT(found.defined.size(), 500u);
  EXPECT_FALSE(found.doubled);
  for (const long n : found.used) EXPECT_TRUE(found.defined.count(n)) << "#" << n << " dangles";
  // reals carry a point
  EXPECT_FALSE(std::regex_search(text, std::regex("CARTESIAN_POINT\\('',\\([^)]*[ (,]-?[0-9]+[,)]")));
  std::printf("step: %zu bytes, %zu instances, %.0f ms\n", text.size(), found.defined.size(), ms);
}

TEST(Step, NothingOfTheMachineOrTheClockIsInIt) {
  const std::string text = written({{"table leg", leg()}});
  EXPECT_EQ(text.find("Open CASCADE"), std::string::npos) << text.substr(0, 800);
  EXPECT_EQ(text.find("/tmp"), std::string::npos);
  const std::regex date("20[0-9][0-9]-[01][0-9]-[0-3][0-9]");
  for (std::sregex_iterator it(text.begin(), text.end(), date), end; it != end; ++it)
    EXPECT_EQ(it->str(), "2024-05-01");
}

TEST(Step, SameCallSameBytes) {
  const std::string first = written({{"table leg", leg()}});
  std::this_thread::sleep_for(std::chrono::milliseconds(1100));
  EXPECT_EQ(written({{"table leg", leg()}}), first) << "the clock or a counter is in the text";
  const Result<Solid> again = jointed(bench_leg_jointed(5));
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(written({{"table leg", *again}}), first) << "the solid is not the same when built again";
  EXPECT_EQ(write_stl(*mesh(*again), "leg"), write_stl(*mesh(leg()), "leg"));
}

TEST(Step, ReadBackItIsTheSameSolid) {
  const Result<std::vector<NamedSolid>> back = read_step(written({{"table leg", leg()}}));
  ASSERT_TRUE(back.ok()) << render(back.reasons());
  ASSERT_EQ(back->size(), 1u);
  EXPECT_EQ(back->front().name, "table leg");
  const double v = volume(leg()), a = area(leg());
  EXPECT_NEAR(volume(back->front().solid), v, 1e-6 * v);
  EXPECT_NEAR(area(back->front().solid), a, 1e-6 * a);
  EXPECT_EQ(census(back->front().solid).faces, census(leg()).faces);
  EXPECT_NEAR(bounds(back->front().solid).high.x, 720, 1e-3);
  const Result<Mesh> skin = mesh(back->front().solid);
  ASSERT_TRUE(skin.ok());
  EXPECT_EQ(euler_number(*skin), 0) << "two mortises that meet make one tunnel";
}

TEST(Step, SeveralNamedSolidsInPlace) {
  const Result<Solid> other = placed(leg(), {{0, 500, 0}, {1, 0, 0}, {0, 0, 1}});
  ASSERT_TRUE(other.ok());
  const Result<Solid> rail = turned(part_of(Turning(0).clear(400, 1), 4, 10));
  ASSERT_TRUE(rail.ok());
  const Result<std::vector<NamedSolid>> back =
      read_step(written({{"leg front left", leg()}, {"leg front right", *other}, {"rail", *rail}}));
  ASSERT_TRUE(back.ok()) << render(back.reasons());
  ASSERT_EQ(back->size(), 3u);
  EXPECT_EQ((*back)[0].name, "leg front left");
  EXPECT_EQ((*back)[1].name, "leg front right");
  EXPECT_EQ((*back)[2].name, "rail");
  EXPECT_NEAR(bounds((*back)[1].solid).low.y, 470, 1e-3);
  EXPECT_NEAR(volume((*back)[2].solid), 160000, 1);
}

TEST(Step, NamesOfAllKinds) {
  const Result<Solid> post = turned(part_of(Turning(0).clear(40, 1), 4, 10));
  ASSERT_TRUE(post.ok());
  for (const std::string name :
       {"plain", "maker's leg", "Füße, große", "back\\slash", "#12 = 'odd' ;", "脚 🪑", ""}) {
    const std::string text = written({{name, *post}});
    for (const char c : text) ASSERT_LT(static_cast<unsigned char>(c), 127) << name;
    const Result<std::vector<NamedSolid>> back = read_step(text);
    ASSERT_TRUE(back.ok()) << name << render(back.reasons());
    EXPECT_EQ(back->front().name, name);
  }
}

TEST(Step, BadTextIsRefused) {
  const std::string good = written({{"table leg", leg()}});
  EXPECT_EQ(write_step({}, kStamp).reasons().front().id, "step.empty");
  EXPECT_EQ(read_step("").reasons().front().id, "step.read");
  EXPECT_EQ(read_step("not a step file").reasons().front().id, "step.read");
  EXPECT_EQ(read_step(good.substr(0, 700)).reasons().front().id, "step.read");
}

TEST(Step, FromSeveralThreads) {
  const Result<Solid> post = turned(part_of(Turning(0).clear(40, 1), 4, 10));
  ASSERT_TRUE(post.ok());
  const std::string wanted = written({{"post", *post}});
  std::vector<std::string> texts(4);
  {
    std::vector<std::jthread> threads;
    for (std::string& text : texts) threads.emplace_back([&text, &post] { text = written({{"post", *post}}); });
  }
  for (const std::string& text : texts) EXPECT_EQ(text, wanted);
}

}  // namespace
}  // namespace pommel::solid
