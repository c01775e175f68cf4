// A program's text as motions, with what its reading warns of.
#pragma once

#include <string_view>
#include <vector>

#include "proof/proof.h"

namespace pommel::proof {

struct ReadText {
  std::vector<motion::Path> paths;
  std::vector<Finding> warnings;
};

/// `name`: what the places of reasons call the text. Fails with the reasons of program/reader.h and program/replay.h.
Result<ReadText> read_text(std::string_view program_text, const shop::Machine& machine, const std::string& name = "program");

/// The cutter of each path, in their order: the one it names; the only one there is, whatever it names; or where no path names one and there are
/// as many as paths, each in its turn. Fails with "proof.which-cutter". The pointers are into `cutters`.
Result<std::vector<const shop::Cutter*>> cutters_for(const std::vector<motion::Path>& paths, const std::vector<shop::Cutter>& cutters);

}  // namespace pommel::proof
