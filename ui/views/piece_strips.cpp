#include "ui/views/piece_strips.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "paper/canvas.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

using paper::tone::faint;
using paper::tone::hair;
using paper::tone::ink;

constexpr double kTop = 20;    ///< pixels for a strip's own name, with letters of usual size
constexpr double kScale = AxisStrip::kScale;
constexpr double kWasteNames = 26;  ///< below the blank

QString said(double mm, const LengthFormat& lengths) { return QString::fromStdString(format_length(mm, lengths)); }

QPolygonF skin(const ShownPiece& piece, const std::function<QPointF(double, double)>& to_paper) {
  QPolygonF line;
  for (const shape::Piece& one : piece.subject.leg.outline.pieces) {
    const int steps = one.kind == shape::Piece::Kind::line || one.kind == shape::Piece::Kind::clear ? 1 : 24;
    for (int i = 0; i <= steps; ++i) {
      const double x = one.x0 + (one.x1 - one.x0) * i / steps;
      // where nothing is turned the square stands, and its half width is what a calliper meets
      line << to_paper(x, std::min(one.value(x), shape::least_face_distance(piece.subject.leg, x, i == steps ? shape::Side::before : shape::Side::after)));
    }
  }
  return line;
}

}  // namespace

std::shared_ptr<const ShownPiece> shown_piece(const family::Made& made, std::size_t piece, const std::string& member) {
  auto out = std::make_shared<ShownPiece>();
  const family::MadePiece& one = made.pieces[piece];
  const auto found = std::find_if(made.set.members.begin(), made.set.members.end(), [&](const frame::Member& m) { return m.id == member; });
  out->subject = found == made.set.members.end() ? paper::subject_of(one.part, one.wanted.square, made.set, piece, one.wanted.label)
                                                 : paper::subject_of(*found, one.wanted.square, made.set, found->label);
  out->phi = paper::seen_face(out->subject.leg);
  out->view = paper::leg_view(out->subject.leg, out->phi);
  out->reach = shape::reach(out->subject.leg);
  return out;
}

// --- overview

Overview::Overview(LengthAxis& axis, const StripContent& content, QWidget* parent) : AxisStrip(axis, tr("the whole piece, the catalogued one above it"), parent), content_(content) {
  setMinimumHeight(96);
}

namespace {

constexpr double kNames = 96;  ///< pixels at the left of the overview for whose piece it is

}  // namespace

double Overview::scale() const {
  double reach = 1;
  for (const auto& piece : {content_.catalogue, content_.order})
    if (piece) reach = std::max(reach, piece->reach);
  return std::min((width() - grown(kNames) - LengthAxis::kMargin) / (axis().whole1() - axis().whole0()), height() / (4.4 * reach));
}

void Overview::paint(QPainter& painter) {
  const double row = height() / 2.0, per_mm = scale();
  const auto row_of = [&](PiecePicture& kept, const std::shared_ptr<const ShownPiece>& piece, double middle, paper::Voice voice, const QString& name, const QString& remark) {
    paper::write(painter, LengthAxis::kMargin, middle + grown(4), name, paper::font(grown(12)), ink);
    if (piece) {
      const QTransform to_paper(per_mm, 0, 0, per_mm, grown(kNames) - per_mm * axis().whole0(), middle);
      kept.show(painter, size(), {piece, to_paper}, voice, [&](QPainter& on) { paper::paint_leg(on, piece->view, to_paper, paper::Voice::full, 1); });
    }
    paper::write(painter, piece ? grown(kNames) + per_mm * (piece->subject.leg.length - axis().whole0()) + 24 : grown(kNames), middle + grown(4), remark, paper::font(grown(12)), faint);
  };
  row_of(catalogue_, content_.catalogue, row / 2, paper::Voice::light, tr("catalogue"), content_.catalogue ? said(content_.catalogue->subject.leg.length, content_.lengths) : tr("has no such piece"));
  QString remark = tr("the measures make no piece, see below");
  if (content_.order) remark = content_.stale ? tr("as it was before the last change") : said(content_.order->subject.leg.length, content_.lengths);
  row_of(order_, content_.order, 1.5 * row, content_.stale ? paper::Voice::light : paper::Voice::full, tr("this order"), remark);
  if (axis().shows_all()) return;
  painter.setPen(QPen(tones().mark, 1.5));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(QRectF(QPointF(grown(kNames) + per_mm * (axis().from() - axis().whole0()), row + 1), QPointF(grown(kNames) + per_mm * (axis().to() - axis().whole0()), height() - 2)));
}

