// Papers that are laid on the wood: the story stick and the templates, at full scale. What is longer than a sheet is drawn on one long
// page first and cut into tiles. A printer is off by half a percent: each tile has a bar of 200 mm along the piece, and what that bar
// measured, written into the order, corrects the next print. For this room only.
#pragma once

#include <string>
#include <vector>

#include "paper/dxf.h"
#include "paper/piece.h"

namespace pommel::paper {

inline constexpr double kScaleBar = 200;  ///< mm

/// Everything on the page times `factor`, from its upper left corner.
Page scaled(Page page, double factor);

/// The long page cut into tiles of the paper, one above the other, with 10 mm of overlap, register marks where two tiles meet, the scale bar
/// and `title` on each. The drawing is stretched by kScaleBar / bar_measures, the bar with it. REQUIRES: the page is at most 170 mm wide.
std::vector<Page> tiled(const Page& long_page, const Heading& heading, const std::string& title);

/// The stick of a turned piece, head at the top: its edge with every mark, its half profile, and to each mark the place from the head, the
/// diameter for the calliper and the element. `long_page`: as one page as long as the piece.
Page story_stick(const shape::Part& turned, const std::string& title, const Heading& heading);

/// The profile's counterpart, to be cut out along the curve and held against the turning: from a straight edge to the half profile, with the
/// axis beside it and every end of an element across. Full scale, as one page as long as the piece.
Page profile_template(const shape::Part& turned, const Heading& heading);

/// A strip for the bench to be cut out of thin board: its straight edge is the axis, the other one the half profile; marks cross it.
Dxf stick_dxf(const shape::Part& turned);

/// The faces of a piece that have joints, each a long page at full scale.
struct Template {
  std::string title;
  Page page;
};
std::vector<Template> templates_of(const Piece& piece, const Heading& heading);

/// Its contour seen on each face with that face's joints, on layers of their own; faces stand above one another, face A lowest.
Dxf piece_dxf(const Piece& piece);

}  // namespace pommel::paper
