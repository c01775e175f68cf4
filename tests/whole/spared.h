// Which designs the long tests take. A proof takes seconds of processor time, so that of the families that were added last one short design stands
// for all; with POMMEL_PROVE_ALL set every design is taken.
#pragma once

#include <cstdlib>
#include <string>
#include <vector>

#include "designs/designs.h"

namespace pommel::whole {

inline std::vector<std::string> designs_for_long_tests(const FileSystem& files, const designs::House& house) {
  std::vector<std::string> all;
  for (const std::string& name : designs::design_names(files, house)) {
    Sink sink;
    const auto found = designs::find_design(files, house, name, {}, sink);
    const std::string family = found ? found->design.family : "";
    const bool long_treated = name == "barley-twist" || name == "federal-urn-bed";  // the reeded column stands for treated pieces
    const bool spared = long_treated || (family == "baluster" && name != "twin-vase-baluster") || (family == "lamp-column" && name != "gourd-lamp");
    if (!spared || std::getenv("POMMEL_PROVE_ALL")) all.push_back(name);
  }
  return all;
}

}  // namespace pommel::whole
