#include "ui/views/match_strips.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "paper/canvas.h"
#include "ui/models/found_model.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

using paper::tone::faint;
using paper::tone::hair;
using paper::tone::ink;

constexpr double kAbove = 44;  ///< pixels for the strip's name and the elements' names, with letters of usual size
constexpr double kBelow = 16;  ///< for the brackets, over the scale

enum class Mark { dot, cross, box, triangle };

// Fixed tones of the piece's ground, light in either palette.
QColor wrong_tone() { return tones(false).wrong; }

void draw_mark(QPainter& painter, Mark mark, const QPointF& at, double size) {
  painter.setPen(QPen(mark == Mark::cross ? wrong_tone() : ink, mark == Mark::cross ? 2.2 : 1.2));
  painter.setBrush(mark == Mark::dot ? QBrush(ink) : QBrush(paper::tone::paper));
  const QPointF across(size, 0), down(0, size);
  if (mark == Mark::dot) painter.drawEllipse(at, size * 0.6, size * 0.6);
  if (mark == Mark::box) painter.drawRect(QRectF(at - (across + down) * 0.8, at + (across + down) * 0.8));
  if (mark == Mark::triangle) painter.drawPolygon(QPolygonF{at - down, at + down * 0.8 + across, at + down * 0.8 - across});
  if (mark != Mark::cross) return;
  painter.drawLine(at - across - down, at + across + down);
  painter.drawLine(at - across + down, at + across - down);
}

bool believed_wrong(const Fitted& fitted, std::size_t measure) {
  return std::any_of(fitted.found.wrong.begin(), fitted.found.wrong.end(), [measure](const match::Wrong& w) { return w.measure == measure; });
}

Mark mark_of(const match::Measure& measure, bool wrong) {
  if (wrong) return Mark::cross;
  if (measure.of == match::Measure::Of::flats) return Mark::box;
  return measure.of == match::Measure::Of::worn ? Mark::triangle : Mark::dot;
}

// The measures that are shown: those of the outline, or, where nothing is recognised of the readings as they are, the readings.
const std::vector<match::Measure>& shown_measures(const MatchBench& bench) { return bench.fitted() && !bench.stale() ? bench.fitted()->read.measures : bench.measures(); }

QString said(double mm, const LengthFormat& lengths) { return text(format_length(mm, lengths)); }

}  // namespace

// --- the outline over its readings

MatchStrip::MatchStrip(LengthAxis& axis, const MatchBench& bench, const MatchLook& look, QWidget* parent)
    : AxisStrip(axis, tr("the fitted outline over its readings"), parent), bench_(bench), look_(look) {}

// True proportion where it finds room; a piece that is thicker than the strip is drawn as high as the strip.
double MatchStrip::scale() const {
  double reach = 1;
  for (const match::Measure& m : shown_measures(bench_)) reach = std::max(reach, m.diameter / 2);
  if (bench_.fitted()) reach = std::max(reach, bench_.fitted()->found.square / 2);
  const double room = height() - grown(kAbove) - grown(kBelow) - grown(kScale) - 12;
  return std::min(pixels_per_mm(), room / (2 * reach));
}

double MatchStrip::middle() const { return grown(kAbove) + (height() - grown(kAbove) - grown(kBelow) - grown(kScale)) / 2; }

void MatchStrip::paint(QPainter& painter) {
  const bool nothing = !bench_.fitted() && bench_.measures().empty();
  name_strip(painter, nothing            ? tr("type readings below: where along the piece, and the diameter there")
                      : !bench_.fitted() ? tr("the readings; no outline yet")
                      : bench_.stale()   ? tr("the outline as it was before the last change …")
                                         : tr("the fitted outline over its readings"));
  paint_scale(painter, look_.lengths);
  painter.setClipRect(QRectF(0, 0, width(), height() - grown(kScale)));
  if (bench_.fitted()) {
    for (std::size_t k = 0; k < bench_.fitted()->found.elements.size(); ++k) paint_element(painter, k);
    paint_names(painter);
    if (!bench_.stale()) paint_wanted(painter);
  }
  paint_readings(painter);
  painter.setClipping(false);
}

