// Program text as the motions of each kind of machine (proof/read.h), and what they ask of it (proof/limits.h): every place and time is finite, every move
// belongs to a line of the text.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <string>

#include "fuzz/fuzz.h"
#include "proof/limits.h"
#include "proof/read.h"
#include "shop/read.h"

namespace pommel::fuzz {
namespace {

void take(const char* name, void (*read)(std::string_view, const std::string&, shop::Shop&, Sink&), shop::Shop& into) {
  std::ifstream file(std::string(POMMEL_SOURCE_DIR "/catalog/shop/") + name);
  const std::string text(std::istreambuf_iterator<char>(file), {});
  Sink sink;
  read(text, name, into, sink);
  must(!sink.has_errors(), "the house's shop is sound");
}

const shop::Shop& house() {
  static const shop::Shop shop = [] {
    shop::Shop out;
    take("machines.yaml", shop::read_machines, out);
    take("cutters.yaml", shop::read_cutters, out);
    return out;
  }();
  must(!shop.machines.empty() && !shop.cutters.empty(), "the house has machines and cutters");
  return shop;
}

void must_move(const motion::Path& path, std::size_t lines, const shop::Machine& machine) {
  for (const motion::Move& move : path.moves) {
    for (const double place : {move.to.x, move.to.y, move.to.z, move.to.a}) must(std::isfinite(place), "a move ends somewhere");
    must(move.rapid || (std::isfinite(move.minutes) && move.minutes >= 0), "a feed takes its time");
    must(move.line >= 0 && static_cast<std::size_t>(move.line) <= lines, "a move belongs to a line");
  }
  must(std::isfinite(proof::feed_minutes(path)) && std::isfinite(proof::rapid_minutes(path, machine)), "a path takes its time");
}

void try_on(const shop::Machine& machine, std::string_view bytes, std::size_t lines) {
  const auto read = proof::read_text(bytes, machine);
  if (!read.ok()) return must_be_told_well(read.reasons(), bytes, read.reasons().front().place.file);
  shape::Blank blank;
  blank.x0 = -80, blank.x1 = 780, blank.size = 60;
  for (const motion::Path& path : read->paths) {
    must_move(path, lines, machine);
    proof::limit_findings(path, blank, house().cutters.begin()->second, machine);
  }
}

}  // namespace

void try_one(std::string_view bytes) {
  if (has_lone_return(bytes)) return;
  const auto lines = static_cast<std::size_t>(std::count(bytes.begin(), bytes.end(), '\n')) + 1;
  for (const auto& [name, machine] : house().machines) try_on(machine, bytes, lines);
}

}  // namespace pommel::fuzz
