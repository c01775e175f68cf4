#include "frame/frame.h"

#include <algorithm>
#include <functional>

namespace pommel::frame {
namespace {

struct Named {
  std::string frame;
  std::vector<std::string> pieces;
};

const std::vector<Named>& all() {
  static const std::vector<Named> frames = {{"table", {"leg"}},
                                            {"bed", {"head post", "foot post", "finial"}},
                                            {"stair", {"first baluster", "second baluster", "third baluster", "fourth baluster"}},
                                            {"lamp", {"column"}}};
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

// where all are alike there is no first
std::vector<WantedPiece> pieces_of(const Stair& stair) {
  const std::vector<double> lengths = baluster_lengths(stair);
  if (lengths.size() == 1) return {{"baluster", "baluster", piece_names("stair").front(), lengths.front(), stair.width}};
  std::vector<WantedPiece> all;
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    const std::string& name = piece_names("stair")[i];
    std::string id = name;
    std::replace(id.begin(), id.end(), ' ', '-');
    all.push_back({id, name, name, lengths[i], stair.width});
  }
  return all;
}

std::vector<WantedPiece> pieces_of(const Lamp& lamp) { return {{"column", "column", "column", column_length(lamp), lamp.square}}; }

Result<Done> check(const Table&, const LengthFormat&) { return Done{}; }
Result<Done> check(const Bed& bed, const LengthFormat& shown) { return check_bed(bed, shown); }
Result<Done> check(const Stair& stair, const LengthFormat& shown) { return check_stair(stair, shown); }
Result<Done> check(const Lamp& lamp, const LengthFormat& shown) { return check_lamp(lamp, shown); }

}  // namespace

Result<std::vector<WantedPiece>> wanted_pieces(const Frame& frame, const LengthFormat& shown) {
  if (const auto sound = std::visit([&](const auto& one) { return check(one, shown); }, frame); !sound.ok()) return sound.failure();
  return std::visit([](const auto& one) { return pieces_of(one); }, frame);
}

Result<Done> divide(Frame& frame, const std::vector<double>& places) {
  auto* lamp = std::get_if<Lamp>(&frame);
  if (!lamp) return fail("frame.not-divided", "a " + std::string(frame_name(frame)) + "'s pieces are turned whole", "leave `divide` out");
  if (lamp->way == BoreWay::stacked) lamp->divided_at = places;
  return Done{};
}

Result<std::vector<PieceToTurn>> to_turn(const Frame& frame, const std::vector<shape::Part>& pieces, const LengthFormat& shown) {
  const std::vector<WantedPiece> wanted = std::visit([](const auto& one) { return pieces_of(one); }, frame);
  std::vector<PieceToTurn> out;
  const auto* lamp = std::get_if<Lamp>(&frame);
  if (!lamp) {
    for (std::size_t i = 0; i < wanted.size(); ++i) out.push_back({wanted[i], pieces[i]});
    return out;
  }
  auto divided = sections(*lamp, pieces.front(), shown);
  if (!divided.ok()) return divided.failure();
  for (std::size_t i = 0; i < divided->size(); ++i) {
    WantedPiece piece = wanted.front();
    piece.label = section_name(i, divided->size());
    if (const std::string id = section_id(i, divided->size()); !id.empty()) piece.id += "-" + id;
    piece.length = (*divided)[i].length;
    out.push_back({std::move(piece), std::move((*divided)[i])});
  }
  return out;
}

Result<Set> join(const Frame& frame, const std::vector<shape::Part>& pieces, const std::vector<double>& mortise_cutters, const LengthFormat& shown) {
  if (const auto* table = std::get_if<Table>(&frame)) return join_table(*table, pieces.front(), mortise_cutters, shown);
  if (const auto* stair = std::get_if<Stair>(&frame)) return join_stair(*stair, pieces, shown);
  if (const auto* lamp = std::get_if<Lamp>(&frame)) return join_lamp(*lamp, pieces.front(), shown);
  const BedPieces posts{pieces[0], pieces[1], pieces.size() > 2 ? std::optional(pieces[2]) : std::nullopt};
  return join_bed(std::get<Bed>(frame), posts, mortise_cutters, shown);
}

namespace {

using Size = std::function<std::string(double)>;

std::string said_of(const Table& table, const Size& size) {
  return "for a table " + size(table.length) + " long, " + size(table.width) + " wide and " + size(table.height) + " high; without the top";
}
std::string said_of(const Bed& bed, const Size& size) {
  return "for a bed with a mattress " + size(bed.mattress_length) + " long and " + size(bed.mattress_width) + " wide; without slats and mattress";
}
std::string said_of(const Stair& stair, const Size& size) {
  return "for a stair run of " + std::to_string(stair.treads) + (stair.treads == 1 ? " tread" : " treads") + " with " + std::to_string(stair.a_tread) +
         " on each, rise " + size(stair.rise) + ", going " + size(stair.going) + "; without treads and string" + (stair.rails_made ? "" : ", handrail") +
         " and without fitting at the stair";
}

std::string said_of(const Lamp& lamp, const Size& size) {
  return "for " + (lamp.lamps == 1 ? std::string("a lamp ") : std::to_string(lamp.lamps) + " lamps ") + size(lamp.height) + " high to the column's upper end, on " +
         (lamp.lamps == 1 ? "a base " : "bases ") + size(lamp.base_width) + " square; without shade and holder, and without the electrical work, which a licensed person does";
}

std::string said_shortly(const Table& table, const Size& size) { return "table " + size(table.height) + " high"; }
std::string said_shortly(const Bed& bed, const Size& size) { return "bed " + size(bed.mattress_width) + " wide"; }
std::string said_shortly(const Stair& stair, const Size& size) { return "rail " + size(stair.rail_height) + " high, " + std::to_string(stair.a_tread) + " a tread"; }

std::string said_shortly(const Lamp& lamp, const Size& size) { return "lamp " + size(lamp.height) + " high"; }

}  // namespace

std::string said_of(const Frame& frame, const LengthFormat& shown) {
  const Size size = [&](double mm) { return format_length(mm, shown); };
  return std::visit([&](const auto& one) { return said_of(one, size); }, frame);
}

std::string said_shortly(const Frame& frame, const LengthFormat& shown) {
  const Size size = [&](double mm) { return format_length(mm, shown); };
  return std::visit([&](const auto& one) { return said_shortly(one, size); }, frame);
}

std::string seen_from(const Frame& frame) {
  if (std::holds_alternative<Bed>(frame)) return "seen from the foot and from the left";
  if (std::holds_alternative<Stair>(frame)) return "seen from its open side";
  return "seen from the front";
}

std::optional<LoadReport> under_load(const Frame& frame, const Set& set, const shop::Wood& wood, const LengthFormat& shown) {
  const auto* stair = std::get_if<Stair>(&frame);
  if (!stair || !(wood.mor_mpa > 0)) return std::nullopt;
  InfillReport report = infill(*stair, set, wood, shown);
  return LoadReport{report.share_of_mor, std::move(report.notes)};
}

}  // namespace pommel::frame
