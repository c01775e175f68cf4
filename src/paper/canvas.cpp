#include "paper/canvas.h"

#include <clocale>
#include <cmath>
#include <cstdio>

#include <QBuffer>
#include <QFontDatabase>
#include <QFontMetricsF>
#include <QHashFunctions>
#include <QImage>
#include <QPainterPath>
#include <QSvgGenerator>

namespace pommel::paper {
namespace {

// A line as it comes, without the points that nobody can see: each one left out lies within kPaintedOff of the straight way between its neighbours kept. From the
// last point kept, the ways on that pass all points since so near lie in a sleeve that narrows from point to point (Zhao and Saalfeld, "Linear-time sleeve-fitting
// polyline simplification algorithms", 1997: from memory).
class Thinned {
 public:
  void add(const QPointF& point) {
    if (kept_.isEmpty()) {
      kept_ << point;
    } else if (!follows(point)) {
      kept_ << last_;
      open_ = true;
      far_ = 0;
      follows(point);
    }
    last_ = point;
  }
  QPolygonF finish() && {
    if (!kept_.isEmpty() && kept_.last() != last_) kept_ << last_;
    return std::move(kept_);
  }

 private:
  static double cross(const QPointF& a, const QPointF& b) { return a.x() * b.y() - a.y() * b.x(); }

  // Whether one straight way goes from the last point kept past all since to this one.
  bool follows(const QPointF& point) {
    const QPointF way = point - kept_.last();
    const double far = std::hypot(way.x(), way.y());
    if (far <= kPaintedOff) return open_;
    if (!open_ && (far < far_ || cross(right_, way) < 0 || cross(way, left_) < 0)) return false;
    const QPointF beside = QPointF(-way.y(), way.x()) * (kPaintedOff / far);
    if (open_ || cross(way + beside, left_) > 0) left_ = way + beside;
    if (open_ || cross(right_, way - beside) > 0) right_ = way - beside;
    open_ = false;
    far_ = far;
    return true;
  }

  QPolygonF kept_;
  QPointF last_, left_, right_;  // the sleeve's edges, from the last point kept
  double far_ = 0;
  bool open_ = true;  // no point since bounds the sleeve
};

QColor mixed(const QColor& a, const QColor& b, double of_b) {
  const auto mix = [&](int from, int to) { return static_cast<int>(from + (to - from) * of_b + 0.5); };
  return {mix(a.red(), b.red()), mix(a.green(), b.green()), mix(a.blue(), b.blue())};
}

bool replace_element(QByteArray& svg, const QByteArray& name, const QString& text) {
  const qsizetype from = svg.indexOf("<" + name + ">"), to = svg.indexOf("</" + name + ">");
  if (from < 0 || to < from) return false;
  const qsizetype inside = from + name.size() + 2;
  svg.replace(inside, to - inside, text.toHtmlEscaped().toUtf8());
  return true;
}

Result<std::string> bytes_of(const QByteArray& bytes, bool painted) {
  if (!painted || bytes.isEmpty()) return fail("paper.cannot-paint", "a picture could not be painted", "free some memory and try again");
  return std::string(bytes.constData(), static_cast<std::size_t>(bytes.size()));
}

}  // namespace

Painting::Painting() {
  // Qt's hashes are seeded anew in each process, and its PDF writer numbers letters in their order: the same job shall give the same bytes
  QHashSeed::setDeterministicGlobalSeed();
  if (QCoreApplication::instance()) return;
  // Qt remarks on what a bare machine lacks (a runtime folder, a theme); a maker can do nothing with that
  remarks_ = qInstallMessageHandler([](QtMsgType type, const QMessageLogContext&, const QString& text) {
    if (type == QtFatalMsg) std::fprintf(stderr, "%s\n", text.toUtf8().constData());
  });
  own_ = std::make_unique<QGuiApplication>(argc_, argv_);
  std::setlocale(LC_NUMERIC, "C");  // Qt has set the user's: libraries that print by it would write decimal commas
}

Painting::~Painting() {
  if (!own_) return;
  own_.reset();
  qInstallMessageHandler(remarks_);
}

Result<Done> Painting::ready() const {
  if (qobject_cast<QGuiApplication*>(QCoreApplication::instance())) return Done{};
  return fail("paper.no-gui", "pictures need a Qt application with graphics, and the program runs one without",
              "make a QGuiApplication, or none, before asking for pictures");
}

QColor voiced(const QColor& colour, Voice voice) { return voice == Voice::full ? colour : mixed(colour, tone::paper, kLighter); }

QFont font(double pixels, bool bold) {
  QFont out(QStringLiteral("DejaVu Sans"));
  out.setStyleHint(QFont::SansSerif);
  out.setPixelSize(static_cast<int>(pixels + 0.5));  // pixels, not points: no screen resolution gets in
  out.setBold(bold);
  return out;
}

double text_width(const QFont& font, const QString& text) { return QFontMetricsF(font).horizontalAdvance(text); }
QString elided(const QFont& font, const QString& text, double width) { return QFontMetricsF(font).elidedText(text, Qt::ElideRight, width); }
QString from_utf8(const std::string& text) { return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size())); }

