// Outlines as DXF (exchange/drawing.h).
#include "fuzz/drawing.h"

namespace pommel::fuzz {

void try_one(std::string_view bytes) { try_drawing(exchange::read_dxf, bytes, "leg.dxf"); }

}  // namespace pommel::fuzz
