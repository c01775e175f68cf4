// Lines, arcs and bulged polylines as a DXF drawing of the release AC1015, by its published group codes: text, millimetres
// ($INSUNITS 4), y upwards, no clock and no names of a machine. The same shapes give the same bytes. Needs no Qt.
#pragma once

#include <string>
#include <vector>

#include "paper/page.h"

namespace pommel::paper {

/// One entity: a closed or open polyline (LWPOLYLINE); of two points and open a LINE, or with a bulge an ARC; `circle`: its first point is the
/// centre, `radius` above 0.
struct DxfShape {
  std::string layer;  ///< capitals, digits, '-' and '_'
  std::vector<Vertex> points;
  bool closed = false;
  double radius = 0;
};

struct DxfText {
  std::string layer;
  double x = 0, y = 0, height = 3;
  std::string text;  ///< UTF-8; what is not ASCII is written as \U+XXXX
};

struct Dxf {
  std::vector<DxfShape> shapes;
  std::vector<DxfText> texts;
};

/// The file. REQUIRES: every shape has two points, or one and a radius; numbers are finite.
std::string dxf_text(const Dxf& drawing);

}  // namespace pommel::paper
