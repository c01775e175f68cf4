// The command line as a process: help, JSON, exit codes, that nothing is left behind, that the same order gives the same bytes,
// and what `pommel prove` makes of a program that was harmed.
#include <gtest/gtest.h>

#include <fstream>
#include <functional>

#include <nlohmann/json.hpp>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "base/text.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::whole {
namespace {

namespace fs = std::filesystem;

void put(const fs::path& path, const std::string& text) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

// A house on the disk with the small table, for all tests of this file, and its job folder for those that need it.
class CommandLine : public ::testing::Test {
 protected:
  static void SetUpTestSuite() {
    scratch = new Scratch;
    const House house;
    for (const auto& [name, text] : house.files.files()) put(*scratch / "house" / name, text);
    order = (*scratch / "house/catalog/orders/low-table.yaml").string();
    folder = *scratch / "job";
  }
  static void TearDownTestSuite() {
    delete scratch;
    scratch = nullptr;
  }

  // Makes the job folder, once in a process.
  static const Ended& made() {
    static const Ended ended = pommel({"make", order, "--into", folder.string(), "--json"});
    return ended;
  }
  // A bad order beside the good one.
  static std::string bad_order(const std::string& from, const std::string& to) {
    std::string text = kSmallOrder;
    text.replace(text.find(from), from.size(), to);
    const fs::path path = *scratch / "house/catalog/orders/bad.yaml";
    put(path, text);
    return path.string();
  }
  static bool no_trace_of(const std::string& name) {
    for (const auto& entry : fs::directory_iterator(scratch->path()))
      if (entry.path().filename().string().find(name) != std::string::npos) return false;
    return true;
  }

  static inline Scratch* scratch = nullptr;
  static inline std::string order;
  static inline fs::path folder;
};

TEST_F(CommandLine, EveryVerbHelps) {
  for (const std::string verb : {"make", "sheet", "check", "solid", "prove", "catalog"}) {
    const Ended ended = pommel({verb, "--help"});
    EXPECT_EQ(ended.code, 0) << verb;
    EXPECT_NE(ended.out.find("--catalog"), std::string::npos) << verb << "\n" << ended.out;
    EXPECT_NE(ended.out.find("--json"), std::string::npos) << verb << " prints results\n" << ended.out;
    EXPECT_EQ(ended.err, "") << verb;
  }
  const Ended all = pommel({"--help"});
  EXPECT_EQ(all.code, 0);
  EXPECT_NE(all.out.find("Exit codes: 0 done; 1 problems"), std::string::npos) << all.out;
  EXPECT_EQ(pommel({"--version"}).code, 0);
}

TEST_F(CommandLine, UsageErrorsGiveTwo) {
  for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
           {}, {"mkae"}, {"make"}, {"make", order}, {"make", order, "--into"}, {"sheet", order, "--wiht", "square=3 mm"}, {"prove", "x"}, {"solid", order, "--into", "a.stl", "--deflection", "99"}}) {
    const Ended ended = pommel(arguments);
    EXPECT_EQ(ended.code, 2) << joined(arguments, " ");
    EXPECT_FALSE(ended.err.empty() && ended.out.empty());
  }
}

TEST_F(CommandLine, MakeLeavesAWholeFolderTheSameEachTime) {
  ASSERT_EQ(made().code, 0) << made().out << made().err;
  const auto files = contents(folder);
  for (const char* name : {"READ-ME-FIRST.txt", "manifest.json", "measures.txt", "job.json", "cut-list.csv", "quote.txt", "cost-sheet.txt", "programs/leg-turning.nc",
                           "programs/leg-turning.nc.check.txt", "programs/leg-turning.nc.setup.txt", "solids/leg-turned.step", "solids/leg-turned.stl"})
    EXPECT_TRUE(files.contains(name)) << name;
  const auto manifest = nlohmann::json::parse(files.at("manifest.json"));
  EXPECT_EQ(manifest.at("files").size() + 1, files.size());
  for (const auto& file : manifest.at("files"))
    EXPECT_EQ(sha256(files.at(file.at("name").get<std::string>())), file.at("sha256").get<std::string>()) << file.at("name");
  EXPECT_EQ(nlohmann::json::parse(made().out), nlohmann::json::parse(files.at("job.json")));
  EXPECT_TRUE(no_trace_of("in-making"));

  // another working folder, another clock: the same bytes (tests/trust has locales and processors)
  const fs::path again = *scratch / "again";
  Surroundings around;
  around.environment = {{"TZ", "Pacific/Kiritimati"}, {"HOME", "/nowhere"}};
  around.folder = *scratch / "house/catalog";
  const Ended ended = pommel({"make", "orders/low-table.yaml", "--into", "../../again"}, around);
  ASSERT_EQ(ended.code, 0) << ended.err;
  const auto second = contents(again);
  ASSERT_EQ(files.size(), second.size());
  for (const auto& [name, bytes] : files) EXPECT_TRUE(second.contains(name) && second.at(name) == bytes) << name << " differs";
}

