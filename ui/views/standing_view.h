// The order's frame as it stands, the catalogued one beside it on the same floor at the same scale.
#pragma once

#include <QWidget>
#include <memory>

#include "family/family.h"
#include "paper/standing.h"
#include "ui/views/kept_picture.h"

namespace pommel::ui {

class StandingView : public QWidget {
  Q_OBJECT

 public:
  explicit StandingView(QWidget* parent = nullptr);
  QSize sizeHint() const override { return {420, 300}; }
  QSize minimumSizeHint() const override;

  /// Either may be absent.
  void show_frames(std::shared_ptr<const family::Made> catalogue, std::shared_ptr<const family::Made> order, const QString& order_name, bool stale, const LengthFormat& lengths);
  /// How many views of pieces have been found out for the frames that are shown.
  std::size_t found_out() const;
  /// How often they have been painted, and not shown again.
  std::size_t painted() const { return kept_.painted(); }

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  double letters() const;

  struct Painted {
    std::shared_ptr<const family::Made> catalogue, order;
    QString order_name;
    LengthUnit unit = LengthUnit::millimetre;
    int decimals = 0, denominator = 0;
    double letters = 0;
    bool operator==(const Painted&) const = default;
  };
  std::shared_ptr<const family::Made> catalogue_, order_;
  std::shared_ptr<paper::SeenPieces> seen_catalogue_, seen_order_;  // of these very frames
  QString order_name_;
  bool stale_ = false;
  LengthFormat lengths_;
  KeptPicture<Painted> kept_;
};

}  // namespace pommel::ui
