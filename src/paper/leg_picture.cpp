// The elevation of one leg, lying along its axis with the head at the left.
#include <algorithm>
#include <cmath>

#include <QTransform>

#include "base/quantity.h"
#include "paper/canvas.h"
#include "paper/pictures.h"

namespace pommel::paper {
namespace {

constexpr int kWidth = 2000;
constexpr double kMargin = 70, kLabel = 15, kPitch = 21, kLeader = 64, kStub = 26;  // pixels

struct Tag {
  double at;  ///< x on paper where it points
  QString text;
};

class Elevation {
 public:
  explicit Elevation(const LegSheet& sheet) : sheet_(sheet), phi_(seen_face(sheet.ordered.leg)), view_(leg_view(sheet.ordered.leg, phi_)) {
    double longest = sheet.ordered.leg.length, thick = sheet.ordered.square;
    if (sheet.catalogued) {
      longest = std::max(longest, sheet.catalogued->leg.length);
      thick = std::max(thick, sheet.catalogued->square);
      beside_ = leg_view(sheet.catalogued->leg, seen_face(sheet.catalogued->leg));
    }
    scale_ = std::min((kWidth - 2 * kMargin) / longest, 260 / thick);
    place_labels();
    half_ = scale_ * sheet.ordered.square / 2;
    axis_ = 120 + widest(above_) + kLeader + kStub + half_;
    below_base_ = axis_ + half_ + kStub + kLeader;
    dimension_ = below_base_ + widest(below_) + 34;
    other_axis_ = dimension_ + 84 + (sheet.catalogued ? scale_ * sheet.catalogued->square / 2 : 0);
    const double end = sheet.catalogued ? other_axis_ + scale_ * sheet.catalogued->square / 2 + 46 : dimension_ + 10;
    height_ = static_cast<int>(std::ceil(end + 70));
  }

  int height() const { return height_; }

  void paint(QPainter& painter) const {
    paint_title(painter);
    painter.setPen(QPen(tone::hair, 1));
    if (sheet_.catalogued) painter.drawLine(QPointF(kMargin, axis_ + half_ + 4), QPointF(kMargin, other_axis_ - 2));
    const auto rails = ghosts(sheet_.ordered, phi_, kStub * 0.8 / scale_);
    paint_ghosts(painter, rails, false);
    paint_tags(painter, above_, axis_ - half_ - kStub, axis_ - half_ - kStub - kLeader, true);
    paint_tags(painter, below_, axis_ + half_ + kStub, below_base_, false);
    paint_leg(painter, view_, to_paper(axis_), Voice::full, 1.6);
    paint_ghosts(painter, rails, true);
    const double length = sheet_.ordered.leg.length;
    paint_dimension(painter, kMargin, kMargin + scale_ * length, dimension_, from_utf8(sheet_.ordered.heading + ": " + format_length(length, sheet_.lengths)), font(17));
    if (sheet_.catalogued) paint_other(painter);
    const QString legend = QStringLiteral("dashed: mortises, and the pockets at the sides   ·   dotted: rails   ·   above: diameters   ·   below: places from the head");
    const QString unit = sheet_.lengths.unit == LengthUnit::millimetre ? QStringLiteral(", mm") : sheet_.lengths.unit == LengthUnit::inch ? QStringLiteral(", inches") : QString();
    write(painter, kMargin, height_ - 28, legend + unit + unlabelled_, font(14), tone::faint);
  }

 private:
  static double widest(const std::vector<Tag>& tags) {
    double width = 0;
    for (const Tag& tag : tags) width = std::max(width, text_width(font(kLabel), tag.text));
    return width;
  }

  QTransform to_paper(double axis) const { return {scale_, 0, 0, scale_, kMargin, axis}; }