void MatchStrip::paint_element(QPainter& painter, std::size_t k) const {
  const match::Found& f = bench_.fitted()->found.elements[k];
  const paper::Voice voice = bench_.stale() ? paper::Voice::light : paper::Voice::full;
  const double y = middle(), s = scale();
  QPolygonF upper;
  for (const shape::Piece& piece : bench_.fitted()->pieces[k]) {
    const int steps = piece.kind == shape::Piece::Kind::line || f.square ? 1 : 32;
    for (int i = 0; i <= steps; ++i) {
      const double x = piece.x0 + (piece.x1 - piece.x0) * i / steps;
      upper << QPointF(pixel(x), y - s * (f.square ? f.stroke.r0 : piece.value(x)));
    }
  }
  QPolygonF outline = upper;
  for (auto point = upper.rbegin(); point != upper.rend(); ++point) outline << QPointF(point->x(), 2 * y - point->y());
  const bool chosen = static_cast<int>(k) == look_.element;
  painter.setPen(QPen(paper::voiced(ink, voice), 1.2));
  painter.setBrush(paper::voiced(f.square ? paper::tone::flat : paper::tone::wood_lit, voice));
  painter.drawPolygon(outline);
  if (!chosen) return;
  painter.setPen(QPen(tones(false).mark, 3));
  painter.setBrush(QBrush(tones(false).mark, Qt::BDiagPattern));
  painter.drawPolygon(outline);
}

// The number of each element that finds room, and its name where that does, too; the chosen one and long ones first.
void MatchStrip::paint_names(QPainter& painter) const {
  const auto& elements = bench_.fitted()->found.elements;
  std::vector<std::size_t> order(elements.size());
  for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const auto rank = [&](std::size_t k) { return static_cast<int>(k) == look_.element ? 1e9 : elements[k].stroke.length(); };
    return rank(a) > rank(b);
  });
  std::vector<std::pair<double, double>> taken;
  const auto place = [&](double at, const QString& words, const QFont& font) {
    const double half = paper::text_width(font, words) / 2 + 4, left = std::clamp(at - half, 0.0, std::max(0.0, width() - 2 * half)), right = left + 2 * half;
    if (std::any_of(taken.begin(), taken.end(), [&](const auto& one) { return left < one.second && right > one.first; })) return false;
    taken.emplace_back(left, right);
    paper::write(painter, (left + right) / 2, grown(34), words, font, bench_.stale() ? faint : ink, 0);
    return true;
  };
  for (const std::size_t k : order) {
    const match::Stroke& s = elements[k].stroke;
    if (s.x1 <= axis().from() || s.x0 >= axis().to()) continue;
    const double at = pixel((std::max(s.x0, axis().from()) + std::min(s.x1, axis().to())) / 2);
    const QFont font = paper::font(grown(12), static_cast<int>(k) == look_.element);
    const QString number = QString::number(k + 1);
    if (!place(at, number + QStringLiteral(" ") + element_in_words(elements[k]), font)) place(at, number, font);
  }
}

void MatchStrip::paint_readings(QPainter& painter) const {
  const auto& measures = shown_measures(bench_);
  const bool judged = bench_.fitted() && !bench_.stale();
  const double head = bench_.fitted() ? bench_.fitted()->found.head : 0, y = middle(), s = scale();
  // points of a drawing are many and sure: small dots
  const double size = bench_.drawn() ? 2 : 4;
  for (std::size_t i = 0; i < measures.size(); ++i) {
    const match::Measure& m = measures[i];
    const bool wrong = judged && believed_wrong(*bench_.fitted(), i);
    const double px = pixel(m.x - head), r = s * m.diameter / 2;
    if (px < -8 || px > width() + 8) continue;
    for (const double at : {y - r, y + r}) draw_mark(painter, mark_of(m, wrong), {px, at}, wrong ? 5 : size);
    if (MatchBench::row_of(m.place) != look_.row) continue;
    painter.setPen(QPen(tones(false).mark, 2));
    painter.setBrush(Qt::NoBrush);
    for (const double at : {y - r, y + r}) painter.drawEllipse(QPointF(px, at), 9, 9);
  }
}

