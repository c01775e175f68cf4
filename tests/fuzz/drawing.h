// What holds of every outline that others drew, whatever its file format (exchange/drawing.h).
#pragma once

#include <cmath>
#include <string>

#include "exchange/drawing.h"
#include "fuzz/fuzz.h"

namespace pommel::fuzz {

inline void must_be_drawn(const exchange::Path& path) {
  must(path.dots.size() >= 2, "a path has two dots at least");
  for (const exchange::Dot& dot : path.dots) must(std::isfinite(dot[0]) && std::isfinite(dot[1]), "a dot is finite");
}

/// `read` is read_dxf or read_svg.
template <class Read>
void try_drawing(Read read, std::string_view bytes, const std::string& file) {
  const auto drawn = read(bytes, file, LengthUnit::millimetre);
  if (!drawn.ok()) return must_be_told_well(drawn.reasons(), bytes, file);
  must(!drawn->paths.empty(), "a drawing has lines, or is refused");
  for (const exchange::Path& path : drawn->paths) must_be_drawn(path);
  const auto joined = exchange::joined_paths(drawn->paths, 0.01);
  if (!joined.ok()) return must_be_told_well(joined.reasons(), bytes, file);
  must(joined->size() <= drawn->paths.size(), "joining makes no paths");
  for (const exchange::Path& path : *joined) must_be_drawn(path);
}

}  // namespace pommel::fuzz
