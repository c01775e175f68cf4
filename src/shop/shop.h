// What the shop has: machines, cutters, woods, boards on hand, rates. Plain values; the readers are in shop/read.h.
// Nothing here knows a part. `confirmed` is false until the maker has put the shop's own figures in: papers and programs say
// "example" until then.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"

namespace pommel::shop {

/// A router with a rotary axis, described by what a program must know of it.
struct Machine {
  enum class Rotary {
    degrees,      ///< a rotary word in degrees (ISO 6983 A about X), beside the linear words
    unrolled_mm   ///< the rotary hangs on a linear drive's word: millimetres along a surface of `unrolled_diameter`
  };
  enum class Feed {
    inverse_time,  ///< G93: F = 1/minutes (NISTIR 6556, 3.5.19)
    per_minute,    ///< G94 by the published rule (NISTIR 6556, 2.1.2.5): the straight path alone, or degrees when nothing else moves
    surface        ///< G94 on a control that counts the rotary as an arc of the fixed `feed_diameter`: F = hypot(dx, dy, dz, r da) a minute
  };
  enum class Counting {
    unbounded,  ///< the word goes on past a turn for as long as the program does
    limited,    ///< no further than rotary_limit_turns from its zero; where `reset` says how, the count begins anew on the spot
    modulo      ///< degrees only: the word runs from 0 to below 360, and the rotary goes there by the shorter way
  };
  std::string id, label;
  bool confirmed = false;
  Rotary rotary = Rotary::degrees;
  double unrolled_diameter = 0;   ///< mm; only for unrolled_mm: pi * d of travel is one turn
  std::string x_word = "X", z_word = "Z", rotary_word = "A";
  std::string y_word;             ///< of the sideways axis, beside the rotary; empty: the machine has no free Y
  /// +1: the rotary word grows when a (the direction of the wood under the cutter) grows; -1: it falls.
  /// ISO 841 turns the workpiece by the right hand about +X for growing A; the wood then under the cutter has the direction
  /// -A: sense = -1 for a machine that follows it with its X along ours.
  int rotary_sense = -1;
  bool head_at_chuck = true;      ///< which end of the piece the chuck holds
  bool x_towards_foot = true;     ///< machine X grows from the piece's head to its foot
  Feed feed = Feed::inverse_time;
  double feed_diameter = 0;       ///< mm; only for Feed::surface
  bool inches = false;            ///< programs are written in inches (G20); everything here stays in mm
  double x_min = 0, x_max = 0, z_min = 0, z_max = 0;  ///< travels, mm, in program coordinates (x from the head, z from the axis)
  double y_min = 0, y_max = 0;    ///< mm beside the axis; only with a free Y
  Counting counting = Counting::unbounded;
  double rotary_limit_turns = 0;  ///< above 0 where counting is limited, else 0
  std::vector<std::string> reset; ///< lines that name the present angle anew without turning; {rotary}: its word and new value
  std::vector<std::string> lock, unlock;  ///< lines that hold the rotary fast for indexed work, and free it; empty: it has no brake
  double blocks_per_second = 0;   ///< lines the control takes a second; 0: not stated
  double largest_file = 0;        ///< bytes; 0: not stated
  double rapid_x = 0, rapid_z = 0;      ///< mm/min
  double rapid_y = 0;                   ///< mm/min; only with a free Y
  double rapid_rotary = 0;              ///< turns/min
  double feed_max = 0;                  ///< mm/min
  double accel_x = 0, accel_z = 0;      ///< mm/s²
  double accel_y = 0;                   ///< mm/s²; only with a free Y
  double accel_rotary = 0;              ///< turns/s²
  double max_rpm = 0;
  double max_swing = 0;                 ///< largest diameter that turns freely, mm
  double max_between_centres = 0;       ///< mm
  double jaw_swing = 0, tailstock_top = 0;   ///< largest distance of chuck jaws / tailstock from the axis, mm
  double chuck_grip = 0, centre_grip = 0;    ///< length of waste the chuck / the centre needs, mm
  double keep_out = 0;                  ///< cutter stays this far from chuck and centre along x, mm
  double blank_off_centre = 0, blank_bow = 0, blank_oversize = 0;  ///< what the shop admits of a blank on the machine, mm
  int x_decimals = 3, rotary_decimals = 3, feed_decimals = 3;
  bool always_point = false;      ///< whole numbers keep their point ("X10."): some controls read a word without one in its last decimal
  /// How zero in height is found: an axis cannot be touched. Each cutter touches `setting_surface`, which lies setting_height mm above
  /// (below when negative) the rotary axis, with a gauge of setting_gauge mm between; there its height is set to their sum.
  std::string setting_surface;
  double setting_height = 0, setting_gauge = 0;
  bool file_a_cutter = false;     ///< a program file for each cutter; else one file with tool_change between
  std::vector<std::string> header, footer;  ///< program lines; {name} fields: program, date, cutter, tool, rpm
  std::vector<std::string> tool_change;     ///< lines that bring the next cutter and start its spindle; the same fields

