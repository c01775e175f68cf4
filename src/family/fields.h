// The keys of a family's frame block (`table:` ...) and `blank:` block, each with its kind and where its value goes. One list serves the reader
// (which keys there are, which are needed) and the maker (what to do with the values).
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "family/family.h"

namespace pommel::family {

template <class Target>
struct Field {
  std::string key;     ///< "height", "long_rail/depth"
  sheet::Kind kind;
  bool required = false;
  /// False when the value is a word that the target does not know.
  std::function<bool(Target&, const sheet::Value&)> set;
  std::vector<std::string> words;  ///< for choices: what is known
};

/// A block inside the frame's block: "long_rail".
struct FrameBlock {
  std::string key;
  bool required = false;
  std::vector<Field<frame::Frame>> fields;
};

/// All that a frame's block may hold.
struct FrameKeys {
  frame::Frame fresh;                      ///< before any value is set
  std::vector<Field<frame::Frame>> fields; ///< of the block itself; they are set after the inner blocks': `drawer: no` takes the drawer's rails away
  std::vector<FrameBlock> blocks;
};

/// REQUIRES: one of frame::frame_names().
const FrameKeys& keys_of(std::string_view frame);
const std::vector<Field<BlankMeasures>>& blank_fields();

}  // namespace pommel::family
