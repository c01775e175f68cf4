#include "paper/piece.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "job/show.h"

namespace pommel::paper {
namespace {

using shape::ElementMark;
using shape::Part;
using shape::Side;

constexpr double kBeyond = 0.05;  // mm that a crest has to stand beyond both ends to be named

std::vector<std::string> joint_lines(const Part& part, double square, const LengthFormat& lengths) {
  std::vector<std::string> lines;
  for (const shape::Mortise& mortise : part.mortises) lines.push_back("mortise, " + job::mortise_text(mortise, square, lengths));
  for (const shape::Bore& bore : part.bores) lines.push_back("bore, " + job::bore_text(bore, square, lengths));
  for (const shape::AxialBore& bore : part.axial_bores) lines.push_back("bore " + job::axial_bore_text(bore, lengths));
  for (const shape::EndCut& cut : part.end_cuts)
    lines.push_back(std::string(cut.at_head ? "head" : "foot") + " sawn at " + format_angle(cut.angle) + " from square, " + format_length(cut.x, lengths) + " from the head on the axis");
  return lines;
}

// Diameter of the turned part on one side of a knot as it is written: the square's width where nothing is turned.
struct Size {
  double diameter = 0;
  bool square = false;

  std::string text(const Heading& heading) const { return (square ? "□ " : "⌀ ") + heading.figure(diameter); }
};

Size size_at(const Part& part, double x, Side side) {
  const shape::Piece& piece = part.outline.pieces[part.outline.index_at(x, side)];
  if (piece.kind == shape::Piece::Kind::clear) return {2 * shape::least_face_distance(part, x, side), true};
  return {2 * piece.value(x), false};
}

Mark boundary_mark(const Part& part, double x, const Heading& heading) {
  Mark mark;
  mark.x = x;
  const Size before = size_at(part, x, x <= 0 ? Side::after : Side::before), after = size_at(part, x, x >= part.length ? Side::before : Side::after);
  mark.greatest = std::max(before.diameter, after.diameter);
  const bool alike = before.square == after.square && std::fabs(before.diameter - after.diameter) < kBeyond;
  // beside a square the shoulder stands out to the corner, which no calliper is set to
  if (alike || after.square) mark.size = after.text(heading);
  else if (before.square) mark.size = before.text(heading);
  else mark.size = before.text(heading) + " / " + heading.figure(after.diameter);
  return mark;
}

// Where the outline within an element is `diameter` wide and level.
double place_of(const Part& part, const ElementMark& element, double diameter) {
  double best = (element.x0 + element.x1) / 2, off = 1e300;
  const auto look = [&](double x, const shape::Piece& piece) {
    const double here = std::fabs(2 * piece.value(x) - diameter);
    if (here < off - 1e-9) {
      best = x;
      off = here;
    }
  };
  for (const shape::Piece& piece : part.outline.pieces) {
    if (piece.x0 < element.x0 - 1e-9 || piece.x1 > element.x1 + 1e-9 || piece.kind == shape::Piece::Kind::clear) continue;
    for (const double x : shape::level_points(piece)) look(x, piece);
    look(piece.x0, piece);
    look(piece.x1, piece);
  }
  return best;
}

void add_extremes(const Part& part, const ElementMark& element, const Heading& heading, std::vector<Mark>& marks) {
  if (element.kind == "square" || element.kind == "pommel") return;
  const double low = std::min(element.d_start, element.d_end), high = std::max(element.d_start, element.d_end);
  for (const auto& [diameter, beyond] : {std::pair{element.d_least, element.d_least < low - kBeyond}, std::pair{element.d_greatest, element.d_greatest > high + kBeyond}})
    if (beyond) marks.push_back({place_of(part, element, diameter), "", false, "⌀ " + heading.figure(diameter), diameter});
}

}  // namespace

std::string Heading::unit() const { return lengths.unit == LengthUnit::millimetre ? "millimetres" : lengths.unit == LengthUnit::inch ? "inches" : "feet and inches"; }

std::string Heading::order_line() const {
  std::vector<std::string> parts;
  for (const std::string& part : {number, client, date})
    if (!part.empty()) parts.push_back(part);
  return joined(parts, ", ");
}

Heading heading_of(const job::Job& job) {
  Heading heading;
  heading.title = job.loaded.design.name;
  heading.design = job.loaded.design.name;
  heading.revision = job.loaded.design.revision;
  heading.lengths = job.sheet.settings().lengths;
  heading.paper = heading.lengths.unit == LengthUnit::millimetre ? PaperSize::a4 : PaperSize::letter;
  if (job.loaded.order) {
    heading.title = job.loaded.order->name;
    heading.number = job.loaded.order->number;
    heading.date = job.loaded.order->date;
    heading.client = job.loaded.order->client;
    if (!job.loaded.order->paper.empty()) heading.paper = job.loaded.order->paper == "letter" ? PaperSize::letter : PaperSize::a4;
    heading.bar_measures = job.loaded.order->scale_bar_measures;
  }
  return heading;
}

std::vector<Piece> pieces_of(const job::Job& job) {
  std::vector<Piece> pieces;
  const frame::Set& set = job.order.made.set;
  for (std::size_t kind = 0; kind < set.jointed_kinds.size(); ++kind) {
    Piece piece;
    for (const std::string& id : set.jointed_kinds[kind].members)
      for (const frame::Member& member : set.members)
        if (member.id == id && !member.spare) piece.members.push_back(&member);
    if (piece.members.empty()) continue;
    const frame::Member& first = *piece.members.front();
    const family::MadePiece& made = job.order.made.pieces[first.piece];
    piece.file = made.wanted.id + "-piece-" + std::to_string(kind + 1);
    piece.noun = made.wanted.label;
    piece.label = set.jointed_kinds[kind].label;
    piece.reason = set.jointed_kinds[kind].reason;
    piece.hand = first.hand;
    piece.wood = job.order.blanks[first.piece].board.label;
    piece.square = made.wanted.square;
    piece.part = first.part;
    piece.joints = joint_lines(piece.part, piece.square, job.sheet.settings().lengths);
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

std::vector<Mark> marks_of(const Part& part, const Heading& heading) {
  std::vector<Mark> marks;
  for (const ElementMark& element : part.elements) {
    marks.push_back(boundary_mark(part, element.x0, heading));
    const std::size_t before = marks.size();
    add_extremes(part, element, heading, marks);
    std::sort(marks.begin() + static_cast<std::ptrdiff_t>(before), marks.end(), [](const Mark& a, const Mark& b) { return a.x < b.x; });
    if (marks.size() > before) marks[before].element = element.label;
    else marks.push_back({(element.x0 + element.x1) / 2, element.label, false, element.kind == "square" ? "□ " + heading.figure(element.d_start) : "", 0});
  }
  marks.push_back(boundary_mark(part, part.length, heading));
  return marks;
}

}  // namespace pommel::paper
