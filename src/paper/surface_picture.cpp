// The surface that a program leaves, unrolled: x along, the angle up, in classes of colour that tell gouge from leftover for every eye.
//
// Orange and blue are told apart by all common forms of colour blindness, and in print without colour the classes of each grow darker.
#include <algorithm>
#include <array>
#include <cmath>

#include <QImage>

#include "base/number.h"
#include "paper/canvas.h"
#include "paper/pictures.h"

namespace pommel::paper {
namespace {

constexpr int kWidth = 2000;
constexpr double kLeft = 110, kRight = 60, kTop = 128, kUnrolled = 540;  // pixels
constexpr double kNoise = 0.003;                                         // mm: nearer to the skin than this is on it
constexpr double kLabelPitch = 20;
constexpr double kWaste = 8;                                             // mm shown beside the piece

struct Class {
  double above;  ///< mm: from here up to the next
  QColor colour;
  QString says;
};

QString mm(double v) { return from_utf8(format_number(v, 3)); }

// From the deepest gouge to the highest leftover.
std::array<Class, 8> classes_of(const SurfaceSheet& sheet) {
  const QString limit = mm(sheet.gouge_limit), cusp = mm(sheet.cusp), hand = mm(sheet.hand_work_from);
  return {{{-1e9, QColor(0x8c, 0x2d, 0x04), QStringLiteral("cut deeper than %1 mm").arg(mm(5 * sheet.gouge_limit))},
           {-5 * sheet.gouge_limit, QColor(0xe6, 0x6a, 0x0a), QStringLiteral("cut too deep, %1 to %2 mm").arg(limit, mm(5 * sheet.gouge_limit))},
           {-sheet.gouge_limit, QColor(0xfb, 0xd3, 0xa5), QStringLiteral("below, within the limit of %1 mm").arg(limit)},
           {-kNoise, QColor(0xff, 0xff, 0xff), QStringLiteral("on the skin")},
           {kNoise, QColor(0xd4, 0xe6, 0xf4), QStringLiteral("ridges up to the agreed %1 mm").arg(cusp)},
           {sheet.cusp, QColor(0x8c, 0xba, 0xdd), QStringLiteral("left, %1 to %2 mm: sanding").arg(cusp, hand)},
           {sheet.hand_work_from, QColor(0x2f, 0x75, 0xb5), QStringLiteral("left, %1 to 1 mm: by hand").arg(hand)},
           {1, QColor(0x08, 0x30, 0x6b), QStringLiteral("left, over 1 mm: by hand")}}};
}

class Unrolled {
 public:
  explicit Unrolled(const SurfaceSheet& sheet)
      : sheet_(sheet), classes_(classes_of(sheet)), low_(std::max(sheet.x0, -kWaste)), high_(std::min(sheet.x1, sheet.length + kWaste)),
        scale_((kWidth - kLeft - kRight) / (high_ - low_)) {}

  int height() const { return static_cast<int>(kTop + kUnrolled) + 250; }

  void paint(QPainter& painter) const {
    const double room = kWidth - kLeft - kRight;
    write(painter, kLeft, 52, elided(font(25, true), from_utf8(sheet_.title), room), font(25, true), tone::ink);
    write(painter, kLeft, 82, elided(font(16), from_utf8(sheet_.subtitle), room), font(16), tone::faint);
    const double cell = (sheet_.x1 - sheet_.x0) / sheet_.rows;
    painter.drawImage(QRectF(kLeft, kTop, room, kUnrolled), cells(), QRectF((low_ - sheet_.x0) / cell, 0, (high_ - low_) / cell, sheet_.columns));
    painter.setPen(QPen(tone::ink, 1.2));
    painter.drawRect(QRectF(kLeft, kTop, room, kUnrolled));
    paint_angles(painter);
    paint_elements(painter);
    paint_spots(painter);
    paint_legend(painter);
  }

 private:
  double at_x(double x) const { return kLeft + scale_ * (x - low_); }
  static double at_angle(double degrees) { return kTop + kUnrolled * (1 - degrees / 360); }

  QColor colour_of(float deviation) const {
    if (std::isnan(deviation)) return QColor(0xd9, 0xd4, 0xcb);
    const Class* found = &classes_.front();
    for (const Class& one : classes_)
      if (static_cast<double>(deviation) >= one.above) found = &one;
    return found->colour;
  }

