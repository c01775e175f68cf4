// Plain entries: a value as a maker writes it, without an equals sign.
#pragma once

#include <optional>
#include <string_view>
#include <variant>

#include "sheet/analysis.h"
#include "sheet/value.h"

namespace pommel::sheet {

/// Where the formula of an entry begins: after its equals sign; nothing for a plain entry.
std::optional<std::size_t> formula_start(std::string_view entry);

/// REQUIRES: no formula_start. Without Wanted::kind the unit tells the kind. Choices need Wanted::choices.
std::variant<Value, Fault> read_plain(std::string_view entry, const Wanted& wanted, const Settings& settings);

}  // namespace pommel::sheet
