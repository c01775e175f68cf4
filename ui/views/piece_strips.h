// The piece on the length axis: whole in an overview, at working scale, its radius as a curve, its blank.
#pragma once

#include <memory>
#include <optional>

#include "job/column.h"
#include "paper/leg_subject.h"
#include "ui/views/axis_strip.h"
#include "ui/views/kept_picture.h"

namespace pommel::ui {

/// A piece ready to be painted.
struct ShownPiece {
  paper::LegSubject subject;
  paper::LegView view;
  double phi = 0;    ///< the face seen
  double reach = 0;  ///< mm from the axis
};
/// The piece as the first of its members stands in the frame, or as the member of that id does.
std::shared_ptr<const ShownPiece> shown_piece(const family::Made& made, std::size_t piece, const std::string& member = {});

/// What every strip may show; absent parts are not there (yet), `stale` ones are of the measures before.
struct StripContent {
  std::shared_ptr<const ShownPiece> catalogue, order;
  bool stale = false;
  std::optional<shape::Blank> blank;
  std::optional<shop::Machine> machine;
  std::shared_ptr<const job::Programs> programs;
  LengthFormat lengths;
  std::vector<std::size_t> marked;  ///< elements whose sizes the measure that is looked at goes into
  bool mirror = false;              ///< the joints of the piece's mirror image are shown over its own
};

/// A piece's picture where it stands in a strip.
using PiecePicture = KeptPicture<std::pair<std::shared_ptr<const ShownPiece>, QTransform>>;

/// The catalogued piece over this order's, both whole and at one scale, with the stretch that the other strips show.
class Overview : public AxisStrip {
  Q_OBJECT

 public:
  Overview(LengthAxis& axis, const StripContent& content, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 130}; }

 protected:
  void paint(QPainter& painter) override;
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;

 private:
  double scale() const;

  const StripContent& content_;
  PiecePicture catalogue_, order_;
};

/// This order's piece in true proportion at the axis's scale, with its joints, the rails that meet it, and a scale in the window's unit. Where
/// the whole thickness finds no room, the skin towards the top is shown.
class Elevation : public AxisStrip {
  Q_OBJECT

 public:
  Elevation(LengthAxis& axis, const StripContent& content, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 260}; }
  void show_dimensions(bool on);
  QSize minimumSizeHint() const override;
  /// What the hairline meets, in words: place, diameter, element.
  QString reading() const;
  /// How often the piece has been painted, and not shown again.
  std::size_t painted() const { return kept_.painted(); }

 signals:
  /// The skin at x was drawn to another diameter, mm.
  void drawn_to(double x, double diameter);
  /// The foot end of the element there was drawn to another place: it is to be `length` mm long.
  void stretched_to(std::size_t element, double length);

 protected:
  void paint(QPainter& painter) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent*) override { updateGeometry(); }

 private:
  struct Drag {
    double x = 0, diameter = 0;
    std::optional<std::size_t> end_of;  ///< not the skin but an element's end is held; x is where it is drawn to
  };
  double axis_height(double scale) const;
  bool on_skin(const QPointF& at) const;
  std::optional<std::size_t> on_end(const QPointF& at) const;
  void paint_marked(QPainter& painter, double axis_y, double scale) const;
  void paint_mirror(QPainter& painter, const QTransform& to_paper) const;
  void paint_drag(QPainter& painter, double axis_y, double scale) const;
  void paint_labels(QPainter& painter, double axis_y, double scale) const;
  void paint_dimensions(QPainter& painter, double y) const;

  const StripContent& content_;
  bool dimensions_ = false;
  std::optional<Drag> drag_;
  PiecePicture kept_;
};

/// The radius over the length, this order's full and the catalogue's dashed; the radius is drawn larger than the length where that fits.
class RadiusStrip : public AxisStrip {
  Q_OBJECT

 public:
  RadiusStrip(LengthAxis& axis, const StripContent& content, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 120}; }

 protected:
  void paint(QPainter& painter) override;

 private:
  const StripContent& content_;
};

/// The blank with the piece in it: grip, waste at both ends, horn.
class BlankStrip : public AxisStrip {
  Q_OBJECT

 public:
  BlankStrip(LengthAxis& axis, const StripContent& content, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 110}; }

 protected:
  void paint(QPainter& painter) override;

 private:
  const StripContent& content_;
};

/// The surface unrolled after the cut check: wood that still stands, and gouges, in a scale that reads without colour sight (blue below the
/// skin, brown above; dark is much), with its legend.
class CheckStrip : public AxisStrip {
  Q_OBJECT

 public:
  CheckStrip(LengthAxis& axis, const StripContent& content, QWidget* parent = nullptr);
  QSize sizeHint() const override { return {1000, 150}; }

 protected:
  void paint(QPainter& painter) override;

 private:
  QString legend_text(bool below_skin) const;
  double legend_words(bool below_skin) const;
  double legend_left() const;
  void paint_legend(QPainter& painter, double down) const;

  const StripContent& content_;
  const job::Programs* drawn_ = nullptr;
  QImage image_;
};

}  // namespace pommel::ui
