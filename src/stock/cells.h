// Cells of comma-separated tables (RFC 4180). For this room only.
#pragma once

#include <string>

namespace pommel::stock {

/// Quoted where it must be; text that a spreadsheet would take for a formula (=, +, -, @, tab) made harmless by an apostrophe.
std::string cell(const std::string& text);

}  // namespace pommel::stock
