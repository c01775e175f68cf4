// Board measure: how much wood a board counts as when it is bought.
#pragma once

#include "shop/shop.h"

namespace pommel::stock {

inline constexpr double kBoardFoot = 144.0 * 25.4 * 25.4 * 25.4;  ///< mm³: 144 in³, by definition of the inch exact

/// Board feet of one board of `thickness` x `width` x `length` mm by the rule:
///   exact            T(in) W(in) L(ft) / 12, nothing rounded; under 1 in counts as 1 in
///   surface_measure  W(in) L(ft) / 12 rounded to a whole number (halves up), then times the thickness in inches
///                    (American Hardwood Export Council's account of NHLA practice); under 1 in counts as 1 in
///   round_up         the exact figure up to the next whole board foot (common in retail yards; no source)
/// `thickness` is the one the board is sold by: 12/4 counts as 3 in whatever it measures.
double board_feet(double thickness, double width, double length, shop::Rates::BoardRule rule);

/// The thickness a nominal size is sold by, mm: "12/4" is 76.2. 0 when the text is no such size.
double nominal_thickness(const std::string& nominal);

/// Words for the rule, as printed on the quote.
std::string rule_words(shop::Rates::BoardRule rule);

}  // namespace pommel::stock