  // A pixel a cell; the painter enlarges it without mixing neighbours.
  QImage cells() const {
    QImage image(sheet_.rows, sheet_.columns, QImage::Format_RGB32);
    for (int i = 0; i < sheet_.rows; ++i)
      for (int j = 0; j < sheet_.columns; ++j)
        image.setPixelColor(i, sheet_.columns - 1 - j, colour_of(sheet_.deviation[static_cast<std::size_t>(i) * static_cast<std::size_t>(sheet_.columns) + static_cast<std::size_t>(j)]));
    return image;
  }

  void paint_angles(QPainter& painter) const {
    for (int quarter = 0; quarter <= 4; ++quarter) {
      const double y = at_angle(90.0 * quarter);
      painter.setPen(QPen(tone::faint, 1, Qt::DotLine));
      painter.drawLine(QPointF(kLeft - 8, y), QPointF(kWidth - kRight, y));
      write(painter, kLeft - 14, y + 5, QStringLiteral("%1\u00b0").arg(90 * quarter), font(15), tone::ink, 1);
      write(painter, kLeft - 62, y + 6, QString(QChar('A' + quarter % 4)), font(18, true), tone::ink, 1);
    }
    write_upwards(painter, 24, at_angle(180) + 90, QStringLiteral("angle round the piece, faces"), font(15), tone::faint);
  }

  void paint_elements(QPainter& painter) const {
    std::vector<double> wanted;
    for (const shape::ElementMark& mark : sheet_.elements) wanted.push_back(at_x((mark.x0 + mark.x1) / 2));
    const std::vector<double> places = spread(wanted, kLabelPitch, kLeft, kWidth - kRight);
    const double foot = kTop + kUnrolled, base = foot + 104;
    for (std::size_t i = 0; i < sheet_.elements.size(); ++i) {
      painter.setPen(QPen(tone::hair, 1));
      if (i > 0) painter.drawLine(QPointF(at_x(sheet_.elements[i].x0), foot), QPointF(at_x(sheet_.elements[i].x0), foot + 6));
      if (sheet_.elements.size() > 70) continue;  // no room for words
      painter.drawPolyline(QPolygonF{QPointF(wanted[i], foot + 4), QPointF(places[i], foot + 18)});
      const QString label = elided(font(14), from_utf8(sheet_.elements[i].label), base - foot - 24);
      write_upwards(painter, places[i], foot + 22 + text_width(font(14), label), label, font(14), tone::ink);
    }
    write(painter, kLeft, base + 26, QStringLiteral("head"), font(15), tone::faint);
    write(painter, kWidth - kRight, base + 26, from_utf8("foot, " + format_length(sheet_.length, sheet_.lengths) + " from the head"), font(15), tone::faint, 1);
  }

  // A ring round the worst place of each kind, so that a single cell is not overlooked.
  void paint_spots(QPainter& painter) const {
    for (const SurfaceSpot& spot : sheet_.spots) {
      const QPointF at(at_x(spot.x), at_angle(spot.degrees));
      painter.setBrush(Qt::NoBrush);
      painter.setPen(QPen(tone::paper, 5));
      painter.drawEllipse(at, 11, 11);
      painter.setPen(QPen(tone::ink, 2));
      painter.drawEllipse(at, 11, 11);
      const bool left = at.x() > kWidth / 2.0;
      const QString says = from_utf8(spot.says);
      const double width = text_width(font(15, true), says), x = left ? at.x() - 18 - width : at.x() + 18;
      painter.fillRect(QRectF(x - 4, at.y() - 14, width + 8, 21), tone::paper);
      write(painter, x, at.y() + 3, says, font(15, true), tone::ink);
    }
  }

  void paint_legend(QPainter& painter) const {
    const double y = kTop + kUnrolled + 160;
    double x = kLeft, line = y;
    auto entry = [&](const QColor& colour, const QString& says) {
      const double width = 30 + text_width(font(14), says) + 34;
      if (x + width > kWidth - kRight) x = kLeft, line += 32;
      painter.setPen(QPen(tone::faint, 1));
      painter.setBrush(colour);
      painter.drawRect(QRectF(x, line - 14, 22, 18));
      write(painter, x + 30, line, says, font(14), tone::ink);
      x += width;
    };
    for (const Class& one : classes_) entry(one.colour, one.says);
    entry(QColor(0xd9, 0xd4, 0xcb), QStringLiteral("waste beside the piece"));
    painter.setBrush(Qt::NoBrush);
  }

  const SurfaceSheet& sheet_;
  std::array<Class, 8> classes_;
  double low_, high_;  // mm that are shown
  double scale_;
};

}  // namespace

Result<std::string> surface_picture(const SurfaceSheet& sheet) {
  const Unrolled picture(sheet);
  return png(kWidth, picture.height(), [&](QPainter& painter) { picture.paint(painter); });
}

}  // namespace pommel::paper
