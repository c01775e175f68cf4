// Pieces as they stand on the floor: a table from the front, and all designs of the catalog in a row.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <QTransform>

#include "base/quantity.h"
#include "paper/canvas.h"
#include "paper/pictures.h"

namespace pommel::paper {
namespace {

const QColor kTop(0xd9, 0xbc, 0x8c), kRail(0xe3, 0xcd, 0xa6), kBehind(0xd2, 0xb8, 0x8e);

void paint_floor(QPainter& painter, double x0, double x1, double y) {
  painter.setPen(QPen(tone::hair, 2));
  painter.drawLine(QPointF(x0, y), QPointF(x1, y));
}

enum class From { front, left };

// The room as it is seen from the front, x to the right, or from the left, the back at the left; z upwards. A piece hangs from its head, one face
// towards the viewer, t falling to the right.
class View {
 public:
  View(QPainter& painter, From from, double scale, double middle, double floor, Voice voice)
      : painter_(painter), from_(from), scale_(scale), middle_(middle), floor_(floor), voice_(voice) {}

  void paint(const frame::Table& table, const frame::Set& set) const {
    rails(set);
    pieces(set, [&](const frame::Member& member) { return depth(member.stand.head) < 0; });
    const double legs_top = table.height - table.top_thickness;
    box(-table.length / 2, legs_top, table.length / 2, table.height, kTop);
  }

  void paint(const frame::Bed&, const frame::Set& set) const {
    pieces(set, [&](const frame::Member& member) { return depth(member.stand.head) > 0; });
    rails(set);
    pieces(set, [&](const frame::Member& member) { return depth(member.stand.head) < 0; });
  }

 private:
  double across(const frame::Spot& spot) const { return from_ == From::front ? spot.x : -spot.y; }
  double depth(const frame::Spot& spot) const { return from_ == From::front ? spot.y : spot.x; }  // away from the viewer