  bool has_free_y() const { return !y_word.empty(); }
};

/// A cutter as a body of revolution about its own axis. Its meridian from the tip upwards, height h over radius s:
///   - a level disc of radius tip_flat (flat: all of diameter / 2; bull nose: diameter / 2 - tip_radius; vee: tip_flat / 2; else 0);
///   - a corner of radius tip_radius (ball: diameter / 2; flat: none), tangent to the disc, that turns until it stands along the flank;
///   - a flank at half_angle from the axis (0 but for tapered ball and vee), until s reaches diameter / 2;
///   - a cylinder of diameter up to flute_length.
/// Above come, each a cylinder about the same axis: the shank up to shank_length, the collet nut, the holder.
struct Cutter {
  enum class Form { ball, tapered_ball, flat, bull_nose, vee };
  std::string id, label;
  Form form = Form::ball;
  double diameter = 0;      ///< mm, the largest that cuts
  double tip_radius = 0;    ///< mm: tapered ball, bull nose; a vee's point may be rounded by it. Not set for ball and flat
  double half_angle = 0;    ///< radians between axis and flank: tapered ball and vee, above 0
  double tip_flat = 0;      ///< mm across: a vee with a blunt point
  double flute_length = 0;  ///< mm from the tip
  double shank_diameter = 0, shank_length = 0;    ///< mm; shank_length from the tip to the collet nut
  double collet_diameter = 0, collet_length = 0;  ///< mm
  double holder_diameter = 0, holder_length = 0;  ///< mm, above the collet nut: spindle nose or holder; 0: none stated
  int flutes = 2;
  double rpm = 0;
  double chip_load = 0;  ///< mm a tooth
  double max_depth_of_cut = 0;  ///< mm the cutter may enter below standing wood in one pass
  double ramp = 0;       ///< radians: it has no teeth in its middle and sinks into wood no steeper than this; 0: straight down, too

