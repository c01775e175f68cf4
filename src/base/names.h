// Names that are one file on some systems and two on others.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace pommel {

/// Two names of files are one on some common system when their keys are equal: letters are compared without their case, and composed letters as what
/// they are composed of (Unicode 15.0, 3.13 "default caseless matching" of canonical equivalents, D145). Of what is not UTF-8 its own bytes.
std::string name_key(std::string_view name);

/// The first of `names` that is one file with `name` somewhere, itself included.
std::optional<std::string> one_file_with(const std::vector<std::string>& names, std::string_view name);

}  // namespace pommel
