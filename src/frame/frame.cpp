#include "frame/frame.h"

#include <algorithm>

namespace pommel::frame {
namespace {

struct Named {
  std::string frame;
  std::vector<std::string> pieces;
};

const std::vector<Named>& all() {
  static const std::vector<Named> frames = {{"table", {"leg"}}, {"bed", {"head post", "foot post", "finial"}}};
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

namespace {

std::vector<WantedPiece> pieces_of(const Table& table) { return {{"leg", "leg", "leg", leg_length(table), table.square}}; }

std::vector<WantedPiece> pieces_of(const Bed& bed) {
  std::vector<WantedPiece> all{{"head-post", "head post", "head post", bed.head_post - bed.glide_height, bed.square},
                               {"foot-post", "foot post", "foot post", bed.foot_post - bed.glide_height, bed.square}};
  if (bed.finial_kind == FinialKind::on_a_pin) all.push_back({"finial", "finial", "finial", bed.finial.length + bed.finial.pin_length, bed.finial.square});
  return all;
}

}  // namespace

Result<std::vector<WantedPiece>> wanted_pieces(const Frame& frame, const LengthFormat& shown) {
  if (const auto* bed = std::get_if<Bed>(&frame))
    if (const auto sound = check_bed(*bed, shown); !sound.ok()) return sound.failure();
  return std::visit([](const auto& one) { return pieces_of(one); }, frame);
}

Result<Set> join(const Frame& frame, const std::vector<shape::Part>& pieces, const std::vector<double>& mortise_cutters, const LengthFormat& shown) {
  if (const auto* table = std::get_if<Table>(&frame)) return join_table(*table, pieces.front(), mortise_cutters, shown);
  const BedPieces posts{pieces[0], pieces[1], pieces.size() > 2 ? std::optional(pieces[2]) : std::nullopt};
  return join_bed(std::get<Bed>(frame), posts, mortise_cutters, shown);
}

std::string said_of(const Frame& frame, const LengthFormat& shown) {
  const auto size = [&](double mm) { return format_length(mm, shown); };
  if (const auto* bed = std::get_if<Bed>(&frame))
    return "for a bed with a mattress " + size(bed->mattress_length) + " long and " + size(bed->mattress_width) + " wide; without slats and mattress";
  const Table& table = std::get<Table>(frame);
  return "for a table " + size(table.length) + " long, " + size(table.width) + " wide and " + size(table.height) + " high; without the top";
}

std::string said_shortly(const Frame& frame, const LengthFormat& shown) {
  if (const auto* bed = std::get_if<Bed>(&frame)) return "bed " + format_length(bed->mattress_width, shown) + " wide";
  return "table " + format_length(std::get<Table>(frame).height, shown) + " high";
}

}  // namespace pommel::frame
