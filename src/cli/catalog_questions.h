// What `pommel catalog` is asked beside its list.
#pragma once

#include "cli/cli.h"

namespace pommel::cli {

struct Arguments {
  std::filesystem::path pictures;
  std::string family, words;
  std::vector<std::string> with, where, compare, update;
};

/// Tries each design at the sizes asked for and holds it against the conditions: what would do, then what would not and why.
int find_by_measure(const Shared& shared, const designs::House& house, const std::vector<std::string>& ids, const Arguments& asked);
/// Two designs or revisions side by side, or one beside itself at the sizes asked for.
int compare(const Shared& shared, const designs::House& house, const Arguments& asked);
/// Brings files up to date with their families.
int update_files(const Shared& shared, const designs::House& house, const std::vector<std::string>& names);

}  // namespace pommel::cli
