#include "job/plain_leg.h"

#include <gtest/gtest.h>

namespace pommel::job {
namespace {

namespace fs = std::filesystem;

constexpr const char* kDesign = R"(design: plain
family: table-leg
sheet:
  table_length: 700 mm
  table_width: 500 mm
  table_height: 380 mm
  square: 45 mm
  long_rail_depth: 60 mm
  short_rail_depth: 50 mm
  rail_thickness: 18 mm
  top_shoulder: 10 mm
  haunch_depth: 6 mm
outline:
  - square: {length: = head_length}
  - pommel: {length: 10 mm, cut: square, end: 36 mm}
  - taper:  {share: 1, start: 36 mm, end: 28 mm}
)";

}  // namespace

Loaded plain_leg() {
  MemoryFiles files;
  const fs::path root(POMMEL_SOURCE_DIR);
  for (const char* folder : {"templates", "catalog/shop"}) {
    EXPECT_TRUE(files.make_folder(folder).ok());
    for (const std::string& name : real_files()->list(root / folder)) EXPECT_TRUE(files.write(fs::path(folder) / name, *real_files()->read(root / folder / name)).ok());
  }
  EXPECT_TRUE(files.make_folder("catalog/designs").ok());
  EXPECT_TRUE(files.write("catalog/designs/plain.yaml", kDesign).ok());
  Sink sink;
  auto out = load(files, {"catalog", "templates"}, "catalog/designs/plain.yaml", sink);
  EXPECT_TRUE(out && !sink.has_errors()) << render(sink.all());
  return out ? std::move(*out) : Loaded{};
}

}  // namespace pommel::job