// The overview has a scale of its own, so the common hairline has no place in it.
void Overview::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), paper::tone::paper);
  paint(painter);
  if (!hasFocus()) return;
  painter.setPen(QPen(tones().mark, 2));
  painter.drawRect(rect().adjusted(1, 1, -1, -1));
}

void Overview::mousePressEvent(QMouseEvent* event) { mouseMoveEvent(event); }

void Overview::mouseMoveEvent(QMouseEvent* event) {
  if (!(event->buttons() & Qt::LeftButton)) return;
  const double x = axis().whole0() + (event->position().x() - grown(kNames)) / scale();
  axis().shift(x - (axis().from() + axis().to()) / 2);
}

// --- elevation

Elevation::Elevation(LengthAxis& axis, const StripContent& content, QWidget* parent) : AxisStrip(axis, tr("the piece at working scale"), parent), content_(content) {}

// With the whole piece shown it is not to be cut: the strip asks for the height that its own proportion gives.
QSize Elevation::minimumSizeHint() const {
  constexpr double kMost = 340;
  if (!content_.order) return {200, 150};
  // by the window's width, not the strip's: a scroll bar that comes with this height must not take it back
  const double scale = (window()->width() - 2 * LengthAxis::kMargin) / (axis().whole1() - axis().whole0());
  return {200, static_cast<int>(std::clamp(2 * scale * content_.order->reach + grown(kTop) + 24 + grown(kScale) + 10, grown(130), kMost))};
}

void Elevation::show_dimensions(bool on) {
  dimensions_ = on;
  update();
}

double Elevation::axis_height(double scale) const {
  const double half = scale * content_.order->reach;
  const double above = grown(kTop) + 24, room = height() - above - grown(kScale) - 6;
  return 2 * half <= room ? above + room / 2 : above + half;  // thicker than the strip: the upper skin stays in sight
}

void Elevation::paint(QPainter& painter) {
  paint_scale(painter, content_.lengths);
  if (!content_.order) return;
  const double scale = pixels_per_mm(), y = axis_height(scale);
  const QTransform to_paper(scale, 0, 0, scale, pixel(0), y);
  painter.setClipRect(QRectF(0, 0, width(), height() - grown(kScale)));
  const auto rails = paper::ghosts(content_.order->subject, content_.order->phi, 18 / scale);
  const auto ghosts = [&](bool in_front) {
    for (const paper::Ghost& rail : rails) {
      if (rail.in_front != in_front) continue;
      QPolygonF outline;
      for (const paper::Point& point : rail.outline) outline << to_paper.map(QPointF(point.x, point.t));
      painter.setPen(QPen(faint, 1.2, Qt::DotLine));
      painter.setBrush(in_front ? QBrush(Qt::NoBrush) : QBrush(QColor(0xf1, 0xea, 0xdc)));
      painter.drawPolygon(outline);
    }
  };
  ghosts(false);
  kept_.show(painter, size(), {content_.order, to_paper}, content_.stale ? paper::Voice::light : paper::Voice::full,
             [&](QPainter& on) { paper::paint_leg(on, content_.order->view, to_paper, paper::Voice::full, 1.4); });
  ghosts(true);
  painter.setClipping(false);
  paint_labels(painter, y, scale);
  if (content_.mirror) paint_mirror(painter, to_paper);
  paint_marked(painter, y, scale);
  if (drag_) paint_drag(painter, y, scale);
  if (dimensions_) paint_dimensions(painter, std::min(height() - grown(kScale) - grown(12), y + scale * content_.order->reach + 22));
}

// The turned skin is taken hold of where the pointer is within a few pixels of it; faces are not turned and stay.
bool Elevation::on_skin(const QPointF& at) const {
  constexpr double kNear = 5;
  if (!content_.order) return false;
  const shape::Part& leg = content_.order->subject.leg;
  const double x = axis().at_pixel(at.x(), width());
  if (x <= 0 || x >= leg.length) return false;
  const double r = leg.outline.value(x);
  if (r > shape::least_face_distance(leg, x, shape::Side::after)) return false;
  const double scale = pixels_per_mm();
  return std::fabs(std::fabs(at.y() - axis_height(scale)) - scale * r) <= kNear;
}

