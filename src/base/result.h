// A value or the reasons why there is none. Expected failures travel this way; assert is for programmer error.
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.h"

namespace pommel {

/// The reasons of a failure: at least one, errors first is not required.
struct Failure {
  std::vector<Diagnostic> reasons;

  Failure() = default;
  explicit Failure(Diagnostic one) { reasons.push_back(std::move(one)); }
  explicit Failure(std::vector<Diagnostic> many) : reasons(std::move(many)) {}
};

/// Makes a failure without a place: fail("solid.volume", "the solid and the field disagree by 1 %", "report this part").
inline Failure fail(std::string id, std::string message, std::string remedy = {}, Place place = {}, std::string read = {}) {
  Diagnostic one;
  one.id = std::move(id);
  one.message = std::move(message);
  one.remedy = std::move(remedy);
  one.place = std::move(place);
  one.read = std::move(read);
  return Failure(std::move(one));
}

/// For operations whose success has no value.
struct Done {};

template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : value_(std::move(value)) {}               // NOLINT(google-explicit-constructor): return value;
  Result(Failure failure) : failure_(std::move(failure)) {    // NOLINT(google-explicit-constructor): return fail(...);
    assert(!failure_.reasons.empty());
  }

  bool ok() const { return value_.has_value(); }
  explicit operator bool() const { return ok(); }

  /// REQUIRES: ok().
  const T& value() const& { assert(ok()); return *value_; }
  T& value() & { assert(ok()); return *value_; }
  T&& value() && { assert(ok()); return std::move(*value_); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }

  /// REQUIRES: !ok().
  const Failure& failure() const& { assert(!ok()); return failure_; }
  const std::vector<Diagnostic>& reasons() const { return failure().reasons; }

 private:
  std::optional<T> value_;
  Failure failure_;
};

}  // namespace pommel
