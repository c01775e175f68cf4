// A sound program harmed in many ways, and whether each is caught: the harness of the tables.
#pragma once

#include <gtest/gtest.h>

#include <functional>
#include <string>
#include <vector>

#include "pieces.h"
#include "proof/proof.h"

namespace pommel::proof::testing {

inline std::string replaced(std::string text, const std::string& from, const std::string& to, const std::string& after = {}) {
  std::size_t begin = after.empty() ? 0 : text.find(after);
  std::size_t at = begin == std::string::npos ? begin : text.find(from, begin);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

inline std::string all_replaced(std::string text, const std::string& from, const std::string& to) {
  std::size_t count = 0;
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()), ++count) text.replace(at, from.size(), to);
  EXPECT_GT(count, 0u) << from;
  return text;
}

struct Setting {
  shop::Machine machine = open_machine();
  std::vector<shop::Cutter> cutters{ball(6)};
  shape::Blank blank;
  shape::Part part;
};

struct Mutation {
  const char* what;
  std::function<std::string(const std::string&)> text;
  std::function<void(Setting&)> setting;
  const char* why = nullptr;  ///< why it cannot be caught
};

/// The first `from` of the text, or the first after `after`, becomes `to`; every one of them.
inline auto swap(const char* from, const char* to, const char* after = "") {
  return [=](const std::string& text) { return replaced(text, from, to, after); };
}
inline auto every(const char* from, const char* to) {
  return [=](const std::string& text) { return all_replaced(text, from, to); };
}

struct Tally {
  int caught = 0, explained = 0;
};

/// Judges each mutation of the sound text and prints the table; one that is neither caught nor explained fails.
inline Tally hold_mutations(const std::vector<Mutation>& mutations, const std::string& sound, const Proof& good, const Setting& plain,
                            const std::function<Result<Proof>(const std::string&, const Setting&)>& judge) {
  Tally tally;
  for (const Mutation& mutation : mutations) {
    Setting setting = plain;
    if (mutation.setting) mutation.setting(setting);
    std::string text = mutation.text ? mutation.text(sound) : sound;
    auto proof = judge(text, setting);
    std::string by;
    if (!proof.ok()) {
      by = proof.reasons()[0].id;
    } else if (!proof->passed()) {
      by = proof->findings.front().id;
      for (const Finding& f : proof->findings) {
        if (f.severity == Severity::error) by = f.id;
      }
    } else if (!proof->findings.empty()) {
      by = "warning " + proof->findings.front().id;
    }
    // whatever it is, a proof of the sound text releases no other
    if (mutation.text) {
      EXPECT_NE(text, sound) << mutation.what;
      EXPECT_FALSE(released(text, good).ok()) << mutation.what;
    }
    std::printf("    %-55s %s\n", mutation.what, by.empty() ? (std::string("NOT CAUGHT: ") + (mutation.why ? mutation.why : "")).c_str() : by.c_str());
    if (mutation.why) {
      EXPECT_TRUE(by.empty()) << mutation.what << " is caught after all: take its reason out";
      ++tally.explained;
    } else {
      EXPECT_FALSE(by.empty()) << mutation.what;
      ++tally.caught;
    }
  }
  std::printf("    %d caught, %d that no check of the text can catch\n", tally.caught, tally.explained);
  return tally;
}

}  // namespace pommel::proof::testing
