// Names of the sheet's uses that a family makes: what the outline, the table and the blank need computed.
#pragma once

#include <string>

#include "family/family.h"

namespace pommel::family {

inline std::string element_use(std::size_t element, const std::string& size) { return "outline/" + std::to_string(element + 1) + "/" + size; }
inline std::string station_use(std::size_t element, std::size_t station, const std::string& what) {
  return element_use(element, "through/" + std::to_string(station + 1) + "/" + what);
}
inline std::string taper_use(std::size_t taper, const std::string& what) { return "taper/" + std::to_string(taper + 1) + "/" + what; }
inline std::string hardware_use(std::size_t item) { return "hardware/" + std::to_string(item + 1) + "/count"; }

/// The design's outline and tapers where it has its own, else the family's.
const std::vector<ElementText>& outline_of(const Family& family, const Design& design);
const std::vector<TaperText>& tapers_of(const Family& family, const Design& design);

}  // namespace pommel::family
