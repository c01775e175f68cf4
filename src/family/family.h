// Families, designs and orders: the maker's YAML files, read into plain values, and put together into a sheet.
//
//     template (family)  ─┐
//     design             ─┼─▶  sheet, columns "catalogue" and "order"  ─▶  Made: the turned pieces, their frame, what their blanks shall be
//     order              ─┘
//
// A family has the measures, the frame, the blank, the outline, the checks. A design is a family with sizes, and mostly an
// outline, of its own: its entries become the sheet's first column. An order changes some measures of a design: its entries
// stand in the second column, which inherits everything else.
//
// A frame asks for one piece or for several (frame/frame.h: a table for its leg, a bed for head post and foot post). What a file says of
// `outline`, `tapers` and `blank` holds for all of them; `outline of the foot post`, `tapers of the foot post`, `blank of the finial` for that one
// instead. Pieces that share are named under `pieces`; any other (a finial beside its posts) has only what is said of it. One outline can serve several pieces, because its formulas may use words that mean a measure of each:
//
//     pieces:
//       head post: {post_length: head_post_length}
//       foot post: {post_length: foot_post_length}
//
// Readers report all problems of a file at once to a Sink, each with its place; they return what could be read, and the
// caller goes on only when the sink has no errors.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/quantity.h"
#include "family/treatments.h"
#include "frame/frame.h"
#include "shape/outline.h"
#include "shape/part.h"
#include "sheet/sheet.h"
#include "shop/shop.h"

