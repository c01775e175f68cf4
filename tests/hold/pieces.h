// The turned pieces of a catalog design as they are milled.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "designs/designs.h"
#include "job/job.h"
#include "shop/read.h"

namespace pommel::hold {

struct Piece {
  shape::Part part;  ///< without joints
  shape::Blank blank;
};

inline designs::House the_house() {
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  return {root / "catalog", root / "templates"};
}

inline std::vector<std::string> designs_of_the_house() { return designs::design_names(*real_files(), the_house()); }

inline shop::Shop shop_of_the_house() {
  Sink sink;
  shop::Shop shop = shop::read_shop(*real_files(), the_house().catalog / "shop", sink, [](const auto&, const auto&) {});
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return shop;
}

/// At the design's own sizes. The test fails where the design is not sound.
inline std::vector<Piece> pieces_of(const std::string& design) {
  const auto files = real_files();
  const designs::House house = the_house();
  Sink sink;
  auto loaded = job::load(*files, house, house.catalog / "designs" / (design + ".yaml"), sink);
  EXPECT_TRUE(loaded && !sink.has_errors()) << render(sink.all());
  const auto sheet = family::make_sheet(loaded->family, loaded->design, nullptr, loaded->shop, {}, sink);
  const auto column = job::run_to_stock(*loaded, sheet, family::kCatalogue, {});
  EXPECT_TRUE(column.ok()) << render(column.reasons());
  std::vector<Piece> out;
  for (std::size_t i = 0; i < column->made.pieces.size(); ++i) {
    Piece piece{column->made.pieces[i].part, column->blanks[i].plan.blank};
    piece.part.mortises.clear(), piece.part.bores.clear(), piece.part.axial_bores.clear(), piece.part.end_cuts.clear();
    out.push_back(std::move(piece));
  }
  return out;
}

}  // namespace pommel::hold
