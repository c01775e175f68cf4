// The shop drawing of a piece: its elevation with every diameter, the faces that are marked out, sections, the table of its elements.
// Lettering, lines and arrows after ISO 128, ISO 129-1 and ISO 3098, places as running dimensions from the head (ISO 129-1, 9.4), since
// that is how a rule lies on the piece. For this room only.
#pragma once

#include <vector>

#include "paper/piece.h"

namespace pommel::paper {

/// Lying sheets, each with its title block. REQUIRES: a Painting that is ready().
std::vector<Page> shop_drawing(const Piece& piece, const Heading& heading);

/// Places along the piece where a drawing shows its section, with what is said of each: through every joint, where the faces change, and
/// where it is thinnest.
struct SectionPlace {
  double x = 0;
  std::vector<double> alike;  ///< further places that look the same
};
std::vector<SectionPlace> section_places(const shape::Part& part);

/// Whether faces or joints are left in the section, and with them letters and dimensions beside it.
bool section_has_faces(const shape::Part& part, double x);

/// Scales that a drawing may have: ISO 5455, and for inches those of a rule.
struct Scale {
  double factor = 1;
  std::string text;  ///< "1:2"
};
const std::vector<Scale>& scales(bool inches);

/// The frame and the title block of each sheet; `scale_of`: what stands as the scale of sheet i.
void add_title_blocks(std::vector<Page>& pages, const Piece& piece, const Heading& heading, const std::vector<std::string>& scale_of);

/// Where a drawing may stand on a sheet with a title block.
Box drawing_area(const Page& page);

/// A section with its joints and their dimensions about (cx, cy). Private to the drawing; here for its test.
void add_section(Page& page, const Piece& piece, const Heading& heading, double x, double scale, double cx, double cy);

}  // namespace pommel::paper
