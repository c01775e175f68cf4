// Adding, moving and taking out elements of the outline, and writing their sizes: each a step of the order book, in the design's own text.
//
// A jump of diameter between neighbours must be declared (shape/outline.h): where a change makes one, the element that begins there gets `step: yes`
// with it. A change that would leave no piece in the column that is looked at is refused with the reasons.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shape/outline.h"
#include "ui/models/order_book.h"

namespace pommel::ui {

/// What the palette offers: one element, or a few that only stand together.
struct PaletteShape {
  const char* name;  ///< QT_TRANSLATE_NOOP in context "palette"
  std::vector<shape::ElementSpec> (*specs)(double diameter);  ///< as it stands on a turning of that diameter, mm
};
const std::vector<PaletteShape>& palette_shapes();

/// The element as a line of a design: `bead: {length: 8 mm}`.
std::string written(const shape::ElementSpec& spec);

/// Which element of which outline is looked at.
struct ElementAt {
  std::size_t column = 0;
  std::string piece;      ///< as the family names it
  std::size_t index = 0;  ///< in the outline as written
};

/// The place in the outline of the piece's `mark`-th element: elements that are left out (`when: no`) are counted. Nothing where the piece is a section of a
/// divided one.
std::optional<std::size_t> outline_index(const OrderBook& book, const std::string& piece, std::size_t marks, std::size_t mark, std::size_t column);

/// `behind`: towards the foot; else before it. `diameter`: mm, of the piece there.
Result<Done> add_element(OrderBook& book, const ElementAt& at, bool behind, const PaletteShape& shape, double diameter);
Result<Done> take_out_element(OrderBook& book, const ElementAt& at);
/// With its neighbour. Fails with "ui.at-end" where there is none.
Result<Done> move_element(OrderBook& book, const ElementAt& at, bool towards_foot);
/// A size or the name as written; empty: taken out.
Result<Done> write_size(OrderBook& book, const ElementAt& at, const std::string& size, const std::string& value);

}  // namespace pommel::ui
