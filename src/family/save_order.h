// Writing an order's file back, so that a maker knows it again; and a new one.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "base/quantity.h"
#include "base/result.h"

namespace pommel::family {

/// The order's text with exactly these entries in its sheet: changed ones patched in place, new ones added at the sheet's end, others taken
/// out with their line; comments, order and all else stay as they are. Fails with yaml's reasons: a file that cannot be changed line by line
/// (a sheet in flow style) is left to an editor.
Result<std::string> saved_order(std::string_view text, const std::string& file, const std::map<std::string, std::string>& entries);

struct NewOrder {
  std::string name, number, client, date;  ///< date: 2026-03-02, or empty
  std::string design, machine, cutter;     ///< ids
  LengthUnit unit = LengthUnit::millimetre;
};

/// The file of an order that wants its design as it is.
std::string new_order_text(const NewOrder& order);

}  // namespace pommel::family
