// The pictures, each from plain values to bytes. Private to paper/. REQUIRES: a Painting that is ready().
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "paper/leg_subject.h"
#include "paper/papers.h"
#include "paper/standing.h"

namespace pommel::paper {

struct LegSheet {
  std::string title, subtitle;
  LegSubject ordered;
  std::optional<LegSubject> catalogued;  ///< absent where there is nothing to compare with
  LengthFormat lengths;
};

struct LegBytes {
  std::string png, svg;
};
Result<LegBytes> leg_picture(const LegSheet& sheet);

/// One frame, or two of the same kind side by side. REQUIRES: not empty.
Result<std::string> standing_picture(const std::string& title, const std::vector<StandingSubject>& frames, const LengthFormat& lengths);

struct SurfaceSpot {
  double x = 0, degrees = 0;
  std::string says;  ///< "0.031 mm left"
};

/// The surface after a program, as its check found it.
struct SurfaceSheet {
  std::string title, subtitle;
  double x0 = 0, x1 = 0, length = 0;  ///< mm: what the cells cover; the piece
  int rows = 0, columns = 0;          ///< along x, around from face A
  std::vector<float> deviation;       ///< rows * columns, mm normal: wood stands above 0, is missing below; NaN where there is no skin
  double gouge_limit = 0, cusp = 0, hand_work_from = 0;  ///< mm
  std::vector<shape::ElementMark> elements;
  std::vector<SurfaceSpot> spots;     ///< worst places
  LengthFormat lengths;
};
/// PNG. REQUIRES: at least one cell.
Result<std::string> surface_picture(const SurfaceSheet& sheet);

/// REQUIRES: not empty.
Result<std::string> designs_picture(const std::vector<DesignPicture>& designs);

}  // namespace pommel::paper
