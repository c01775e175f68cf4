#include "shop/terms.h"

#include <charconv>
#include <chrono>

#include "yaml/map_reader.h"

namespace pommel::shop {

Terms read_terms(std::string_view text, const std::string& file, Sink& sink) {
  Terms terms;
  const auto root = yaml::read(text, file, sink);
  if (!root) return terms;
  yaml::MapReader map(*root, "file of terms", sink);
  terms.confirmed = map.yes_no("confirmed", yaml::required("no, until the words are your own")).value_or(false);
  terms.valid_days = map.count("valid_days", yaml::required("days from the order's date for which a quote holds; 0 says nothing of it")).value_or(0);
  if (const auto list = map.list("terms", yaml::required("paragraphs, a line each")))
    for (const yaml::Node& item : list->items())
      if (auto line = yaml::as_text(item, sink)) terms.lines.push_back(std::move(*line));
  map.finish();
  return terms;
}

std::string days_after(const std::string& date, int days) {
  int year = 0, month = 0, day = 0;
  if (date.size() != 10) return "";
  const auto read = [&](std::size_t from, std::size_t size, int& into) {
    return std::from_chars(date.data() + from, date.data() + from + size, into).ptr == date.data() + from + size;
  };
  if (!read(0, 4, year) || !read(5, 2, month) || !read(8, 2, day)) return "";
  using namespace std::chrono;
  const year_month_day start{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)), std::chrono::day(static_cast<unsigned>(day))};
  if (!start.ok()) return "";
  const year_month_day end(sys_days(start) + std::chrono::days(days));
  const auto two = [](unsigned n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  return std::to_string(static_cast<int>(end.year())) + "-" + two(static_cast<unsigned>(end.month())) + "-" + two(static_cast<unsigned>(end.day()));
}

}  // namespace pommel::shop