// An element's foot end is taken hold of on the wood, away from the skin.
std::optional<std::size_t> Elevation::on_end(const QPointF& at) const {
  constexpr double kNear = 4;
  if (!content_.order || on_skin(at)) return std::nullopt;
  const shape::Part& leg = content_.order->subject.leg;
  if (std::fabs(at.y() - axis_height(pixels_per_mm())) > pixels_per_mm() * content_.order->reach) return std::nullopt;
  for (std::size_t i = 0; i + 1 < leg.elements.size(); ++i)
    if (std::fabs(pixel(leg.elements[i].x1) - at.x()) <= kNear) return i;
  return std::nullopt;
}

void Elevation::mousePressEvent(QMouseEvent* event) {
  if (event->button() != Qt::LeftButton) return AxisStrip::mousePressEvent(event);
  if (on_skin(event->position())) {
    drag_ = Drag{axis().at_pixel(event->position().x(), width()), 0, {}};
    drag_->diameter = 2 * content_.order->subject.leg.outline.value(drag_->x);
  } else if (const auto end = on_end(event->position())) {
    drag_ = Drag{content_.order->subject.leg.elements[*end].x1, 0, end};
  } else {
    AxisStrip::mousePressEvent(event);
  }
}

void Elevation::mouseMoveEvent(QMouseEvent* event) {
  if (!drag_) {
    setCursor(on_skin(event->position()) ? Qt::SizeVerCursor : on_end(event->position()) ? Qt::SizeHorCursor : Qt::ArrowCursor);
    return AxisStrip::mouseMoveEvent(event);
  }
  const double scale = pixels_per_mm();
  if (drag_->end_of) drag_->x = std::max(content_.order->subject.leg.elements[*drag_->end_of].x0 + 0.5, axis().at_pixel(event->position().x(), width()));
  else drag_->diameter = 2 * std::fabs(event->position().y() - axis_height(scale)) / scale;
  update();
}

void Elevation::mouseReleaseEvent(QMouseEvent* event) {
  if (!drag_) return AxisStrip::mouseReleaseEvent(event);
  const Drag done = *drag_;
  drag_.reset();
  update();
  if (!content_.order) return;
  const double moved = 2 / pixels_per_mm();  // less than that was a click
  const shape::Part& leg = content_.order->subject.leg;
  if (done.end_of) {
    if (*done.end_of < leg.elements.size() && std::fabs(done.x - leg.elements[*done.end_of].x1) > moved) emit stretched_to(*done.end_of, done.x - leg.elements[*done.end_of].x0);
  } else if (std::fabs(done.diameter - 2 * leg.outline.value(done.x)) > moved) {
    emit drawn_to(done.x, done.diameter);
  }
}

void Elevation::keyPressEvent(QKeyEvent* event) {
  if (!drag_ || event->key() != Qt::Key_Escape) return AxisStrip::keyPressEvent(event);
  drag_.reset();
  update();
}

void Elevation::paint_drag(QPainter& painter, double axis_y, double scale) const {
  painter.setPen(QPen(tones().mark, 2));
  const double at = pixel(drag_->x);
  if (drag_->end_of) {
    const double half = scale * content_.order->reach + 8, length = drag_->x - content_.order->subject.leg.elements[*drag_->end_of].x0;
    painter.drawLine(QPointF(at, axis_y - half), QPointF(at, axis_y + half));
    return paper::write(painter, at + 6, axis_y - half + 10, tr("%1 long").arg(said(length, content_.lengths)), paper::font(grown(13), true), tones().mark);
  }
  const double half = scale * drag_->diameter / 2;
  for (const double y : {axis_y - half, axis_y + half}) painter.drawLine(QPointF(at - 24, y), QPointF(at + 24, y));
  paper::write(painter, at + 30, axis_y - half + 4, tr("⌀ %1").arg(said(drag_->diameter, content_.lengths)), paper::font(grown(13), true), tones().mark);
}