namespace pommel::family {

/// An element of the outline as written: its kind, and each attribute as an entry of the sheet.
struct ElementText {
  shape::ElementKind kind = shape::ElementKind::cylinder;
  std::string label;
  Place place;
  bool step = false, level_start = false, level_end = false;
  shape::PommelCut cut = shape::PommelCut::sloped;
  std::map<std::string, sheet::Entry> sizes;  ///< "length", "share", "start", "end", "greatest", "least"; "when": left out where it says no;
                                              ///< "divide": the piece is divided at its foot
  std::vector<std::pair<sheet::Entry, sheet::Entry>> through;  ///< fraction of the length, diameter
};

/// Chosen faces run closer to the axis over a stretch and stay so to the foot: a tapered square foot.
struct TaperText {
  std::string faces;  ///< letters: "ABCD", "CD"
  Place place;
  sheet::Entry from, to, width;  ///< x from the head where it begins and ends, and the width across at its end
};

struct HardwareText {
  std::string item;
  sheet::Entry count;
  Money each;
};

/// How one piece is turned, as written.
struct TurningText {
  std::vector<ElementText> outline;
  std::vector<TaperText> tapers;
  std::vector<WorkText> treatments, joints;
};

/// Turnings of pieces that have one of their own, by the piece's name ("foot post").
using OwnTurnings = std::map<std::string, TurningText>;

/// A family as written.
struct Family {
  std::string id;         ///< the file's name without .yaml
  std::string name;       ///< "table leg"
  std::string stands_in;  ///< "table"
  std::vector<sheet::Parameter> measures;  ///< `choices` may hold the one word kBoardsOnHand until a sheet is made
  std::vector<sheet::Use> frame;           ///< "table/long_rail/depth" ...
  std::vector<sheet::Use> blank;           ///< "blank/stock" ..., and "blank of the finial/square" ... where a piece differs
  std::map<std::string, std::map<std::string, sheet::Entry>> words;  ///< by piece: a word of its outline, and the measure that it means
  std::vector<ElementText> outline;
  std::vector<TaperText> tapers;
  std::vector<WorkText> treatments, joints;
  std::optional<bool> thin_stubs;  ///< whether its turned ends may be tied to the waste by less than a stub should have; a design and an order may say otherwise
  OwnTurnings own;
  std::vector<HardwareText> hardware;
  std::vector<sheet::Check> checks;
};

inline constexpr std::string_view kBoardsOnHand = "boards on hand";

/// A house design as written.
struct Design {
  std::string id, name, family;
  std::string about;      ///< period, style, what it suits: for the catalog
  std::string thinnest;   ///< where it is thinnest, and why it may be
  int revision = 1;
  Place family_place;
  std::vector<sheet::Parameter> measures;  ///< measures of its own
  std::vector<std::pair<std::string, sheet::Entry>> entries;  ///< for measures of the family
  std::vector<ElementText> outline;        ///< empty: the family's
  std::vector<TaperText> tapers;
  std::vector<WorkText> treatments, joints;
  std::optional<bool> thin_stubs;          ///< over the family's
  OwnTurnings own;
  std::vector<sheet::Check> checks;        ///< besides the family's
};

/// How an order wishes its turnings cut: as the computed time says, or one way wherever that may be.
enum class Passes { fastest, lengthwise, round_and_round };

/// Where the cutter's teeth run with the cutter's way over the wood (mill/pass.h has the formula); elsewhere against a drive's play.
enum class Climb { nowhere, finishing, everywhere };

/// Who cuts the joints: the machine, as far as it and the shop's cutters can (what they cannot is left to the bench and said), or the bench.
enum class Joints { machine, bench };

/// A client's order as written.
struct Order {
  std::string id, name, number, date, client, design;
  Place design_place;
  LengthFormat lengths;    ///< how papers write lengths
  std::string machine;
  std::string cutter;            ///< that finishes the turnings; alone it roughs them too
  std::string rough, fine;       ///< that rough them, and that cut once more where the finishing one left wood; empty: none of their own
  std::string paper;       ///< "A4", "letter"; empty: letter where lengths are in inches, else A4
  double scale_bar_measures = 200;  ///< mm: what the 200 mm scale bar measured on the printer's last sheet
  Passes passes = Passes::fastest;
  double stepover = 0;           ///< mm between neighbouring lines or turns of the last passes; 0: as the cusp asks
  double cusp = 0;               ///< mm: ridge that they may leave; 0: the house's own
  Climb climb = Climb::nowhere;
  Joints joints = Joints::machine;  ///< the piece hangs on its centres already, with its faces known to the rotary
  std::optional<bool> thin_stubs;  ///< over the design's
  Place machine_place, cutter_place, rough_place, fine_place;
  std::vector<std::pair<std::string, sheet::Entry>> entries;
};

Family read_family(std::string_view text, const std::string& file, const std::string& id, Sink& sink);
Design read_design(std::string_view text, const std::string& file, const std::string& id, Sink& sink);
Order read_order(std::string_view text, const std::string& file, const std::string& id, Sink& sink);

/// The results of later stages that checks may look at and the foot of the sheet shows.
/// A frame with a single piece tells of "leg_finished_length" and "blank_length"; one with several of each: "head_post_finished_length" ...
std::vector<sheet::Outcome> outcomes(const std::string& stands_in);

/// The outcome that tells a piece's finished length, or the length of its blank.
std::string finished_length_outcome(const std::string& stands_in, const std::string& piece);
std::string blank_length_outcome(const std::string& stands_in, const std::string& piece);

/// Columns of a sheet made here.
inline constexpr std::size_t kCatalogue = 0;
inline constexpr std::size_t kOrder = 1;

/// The settled sheet of a design; with an order a second column. `boards` are the shop's, for choices of boards on hand;
/// `extra` are further entries for the last column ("--with name=value"). Unknown names, wrong kinds, cycles ... go to `sink`.
sheet::Sheet make_sheet(const Family& family, const Design& design, const Order* order, const shop::Shop& shop,
                        const std::vector<std::pair<std::string, sheet::Entry>>& extra, Sink& sink);

/// What the blank shall be, as the sheet has it.
struct BlankMeasures {
  std::string stock, rail_stock;  ///< ids of boards
  double square = 0, horn = 0, oversize = 0;
  std::string form = "milled";    ///< "milled", "oversize", "round"
  bool glue_up = false, centre_glue_line = false, rings_corner_to_corner = false;
  bool halves = false;            ///< glued of two halves whatever the boards give, so that a groove can be run along the axis of each
  std::string one_board = "no";   ///< "no", "wish", "rule": whether all blanks of a piece come from one board
};

struct HardwareItem {
  std::string item;
  int count = 0;
  Money each;
};

/// One of the pieces to turn.
struct MadePiece {
  frame::WantedPiece wanted;
  shape::Part part;  ///< turned, with the joints that the family states itself and without those of the frame
  BlankMeasures blank;
};

/// A column of the sheet, computed into things.
struct Made {
  std::vector<MadePiece> pieces;  ///< as the frame asks for them; Member::piece counts here
  frame::Frame frame;
  frame::Set set;
  std::string rail_stock;         ///< id of the boards that rails come out of
  std::vector<HardwareItem> hardware;
  std::vector<Diagnostic> notes;
};

/// Fails with everything that keeps this column from being made: unsound cells, the outline's and the frame's reasons.
Result<Made> make(const Family& family, const Design& design, const sheet::Sheet& sheet, std::size_t column, const shop::Shop& shop,
                  const LengthFormat& shown);

}  // namespace pommel::family
