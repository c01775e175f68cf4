// A house in memory: the templates and the shop of this repository, and a design and an order of the test's own, so that the
// catalog may change its designs without changing what these tests hold.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/files.h"
#include "job/job.h"

namespace pommel::whole {

using Extra = std::vector<std::pair<std::string, std::string>>;  // measure, what is written

/// A file of this repository; the test fails when it is not there.
std::string repository_text(const std::string& name);

/// Entries as "--with" gives them.
std::vector<std::pair<std::string, sheet::Entry>> entries(const Extra& extra);

class House {
 public:
  House();  ///< templates/ and catalog/shop/ of this repository

  MemoryFiles files;

  void put(const std::string& name, const std::string& text);
  std::optional<job::Loaded> load(const std::string& name, Sink& sink) const;
  /// The same for a file that must be sound.
  job::Loaded load(const std::string& name) const;
};

/// A small turned leg and an order of it: a low table, quick to mill.
inline constexpr const char* kSmallDesign = R"(design: low table
family: table-leg
about: for tests
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
  - pommel: {length: 10 mm, cut: square, end: = square * 0.8}
  - bead:   {length: 10 mm}
  - taper:  {share: 1, start: = square * 0.7, step: yes, end: 28 mm}
)";
inline constexpr const char* kSmallOrder = R"(order: A low table
number: "1"
date: 2026-03-02
client: nobody
units: mm
design: low-table
machine: rotary-degrees
cutter: ball-8
sheet:
  table_height: 390 mm
  stock: cherry-10/4-rough
)";

}  // namespace pommel::whole
