// Characters that a text can hold without anybody seeing them: they change what a paper or a terminal shows, or pass for nothing.
// printable() (base/text.h) shows them as U+FFFD, is_safe_file_name() refuses them, joiners too, and the readers of the maker's files say where they stand.
#pragma once

#include <string>
#include <string_view>

namespace pommel {

/// A character that stands where nobody sees it, or that changes how its neighbours are seen.
struct Unseen {
  std::size_t at = std::string_view::npos;  ///< its first byte; npos: there is none
  std::size_t size = 0;                     ///< its bytes
  std::string name;                         ///< "U+202E"
};

/// The first of them at `from` or behind it: marks of direction (U+061C, U+200E, U+200F, U+202A to 202E, U+2066 to 2069: they show a text in another order
/// than it has), blanks without width (U+200B, U+2060 to 2064, U+FEFF), the soft hyphen, ends of lines (U+2028, U+2029), C1 controls, deprecated
/// and interlinear marks (U+206A to 206F, U+FFF9 to FFFB), tags (U+E0000 to E0FFF) and what is no character (U+FDD0 to FDEF, U+xxFFFE, U+xxFFFF: no XML may hold
/// the last two). The joiners U+200C and U+200D are left: words of some scripts need them. After Unicode 15.0, 9.2, 23.2, 23.3, 23.7, 23.8, and Unicode TR 36.
Unseen first_unseen(std::string_view utf8, std::size_t from = 0);

}  // namespace pommel
