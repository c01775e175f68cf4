#include <array>
#include <charconv>
#include <numbers>
#include <string>

#include "program/writer.h"

namespace pommel::program {
namespace {

/// The word after a quarter turn: "A90", "Y47.124".
std::string quarter_word(const shop::Machine& machine) {
  if (machine.rotary == shop::Machine::Rotary::degrees) return machine.rotary_word + "90";
  std::array<char, 48> text;
  const double travel = std::numbers::pi * machine.unrolled_diameter / 4;
  const auto [end, fault] = std::to_chars(text.data(), text.data() + text.size(), travel, std::chars_format::fixed, 3);
  return machine.rotary_word + (fault == std::errc{} ? std::string(text.data(), end) : std::string("?"));
}

std::string padded(std::string text, std::size_t width) {
  if (text.size() < width) text.append(width - text.size(), ' ');
  return text;
}

/// One end view: `faces` are up, left, down, right.
std::array<std::string, 8> view(const std::string& title, const std::string& faces) {
  const auto face = [&](std::size_t i) { return std::string(1, faces[i]); };
  return {title,
          "         | |",
          "         | | cutter",
          "         \\_/",
          "      +---" + face(0) + "---+",
          "    " + face(1) + " |   o   | " + face(3),
          "      +---" + face(2) + "---+",
          ""};
}

}  // namespace

std::string rotary_drawing(const shop::Machine& machine) {
  // Growing the word by a quarter turn with sense +1 brings face B up: the wood turned clockwise as seen from the foot.
  const bool clockwise = machine.rotary_sense > 0;
  const std::string word = quarter_word(machine);
  const auto before = view(machine.rotary_word + "0: face A is up", "ABCD");
  const auto after = view(word + ": face " + (clockwise ? "B" : "D") + " is up", clockwise ? "BCDA" : "DABC");
  std::string text;
  for (std::size_t i = 0; i + 1 < before.size(); ++i) {
    std::string line = "  " + padded(before[i], 34) + after[i];
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  text += "  Seen from the foot end of the piece, looking at its head (from the ";
  text += machine.head_at_chuck ? "tailstock).\n" : "chuck).\n";
  text += "  As " + machine.rotary_word + " grows the wood turns " + (clockwise ? "clockwise" : "counter-clockwise") +
          " in this view: the other way\n  than the side under the cutter moves along the wood.\n";
  return text;
}

}  // namespace pommel::program