// A bracket under each element that the measure goes into.
void Elevation::paint_marked(QPainter& painter, double axis_y, double scale) const {
  painter.setPen(QPen(tones().mark, 2));
  const double y = std::min(axis_y + scale * content_.order->reach + 6, height() - grown(kScale) - 4);
  const auto& elements = content_.order->subject.leg.elements;
  for (const std::size_t i : content_.marked) {
    if (i >= elements.size()) continue;
    const double left = pixel(elements[i].x0) + 1, right = pixel(elements[i].x1) - 1;
    painter.drawPolyline(QPolygonF({QPointF(left, y - 5), QPointF(left, y), QPointF(right, y), QPointF(right, y - 5)}));
  }
}

// Where the mirror image has its joints, in broken lines of the mark's colour: what lies elsewhere than the piece's own is the difference of the hands.
void Elevation::paint_mirror(QPainter& painter, const QTransform& to_paper) const {
  const shape::Part mirror = shape::mirrored(content_.order->subject.leg);
  const paper::LegView view = paper::leg_view(mirror, content_.order->phi);
  QPen pen(tones().mark, 1.6, Qt::DashDotLine);
  pen.setCosmetic(true);
  painter.setPen(pen);
  painter.setBrush(Qt::NoBrush);
  for (const auto* lines : {&view.mortises, &view.bores, &view.cuts})
    for (const paper::Line& line : *lines) {
      QPolygonF shown;
      for (const paper::Point& point : line) shown << to_paper.map(QPointF(point.x, point.t));
      painter.drawPolygon(shown);
    }
}

// Names stand over the wood where they find room; the longest elements first.
void Elevation::paint_labels(QPainter& painter, double axis_y, double scale) const {
  std::vector<const shape::ElementMark*> marks;
  for (const shape::ElementMark& mark : content_.order->subject.leg.elements)
    if (mark.x1 > axis().from() && mark.x0 < axis().to()) marks.push_back(&mark);
  std::stable_sort(marks.begin(), marks.end(), [](const auto* a, const auto* b) { return a->x1 - a->x0 > b->x1 - b->x0; });
  const double y = std::max(grown(13), axis_y - scale * content_.order->reach - 12);
  std::vector<std::pair<double, double>> taken;
  for (const shape::ElementMark* mark : marks) {
    const QString text = QString::fromStdString(mark->label + "  " + paper::diameters(*mark, content_.lengths));
    const double half = paper::text_width(paper::font(grown(12)), text) / 2 + 5;
    const double middle = pixel((std::max(mark->x0, axis().from()) + std::min(mark->x1, axis().to())) / 2);
    const double left = std::clamp(middle - half, 0.0, std::max(0.0, width() - 2 * half)), right = left + 2 * half;
    if (std::any_of(taken.begin(), taken.end(), [&](const auto& one) { return left < one.second && right > one.first; })) continue;
    taken.emplace_back(left, right);
    painter.setPen(QPen(hair, 1));
    painter.drawLine(QPointF(middle, y + 3), QPointF(middle, y + 10));
    paper::write(painter, (left + right) / 2, y, text, paper::font(grown(12)), ink, 0);
  }
}

void Elevation::paint_dimensions(QPainter& painter, double y) const {
  for (const shape::ElementMark& mark : content_.order->subject.leg.elements) {
    const double left = pixel(mark.x0), right = pixel(mark.x1);
    const QString figure = QString::fromStdString(format_length(mark.x1 - mark.x0, content_.lengths, false));
    if (right < 0 || left > width() || right - left < paper::text_width(paper::font(grown(11)), figure) + 16) continue;
    paper::paint_dimension(painter, left, right, y, figure, paper::font(grown(11)));
  }
}

QString Elevation::reading() const {
  if (!content_.order || !axis().hair()) return {};
  const shape::Part& leg = content_.order->subject.leg;
  const double x = *axis().hair();
  if (x < 0 || x > leg.length) return tr("%1 from the head: outside the piece").arg(said(x, content_.lengths));
  const double round = 2 * leg.outline.value(x), across = 2 * shape::least_face_distance(leg, x, shape::Side::after);
  const QString thick = round <= across ? tr("⌀ %1").arg(said(round, content_.lengths)) : tr("□ %1 across").arg(said(across, content_.lengths));
  const auto mark = std::find_if(leg.elements.begin(), leg.elements.end(), [&](const shape::ElementMark& one) { return x >= one.x0 && x <= one.x1; });
  const QString element = mark == leg.elements.end() ? QString() : QString::fromStdString(mark->label);
  return tr("%1 from the head, %2 from the foot  ·  %3  ·  %4").arg(said(x, content_.lengths), said(leg.length - x, content_.lengths), thick, element);
}