TEST_F(CommandLine, JsonParses) {
  const Ended sheet = pommel({"sheet", order, "--measures-only", "--json"});
  ASSERT_EQ(sheet.code, 0) << sheet.err;
  const auto columns = nlohmann::json::parse(sheet.out).at("columns");
  ASSERT_EQ(columns.size(), 2u);
  EXPECT_EQ(columns[1].at("measures").at("table_height").get<double>(), 390.0);
  EXPECT_EQ(columns[1].at("measures").at("leg_length").get<double>(), 368.0);

  const Ended catalog = pommel({"catalog", "--json", "--catalog", (*scratch / "house/catalog").string()});
  EXPECT_EQ(catalog.code, 0) << catalog.err;
  EXPECT_EQ(nlohmann::json::parse(catalog.out).at(0).at("id").get<std::string>(), "low-table");

  const Ended bad = pommel({"check", bad_order("390 mm", "390"), "--json"});
  EXPECT_EQ(bad.code, 1);
  const auto found = nlohmann::json::parse(bad.out);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].at("id").get<std::string>(), "quantity.no-unit");
  EXPECT_EQ(found[0].at("line").get<int>(), 10);
  EXPECT_EQ(found[0].at("column").get<int>(), 17);

  const Ended solid = pommel({"solid", order, "--into", (*scratch / "leg.stl").string(), "--json"});
  EXPECT_EQ(solid.code, 0) << solid.err;
  EXPECT_EQ(nlohmann::json::parse(solid.out).at("bytes").get<std::uintmax_t>(), fs::file_size(*scratch / "leg.stl"));
}

TEST_F(CommandLine, ASoundOrderIsSaidToBeSound) {
  const Ended ended = pommel({"check", order});
  EXPECT_EQ(ended.code, 0) << ended.err;
  EXPECT_NE(ended.out.find("is sound"), std::string::npos) << ended.out;
}

TEST_F(CommandLine, ProblemsGiveOneAndMakeNothing) {
  const Ended ended = pommel({"make", bad_order("390 mm", "390,5 mm"), "--into", (*scratch / "never").string()});
  EXPECT_EQ(ended.code, 1);
  EXPECT_EQ(ended.out, "");
  EXPECT_NE(ended.err.find("bad.yaml:10:17: error: '390,5' has a comma in the number [quantity.comma]"), std::string::npos) << ended.err;
  EXPECT_TRUE(no_trace_of("never"));
  EXPECT_EQ(pommel({"make", (*scratch / "no-such.yaml").string(), "--into", (*scratch / "never").string()}).code, 1);
  EXPECT_TRUE(no_trace_of("never"));
}

TEST_F(CommandLine, WhatStandsThereIsNotTouched) {
  const fs::path there = *scratch / "there";
  put(there / "letter.txt", "mine");
  const Ended refused = pommel({"make", order, "--into", there.string()});
  EXPECT_EQ(refused.code, 4);
  EXPECT_NE(refused.err.find("exists already"), std::string::npos) << refused.err;
  // not a job folder: not even --replace takes it away
  const Ended replaced = pommel({"make", order, "--into", there.string(), "--replace"});
  EXPECT_EQ(replaced.code, 4);
  EXPECT_NE(replaced.err.find("is not replaced: it is not a job folder [job.not-ours]"), std::string::npos) << replaced.err;
  EXPECT_EQ(contents(there), (std::map<std::string, std::string>{{"letter.txt", "mine"}}));
  const Ended file = pommel({"make", order, "--into", (there / "letter.txt").string(), "--replace"});
  EXPECT_EQ(file.code, 4);
  EXPECT_EQ(contents(there), (std::map<std::string, std::string>{{"letter.txt", "mine"}}));
}

