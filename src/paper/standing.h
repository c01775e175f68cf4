// Frames as they stand, because people judge furniture standing. For this room and the window.
#pragma once

#include <string>
#include <vector>

#include <QPainter>
#include <QRectF>

#include "base/quantity.h"
#include "frame/frame.h"

namespace pommel::paper {

struct StandingSubject {
  std::string heading;  ///< "as ordered"
  frame::Frame frame;
  frame::Set set;
};

/// Paints frames of one kind side by side on one floor and at one scale, as large as `area` lets them; two lines of letters `text` pixels
/// high say what each is. The last is painted full, those before it light. REQUIRES: not empty.
void paint_standing(QPainter& painter, const QRectF& area, const std::vector<StandingSubject>& frames, const LengthFormat& lengths, double text);

}  // namespace pommel::paper
