#include <algorithm>
#include <cassert>
#include <charconv>
#include <cmath>
#include <limits>

#include "base/quantity.h"
#include "base/text.h"

namespace pommel {

namespace {

// The parts of an amount as written; all are views into the text.
struct Written {
  std::string_view whole, decimals, rest;  // of "12.50 x": 12, 50, x
  std::string_view number;                 // whole and decimals with their point
  bool negative = false, point = false;
};

Written taken_apart(std::string_view amount, std::string_view currency) {
  Written parts;
  parts.negative = amount.starts_with('-');
  if (parts.negative) amount.remove_prefix(1);
  if (!currency.empty() && amount.starts_with(currency)) {
    amount = trimmed(amount.substr(currency.size()));
  } else if (!currency.empty() && amount.ends_with(currency)) {
    amount = trimmed(amount.substr(0, amount.size() - currency.size()));
  }
  const std::size_t end = std::min(amount.find_first_not_of("0123456789.,"), amount.size());
  parts.number = amount.substr(0, end);
  parts.rest = trimmed(amount.substr(end));
  const std::size_t point = parts.number.find('.');
  parts.point = point != std::string_view::npos;
  parts.whole = parts.number.substr(0, point);
  if (parts.point) parts.decimals = parts.number.substr(point + 1);
  return parts;
}

// Fifty cents are written `.5` or `.50`.
std::int64_t cents_of(std::string_view decimals) {
  std::int64_t cents = 0;
  for (std::size_t i = 0; i < 2; ++i) cents = cents * 10 + (i < decimals.size() ? decimals[i] - '0' : 0);
  return cents;
}

struct Complaint {
  std::string_view read;  // the part of the text that it is about
  std::string id, message, remedy;
};

std::optional<Complaint> complaint_about(const Written& parts, std::string_view amount, std::string_view currency) {
  const std::string example = currency.empty() ? "12.50" : "12.50 " + std::string(currency);
  const std::string write = "write an amount such as " + example;
  if (amount.empty()) return Complaint{amount, "empty", "there is no amount of money here", write};
  if (parts.number.find(',') != std::string_view::npos) {
    return Complaint{parts.number, "comma", in_quotes(parts.number) + " has a comma in the number",
                     "write a point before the cents and nothing between thousands, as in 1234.50"};
  }
  if (!parts.number.empty() && !parts.rest.empty()) {
    return Complaint{parts.rest, "not-money", in_quotes(parts.rest) + " does not belong to an amount of money here",
                     currency.empty() ? "write the number alone, such as 12.50" : "write the amount as in " + example};
  }
  const bool unfinished = parts.point && parts.decimals.empty();
  if (parts.whole.empty() || unfinished || parts.decimals.find('.') != std::string_view::npos) {
    return Complaint{amount, "not-money", in_quotes(amount) + " is no amount of money", write};
  }
  if (parts.decimals.size() > 2) {
    return Complaint{parts.number, "cents", in_quotes(parts.number) + " has parts of a cent",
                     "write at most two figures after the point"};
  }
  if (parts.whole.size() > 16) {
    return Complaint{parts.number, "too-large", in_quotes(parts.number) + " is too large an amount",
                     "check the digits"};
  }
  return std::nullopt;
}

}  // namespace

Money round_to_cents(double amount) {
  assert(std::isfinite(amount));
  constexpr double kSlack = 1e-7;  // cents: the 1e-9 units of the contract
  const double cents = std::floor(std::abs(amount) * 100 + 0.5 + kSlack);
  constexpr auto kMost = std::numeric_limits<std::int64_t>::max();
  const std::int64_t whole = cents < 9.2e18 ? static_cast<std::int64_t>(cents) : kMost;
  return {amount < 0 ? -whole : whole};
}

std::string format_money(Money amount, std::string_view currency) {
  const bool negative = amount.cents < 0;
  const auto cents = negative ? 0 - static_cast<std::uint64_t>(amount.cents) : static_cast<std::uint64_t>(amount.cents);
  std::string text = negative ? "-" : "";
  text += std::to_string(cents / 100) + (cents % 100 < 10 ? ".0" : ".") + std::to_string(cents % 100);
  return currency.empty() ? text : text + " " + std::string(currency);
}

Result<Money> parse_money(std::string_view text, std::string_view currency) {
  const std::string_view amount = trimmed(text);
  const Written parts = taken_apart(amount, currency);
  if (const auto complaint = complaint_about(parts, amount, currency)) {
    const auto before = static_cast<std::size_t>(complaint->read.data() - text.data());
    Diagnostic why;
    why.id = "quantity." + complaint->id;
    why.message = complaint->message;
    why.remedy = complaint->remedy;
    why.place.column = character_count(text.substr(0, before)) + 1;
    why.read = complaint->read;
    why.source_line = text;
    return Failure(std::move(why));
  }
  std::int64_t units = 0;
  std::from_chars(parts.whole.data(), parts.whole.data() + parts.whole.size(), units);  // at most 16 digits
  const std::int64_t cents = units * 100 + cents_of(parts.decimals);
  return Money{parts.negative ? -cents : cents};
}

}  // namespace pommel
