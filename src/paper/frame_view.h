// How a frame looks as it stands: what of it is shown, how large that is, and the painting of it. Private to paper/.
//
// A view is level, from the front (x of the room to the right) or from the left (the back at the left), z upwards. What runs on beyond its
// picture (a stair) is shown as far as one can see how it goes on.
#pragma once

#include <string>

#include "frame/frame.h"
#include "paper/canvas.h"
#include "paper/standing.h"

namespace pommel::paper {

/// How wide and high a frame is as it is seen, mm, and the two lines below it.
struct Extent {
  double wide = 0, high = 0;
  std::string says, more;
};
Extent extent_of(const frame::Frame& frame, const frame::Set& set, const LengthFormat& lengths);

/// Where a frame stands on the picture, pixels: its middle and its floor; scale in pixels a millimetre.
struct Spotted {
  double scale = 1, middle = 0, floor = 0;
  Voice voice = Voice::full;
  SeenPieces* seen = nullptr;  ///< of the set that is painted
};
void paint_frame(QPainter& painter, const frame::Frame& frame, const frame::Set& set, const Spotted& where);

}  // namespace pommel::paper
