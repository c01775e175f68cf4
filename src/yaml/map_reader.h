// Reading values out of a document, with all problems reported at once.
//
//     MapReader reader(node, "cutter", sink);
//     cutter.id = reader.text("id", required("the name by which orders call it")).value_or("");
//     cutter.diameter = reader.length("diameter", LengthUnit::millimetre, required("of the
//     ball").above(0)).value_or(0); cutter.helix = reader.angle("helix").value_or(0);      // may be left out
//     reader.finish();                                       // reports every key that nobody asked for
//
// A value that is absent or wrong reads as nothing; wrong ones, and absent ones that are required, have been reported.
// What was built is to be used only when the sink has no errors.
//
// Thread rule: as Sink, one thread at a time.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "yaml/document.h"

namespace pommel::yaml {

/// What a key must fulfil. Bounds are in the program's units (mm, radians, currency units, the number itself); not used for words.
class Need {
 public:
  Need() = default;
  explicit Need(std::string purpose) : purpose_(std::move(purpose)), required_(true) {}

  Need& above(double bound) { return low_ = bound, low_open_ = true, *this; }
  Need& at_least(double bound) { return low_ = bound, low_open_ = false, *this; }
  Need& at_most(double bound) { return high_ = bound, *this; }

  bool is_required() const { return required_; }
  const std::string& purpose() const { return purpose_; }
  double low() const { return low_; }
  double high() const { return high_; }
  bool holds(double value) const { return (low_open_ ? value > low_ : value >= low_) && value <= high_; }
  bool low_is_open() const { return low_open_; }

 private:
  std::string purpose_;
  bool required_ = false, low_open_ = false;
  double low_ = -std::numeric_limits<double>::infinity(), high_ = std::numeric_limits<double>::infinity();
};

/// The key must be there; `purpose` completes "add 'diameter': ..." for the maker.
inline Need required(std::string purpose) {
  return Need(std::move(purpose));
}
inline Need optional() {
  return Need();
}

/// @name Values of single nodes, for items of lists. Nothing when wrong; then it has been reported.
/// @{
std::optional<std::string> as_text(const Node& node, Sink& sink);
std::optional<double> as_number(const Node& node, Sink& sink, const Need& need = {});
/// In mm; `plain` as in parse_length.
std::optional<double> as_length(const Node& node, std::optional<LengthUnit> plain, Sink& sink, const Need& need = {});
/// In radians.
std::optional<double> as_angle(const Node& node, Sink& sink, const Need& need = {});
std::optional<Money> as_money(const Node& node, std::string_view currency, Sink& sink, const Need& need = {});
/// yes, no, true, false; nothing else.
std::optional<bool> as_yes_no(const Node& node, Sink& sink);
/// A whole number from 0 to 1,000,000.
std::optional<int> as_count(const Node& node, Sink& sink, const Need& need = {});
/// The index of the node's text in `words`.
std::optional<std::size_t> as_choice(const Node& node, const std::vector<std::string>& words, Sink& sink);
/// @}

/// REQUIRES: `sink` outlives the reader.
class MapReader {
 public:
  /// `what` names the thing in messages: "cutter". A node that is no map is reported at once; then every value is
  /// absent and nothing more is said.
  MapReader(const Node& map, std::string what, Sink& sink);

  bool is_map() const { return map_.is_map(); }
  const Node& node() const { return map_; }

  /// The value of a key; nothing when it is not there.
  std::optional<Node> find(std::string_view key);
  /// The same; its absence is reported at the map's place.
  std::optional<Node> require(std::string_view key, std::string_view purpose);

  std::optional<std::string> text(std::string_view key, const Need& need = {});
  std::optional<double> number(std::string_view key, const Need& need = {});
  std::optional<double> length(std::string_view key, std::optional<LengthUnit> plain, const Need& need = {});
  std::optional<double> angle(std::string_view key, const Need& need = {});
  std::optional<Money> money(std::string_view key, std::string_view currency = {}, const Need& need = {});
  std::optional<bool> yes_no(std::string_view key, const Need& need = {});
  std::optional<int> count(std::string_view key, const Need& need = {});
  std::optional<std::size_t> choice(std::string_view key, const std::vector<std::string>& words, const Need& need = {});
  /// The value when it is a list (or a map); another kind is reported.
  std::optional<Node> list(std::string_view key, const Need& need = {});
  std::optional<Node> map(std::string_view key, const Need& need = {});

  /// Reports every key that was never asked for, with the nearest one that was; of more than 20, the first 20.
  void finish();

 private:
  std::optional<Node> wanted(std::string_view key, const Need& need);
  template <class Read>
  auto take(std::string_view key, const Need& need, Read read) -> decltype(read(std::declval<const Node&>()));

  Node map_;
  std::string what_;
  Sink& sink_;
  std::vector<std::string> asked_;
};

}  // namespace pommel::yaml
