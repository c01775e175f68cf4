// Names of the sheet's uses that a family makes: what the outline, the table and the blank need computed.
#pragma once

#include <string>

#include "family/family.h"

namespace pommel::family {

/// What stands before the names of a piece's uses: nothing where the frame asks for a single piece.
std::string uses_of(const Family& family, const std::string& piece);

/// Whether a file says how this piece is turned: it is the only one, named under `pieces`, or has an outline of its own. What is not spoken of is
/// not computed either, and only missed when the frame asks for it.
bool speaks_of(const Family& family, const Design& design, const std::string& piece);

inline std::string element_use(const std::string& of, std::size_t element, const std::string& size) {
  return of + "outline/" + std::to_string(element + 1) + "/" + size;
}
inline std::string station_use(const std::string& of, std::size_t element, std::size_t station, const std::string& what) {
  return element_use(of, element, "through/" + std::to_string(station + 1) + "/" + what);
}
inline std::string taper_use(const std::string& of, std::size_t taper, const std::string& what) {
  return of + "taper/" + std::to_string(taper + 1) + "/" + what;
}
inline std::string hardware_use(std::size_t item) { return "hardware/" + std::to_string(item + 1) + "/count"; }

/// Beside the sizes of an element: whether it is there at all. `pin: {..., when: = foot == "pin"}`.
inline constexpr const char* kWhen = "when";
/// Whether a piece that can be divided (a stacked lamp column) is so at the element's foot. `bead: {..., divide: yes}`.
inline constexpr const char* kDivide = "divide";
inline sheet::Kind kind_of_size(const std::string& size) {
  return size == "share" ? sheet::Kind::ratio() : size == kWhen || size == kDivide ? sheet::Kind::yes_no() : sheet::Kind::length();
}

/// Key of a block that holds for one piece alone: "outline of the foot post".
inline std::string of_piece(const std::string& key, const std::string& piece) { return key + " of the " + piece; }

/// The outline and tapers of a piece: the design's own for it, else the design's, else the family's own for it, else the family's. What a file
/// says of all pieces does not hold for one that is not named under `pieces` (a finial beside its posts).
const std::vector<ElementText>& outline_of(const Family& family, const Design& design, const std::string& piece);
const std::vector<TaperText>& tapers_of(const Family& family, const Design& design, const std::string& piece);
/// The same of joints; and of treatments, but a design with an outline of its own has the treatments that it states and no other: the
/// family's are meant for the family's outline.
const std::vector<WorkText>& treatments_of(const Family& family, const Design& design, const std::string& piece);
const std::vector<WorkText>& joints_of(const Family& family, const Design& design, const std::string& piece);

}  // namespace pommel::family
