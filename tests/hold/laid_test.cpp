#include <gtest/gtest.h>

#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

#include "hold/pieces.h"
#include "solid/mesh.h"
#include "solid/occt_shape.h"

namespace pommel::solid {
namespace {

// What the kernel's viewer is given to show: nothing is left for it to lay.
TEST(Laid, CarriesItsTrianglesAndTheSolidGivenDoesNot) {
  const auto triangles = [](const Solid& solid) {
    std::size_t count = 0;
    for (TopExp_Explorer face(topology_of(solid), TopAbs_FACE); face.More(); face.Next()) {
      TopLoc_Location where;
      const Handle(Poly_Triangulation) on = BRep_Tool::Triangulation(TopoDS::Face(face.Current()), where);
      if (!on.IsNull()) count += static_cast<std::size_t>(on->NbTriangles());
    }
    return count;
  };
  const shape::Part part = hold::pieces_of("farmhouse-vase").front().part;
  const Result<Solid> solid = jointed(part);
  ASSERT_TRUE(solid.ok());
  const Result<Laid> skin = laid(*solid, 0.4);
  ASSERT_TRUE(skin.ok());
  EXPECT_EQ(triangles(*solid), 0u);
  EXPECT_GE(triangles(skin->solid), skin->mesh.triangles.size());  // those that closed up to nothing are not in the skin
  EXPECT_EQ(mesh(*solid, 0.4)->triangles, skin->mesh.triangles);
  const Box exact = bounds(*solid), of_skin = bounds(skin->mesh);
  for (const auto axis : {&Point::x, &Point::y, &Point::z}) {
    EXPECT_NEAR(of_skin.low.*axis, exact.low.*axis, 0.4);
    EXPECT_NEAR(of_skin.high.*axis, exact.high.*axis, 0.4);
    EXPECT_GE(of_skin.low.*axis, exact.low.*axis - 1e-3);
  }
}

}  // namespace
}  // namespace pommel::solid
