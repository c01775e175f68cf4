// Writing one value back into a maker's file with everything else left as it is: comments, order, blanks.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "yaml/document.h"

namespace pommel::yaml {

/// The document's text with one scalar replaced. `text` must be the text that `node` was read from ("yaml.other-text");
/// a byte order mark before it is kept. The new value is quoted when it was quoted before or cannot stand without
/// quotes. A place left empty (`height:`) is filled. Lists, maps, blocks (| and >) and empty list items cannot be
/// replaced
/// ("yaml.cannot-patch"). The result has been read again: it differs from the document in this one value.
Result<std::string> patched(std::string_view text, const Node& node, std::string_view new_scalar);

/// A scalar's text as it may stand in any place of a document: plain where that reads back, else quoted.
std::string scalar_for(std::string_view value, bool always_quoted = false);

}  // namespace pommel::yaml
