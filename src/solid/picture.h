// A picture of a mesh without a display: parallel projection, depth buffer, flat shading, averaged to soften the edges.
#pragma once

#include <cstdint>
#include <vector>

#include "solid/mesh.h"

namespace pommel::solid {

/// Rows from the top, three bytes a pixel: red, green, blue.
struct Image {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgb;
};

/// How it is looked at.
struct View {
  Point from{1, -1, 0.7};         ///< direction from the piece to the eye; any length but zero
  Point up{0, 0, 1};              ///< points up in the picture as far as it can; not along `from`
  int width = 800, height = 600;  ///< 1 to 8192 each
  double margin = 0.04;           ///< share of the picture left free on each side, 0 to 0.4
  double scale = 0;               ///< pixels a mm; 0: as large as fits
  double right = 0, higher = 0;   ///< pixels that the middle of the piece stands beside the middle of the picture
};

/// The mesh, as large as fits or at the view's scale. Fails with "picture.view" when the view is impossible (no direction, size or scale out of range);
/// an empty mesh gives an empty ground. The same arguments give the same pixels.
Result<Image> picture(const Mesh& mesh, const View& view);

}  // namespace pommel::solid