// --- radius

RadiusStrip::RadiusStrip(LengthAxis& axis, const StripContent& content, QWidget* parent) : AxisStrip(axis, tr("radius over the length"), parent), content_(content) {
  setMinimumHeight(static_cast<int>(grown(kTop)) + 70);
}

void RadiusStrip::paint(QPainter& painter) {
  name_strip(painter, tr("radius: this order full, catalogue dashed"));
  double most = 1;
  for (const auto& piece : {content_.catalogue, content_.order})
    if (piece) most = std::max(most, piece->subject.square / 2);
  const double foot = height() - 8, room = foot - grown(kTop) - 6, scale = room / most;
  const double step = round_step(24 / scale, content_.lengths.unit);
  for (double r = 0; r <= most + 1e-9; r += step) {
    painter.setPen(QPen(hair, 1));
    painter.drawLine(QPointF(0, foot - scale * r), QPointF(width(), foot - scale * r));
    paper::write(painter, width() - 4, foot - scale * r - 2, said(r, content_.lengths), paper::font(grown(10)), faint, 1);
  }
  const auto to_paper = [&](double x, double r) { return QPointF(pixel(x), foot - scale * r); };
  painter.setBrush(Qt::NoBrush);
  if (content_.catalogue) {
    painter.setPen(QPen(faint, 1.2, Qt::DashLine));
    painter.drawPolyline(skin(*content_.catalogue, to_paper));
  }
  if (content_.order) {
    painter.setPen(QPen(content_.stale ? faint : ink, 1.6));
    painter.drawPolyline(skin(*content_.order, to_paper));
  }
}

// --- blank

BlankStrip::BlankStrip(LengthAxis& axis, const StripContent& content, QWidget* parent) : AxisStrip(axis, tr("the blank and its waste"), parent), content_(content) {
  setMinimumHeight(static_cast<int>(grown(kTop + kWasteNames)) + 44);
}

void BlankStrip::paint(QPainter& painter) {
  if (!content_.blank || !content_.order) return name_strip(painter, tr("blank: …"));
  const shape::Blank& blank = *content_.blank;
  name_strip(painter, tr("blank %1 long, %2 %3").arg(said(blank.length(), content_.lengths), said(blank.size, content_.lengths), blank.section == shape::Blank::Section::round ? tr("round") : tr("square")));
  const double room = height() - grown(kTop) - grown(kWasteNames), scale = std::min(pixels_per_mm(), room / blank.size), y = grown(kTop) + room / 2;
  const double half = scale * blank.size / 2, length = content_.order->subject.leg.length;
  painter.setPen(QPen(paper::tone::wood_edge, 1.2));
  painter.setBrush(paper::voiced(paper::tone::wood_lit, paper::Voice::light));
  painter.drawRect(QRectF(QPointF(pixel(blank.x0), y - half), QPointF(pixel(blank.x1), y + half)));
  painter.setPen(Qt::NoPen);
  painter.setBrush(QBrush(faint, Qt::BDiagPattern));
  painter.drawRect(QRectF(QPointF(pixel(blank.x0), y - half), QPointF(pixel(0), y + half)));
  painter.drawRect(QRectF(QPointF(pixel(length), y - half), QPointF(pixel(blank.x1), y + half)));
  painter.setPen(QPen(ink, 1.2));
  painter.setBrush(Qt::NoBrush);
  QPolygonF upper = skin(*content_.order, [&](double x, double r) { return QPointF(pixel(x), y - scale * r); });
  painter.drawPolyline(upper);
  for (QPointF& point : upper) point.setY(2 * y - point.y());
  painter.drawPolyline(upper);
  const auto waste = [&](double from, double to, const QString& what) {
    const QString text = tr("%1 %2").arg(what, said(to - from, content_.lengths));
    const double wide = paper::text_width(paper::font(grown(11)), text), middle = (pixel(from) + pixel(to)) / 2;
    if (to - from > 0.05) paper::write(painter, std::clamp(middle, wide / 2 + 4, width() - wide / 2 - 4), height() - grown(8), text, paper::font(grown(11)), ink, 0);
  };
  waste(blank.x0, 0, tr("waste at the head"));
  waste(length, blank.x1, tr("waste at the foot"));
}

