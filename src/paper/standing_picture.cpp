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
    std::vector<const frame::Rail*> rails;
    for (const frame::Rail& rail : subject.set.rails)
      if (std::fabs(rail.start.y - rail.end.y) < 1e-6) rails.push_back(&rail);
    std::stable_sort(rails.begin(), rails.end(), [](const auto* a, const auto* b) { return a->start.y > b->start.y; });
    const double legs_top = subject.table.height - subject.table.top_thickness;
    for (const frame::Rail* rail : rails)
      box(rail->start.x, legs_top - rail->drop - rail->depth, rail->end.x, legs_top - rail->drop, rail->start.y > 0 ? kBehind : kRail);
    for (const frame::Member& member : subject.set.members)
      if (!member.spare && member.stand.head.y < 0) leg(member);
    box(-subject.table.length / 2, legs_top, subject.table.length / 2, subject.table.height, kTop);
  }

 private:
  void box(double x0, double z0, double x1, double z1, const QColor& colour) {
    painter_.setPen(QPen(voiced(tone::ink, voice_), 1.4, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
    painter_.setBrush(voiced(colour, voice_));
    painter_.drawRect(QRectF(QPointF(middle_ + scale_ * x0, floor_ - scale_ * z1), QPointF(middle_ + scale_ * x1, floor_ - scale_ * z0)));
    painter_.setBrush(Qt::NoBrush);
  }

  void leg(const frame::Member& member) {
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

}  // namespace

Result<std::string> standing_picture(const std::string& title, const std::vector<StandingSubject>& tables, const LengthFormat& lengths) {
  constexpr double kMargin = 80, kGap = 160, kMostHigh = 900;
  const int width = tables.size() > 1 ? 2400 : 1400;
  double long_sum = 0, high = 0;
  for (const StandingSubject& subject : tables) {
    long_sum += subject.table.length;
    high = std::max(high, subject.table.height);
  }
  const double gaps = kGap * static_cast<double>(tables.size() - 1);
  const double scale = std::min((width - 2 * kMargin - gaps) / long_sum, kMostHigh / high);
  const double floor = 150 + scale * high;
  return png(width, static_cast<int>(floor + 130), [&](QPainter& painter) {
    write(painter, kMargin, 58, elided(font(25, true), from_utf8(title), width - 2 * kMargin), font(25, true), tone::ink);
    paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
    double left = (width - scale * long_sum - gaps) / 2;
    for (std::size_t i = 0; i < tables.size(); ++i) {
      const StandingSubject& subject = tables[i];
      const double wide = scale * subject.table.length, middle = left + wide / 2;
      Front(painter, scale, middle, floor, i + 1 == tables.size() ? Voice::full : Voice::light).paint(subject);
      const QString says = from_utf8(subject.heading + ": " + format_length(subject.table.length, lengths) + " long, " + format_length(subject.table.width, lengths) + " wide, " +
                                     format_length(subject.table.height, lengths) + " high");
      write(painter, middle, floor + 44, elided(font(18), says, wide + kGap - 20), font(18), tone::ink, 0);
      const QString leg = from_utf8("leg " + format_length(frame::leg_length(subject.table), lengths) + " long, " + format_length(subject.table.square, lengths) + " square");
      write(painter, middle, floor + 72, elided(font(16), leg, wide + kGap - 20), font(16), tone::faint, 0);
      left += wide + kGap;
    }
    write(painter, kMargin, floor + 112, tables.size() > 1 ? QStringLiteral("seen from the front, both at one scale") : QStringLiteral("seen from the front"), font(14), tone::faint);
  });
}

Result<std::string> designs_picture(const std::vector<DesignPicture>& designs, const LengthFormat& lengths) {
  constexpr double kColumn = 290, kMargin = 60, kScale = 1.55, kWords = 110;
  constexpr std::size_t kMostInRow = 8, kMostRows = 40;
  const std::size_t in_row = std::min(designs.size(), kMostInRow), rows = std::min((designs.size() + in_row - 1) / in_row, kMostRows);
  double longest = 0;
  for (const DesignPicture& design : designs) longest = std::max(longest, design.leg.length);
  const double row_height = kScale * longest + kWords + 50;
  const int width = static_cast<int>(2 * kMargin + kColumn * static_cast<double>(in_row));
  return png(width, static_cast<int>(110 + row_height * static_cast<double>(rows)), [&](QPainter& painter) {
    write(painter, kMargin, 56, QStringLiteral("House designs, all at one scale"), font(25, true), tone::ink);
    for (std::size_t i = 0; i < std::min(designs.size(), in_row * rows); ++i) {
      const DesignPicture& design = designs[i];
      const double floor = 110 + row_height * static_cast<double>(i / in_row) + kScale * longest;
      const double middle = kMargin + kColumn * (static_cast<double>(i % in_row) + 0.5);
      if (i % in_row == 0) paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
      const QTransform upright(0, kScale, -kScale, 0, middle, floor - kScale * design.leg.length);
      paint_leg(painter, leg_view(design.leg, 0), upright, Voice::full, 1.6);
      double y = floor + 38;
      for (const QString& line : lines_of(from_utf8(design.name), font(19, true), kColumn - 20, 2)) {
        write(painter, middle, y, line, font(19, true), tone::ink, 0);
        y += 26;
      }
      for (const std::string& says : {"table " + format_length(design.table_height, lengths) + " high, leg " + format_length(design.leg.length, lengths),
                                      "square " + format_length(design.square, lengths) + ", thinnest " + format_length(design.thinnest, lengths)}) {
        write(painter, middle, y, elided(font(15), from_utf8(says), kColumn - 14), font(15), tone::faint, 0);
        y += 22;
      }
    }
  });
}

}  // namespace pommel::paper
