// The one place that knows how Qt paints without a display, and what our papers look like. For this room and the window, since
// paper/ is the room that wraps Qt.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include <QColor>
#include <QFont>
#include <QGuiApplication>
#include <QPainter>
#include <QPolygonF>
#include <QRectF>
#include <QString>
#include <QTransform>

#include "base/result.h"
#include "paper/leg_view.h"

namespace pommel::paper {

/// Holds a QGuiApplication while pictures are painted: the program's own, or one on the platform "offscreen" made here.
class Painting {
 public:
  Painting();
  ~Painting();
  Painting(const Painting&) = delete;
  Painting& operator=(const Painting&) = delete;

  /// Fails with "paper.no-gui" where the program runs a Qt application without graphics.
  Result<Done> ready() const;

 private:
  int argc_ = 3;
  char name_[7] = "pommel", option_[10] = "-platform", platform_[10] = "offscreen";
  char* argv_[4] = {name_, option_, platform_, nullptr};
  std::unique_ptr<QGuiApplication> own_;
  QtMessageHandler remarks_ = nullptr;  ///< what stood before
};

/// Quiet colours: ink on paper, and wood.
namespace tone {
inline const QColor paper(0xfb, 0xf9, 0xf4), ink(0x33, 0x2b, 0x23), faint(0x6f, 0x66, 0x5b), hair(0xc9, 0xc0, 0xb2);
inline const QColor wood_edge(0xb9, 0x98, 0x6a), wood_lit(0xea, 0xd6, 0xb4), flat(0xdf, 0xc6, 0x9c), joint(0x6d, 0x3f, 0x2a);
}  // namespace tone

/// How strongly a leg is painted: the ordered one, or the catalogued one to compare with.
enum class Voice { full, light };
constexpr double kLighter = 0.55;  ///< of the paper's colour in the light voice
QColor voiced(const QColor& colour, Voice voice);

QFont font(double pixels, bool bold = false);
double text_width(const QFont& font, const QString& text);
QString elided(const QFont& font, const QString& text, double width);
QString from_utf8(const std::string& text);

/// Text with its baseline at (x, y): -1 begins there, 0 is centred, 1 ends there.
void write(QPainter& painter, double x, double y, const QString& text, const QFont& font, const QColor& colour, int align = -1);
/// Text that reads upwards, beginning at (x, y) on its baseline's middle.
void write_upwards(QPainter& painter, double x, double y, const QString& text, const QFont& font, const QColor& colour);

constexpr double kPaintedOff = 0.05;  ///< pixels
/// A line of a view in pixels, without the points that lie within kPaintedOff of the straight way between those kept beside them. `to_paper` takes (x, t) to pixels.
QPolygonF painted(const Line& line, const QTransform& to_paper);

/// Paints a leg; `to_paper` takes (x, t) to pixels. `line`: width of its lines in pixels.
void paint_leg(QPainter& painter, const LegView& view, const QTransform& to_paper, Voice voice, double line);

/// A dimension between two points of one level line, its figure in a gap in the middle, or beside it where there is no room.
void paint_dimension(QPainter& painter, double x0, double x1, double y, const QString& figure, const QFont& font);

using Paint = std::function<void(QPainter&)>;
/// Fails with "paper.cannot-paint".
Result<std::string> png(int width, int height, const Paint& paint);
Result<std::string> svg(int width, int height, const QString& title, const Paint& paint);

}  // namespace pommel::paper
