#include "ui/views/leg_strip.h"

#include <QPainter>
#include <algorithm>

#include "paper/canvas.h"

namespace pommel::ui {
namespace {

constexpr double kMargin = 18;  ///< pixels around
constexpr double kLabel = 18;   ///< pixels for the line of text over a leg

}  // namespace

LegStrip::LegStrip(QWidget* parent) : QWidget(parent) {
  setMinimumHeight(180);
  setAccessibleName("the piece in elevation");
}

LegStrip::Shown LegStrip::shown(const shape::Part& part) { return {paper::leg_view(part, paper::seen_face(part)), part.length, shape::reach(part)}; }

void LegStrip::show_catalogue(const shape::Part& part) {
  catalogue_ = shown(part);
  update();
}

void LegStrip::show_order(const std::optional<shape::Part>& part) {
  order_ = part ? std::optional<Shown>(shown(*part)) : std::nullopt;
  update();
}

void LegStrip::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), paper::tone::paper);
  double length = 1, reach = 1;
  for (const auto& leg : {catalogue_, order_})
    if (leg) length = std::max(length, leg->length), reach = std::max(reach, leg->reach);
  const double half = height() / 2.0;
  const double scale = std::min((width() - 2 * kMargin) / length, (half - kLabel - kMargin) / (2 * reach));
  const auto leg = [&](const std::optional<Shown>& what, double top, paper::Voice voice, const QString& label) {
    paper::write(painter, kMargin, top + kLabel - 4, label, paper::font(12), paper::tone::ink);
    if (!what) return;
    QTransform to_paper;
    to_paper.translate(kMargin, top + kLabel + (half - kLabel) / 2);
    to_paper.scale(scale, scale);
    paper::paint_leg(painter, what->view, to_paper, voice, 1.2);
  };
  leg(catalogue_, 0, paper::Voice::light, tr("catalogue"));
  leg(order_, half, paper::Voice::full, order_ ? tr("this order") : tr("this order: the measures make no leg, see below"));
}

}  // namespace pommel::ui
