// What turned pieces can stand in, told apart once for all rooms: which pieces a frame asks for, and the set that they make in it.
//
// Thread rule: plain values.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "frame/bed.h"
#include "frame/lamp.h"
#include "frame/stair.h"
#include "frame/table.h"

namespace pommel::frame {

using Frame = std::variant<Table, Bed, Stair, Lamp>;

/// A piece that a frame asks to have turned.
struct WantedPiece {
  std::string id;      ///< "leg", "head-post": for names of files and programs
  std::string label;   ///< "leg", "head post": for papers
  std::string named;   ///< what the family file calls it, one of piece_names()
  double length = 0;   ///< mm
  double square = 0;   ///< mm, the section its faces stand on
};

/// The frames a family may stand in ("table"), and the pieces of one as a family file names them ("leg"); empty for an unknown frame.
const std::vector<std::string>& frame_names();
const std::vector<std::string>& piece_names(std::string_view frame);

/// The name of the frame that is there.
std::string_view frame_name(const Frame& frame);

/// The pieces in their order. Fails where the frame's own measures already make no sense.
Result<std::vector<WantedPiece>> wanted_pieces(const Frame& frame, const LengthFormat& shown = {});

/// Tells the frame where elements end at which a piece is divided, mm from its head, growing. A lamp whose column is stacked takes them, one whose
/// column is not passes over them. Fails with "frame.not-divided" for any other frame.
Result<Done> divide(Frame& frame, const std::vector<double>& places);

/// A piece as it goes on the machine.
struct PieceToTurn {
  WantedPiece wanted;
  shape::Part part;
};
/// The pieces beside wanted_pieces() as they are turned: mostly those themselves, of a stacked lamp column its sections. Member::piece counts in them.
/// Fails as sections(). REQUIRES: as join().
Result<std::vector<PieceToTurn>> to_turn(const Frame& frame, const std::vector<shape::Part>& pieces, const LengthFormat& shown = {});

/// The set of the pieces, beside wanted_pieces(). Fails as the frame's own joiner (join_table, join_bed, join_stair, join_lamp).
/// REQUIRES: wanted_pieces(frame).ok(), and as many pieces as it says.
Result<Set> join(const Frame& frame, const std::vector<shape::Part>& pieces, const std::vector<double>& mortise_cutters, const LengthFormat& shown = {});

/// "for a table 1800 mm long, 900 mm wide and 740 mm high; without the top": what stands on the quote.
std::string said_of(const Frame& frame, const LengthFormat& shown);
/// "table 740 mm high".
std::string said_shortly(const Frame& frame, const LengthFormat& shown);
/// From where a picture of it is seen: "seen from the front".
std::string seen_from(const Frame& frame);

/// What a published load makes of it: nothing where none is known for such a frame. `wood`: of the turned pieces.
struct LoadReport {
  double share_of_mor = 0;        ///< greatest stress over the wood's average modulus of rupture
  std::vector<Diagnostic> notes;
};
/// REQUIRES: the set came from join(frame, ...).
std::optional<LoadReport> under_load(const Frame& frame, const Set& set, const shop::Wood& wood, const LengthFormat& shown);

}  // namespace pommel::frame
