// A picture that costs more to paint than to show: painted once for what it shows, shown at every repaint until that changes.
#pragma once

#include <QPainter>
#include <QPixmap>
#include <optional>
#include <utility>

#include "paper/canvas.h"

namespace pommel::ui {

/// `Of` says all that the picture depends on, but its size.
template <class Of>
class KeptPicture {
 public:
  /// Shows what paint(painter) paints on nothing, at the widget's own place; `voice` light: as if every colour were `voiced` so.
  template <class Paint>
  void show(QPainter& painter, const QSize& size, const Of& of, paper::Voice voice, const Paint& paint) {
    const qreal ratio = painter.device()->devicePixelRatioF();
    const QSize pixels = size * ratio;
    if (pixels.isEmpty()) return;
    if (!of_ || !(*of_ == of) || full_.size() != pixels || full_.devicePixelRatio() != ratio) {
      full_ = QPixmap(pixels);
      full_.setDevicePixelRatio(ratio);
      full_.fill(Qt::transparent);
      QPainter on(&full_);
      on.setRenderHints(painter.renderHints());
      paint(on);
      on.end();
      light_ = QPixmap();
      of_ = of;
      ++painted_;
    }
    if (voice == paper::Voice::light && light_.isNull()) {
      light_ = full_;
      QPainter on(&light_);
      on.setCompositionMode(QPainter::CompositionMode_SourceAtop);
      QColor veil = paper::tone::paper;
      veil.setAlphaF(paper::kLighter);
      on.fillRect(QRect(QPoint(), size), veil);
    }
    painter.drawPixmap(0, 0, voice == paper::Voice::full ? full_ : light_);
  }
  /// How often it has been painted.
  std::size_t painted() const { return painted_; }

 private:
  std::optional<Of> of_;
  QPixmap full_, light_;
  std::size_t painted_ = 0;
};

}  // namespace pommel::ui