void MatchStrip::paint_wanted(QPainter& painter) const {
  constexpr std::size_t kTold = 6;
  const double foot = height() - grown(kScale) - 3, top = foot - grown(kBelow) + 4;
  const auto& wanted = bench_.fitted()->found.wanted;
  for (std::size_t i = 0; i < std::min(kTold, wanted.size()); ++i) {
    const double at = pixel((wanted[i].from + wanted[i].to) / 2), half = std::max(5.0, (pixel(wanted[i].to) - pixel(wanted[i].from)) / 2);
    painter.setPen(QPen(tones(false).mark, 2));
    painter.drawPolyline(QPolygonF{{at - half, top}, {at - half, foot}, {at + half, foot}, {at + half, top}});
    paper::write(painter, at, foot - 4, QStringLiteral("?"), paper::font(grown(11), true), tones(false).mark, 0);
  }
}

QString MatchStrip::reading() const {
  if (!axis().hair() || !bench_.fitted()) return {};
  const double x = *axis().hair();
  const auto& found = bench_.fitted()->found;
  for (std::size_t k = 0; k < found.elements.size(); ++k) {
    const match::Found& f = found.elements[k];
    if (x < f.stroke.x0 || x > f.stroke.x1) continue;
    const QString thick = f.square ? tr("□ %1 across").arg(said(2 * f.stroke.r0, look_.lengths)) : tr("⌀ %1").arg(said(2 * match::radius_of(bench_.fitted()->pieces[k], x), look_.lengths));
    return tr("%1 from the head, %2 from the foot  ·  %3  ·  %4").arg(said(x, look_.lengths), said(found.length - x, look_.lengths), thick, element_in_words(f));
  }
  return {};
}

// --- how far they lie off

MisfitStrip::MisfitStrip(LengthAxis& axis, const MatchBench& bench, const MatchLook& look, QWidget* parent)
    : AxisStrip(axis, tr("how far the readings lie off the outline"), parent), bench_(bench), look_(look) {}

void MisfitStrip::paint(QPainter& painter) {
  if (!bench_.fitted() || bench_.stale()) return name_strip(painter, tr("how far the readings lie off the outline: …"));
  const Fitted& fitted = *bench_.fitted();
  // three times what is usual fills the strip; what lies farther stands at its edge with its figure
  double full = 3 * std::max(fitted.found.rms, 0.01);
  full = look_.lengths.unit == LengthUnit::inch || look_.lengths.unit == LengthUnit::foot ? std::ceil(full / kInch * 200) * kInch / 200 : std::ceil(full * 20) / 20;
  LengthFormat fine = look_.lengths;
  fine.decimals = 3, fine.denominator = 0;
  name_strip(painter, tr("how far the readings lie off the outline: lines at %1 outside and inside").arg(said(full, fine)));
  const double top = grown(24), middle = top + (height() - top - 8) / 2, half = (height() - top - 8) / 2 - 6;
  for (const double level : {-1.0, 0.0, 1.0}) {
    painter.setPen(QPen(level == 0 ? ink : faint, 1, level == 0 ? Qt::SolidLine : Qt::DashLine));
    painter.drawLine(QPointF(pixel(0), middle - level * half), QPointF(pixel(fitted.found.length), middle - level * half));
  }
  for (std::size_t i = 0; i < fitted.off.size(); ++i) {
    if (std::isnan(fitted.off[i])) continue;
    const match::Measure& m = fitted.read.measures[i];
    const bool wrong = believed_wrong(fitted, i);
    const QPointF at(pixel(m.x - fitted.found.head), middle - half * std::clamp(fitted.off[i] / full, -1.0, 1.0));
    painter.setPen(QPen(hair, 1));
    painter.drawLine(QPointF(at.x(), middle), at);
    draw_mark(painter, mark_of(m, wrong), at, wrong ? 5 : bench_.drawn() ? 2 : 4);
    if (std::fabs(fitted.off[i]) > full) paper::write(painter, at.x() + 9, at.y() + (fitted.off[i] > 0 ? grown(14) : -5), said(fitted.off[i], fine), paper::font(grown(11)), wrong ? wrong_tone() : ink);
    if (MatchBench::row_of(m.place) != look_.row) continue;
    painter.setPen(QPen(tones(false).mark, 2));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(at, 8, 8);
  }
}

}  // namespace pommel::ui
