// What the readers of the shop's lists share.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "base/text.h"
#include "yaml/map_reader.h"

namespace pommel::shop {

/// A length in mm, 0 when absent or wrong.
inline double length(yaml::MapReader& map, std::string_view key, const yaml::Need& need = {}) { return map.length(key, std::nullopt, need).value_or(0); }

// `name: {...}` entries of the map under `key` of a whole file.
template <class Read>
void each(std::string_view text, const std::string& file, const std::string& key, const std::string& what, Sink& sink, Read read,
          const std::vector<std::string>& other_keys = {}) {
  const auto root = yaml::read(text, file, sink);
  if (!root) return;
  yaml::MapReader document(*root, "file of " + key, sink);
  if (const auto list = document.map(key, yaml::required("the list of them"))) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      std::string why;
      const std::string id = list->key(i).text();
      // ids are free but for what cannot stand in a file's or a folder's name, '/' of 12/4 apart
      std::string plain = id;
      std::replace(plain.begin(), plain.end(), '/', '-');
      if (!is_safe_file_name(plain, &why)) {
        sink.add(yaml::at(list->key(i), "shop.name", "'" + id + "' cannot be a name: " + why, "use letters, digits and hyphens"));
        continue;
      }
      yaml::MapReader entry(list->value(i), what, sink);
      if (entry.is_map()) read(id, entry);
      entry.finish();
    }
  }
  for (const std::string& other : other_keys) document.find(other);
  document.finish();
}

}  // namespace pommel::shop
