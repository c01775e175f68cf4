// Frames as they stand, because people judge furniture standing. For this room and the window.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <QPainter>
#include <QRectF>

#include "base/quantity.h"
#include "frame/frame.h"
#include "paper/leg_view.h"

namespace pommel::paper {

/// How the pieces of one set look from the sides of its pictures, kept from painting to painting: to find out costs more than to draw it.
/// Thread rule: one thread's.
class SeenPieces {
 public:
  /// A member of the set without its joints, `face` (radians) towards the eye.
  const LegView& of(const frame::Member& member, double face);
  std::size_t found_out() const { return views_.size(); }

 private:
  std::map<std::pair<std::string, double>, LegView> views_;
};

struct StandingSubject {
  std::string heading;  ///< "as ordered"
  frame::Frame frame;
  frame::Set set;
  std::shared_ptr<SeenPieces> seen = {};  ///< of this very set; none: found out anew at each painting
};

/// Paints frames of one kind side by side on one floor and at one scale, as large as `area` lets them; two lines of letters `text` pixels
/// high say what each is. The last is painted full, those before it light. REQUIRES: not empty.
void paint_standing(QPainter& painter, const QRectF& area, const std::vector<StandingSubject>& frames, const LengthFormat& lengths, double text);

}  // namespace pommel::paper
