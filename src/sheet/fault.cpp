#include "sheet/fault.h"

#include <algorithm>

#include "base/text.h"

namespace pommel::sheet {

Diagnostic placed(const Fault& fault, const Entry& entry) {
  const std::size_t begin = std::min(fault.span.begin, entry.text.size());
  const std::size_t end = std::clamp(fault.span.end, begin, entry.text.size());
  const int characters = entry.is_literal ? character_count(std::string_view(entry.text).substr(0, begin)) : 0;
  Diagnostic said;
  said.id = fault.id;
  said.message = printable(fault.message);  // words of the entry stand in it
  said.remedy = printable(fault.remedy);
  said.place = entry.place;
  const bool in_a_file = entry.place.line > 0;
  said.place.column = (in_a_file && entry.place.column > 0 ? entry.place.column : 1) + characters;
  said.read = entry.text.substr(begin, end - begin);
  said.source_line = in_a_file ? entry.source_line : entry.text;
  return said;
}

}  // namespace pommel::sheet