void write(QPainter& painter, double x, double y, const QString& text, const QFont& font, const QColor& colour, int align) {
  if (QFontDatabase::families().isEmpty()) return;
  painter.setFont(font);
  painter.setPen(colour);
  painter.drawText(QPointF(x - text_width(font, text) * (align + 1) / 2, y), text);
}

void write_upwards(QPainter& painter, double x, double y, const QString& text, const QFont& font, const QColor& colour) {
  painter.save();
  painter.translate(x, y);
  painter.rotate(-90);
  write(painter, 0, QFontMetricsF(font).capHeight() / 2, text, font, colour);
  painter.restore();
}

QPolygonF painted(const Line& line, const QTransform& to_paper) {
  Thinned thinned;
  for (const Point& point : line) thinned.add(to_paper.map(QPointF(point.x, point.t)));
  return std::move(thinned).finish();
}

void paint_leg(QPainter& painter, const LegView& view, const QTransform& to_paper, Voice voice, double line) {
  painter.save();
  const auto fill = [&](const Line& shape, const QColor& colour) {
    painter.setPen(Qt::NoPen);
    painter.setBrush(voiced(colour, voice));
    painter.drawPolygon(painted(shape, to_paper));
  };
  fill(view.silhouette, tone::wood_edge);
  for (std::size_t i = 0; i < view.shade.size(); ++i)
    fill(view.shade[i], mixed(tone::wood_edge, tone::wood_lit, static_cast<double>(i + 1) / static_cast<double>(view.shade.size())));
  for (const Line& flat : view.flats) fill(flat, tone::flat);
  for (const Facet& facet : view.facets) fill(facet.outline, mixed(tone::wood_edge, tone::flat, std::fabs(std::cos(facet.slant))));
  for (const Line& hollow : view.hollows) fill(hollow, mixed(tone::wood_edge, tone::ink, 0.06));
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(voiced(tone::ink, voice), line * 0.6, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  for (const Line& ring : view.rings) painter.drawPolyline(painted(ring, to_paper));
  for (const Line& curve : view.pommels) painter.drawPolyline(painted(curve, to_paper));
  for (const Line& edge : view.arrises) painter.drawPolyline(painted(edge, to_paper));
  painter.setPen(QPen(voiced(tone::ink, voice), line * 0.3, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  for (const Line& bottom : view.turns) painter.drawPolyline(painted(bottom, to_paper));
  painter.setPen(QPen(voiced(tone::ink, voice), line, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPolygon(painted(view.silhouette, to_paper));
  QPen dashed(voiced(tone::joint, voice), line * 0.8, Qt::CustomDashLine, Qt::FlatCap, Qt::MiterJoin);
  dashed.setDashPattern({6, 4});
  painter.setPen(dashed);
  for (const Line& mortise : view.mortises) painter.drawPolygon(painted(mortise, to_paper));
  for (const Line& cut : view.cuts) painter.drawPolyline(painted(cut, to_paper));
  for (const Line& bore : view.bores) painter.drawPolygon(painted(bore, to_paper));
  painter.restore();
}

void paint_dimension(QPainter& painter, double x0, double x1, double y, const QString& figure, const QFont& font) {
  const double width = text_width(font, figure) + 14, middle = (x0 + x1) / 2, tick = 6;
  painter.setPen(QPen(tone::faint, 1.2));
  for (double x : {x0, x1}) painter.drawLine(QPointF(x - tick / 2, y + tick / 2), QPointF(x + tick / 2, y - tick / 2));
  const double cap = QFontMetricsF(font).capHeight();
  if (x1 - x0 < width + 20) {
    painter.drawLine(QPointF(x0, y), QPointF(x1, y));
    write(painter, x1 + 8, y + cap / 2, figure, font, tone::ink);
    return;
  }
  painter.drawLine(QPointF(x0, y), QPointF(middle - width / 2, y));
  painter.drawLine(QPointF(middle + width / 2, y), QPointF(x1, y));
  write(painter, middle, y + cap / 2, figure, font, tone::ink, 0);
}

Result<std::string> png(int width, int height, const Paint& paint) {
  QImage image(width, height, QImage::Format_RGB32);
  if (image.isNull()) return bytes_of({}, false);
  image.fill(tone::paper);
  QPainter painter(&image);
  painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
  paint(painter);
  painter.end();
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  const bool saved = image.save(&buffer, "PNG");
  return bytes_of(bytes, saved);
}

Result<std::string> svg(int width, int height, const QString& title, const Paint& paint) {
  QByteArray bytes;
  QBuffer buffer(&bytes);
  QSvgGenerator generator;
  generator.setOutputDevice(&buffer);
  generator.setSize(QSize(width, height));
  generator.setViewBox(QRect(0, 0, width, height));
  QPainter painter;
  if (!painter.begin(&generator)) return bytes_of({}, false);
  painter.fillRect(QRect(0, 0, width, height), tone::paper);
  paint(painter);
  const bool ended = painter.end();
  // the generator of Qt 6.4 writes a title as it is, "<" and all, a later one may escape it, and without one it names itself:
  // so both elements that speak are set here
  const bool said = replace_element(bytes, "title", title) && replace_element(bytes, "desc", QStringLiteral("elevation of a turned leg in true proportion"));
  return bytes_of(bytes, ended && said);
}

}  // namespace pommel::paper
