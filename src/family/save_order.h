// Writing an order's file back, so that a maker knows it again; and a new one.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"

namespace pommel::family {

/// The order's text with exactly these entries in its sheet: changed ones patched in place, new ones added at the sheet's end, others taken
/// out with their line; comments, order and all else stay as they are. Fails with yaml's reasons: a file that cannot be changed line by line
/// (a sheet in flow style) is left to an editor.
Result<std::string> saved_order(std::string_view text, const std::string& file, const std::map<std::string, std::string>& entries);

/// Entries of an order's head by their keys ("client", "machine", "climb" ...); nothing: the line is taken out.
using HeadEntries = std::vector<std::pair<std::string, std::optional<std::string>>>;

/// The cutters of an order: the one that finishes, and those that rough and cut finely, empty where it has none of its own.
struct HeadCutters {
  std::string finish, rough, fine;
  bool operator==(const HeadCutters&) const = default;
};

/// The order's text with these in its head, changed in place or added where such a line belongs; comments, order and all else stay. The result has not
/// been read as an order. Fails with yaml's reasons.
Result<std::string> with_head(std::string_view text, const std::string& file, const HeadEntries& entries, const std::optional<HeadCutters>& cutters = std::nullopt);

/// The maker's note behind an entry of the order's sheet, a comment of its line; empty where there is none.
std::string note_of(std::string_view order, const std::string& file, const std::string& measure);
/// The order's text with that note; empty: none. Fails as yaml::with_comment.
Result<std::string> with_note(std::string_view order, const std::string& file, const std::string& measure, const std::string& note);

struct NewOrder {
  std::string name, number, client, date;  ///< date: 2026-03-02, or empty
  std::string design, machine, cutter;     ///< ids
  LengthUnit unit = LengthUnit::millimetre;
};

/// The file of an order that wants its design as it is.
std::string new_order_text(const NewOrder& order);

}  // namespace pommel::family