  bool plunges() const { return ramp == 0; }
};

/// Figures with where they come from, as the Wood Handbook gives them.
struct Wood {
  std::string id, label;
  double specific_gravity = 0;          ///< at 12 % moisture content
  double mor_mpa = 0, moe_mpa = 0;
  double shrink_radial = 0, shrink_tangential = 0, shrink_volume = 0;  ///< percent, green to oven-dry
  double c_radial = 0, c_tangential = 0;  ///< dimensional change coefficients per percent
  std::string source;                     ///< printed beside any figure that uses them
};

/// Whether the pieces of a set come from one board, so that their colour and figure match.
enum class OneBoard {
  no,
  wish,  ///< where it costs nothing more
  rule   ///< in any case
};

/// Wood of a board that no piece may hold, mm: along from the board's left end, across from its lower edge as it lies.
struct Defect {
  std::string what;  ///< "knot", "check"; may be empty
  double from = 0, to = 0;
  double across_from = 0, across_to = 0;  ///< across_to 0: the whole width
  bool operator==(const Defect&) const = default;
};

/// Boards of one size beside the usual ones: measured one by one, or for sale at the yard.
struct Lot {
  std::string name;              ///< what the maker calls it; may be empty
  double width = 0, length = 0;  ///< mm
  int count = 1;
  Money price_per_board_foot;
  bool for_sale = false;
  std::vector<Defect> defects;
};

/// Boards of one kind on hand.
struct Stock {
  std::string id, label;      ///< "cherry-12/4-rough", "12/4 rough cherry"
  std::string wood;           ///< id of a Wood
  std::string nominal;        ///< "12/4"
  bool surfaced = false;      ///< S2S
  double thickness = 0;       ///< measured, mm
  double milling = 0;         ///< taken off thickness and width together to get flat and square, mm
  double width = 0, length = 0;  ///< mm, of one board
  int count = 0;
  Money price_per_board_foot;
  double end_trim = 0;           ///< mm lost at each end before anything is measured off
  std::vector<Lot> lots;         ///< further boards; the usual ones above are not among them

  /// All boards as lots: the usual ones first.
  std::vector<Lot> all_lots() const;
  double longest() const;        ///< mm between the end trims, of any board
  double widest() const;         ///< mm, of any board
};

/// The air of the rooms that the pieces go to, through a year. An assumption until the shop puts its own in.
struct Room {
  double driest = 0.30, dampest = 0.65;  ///< relative humidity, fractions
  double celsius = 21;
};

struct Rates {
  bool confirmed = false;
  std::string currency;              ///< "USD", "EUR"
  Money shop_hour;                   ///< labour, an hour
  bool shop_hour_includes_overhead = true;
  double overhead = 0;               ///< fraction on labour and machine time; must be 0 when included
  Money machine_hour;
  double setup_minutes = 0;          ///< one set-up, shared over the quantity
  double load_minutes = 0;           ///< each piece: chucking, centring, unloading
  double change_minutes = 0;         ///< each change of cutter between its programs' passes: bringing the next, setting its height
  double mortise_minutes = 0;        ///< each mortise at the bench or the mortiser, with its tenon
  double tenon_minutes = 0;          ///< each tenon alone, where the machine cuts its mortise
  double chisel_minutes = 0;         ///< each milled mortise whose round corners are squared by hand
  double bore_minutes = 0;           ///< each bore at the bench, with its seat
  double milling_minutes = 0;        ///< each blank: joint, plane, crosscut, mark centres
  double hand_minutes_each = 0;      ///< each unreachable quirk cleaned by hand
  double sanding_minutes_per_m2 = 0;
  double assembly_minutes_per_joint = 0;
  Money finish_per_m2;
  enum class Profit { markup, margin } profit = Profit::markup;
  double profit_rate = 0;            ///< markup: of cost; margin: of the price
  double tax = 0;                    ///< fraction of the price
  double deposit = 0;                ///< fraction of the total
  Money minimum_charge;
  double waste = 0;                  ///< fraction added to board measure for defects and offcuts
  enum class BoardRule { exact, surface_measure, round_up } board_rule = BoardRule::surface_measure;
  double kerf = 3;                   ///< mm
  enum class WoodCharged { net_and_waste, whole_boards } wood_charged = WoodCharged::net_and_waste;  ///< what the quote charges of the wood
};

/// Everything the shop has, by id.
struct Shop {
  std::map<std::string, Machine> machines;
  std::map<std::string, Cutter> cutters;
  std::map<std::string, Wood> woods;
  std::map<std::string, Stock> boards;
  Rates rates;
  Room room;
  std::vector<double> mortise_cutters;  ///< chisel and cutter widths on hand for mortises, mm, ascending
};

}  // namespace pommel::shop
