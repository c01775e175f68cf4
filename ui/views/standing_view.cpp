#include "ui/views/standing_view.h"

#include <QFontInfo>
#include <QPainter>
#include <algorithm>

#include "paper/canvas.h"

namespace pommel::ui {

StandingView::StandingView(QWidget* parent) : QWidget(parent) {
  setAccessibleName(tr("the frame as it stands, beside the catalogued one"));
}

double StandingView::letters() const { return std::max(12.0, QFontInfo(font()).pixelSize() * 0.92); }

// Frames, and under each its name and measures, which grow with the letters.
QSize StandingView::minimumSizeHint() const { return {260, std::max(150, static_cast<int>(8 * letters()))}; }

void StandingView::show_frames(std::shared_ptr<const family::Made> catalogue, std::shared_ptr<const family::Made> order, const QString& order_name, bool stale, const LengthFormat& lengths) {
  // a frame that only turned out of date keeps how its pieces look
  const auto take = [](auto& shown, auto& seen, auto made) {
    if (shown != made || !seen) seen = std::make_shared<paper::SeenPieces>();
    shown = std::move(made);
  };
  take(catalogue_, seen_catalogue_, std::move(catalogue));
  take(order_, seen_order_, std::move(order));
  order_name_ = order_name;
  stale_ = stale;
  lengths_ = lengths;
  update();
}

std::size_t StandingView::found_out() const { return (seen_catalogue_ ? seen_catalogue_->found_out() : 0) + (seen_order_ ? seen_order_->found_out() : 0); }

void StandingView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), paper::tone::paper);
  if (!catalogue_ && !order_) return;
  const double letters = this->letters();
  const QRectF area = QRectF(rect()).adjusted(8, 8, -8, -4);
  kept_.show(painter, size(), {catalogue_, order_, order_name_, lengths_.unit, lengths_.decimals, lengths_.denominator, letters}, paper::Voice::full, [&](QPainter& on) {
    std::vector<paper::StandingSubject> frames;
    if (catalogue_) frames.push_back({tr("catalogue").toStdString(), catalogue_->frame, catalogue_->set, seen_catalogue_});
    if (order_) frames.push_back({order_name_.toStdString(), order_->frame, order_->set, seen_order_});
    paper::paint_standing(on, area, frames, lengths_, letters);
  });
  if (stale_ && order_) paper::write(painter, area.left(), area.top() + 0.7 * letters, tr("%1, before the last change").arg(order_name_), paper::font(letters), paper::tone::ink);
}

}  // namespace pommel::ui
