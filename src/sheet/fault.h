// A problem inside one entry's text, before it has a place in a file.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "sheet/sheet.h"

namespace pommel::sheet {

/// Bytes [begin, end) of an entry's text.
struct Span {
  std::size_t begin = 0, end = 0;

  bool operator==(const Span&) const = default;
};

struct Fault {
  std::string id, message, remedy;
  Span span;

  bool operator==(const Fault&) const = default;
};

/// The fault at its place in the maker's file, or at the entry's beginning where the entry goes on in a further line. Columns count characters of UTF-8.
Diagnostic placed(const Fault& fault, const Entry& entry);

}  // namespace pommel::sheet
