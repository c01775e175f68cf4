// Inside frame/: the rails of a table as planned, each with its tenon settled, before they are set into the legs.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "frame/table.h"
#include "rules/joinery.h"

namespace pommel::frame {

/// Sides of the table in the order of the quarter turns, counter-clockwise in the plan.
enum class TableSide { front = 0, right = 1, back = 2, left = 3 };

/// One kind of rail and the tenon that all its ends have.
struct Tenoned {
  std::string label;        ///< "long rail", in messages
  ApronRail rail;
  bool long_side = false;
  bool from_above = false;  ///< let in from above: its pocket is open at the head
  double thickness = 0, length = 0;  ///< of the tenon, settled
  double offset = 0;        ///< of the tenon's middle from the rail's, towards the outer side
  bool mitred = false;

  /// The tenon's middle from the leg's outer face.
  double centre() const { return rail.set_back + rail.thickness / 2 - offset; }
  double x0() const { return rail.drop + rail.top_shoulder; }
  double x1() const { return rail.drop + rail.depth - rail.bottom_shoulder; }
  double mortise_depth(const Table& table) const { return length + table.relief; }
  /// Wood between the tenon and the rail's outer side.
  double outer_cheek() const { return (rail.thickness - thickness) / 2 - offset; }
};

/// A rail in its place.
struct Seated {
  TableSide side;
  std::string name;   ///< "front-lower": the mortise's id, and the rail's with "rail-" before it
  std::string label;  ///< "lower front rail"
  std::size_t of = 0; ///< index into Plan::kinds
};

struct Plan {
  std::vector<Tenoned> kinds;  ///< long, short, and with a drawer upper and lower
  std::vector<Seated> seats;
  std::vector<std::array<std::size_t, 2>> pairs;  ///< kinds that share a leg on neighbouring faces: long side, short side
};

/// Writes messages: collects what is wrong and shows lengths in one way.
class Findings {
 public:
  /// `piece`: what the maker calls the mortised piece: "leg", "post".
  explicit Findings(const LengthFormat& shown, std::string piece = "leg");

  void error(std::string id, std::string message, std::string remedy);
  void warning(std::string id, std::string message, std::string remedy);
  void note(std::string id, std::string message, std::string remedy = {});
  bool any_errors() const { return !errors_.empty(); }
  const std::vector<Diagnostic>& errors() const { return errors_; }
  const std::vector<Diagnostic>& notes() const { return notes_; }
  std::string mm(double length) const { return format_length(length, shown_); }
  const std::string& piece() const { return piece_; }

 private:
  void add(std::vector<Diagnostic>& to, Severity severity, std::string id, std::string message, std::string remedy);

  LengthFormat shown_;
  std::string piece_;
  std::vector<Diagnostic> errors_, notes_;  // each text once
};

/// Goes through measures by name: each must be finite, positive where a thing has to have it, else not negative.
class MeasureCheck {
 public:
  MeasureCheck(std::string of, Findings& findings) : of_(std::move(of)), findings_(findings) {}

  void positive(std::string_view name, double value) { check(name, value, value > 0, "must be more than nothing"); }
  void not_negative(std::string_view name, double value) { check(name, value, value >= 0, "must not be less than nothing"); }

 private:
  void check(std::string_view name, double value, bool in_range, std::string_view rule);

  std::string of_;
  Findings& findings_;
};

/// The measures of one rail.
void check_rail(const std::string& label, const ApronRail& rail, Findings& findings);

/// Every measure finite and in its range. Later steps may count on it.
void check_measures(const Table& table, Findings& findings);
/// The leg fits the table: no joints, length, square head. Later steps may count on it.
void check_leg(const Table& table, const shape::Part& leg, Findings& findings);

/// Settles one tenon by its rule, and says what of it does not fit; `table` gives the square and the relief. `proportions`: whether usual
/// proportions are spoken of.
void settle_tenon(const Table& table, double head, const std::vector<double>& cutters, Tenoned& kind, Findings& findings, bool proportions);

/// Settles the tenons by their rules. REQUIRES: check_measures found nothing.
Plan plan_rails(const Table& table, double head, const std::vector<double>& cutters, Findings& findings);

/// Where mortises of neighbouring faces meet, applies the table's remedy, and says so. Afterwards no two meet but mitred ones
/// and, with mitring, those where only the relief at the bottom breaks through; anything else is an error.
void part_tenons(const Table& table, Plan& plan, Findings& findings);

/// Whether tenons (without relief) run into one another in a leg, or mortises (with it) do or touch.
bool tenons_meet(const Table& table, const Tenoned& a, const Tenoned& b);
bool mortises_meet(const Table& table, const Tenoned& a, const Tenoned& b);

}  // namespace pommel::frame
