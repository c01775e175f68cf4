// Outlines as SVG (exchange/drawing.h).
#include "fuzz/drawing.h"

namespace pommel::fuzz {

void try_one(std::string_view bytes) { try_drawing(exchange::read_svg, bytes, "leg.svg"); }

}  // namespace pommel::fuzz