TEST_F(CommandLine, AJobFolderIsReplacedUnlessSomethingElseLiesInIt) {
  ASSERT_EQ(made().code, 0);
  const fs::path copy = *scratch / "copy";
  fs::copy(folder, copy, fs::copy_options::recursive);
  put(copy / "programs" / "photo.jpg", "mine");
  const Ended refused = pommel({"make", order, "--into", copy.string(), "--replace"});
  EXPECT_EQ(refused.code, 4);
  EXPECT_NE(refused.err.find("it holds 'programs/photo.jpg', which this tool did not write"), std::string::npos) << refused.err;
  EXPECT_TRUE(fs::exists(copy / "programs" / "photo.jpg"));
  fs::remove(copy / "programs" / "photo.jpg");
  put(copy / "quote.txt", "old");
  const Ended replaced = pommel({"make", order, "--into", copy.string(), "--replace"});
  EXPECT_EQ(replaced.code, 0) << replaced.err;
  EXPECT_EQ(contents(copy), contents(folder));
}

TEST_F(CommandLine, ADiskThatRefusesGivesFourAndLeavesNothing) {
  put(*scratch / "file", "a file");
  EXPECT_EQ(pommel({"solid", order, "--into", (*scratch / "file" / "leg.stl").string()}).code, 4);
  EXPECT_EQ(pommel({"make", order, "--into", (*scratch / "file" / "job").string()}).code, 4);
  EXPECT_EQ(contents(scratch->path()).at("file"), "a file");
  if (::geteuid() == 0) return;  // root may write anywhere
  const fs::path closed = *scratch / "closed";
  fs::create_directory(closed);
  ::chmod(closed.c_str(), 0555);
  EXPECT_EQ(pommel({"make", order, "--into", (closed / "job").string()}).code, 4);
  EXPECT_TRUE(fs::is_empty(closed));
}

TEST_F(CommandLine, AnInterruptLeavesNothing) {
  for (int after : {0, 150}) {
    Surroundings around;
    around.interrupt_after_ms = after;
    const Ended ended = pommel({"make", order, "--into", (*scratch / "stopped").string()}, around);
    EXPECT_EQ(ended.code, 130) << "after " << after << " ms\n" << ended.err;
    EXPECT_TRUE(no_trace_of("stopped"));
  }
}

// --- a program that was harmed

using Harm = std::function<std::string(std::string)>;

// The first place of `from` after `share` of the text.
Harm change(const std::string& from, const std::string& to, double share) {
  return [=](std::string text) {
    const std::size_t at = text.find(from, static_cast<std::size_t>(share * static_cast<double>(text.size())));
    EXPECT_NE(at, text.npos) << from;
    return at == text.npos ? text : text.replace(at, from.size(), to);
  };
}

// Rewrites the number after `word` in the first line past a quarter of the text where it is over `least`.
Harm rewrite(char word, double least, const std::function<std::string(double)>& to) {
  return [=](std::string text) {
    for (std::size_t at = text.find(word, text.size() / 4); at != text.npos; at = text.find(word, at + 1)) {
      std::size_t end = at + 1;
      while (end < text.size() && (std::isdigit(static_cast<unsigned char>(text[end])) || text[end] == '.' || text[end] == '-')) ++end;
      const double value = std::strtod(text.substr(at + 1, end - at - 1).c_str(), nullptr);
      if (end > at + 1 && value > least) return text.replace(at + 1, end - at - 1, to(value));
    }
    ADD_FAILURE() << "no such word " << word;
    return text;
  };
}

struct Harmed {
  const char* what;
  Harm harm;
  const char* says;  ///< an id or words that must stand in what is said
  int code;          ///< 3: it harms the piece; 5: it cannot be read; 6: it is not for this machine, cutter or piece
};

