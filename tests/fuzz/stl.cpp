// Triangles from elsewhere, text and binary (exchange/stl.h): what was accepted is finite, adds up, and reads back when written again.
#include <cmath>
#include <string>

#include "base/number.h"
#include "exchange/stl.h"
#include "fuzz/fuzz.h"

namespace pommel::fuzz {
namespace {

using namespace exchange;

constexpr const char* kFile = "scan.stl";

StlOptions in_millimetres() {
  StlOptions options;
  options.unit = LengthUnit::millimetre;
  return options;
}

void must_be_sound(const Stl& read, std::size_t bytes) {
  must(read.mesh.triangles.size() * 50 <= bytes, "no triangle out of nothing");  // a text's triangle is longer still
  for (const Vector& point : read.mesh.points)
    for (const double figure : point) must(std::isfinite(figure) && std::abs(figure) <= 1e5 * (1 + 1e-9), "a point is finite and near");
  for (const Corners& corners : read.mesh.triangles) {
    for (const std::uint32_t corner : corners) must(corner < read.mesh.points.size(), "a corner is one of the points");
    must(corners[0] != corners[1] && corners[1] != corners[2] && corners[2] != corners[0], "no corner twice");
  }
  must(std::isfinite(read.survey.volume) && read.survey.area >= 0, "the survey adds up");
}

std::string written(const Mesh& mesh) {
  std::string text = "solid again\n";
  for (const Corners& corners : mesh.triangles) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const std::uint32_t corner : corners) {
      text += "vertex";
      for (const double figure : mesh.points[corner]) text += " " + format_exact(figure);
      text += "\n";
    }
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid again\n";
}

void must_read_back(const Mesh& mesh) {
  if (mesh.triangles.empty()) return;
  StlOptions options = in_millimetres();
  options.weld = 0;
  const auto again = read_stl(written(mesh), kFile, options);
  must(again.ok(), "what was read can be written and read again");
  must(again->mesh.triangles.size() == mesh.triangles.size(), "the same count of triangles");
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (std::size_t c = 0; c < 3; ++c)
      must(again->mesh.points[again->mesh.triangles[t][c]] == mesh.points[mesh.triangles[t][c]], "the same corners to the bit");
}

}  // namespace

void try_one(std::string_view bytes) {
  const auto unsaid = read_stl(bytes, kFile, {});
  must(!unsaid.ok(), "without a unit nothing is taken");
  const auto read = read_stl(bytes, kFile, in_millimetres());
  if (!read.ok()) return must_be_told_well(read.reasons(), bytes, kFile);
  must_be_sound(*read, bytes.size());
  must_be_told_well(told(read->survey, kFile), bytes, kFile);
  must_read_back(read->mesh);
}

}  // namespace pommel::fuzz
