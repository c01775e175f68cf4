// What a shop writes under its quotes: how long they hold, and its own words. shop/terms.yaml, which may be left out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::shop {

struct Terms {
  bool confirmed = false;          ///< the shop's own; else the quote says that they are examples
  int valid_days = 0;              ///< from the order's date; 0: nothing is said of it
  std::vector<std::string> lines;  ///< in the shop's words, one paragraph each
};

/// Reports all problems to `sink`.
Terms read_terms(std::string_view text, const std::string& file, Sink& sink);

/// "2026-04-01" from "2026-03-02" and 30; empty where the date is none. Days of the Gregorian calendar.
std::string days_after(const std::string& date, int days);

}  // namespace pommel::shop
