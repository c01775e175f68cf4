// The three pictures, each from plain values to bytes. Private to paper/. REQUIRES: a Painting that is ready().
#pragma once

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

/// REQUIRES: not empty.
Result<std::string> designs_picture(const std::vector<DesignPicture>& designs);

}  // namespace pommel::paper