TEST_F(CommandLine, ProveCatchesAHarmedProgram) {
  ASSERT_EQ(made().code, 0);
  const std::string text = contents(folder).at("programs/leg-turning.nc");
  const fs::path program = *scratch / "harmed.nc";
  put(program, text);
  const Ended sound = pommel({"prove", program.string(), "--for", order, "--json"});
  EXPECT_EQ(sound.code, 0) << sound.err;
  EXPECT_TRUE(nlohmann::json::parse(sound.out).at("passed").get<bool>());

  const Harmed harms[] = {
      {"a height lost its sign: the cutter dives", rewrite('Z', 15, [](double z) { return "-" + std::to_string(z); }), "program.travel", 6},
      {"a digit: a tenth too deep", rewrite('Z', 15, [](double z) { return std::to_string(z - 0.1); }), "proof.gouge", 3},
      {"a digit: two millimetres too deep, and so too fast", rewrite('Z', 15, [](double z) { return std::to_string(z - 2); }), "feed-limit", 6},
      {"a place off by a metre", rewrite('X', 50, [](double x) { return std::to_string(x + 1000); }), "", 6},
      {"half of the lines are gone", [](std::string t) { return t.erase(t.find('\n', t.size() / 4), t.find('\n', t.size() * 3 / 4) - t.find('\n', t.size() / 4)); }, "feed-limit", 6},
      {"the end is gone", [](std::string t) { return t.substr(0, t.size() / 2); }, "", 5},
      {"a letter O for a nought", change("0", "O", 0.5), "harmed.nc:", 5},
      {"an F that says nought", rewrite('F', 0, [](double) { return std::string("0"); }), "harmed.nc:", 5},
      {"an F a thousand times too fast", rewrite('F', 0, [](double f) { return std::to_string(f * 1000); }), "feed", 6},
      {"the spindle never starts", change("M3", "M5", 0), "", 5},
  };
  for (const Harmed& one : harms) {
    const std::string harmed = one.harm(text);
    ASSERT_NE(harmed, text) << one.what;
    put(program, harmed);
    const Ended ended = pommel({"prove", program.string(), "--for", order});
    EXPECT_EQ(ended.code, one.code) << one.what << "\n" << ended.out.substr(0, 600) << ended.err;
    EXPECT_NE((ended.out + ended.err).find(one.says), std::string::npos) << one.what << "\n" << ended.out.substr(0, 600) << ended.err;
  }
}

// A machine that takes a file a cutter: the turning's files share one judgement, and prove takes them together.
TEST_F(CommandLine, ATurningOfTwoCuttersIsTwoFilesWhereTheMachineTakesThemSo) {
  std::string text = kSmallOrder;
  text.replace(text.find("machine: rotary-degrees\ncutter: ball-8"), 38, "machine: rotary-for-y\ncutters: {rough: bull-nose-12, finish: ball-8}");
  const std::string two = (*scratch / "house/catalog/orders/two-files.yaml").string();
  put(two, text);
  const fs::path into = *scratch / "two-files";
  const Ended ended = pommel({"make", two, "--into", into.string(), "--json"});
  ASSERT_EQ(ended.code, 0) << ended.out << ended.err;
  const auto files = contents(into);
  const std::string first = "programs/leg-turning-1-bull-nose-12.nc", second = "programs/leg-turning-2-ball-8.nc";
  for (const std::string& name : {first, second})
    for (const char* beside : {"", ".check.json", ".check.txt", ".setup.txt"}) ASSERT_TRUE(files.contains(name + beside)) << name << beside;
  EXPECT_FALSE(files.contains("programs/leg-turning.nc"));
  EXPECT_NE(files.at(second).find("run it after leg-turning-1-bull-nose-12.nc"), std::string::npos);
  const std::string& set_up = files.at(second + ".setup.txt");
  for (const char* words : {"file 2 of 2", "8 mm ball", "has left it, still"}) EXPECT_NE(set_up.find(words), std::string::npos) << words << "\n" << set_up;
  EXPECT_EQ(set_up.find("bull nose"), std::string::npos) << set_up;
  for (const std::string& name : {first, second}) {
    const auto check = nlohmann::json::parse(files.at(name + ".check.json"));
    EXPECT_TRUE(check.at("passed").get<bool>());
    EXPECT_EQ(check.at("text_sha256").get<std::string>(), sha256(files.at(name)));
    EXPECT_EQ(check.at("files").get<int>(), 2);
  }
  const std::string a = (into / first).string(), b = (into / second).string();
  EXPECT_EQ(pommel({"prove", a, b, "--for", two}).code, 0);
  const Ended alone = pommel({"prove", b, "--for", two, "--piece", "leg"}), turned_about = pommel({"prove", b, a, "--for", two, "--piece", "leg"});
  EXPECT_EQ(alone.code, 3) << alone.out;  // the ball meets the whole blank
  EXPECT_EQ(turned_about.code, 3) << turned_about.out;
  // each is held to the check its own header states
  std::string harmed = files.at(second);
  harmed.replace(harmed.find("(note: file 2 of 2"), 18, "(note: file 3 of 2");
  put(*scratch / "leg-turning-harmed.nc", harmed);
  const Ended changed = pommel({"prove", a, (*scratch / "leg-turning-harmed.nc").string(), "--for", two});
  EXPECT_EQ(changed.code, 6) << changed.out;
  EXPECT_NE(changed.out.find("proof.changed"), std::string::npos) << changed.out;
  put(*scratch / "leg-turning-unread.nc", "G1 XO5\n");
  const Ended unread = pommel({"prove", a, (*scratch / "leg-turning-unread.nc").string(), "--for", two});
  EXPECT_EQ(unread.code, 5);
  EXPECT_NE(unread.err.find("leg-turning-unread.nc:1:"), std::string::npos) << unread.err;
  EXPECT_EQ(pommel({"prove", (into / "programs/leg-piece-1-joints.nc").string(), b, "--for", two}).code, 1);
}

