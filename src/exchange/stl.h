// Reads STL, binary and text (Burns, Automated Fabrication, 1993, section 6.5): triangles with outward normals, corners
// counter-clockwise seen from outside, vertex to vertex. The format has no unit and no axis: the caller must say both.
//
// Any bytes are safe: what is wrong is refused with an id, and nothing is reserved for a count that the bytes do not hold.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/quantity.h"
#include "base/result.h"
#include "exchange/mesh.h"

namespace pommel::exchange {

enum class Axis { x, y, z };

/// How the drawing lies on the machine. In this order: the unit's scale, the axis `along` laid along x (the other two follow
/// it in their cyclic order: never a mirror), end for end by a half turn about z, quarter turns about x, then the shift.
struct Placing {
  Axis along = Axis::x;
  bool end_for_end = false;
  int quarters = 0;       ///< of a turn about x, y towards z; any number
  Vector shift{0, 0, 0};  ///< mm

  /// A point in mm as it lies on the machine. Exact but for the addition of the shift.
  Vector at(const Vector& p) const;
};

struct StlOptions {
  std::optional<LengthUnit> unit;  ///< of the file's numbers; there is no default
  Placing placing;
  double weld = 0.001;             ///< mm: points this near become one; 0 (equal only), or 0.000001 to 1
  std::size_t most_triangles = 5'000'000;  ///< at most 20,000,000; about 300 bytes of memory each
};

struct Stl {
  Mesh mesh;          ///< without the triangles two corners of which were welded into one
  Survey survey;      ///< thin triangles count those left out, too
  std::string name;   ///< what the text after 'solid' or the binary header says, printable; may be empty
  bool binary = false;
};

/// `bytes` is the whole file, `file` its name for messages. Binary is told from text by its size: 84 + 50 n bytes with the n
/// of bytes 80 to 83. Several solids in one text file become one mesh. Normals are not used, only compared with the corners;
/// one that is no number, or nothing, is passed over. Fails with
///   "exchange.no-unit": no unit given; the message has the size in millimetres and in inches, for the maker to choose;
///   "exchange.options": a weld, a shift or a limit outside of what StlOptions says;
///   "exchange.not-stl": neither text that begins with 'solid' nor a binary header;
///   "exchange.truncated": fewer bytes than the count of triangles needs, or the text ends inside a solid;
///   "exchange.size": more bytes than the count of triangles needs;
///   "exchange.syntax": a word that does not belong there, with its line;
///   "exchange.number": a coordinate that is no finite number, with its line or its triangle;
///   "exchange.too-many", "exchange.empty", "exchange.too-far" (beyond 100 m from the origin, drawn or placed).
Result<Stl> read_stl(std::string_view bytes, const std::string& file, const StlOptions& options);

}  // namespace pommel::exchange
