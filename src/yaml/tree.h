// The tree behind yaml::Node: a flat table of items, so that no depth of a document can reach our call stack.
// For this room only.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "yaml/document.h"

namespace pommel::yaml {

struct Item {
  Kind kind = Kind::scalar;
  std::string text;
  bool quoted = false;     // by quotes or as a block
  bool nothing = false;    // left empty, ~ or null
  bool written = true;     // false: there is no text of it in the file
  std::size_t offset = 0;  // of its first byte in Tree::text; of an unwritten one, its key's
  int line = 0, column = 0;
  std::vector<std::uint32_t> children;  // of a map: key, value, key, value ...
};

struct Tree {
  std::string file, text;
  std::vector<std::size_t> line_starts;
  std::vector<Item> items;

  std::string line_text(int line) const;
};

/// One past the last byte of a scalar's text in the file, closing quote included. Nothing for lists, maps, blocks and
/// what is not written.
std::optional<std::size_t> end_of(const Tree& tree, const Item& item);

}  // namespace pommel::yaml
