#include "frame/frame.h"

#include <algorithm>

namespace pommel::frame {
namespace {

struct Named {
  std::string frame;
  std::vector<std::string> pieces;
};

const std::vector<Named>& all() {
  static const std::vector<Named> frames = {{"table", {"leg"}}};
  return frames;
}

}  // namespace

const std::vector<std::string>& frame_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> out;
    for (const Named& one : all()) out.push_back(one.frame);
    return out;
  }();
  return names;
}

const std::vector<std::string>& piece_names(std::string_view frame) {
  static const std::vector<std::string> none;
  const auto found = std::find_if(all().begin(), all().end(), [&](const Named& one) { return one.frame == frame; });
  return found == all().end() ? none : found->pieces;
}

std::string_view frame_name(const Frame& frame) { return all()[frame.index()].frame; }

Result<std::vector<WantedPiece>> wanted_pieces(const Frame& frame, const LengthFormat&) {
  const Table& table = std::get<Table>(frame);
  return std::vector<WantedPiece>{{"leg", "leg", "leg", leg_length(table), table.square}};
}

Result<Set> join(const Frame& frame, const std::vector<shape::Part>& pieces, const std::vector<double>& mortise_cutters, const LengthFormat& shown) {
  return join_table(std::get<Table>(frame), pieces.front(), mortise_cutters, shown);
}

std::string said_of(const Frame& frame, const LengthFormat& shown) {
  const Table& table = std::get<Table>(frame);
  return "for a table " + format_length(table.length, shown) + " long, " + format_length(table.width, shown) + " wide and " + format_length(table.height, shown) +
         " high; without the top";
}

std::string said_shortly(const Frame& frame, const LengthFormat& shown) { return "table " + format_length(std::get<Table>(frame).height, shown) + " high"; }

}  // namespace pommel::frame