  // As many elements as find room carry labels: the longest ones. The rest is counted in the legend.
  void place_labels() {
    std::vector<const shape::ElementMark*> marks;
    for (const shape::ElementMark& mark : sheet_.ordered.leg.elements) marks.push_back(&mark);
    const auto room = static_cast<std::size_t>((kWidth - 2 * kMargin) / kPitch);
    if (marks.size() > room) {
      unlabelled_ = QStringLiteral("   ·   %1 short elements carry no label").arg(static_cast<qulonglong>(marks.size() - room));
      std::stable_sort(marks.begin(), marks.end(), [](const auto* a, const auto* b) { return a->x1 - a->x0 > b->x1 - b->x0; });
      marks.resize(room);
      std::sort(marks.begin(), marks.end(), [](const auto* a, const auto* b) { return a->x0 < b->x0; });
    }
    for (const shape::ElementMark* mark : marks) {
      above_.push_back({on_paper((mark->x0 + mark->x1) / 2), from_utf8(mark->label + "   " + diameters(*mark, sheet_.lengths))});
      if (mark->x0 > 0) below_.push_back({on_paper(mark->x0), from_utf8(format_length(mark->x0, sheet_.lengths, false))});
    }
  }

  double on_paper(double x) const { return kMargin + scale_ * x; }

  void paint_title(QPainter& painter) const {
    const double room = kWidth - 2 * kMargin;
    write(painter, kMargin, 56, elided(font(25, true), from_utf8(sheet_.title), room), font(25, true), tone::ink);
    write(painter, kMargin, 86, elided(font(16), from_utf8(sheet_.subtitle), room), font(16), tone::faint);
  }

  // A leader leaves the wood upright, bends to where its label found room, and the label stands on its end.
  void paint_tags(QPainter& painter, const std::vector<Tag>& tags, double bend, double base, bool upwards) const {
    std::vector<double> wanted;
    for (const Tag& tag : tags) wanted.push_back(tag.at);
    const std::vector<double> places = spread(wanted, kPitch, kMargin, kWidth - kMargin);
    for (std::size_t i = 0; i < tags.size(); ++i) {
      painter.setPen(QPen(tone::hair, 1));
      const double end = upwards ? base + 14 : base - 14;
      painter.drawPolyline(QPolygonF{QPointF(tags[i].at, axis_), QPointF(tags[i].at, bend), QPointF(places[i], end), QPointF(places[i], base)});
      const double foot = upwards ? base - 6 : base + 6 + text_width(font(kLabel), tags[i].text);
      write_upwards(painter, places[i], foot, tags[i].text, font(kLabel), upwards ? tone::ink : tone::faint);
    }
  }

  void paint_ghosts(QPainter& painter, const std::vector<Ghost>& rails, bool in_front) const {
    for (const Ghost& rail : rails) {
      if (rail.in_front != in_front) continue;
      QPolygonF outline;
      for (const Point& point : rail.outline) outline << to_paper(axis_).map(QPointF(point.x, point.t));
      QPen dotted(tone::faint, 1.3, Qt::DotLine);
      painter.setPen(dotted);
      painter.setBrush(in_front ? QBrush(Qt::NoBrush) : QBrush(QColor(0xf1, 0xea, 0xdc)));
      painter.drawPolygon(outline);
      painter.setBrush(Qt::NoBrush);
    }
  }

  void paint_other(QPainter& painter) const {
    const LegSubject& other = *sheet_.catalogued;
    paint_leg(painter, beside_, to_paper(other_axis_), Voice::light, 1.3);
    const double more = sheet_.ordered.leg.length - other.leg.length;
    std::string says = other.heading + ": " + format_length(other.leg.length, sheet_.lengths);
    if (std::fabs(more) > 0.05) says += " (the ordered one is " + format_length(std::fabs(more), sheet_.lengths) + (more > 0 ? " longer)" : " shorter)");
    paint_dimension(painter, kMargin, on_paper(other.leg.length), other_axis_ + scale_ * other.square / 2 + 30, from_utf8(says), font(16));
  }

  const LegSheet& sheet_;
  double phi_;
  LegView view_, beside_;
  std::vector<Tag> above_, below_;
  QString unlabelled_;
  double scale_ = 1, half_ = 0, axis_ = 0, below_base_ = 0, dimension_ = 0, other_axis_ = 0;
  int height_ = 0;
};

}  // namespace

Result<LegBytes> leg_picture(const LegSheet& sheet) {
  const Elevation elevation(sheet);
  const Paint paint = [&](QPainter& painter) { elevation.paint(painter); };
  auto image = png(kWidth, elevation.height(), paint);
  if (!image.ok()) return image.failure();
  auto drawing = svg(kWidth, elevation.height(), from_utf8(sheet.title), paint);
  if (!drawing.ok()) return drawing.failure();
  return LegBytes{std::move(image).value(), std::move(drawing).value()};
}

}  // namespace pommel::paper
