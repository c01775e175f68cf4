// How a page's letters are measured, for its layout and for what paints it. For this room only.
#pragma once

#include <QFont>

#include "paper/page.h"

namespace pommel::paper {

inline constexpr int kFontPixels = 100;  ///< fonts are asked for at this size and scaled: no resolution gets in

QFont page_font(Face face);

}  // namespace pommel::paper
