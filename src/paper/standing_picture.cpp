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

// x of the room grows to the right and z upwards; a leg hangs from its head, its face towards the viewer, t falling to the right.
class Front {
 public:
  Front(QPainter& painter, double scale, double middle, double floor, Voice voice) : painter_(painter), scale_(scale), middle_(middle), floor_(floor), voice_(voice) {}

  void paint(const StandingSubject& subject) {
    const frame::Table& table = std::get<frame::Table>(subject.frame);
    rails(subject.set);
    for (const frame::Member& member : subject.set.members)
      if (!member.spare && member.stand.head.y < 0) piece(member);
    const double legs_top = table.height - table.top_thickness;
    box(-table.length / 2, legs_top, table.length / 2, table.height, kTop);
  }

 private:
  void box(double x0, double z0, double x1, double z1, const QColor& colour) {
    painter_.setPen(QPen(voiced(tone::ink, voice_), 1.4, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
    painter_.setBrush(voiced(colour, voice_));
    painter_.drawRect(QRectF(QPointF(middle_ + scale_ * x0, floor_ - scale_ * z1), QPointF(middle_ + scale_ * x1, floor_ - scale_ * z0)));
    painter_.setBrush(Qt::NoBrush);
  }

  // those that run across the view, the farther ones first
  void rails(const frame::Set& set) {
    std::vector<const frame::Rail*> across;
    for (const frame::Rail& rail : set.rails)
      if (std::fabs(rail.start.y - rail.end.y) < 1e-6 && std::fabs(rail.start.x - rail.end.x) > 1e-6) across.push_back(&rail);
    std::stable_sort(across.begin(), across.end(), [](const auto* a, const auto* b) { return a->start.y > b->start.y; });
    for (const frame::Rail* rail : across)
      box(rail->start.x, rail->start.z - rail->depth / 2, rail->end.x, rail->start.z + rail->depth / 2, rail->start.y > 0 ? kBehind : kRail);
  }

  void piece(const frame::Member& member) {
    shape::Part turned = member.part;
    turned.mortises.clear();  // covered by the rails
    const LegView view = leg_view(turned, member.stand.quarters * std::numbers::pi / 2);
    paint_leg(painter_, view, QTransform(0, scale_, -scale_, 0, middle_ + scale_ * member.stand.head.x, floor_ - scale_ * member.stand.head.z), voice_, 1.2);
  }

  QPainter& painter_;
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

Extent extent_of(const StandingSubject& subject, const LengthFormat& lengths) {
  const frame::Table& table = std::get<frame::Table>(subject.frame);
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  return {table.length, table.height, size(table.length) + " long, " + size(table.width) + " wide, " + size(table.height) + " high",
          "leg " + size(frame::leg_length(table)) + " long, " + size(table.square) + " square"};
}

}  // namespace

Result<std::string> standing_picture(const std::string& title, const std::vector<StandingSubject>& frames, const LengthFormat& lengths) {
  constexpr double kMargin = 80, kGap = 160, kMostHigh = 900;
  const int width = frames.size() > 1 ? 2400 : 1400;
  double long_sum = 0, high = 0;
  for (const StandingSubject& subject : frames) {
    const Extent extent = extent_of(subject, lengths);
    long_sum += extent.wide;
    high = std::max(high, extent.high);
  }
  const double gaps = kGap * static_cast<double>(frames.size() - 1);
  const double scale = std::min((width - 2 * kMargin - gaps) / long_sum, kMostHigh / high);
  const double floor = 150 + scale * high;
  return png(width, static_cast<int>(floor + 130), [&](QPainter& painter) {
    write(painter, kMargin, 58, elided(font(25, true), from_utf8(title), width - 2 * kMargin), font(25, true), tone::ink);
    paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
    double left = (width - scale * long_sum - gaps) / 2;
    for (std::size_t i = 0; i < frames.size(); ++i) {
      const Extent extent = extent_of(frames[i], lengths);
      const double wide = scale * extent.wide, middle = left + wide / 2;
      Front(painter, scale, middle, floor, i + 1 == frames.size() ? Voice::full : Voice::light).paint(frames[i]);
      write(painter, middle, floor + 44, elided(font(18), from_utf8(frames[i].heading + ": " + extent.says), wide + kGap - 20), font(18), tone::ink, 0);
      write(painter, middle, floor + 72, elided(font(16), from_utf8(extent.more), wide + kGap - 20), font(16), tone::faint, 0);
      left += wide + kGap;
    }
    write(painter, kMargin, floor + 112, frames.size() > 1 ? QStringLiteral("seen from the front, both at one scale") : QStringLiteral("seen from the front"), font(14), tone::faint);
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
