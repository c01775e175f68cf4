#include "base/names.h"

#include <algorithm>
#include <cstdlib>

#include <utf8proc.h>

namespace pommel {

std::string name_key(std::string_view name) {
  utf8proc_uint8_t* mapped = nullptr;
  const auto size = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(name.data()), static_cast<utf8proc_ssize_t>(name.size()), &mapped,
                                 static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_DECOMPOSE | UTF8PROC_CASEFOLD));
  std::string key = size < 0 ? std::string(name) : std::string(reinterpret_cast<const char*>(mapped), static_cast<std::size_t>(size));
  std::free(mapped);
  return key;
}

std::optional<std::string> one_file_with(const std::vector<std::string>& names, std::string_view name) {
  const std::string key = name_key(name);
  const auto same = std::find_if(names.begin(), names.end(), [&](const std::string& other) { return name_key(other) == key; });
  return same == names.end() ? std::nullopt : std::optional(*same);
}

}  // namespace pommel