// The joints' programs that the folder holds, by their names or by what is said of them; and what each is not for.
TEST_F(CommandLine, ProveTakesProgramsThatCutJoints) {
  ASSERT_EQ(made().code, 0);
  const std::string name = "programs/leg-piece-1-joints.nc", text = contents(folder).at(name);
  const fs::path as_named = folder / name, other = *scratch / "mine.nc";
  put(other, text);
  const Ended sound = pommel({"prove", as_named.string(), "--for", order, "--json"});
  EXPECT_EQ(sound.code, 0) << sound.out << sound.err;
  const auto found = nlohmann::json::parse(sound.out);
  EXPECT_TRUE(found.at("passed").get<bool>());
  EXPECT_EQ(found.at("text_sha256").get<std::string>(), sha256(text));
  ASSERT_GE(found.at("joints").size(), 2u);
  for (const auto& joint : found.at("joints")) EXPECT_TRUE(joint.at("touched").get<bool>());

  const auto said = [&](const std::vector<std::string>& more, int code, const std::string& words) {
    std::vector<std::string> arguments{"prove", other.string(), "--for", order};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Ended ended = pommel(arguments);
    EXPECT_EQ(ended.code, code) << words << "\n" << ended.out << ended.err;
    EXPECT_NE((ended.out + ended.err).find(words), std::string::npos) << words << "\n" << ended.out << ended.err;
  };
  said({"--piece", "leg-piece-1"}, 0, "PASSED");
  said({"--piece", "leg-front-left"}, 0, "PASSED");
  said({"--piece", "leg-front-left", "--cutter", "ball-8"}, 6, "proof.wrong-cutter");
  said({"--piece", "leg-front-right"}, 3, "proof.joint-side");
  said({"--piece", "leg"}, 6, "proof.off-axis");
  said({"--piece", "chair"}, 1, "cli.piece");
  said({"--piece", "leg-piece-1", "--cutter", "no-such"}, 1, "cli.cutter");
  put(other, "G21 G90 G93\nnot a program\n");
  said({"--piece", "leg-piece-1"}, 5, "mine.nc:2");
}

// A header states what the check found, and a checksum that anybody's tools can find again.
TEST_F(CommandLine, AProgramStatesItsCheck) {
  ASSERT_EQ(made().code, 0);
  for (const char* name : {"programs/leg-turning.nc", "programs/leg-piece-1-joints.nc"}) {
    const std::string text = contents(folder).at(name);
    std::string others, stated;
    int lines = 0;
    for (std::string_view line : split(text, '\n')) {
      if (!line.starts_with("(note: check")) {
        others += std::string(line) + "\n";
        continue;
      }
      if (++lines > 4) stated += line.substr(16, 32);
    }
    others.pop_back();  // what follows the last line's end
    EXPECT_EQ(lines, 6) << name;
    EXPECT_EQ(stated, sha256(others)) << name;
    EXPECT_EQ(text.find("(note: check 1"), std::string::npos) << name;
  }
  EXPECT_NE(contents(folder).at("programs/leg-turning.nc").find("(note: check: deepest cut into the design 0"), std::string::npos);
}

}  // namespace
}  // namespace pommel::whole