// --- check

namespace {

constexpr double kLegend = 120;    ///< pixels that the scale of colours is long
constexpr double kFullTone = 0.1;  ///< mm at which the scale is darkest: twice the ridge that is agreed

// Brown above the skin, blue below: apart for all kinds of colour sight, and told by darkness as well.
QRgb tone_of(float deviation) {
  if (std::isnan(deviation)) return qRgb(0xe8, 0xe4, 0xdc);
  const double much = std::min(1.0, std::fabs(deviation) / kFullTone);
  const auto mix = [&](int full) { return static_cast<int>(0xfb + (full - 0xfb) * much); };
  return deviation >= 0 ? qRgb(mix(0x7a), mix(0x42), mix(0x10)) : qRgb(mix(0x0b), mix(0x3c), mix(0x7a));
}

QImage unrolled(const proof::Map& map) {
  QImage image(map.rows, map.columns, QImage::Format_RGB32);
  for (int row = 0; row < map.rows; ++row)
    for (int column = 0; column < map.columns; ++column)
      image.setPixel(row, map.columns - 1 - column, tone_of(map.deviation[static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) + static_cast<std::size_t>(column)]));
  return image;
}

}  // namespace

CheckStrip::CheckStrip(LengthAxis& axis, const StripContent& content, QWidget* parent) : AxisStrip(axis, tr("cut check: the surface unrolled"), parent), content_(content) {
  setMinimumHeight(static_cast<int>(grown(2 * kTop)) + 70);
}

void CheckStrip::paint(QPainter& painter) {
  if (!content_.programs || content_.programs->front().proof.map.rows == 0) return name_strip(painter, tr("cut check, the surface unrolled: …"));
  if (drawn_ != content_.programs.get()) {
    drawn_ = content_.programs.get();
    image_ = unrolled(drawn_->front().proof.map);
  }
  const QString name = tr("cut check, the surface unrolled: up is once round, face A at the foot");
  name_strip(painter, name);
  // the scale stands beside the name, below it where letters are too large for both
  const bool beside = LengthAxis::kMargin + paper::text_width(paper::font(grown(12), true), name) + 24 < legend_left() - legend_words(true);
  const double below = beside ? 0 : grown(kTop);
  const proof::Map& map = content_.programs->front().proof.map;
  const QRectF ground(QPointF(pixel(map.x0), grown(kTop) + below + 2), QPointF(pixel(map.x1), height() - 4));
  painter.drawImage(ground, image_);
  painter.setPen(QPen(hair, 1));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(ground);
  paint_legend(painter, below);
}

QString CheckStrip::legend_text(bool below_skin) const {
  LengthFormat fine = content_.lengths;
  fine.unit = LengthUnit::millimetre;
  fine.decimals = 2;
  return below_skin ? tr("below the skin %1").arg(said(-kFullTone, fine)) : tr("%1 of wood left").arg(said(kFullTone, fine));
}

double CheckStrip::legend_words(bool below_skin) const { return paper::text_width(paper::font(grown(11)), legend_text(below_skin)) + 6; }

double CheckStrip::legend_left() const { return width() - kLegend - legend_words(false) - LengthAxis::kMargin; }

void CheckStrip::paint_legend(QPainter& painter, double down) const {
  const double left = legend_left(), y = 4 + down;
  for (int i = 0; i < static_cast<int>(kLegend); ++i) {
    painter.setPen(QColor(tone_of(static_cast<float>((i / kLegend * 2 - 1) * kFullTone))));
    painter.drawLine(QPointF(left + i, y), QPointF(left + i, y + 10));
  }
  paper::write(painter, left - 6, y + grown(9), legend_text(true), paper::font(grown(11)), ink, 1);
  paper::write(painter, left + kLegend + 6, y + grown(9), legend_text(false), paper::font(grown(11)), ink);
}

}  // namespace pommel::ui
