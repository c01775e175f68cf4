// A first program for a machine of the shop: marks on a round scrap, before any leg is cut on it.
#pragma once

#include <string>

#include "base/files.h"
#include "base/result.h"
#include "designs/designs.h"

namespace pommel::job {

struct FirstRunWish {
  std::string machine;     ///< id in the shop
  std::string cutter;      ///< id in the shop; empty: the finest vee, else the thinnest cutter
  double diameter = 50;    ///< of the scrap, mm
  std::string file_name;   ///< of the program, for its header
};

struct FirstRun {
  std::string text;   ///< the program, read back and replayed
  std::string guide;  ///< what to see on the scrap, for right and for each wrong setting
};

/// Fails with the problems of the shop's files, "job.unknown-machine", "job.unknown-cutter" (nearest name given), and the reasons of
/// program::first_run, write, read and replay.
Result<FirstRun> first_run(const FileSystem& files, const designs::House& house, const FirstRunWish& wish);

}  // namespace pommel::job