  void box(double x0, double z0, double x1, double z1, const QColor& colour) const {
    painter_.setPen(QPen(voiced(tone::ink, voice_), 1.4, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
    painter_.setBrush(voiced(colour, voice_));
    painter_.drawRect(QRectF(QPointF(middle_ + scale_ * x0, floor_ - scale_ * z1), QPointF(middle_ + scale_ * x1, floor_ - scale_ * z0)));
    painter_.setBrush(Qt::NoBrush);
  }

  // those that run across the view, the farther ones first
  void rails(const frame::Set& set) const {
    std::vector<const frame::Rail*> seen;
    for (const frame::Rail& rail : set.rails)
      if (std::fabs(depth(rail.start) - depth(rail.end)) < 1e-6 && std::fabs(across(rail.start) - across(rail.end)) > 1e-6) seen.push_back(&rail);
    std::stable_sort(seen.begin(), seen.end(), [&](const auto* a, const auto* b) { return depth(a->start) > depth(b->start); });
    for (const frame::Rail* rail : seen) {
      const auto [x0, x1] = std::minmax({across(rail->start), across(rail->end)});
      const double high = rail->depth * rail->quantity;  // boards of a panel stand one above the other
      for (int i = 0; i < rail->quantity; ++i) {
        const double z = rail->start.z - high / 2 + i * rail->depth;
        box(x0, z, x1, z + rail->depth, depth(rail->start) > 0 ? kBehind : kRail);
      }
    }
  }

  template <class Which>
  void pieces(const frame::Set& set, const Which& which) const {
    // a finial before its post, which hides the pin
    std::vector<const frame::Member*> seen;
    for (const frame::Member& member : set.members)
      if (!member.spare && which(member)) seen.push_back(&member);
    std::stable_sort(seen.begin(), seen.end(), [](const auto* a, const auto* b) { return a->piece > b->piece; });
    for (const frame::Member* member : seen) piece(*member);
  }

  void piece(const frame::Member& member) const {
    shape::Part turned = member.part;
    turned.mortises.clear();  // covered by the rails
    turned.bores.clear();
    turned.axial_bores.clear();
    const double face = (member.stand.quarters + (from_ == From::left ? 1 : 0)) * std::numbers::pi / 2;
    paint_leg(painter_, leg_view(turned, face), QTransform(0, scale_, -scale_, 0, middle_ + scale_ * across(member.stand.head), floor_ - scale_ * member.stand.head.z), voice_, 1.2);
  }

  QPainter& painter_;
  From from_;
  double scale_, middle_, floor_;
  Voice voice_;
};

// Words of `text` in lines no wider than `width`; at most `most` lines, the last one cut short.
std::vector<QString> lines_of(const QString& text, const QFont& font, double width, std::size_t most) {
  std::vector<QString> lines;
  QString line;
  for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
    const QString longer = line.isEmpty() ? word : line + QLatin1Char(' ') + word;
    if (line.isEmpty() || text_width(font, longer) <= width || lines.size() + 1 == most) {
      line = longer;
      continue;
    }
    lines.push_back(line);
    line = word;
  }
  if (!line.isEmpty()) lines.push_back(line);
  for (QString& one : lines) one = elided(font, one, width);
  return lines;
}

// How wide and high a frame is as it is seen, and the two lines below it.
struct Extent {
  double wide = 0, high = 0;
  std::string says, more;
};

constexpr double kBetweenViews = 350;  // mm of the room

Extent extent_of(const frame::Table& table, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  return {table.length, table.height, size(table.length) + " long, " + size(table.width) + " wide, " + size(table.height) + " high",
          "leg " + size(frame::leg_length(table)) + " long, " + size(table.square) + " square"};
}

Extent extent_of(const frame::Bed& bed, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  const double finial = bed.finial_kind == frame::FinialKind::on_a_pin ? bed.finial.length : 0;
  return {frame::bed_width(bed) + kBetweenViews + frame::bed_length(bed), std::max(bed.head_post, bed.foot_post) + finial,
          "mattress " + size(bed.mattress_length) + " long, " + size(bed.mattress_width) + " wide; " + size(frame::bed_length(bed)) + " by " + size(frame::bed_width(bed)) + " over the posts",
          "head post " + size(bed.head_post) + ", foot post " + size(bed.foot_post) + " high, " + size(bed.square) + " square"};
}

void paint_frame(QPainter& painter, const frame::Table& table, const frame::Set& set, double scale, double middle, double floor, Voice voice) {
  View(painter, From::front, scale, middle, floor, voice).paint(table, set);
}

// from the foot, and beside it from the left, the head at the left
void paint_frame(QPainter& painter, const frame::Bed& bed, const frame::Set& set, double scale, double middle, double floor, Voice voice) {
  const double wide = frame::bed_width(bed), lengthy = frame::bed_length(bed), all = wide + kBetweenViews + lengthy;
  View(painter, From::front, scale, middle + scale * (wide - all) / 2, floor, voice).paint(bed, set);
  View(painter, From::left, scale, middle + scale * (all - lengthy) / 2, floor, voice).paint(bed, set);
}

// The frames side by side on a floor at height `floor`, from `left` on, each with two lines under it.
void paint_on_floor(QPainter& painter, const std::vector<StandingSubject>& frames, const LengthFormat& lengths, double scale, double left, double floor, double gap, double text) {
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const Extent extent = std::visit([&](const auto& one) { return extent_of(one, lengths); }, frames[i].frame);
    const double wide = scale * extent.wide, middle = left + wide / 2;
    const Voice voice = i + 1 == frames.size() ? Voice::full : Voice::light;
    std::visit([&](const auto& one) { paint_frame(painter, one, frames[i].set, scale, middle, floor, voice); }, frames[i].frame);
    const QFont small = font(text * 8 / 9);
    const QString says = from_utf8(frames[i].heading + ": " + extent.says);
    const double room = wide + gap - text, full = text_width(font(text), says);
    const QFont big = font(full > room ? std::max(std::min(text, 9.0), text * room / full * 0.98) : text);  // a little smaller rather than cut short
    write(painter, middle, floor + 2.4 * text, elided(big, says, room), big, tone::ink, 0);
    write(painter, middle, floor + 4 * text, elided(small, from_utf8(extent.more), wide + gap - text), small, tone::faint, 0);
    left += wide + gap;
  }
}

struct Together {
  double wide = 0, high = 0;  ///< mm: widths one beside the other, the greatest height
};

Together together(const std::vector<StandingSubject>& frames, const LengthFormat& lengths) {
  Together out;
  for (const StandingSubject& subject : frames) {
    const Extent extent = std::visit([&](const auto& one) { return extent_of(one, lengths); }, subject.frame);
    out.wide += extent.wide;
    out.high = std::max(out.high, extent.high);
  }
  return out;
}

}  // namespace

void paint_standing(QPainter& painter, const QRectF& area, const std::vector<StandingSubject>& frames, const LengthFormat& lengths, double text) {
  const Together all = together(frames, lengths);
  const double gap = 2 * text, gaps = gap * static_cast<double>(frames.size() - 1), floor = area.bottom() - 5 * text;
  const double scale = std::min((area.width() - gaps - 2 * text) / all.wide, (floor - area.top() - text) / all.high);
  if (!(scale > 0)) return;
  paint_floor(painter, area.left(), area.right(), floor);
  // what is left over stands between the frames, too, so that their words find room
  const double spare = (area.width() - scale * all.wide - gaps) / static_cast<double>(frames.size() + 1);
  paint_on_floor(painter, frames, lengths, scale, area.left() + spare, floor, gap + spare, text);
}

Result<std::string> standing_picture(const std::string& title, const std::vector<StandingSubject>& frames, const LengthFormat& lengths) {
  constexpr double kMargin = 80, kGap = 160, kMostHigh = 900;
  const int width = frames.size() > 1 ? 2400 : 1400;
  const Together all = together(frames, lengths);
  const double gaps = kGap * static_cast<double>(frames.size() - 1);
  const double scale = std::min((width - 2 * kMargin - gaps) / all.wide, kMostHigh / all.high);
  const double floor = 150 + scale * all.high;
  return png(width, static_cast<int>(floor + 130), [&](QPainter& painter) {
    write(painter, kMargin, 58, elided(font(25, true), from_utf8(title), width - 2 * kMargin), font(25, true), tone::ink);
    paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
    paint_on_floor(painter, frames, lengths, scale, (width - scale * all.wide - gaps) / 2, floor, kGap, 18);
    const std::string from = std::holds_alternative<frame::Bed>(frames.front().frame) ? "seen from the foot and from the left" : "seen from the front";
    write(painter, kMargin, floor + 112, from_utf8(from + (frames.size() > 1 ? ", both at one scale" : "")), font(14), tone::faint);
  });
}

Result<std::string> designs_picture(const std::vector<DesignPicture>& designs) {
  constexpr double kColumn = 290, kPiece = 190, kMargin = 60, kHighest = 1400, kScale = 1.55, kWords = 110;
  constexpr std::size_t kMostInRow = 8, kMostRows = 40;
  const std::size_t in_row = std::min(designs.size(), kMostInRow), rows = std::min((designs.size() + in_row - 1) / in_row, kMostRows);
  double longest = 0;
  std::size_t pieces = 1;
  for (const DesignPicture& design : designs) {
    pieces = std::max(pieces, design.pieces.size());
    for (const shape::Part& piece : design.pieces) longest = std::max(longest, piece.length);
  }
  const double scale = std::min(kScale, kHighest / std::max(longest, 1.0)), column = kColumn + kPiece * static_cast<double>(pieces - 1);
  const double row_height = scale * longest + kWords + 50;
  const int width = static_cast<int>(2 * kMargin + column * static_cast<double>(in_row));
  return png(width, static_cast<int>(110 + row_height * static_cast<double>(rows)), [&](QPainter& painter) {
    write(painter, kMargin, 56, QStringLiteral("House designs, all at one scale"), font(25, true), tone::ink);
    for (std::size_t i = 0; i < std::min(designs.size(), in_row * rows); ++i) {
      const DesignPicture& design = designs[i];
      const double floor = 110 + row_height * static_cast<double>(i / in_row) + scale * longest;
      const double middle = kMargin + column * (static_cast<double>(i % in_row) + 0.5);
      if (i % in_row == 0) paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
      for (std::size_t k = 0; k < design.pieces.size(); ++k) {
        const shape::Part& piece = design.pieces[k];
        const double axis = middle + kPiece * (static_cast<double>(k) - static_cast<double>(design.pieces.size() - 1) / 2);
        paint_leg(painter, leg_view(piece, 0), QTransform(0, scale, -scale, 0, axis, floor - scale * piece.length), Voice::full, 1.6);
      }
      double y = floor + 38;
      for (const QString& line : lines_of(from_utf8(design.name), font(19, true), column - 20, 2)) {
        write(painter, middle, y, line, font(19, true), tone::ink, 0);
        y += 26;
      }
      for (const std::string& says : design.says) {
        write(painter, middle, y, elided(font(15), from_utf8(says), column - 14), font(15), tone::faint, 0);
        y += 22;
      }
    }
  });
}

}  // namespace pommel::paper
