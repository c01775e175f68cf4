// Pages as PDF. QPdfWriter stamps the time of day into each file: it is written over, in place, by the order's date.
#include <algorithm>
#include <cmath>

#include <QBuffer>
#include <QFontDatabase>
#include <QImage>
#include <QPainterPath>
#include <QPdfWriter>

#include "paper/canvas.h"
#include "paper/page_font.h"

namespace pommel::paper {
namespace {

constexpr int kUnits = 100;  // a millimetre in the writer's pixels

QColor colour_of(Fill fill) {
  switch (fill) {
    case Fill::wood: return {0xef, 0xe3, 0xcc};
    case Fill::light: return {0xf4, 0xf1, 0xea};
    case Fill::joint: return {0xd9, 0xcf, 0xc2};
    case Fill::black: return Qt::black;
    default: return Qt::white;
  }
}

QPen pen_of(Pen pen) {
  QPen out(Qt::black, 0.18, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin);
  switch (pen) {
    case Pen::none: return Qt::NoPen;
    case Pen::outline: out.setWidthF(0.5); break;
    case Pen::edge: out.setWidthF(0.25); break;
    case Pen::thin: break;
    case Pen::hair: out.setColor(QColor(0xa8, 0xa2, 0x98)); break;
    case Pen::hidden: out.setWidthF(0.25); out.setDashPattern({10, 5}); break;
    case Pen::axis: out.setDashPattern({60, 8, 4, 8}); break;
  }
  return out;
}

// A bulged way as cubics, each through at most a quarter turn. Of the bulge alone, without the circle: nearly straight ways would have theirs
// far off the sheet. With tan(sweep / 4) = u and the chord d, the handles are d (1 + u²) / 3 long.
void add_arc(QPainterPath& out, const Vertex& a, const Vertex& b, double u) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  if (std::fabs(u) > 0.42) {
    const Vertex middle{(a.x + b.x) / 2 + dy * u / 2, (a.y + b.y) / 2 - dx * u / 2};
    const double half = std::tan(std::atan(u) / 2);
    add_arc(out, a, middle, half);
    add_arc(out, middle, b, half);
    return;
  }
  const double k = (1 + u * u) / 3, turn = 2 * std::atan(u), c = std::cos(turn) * k, s = std::sin(turn) * k;
  out.cubicTo(a.x + dx * c + dy * s, a.y + dy * c - dx * s, b.x - dx * c + dy * s, b.y - dy * c - dx * s, b.x, b.y);
}

QPainterPath curve_of(const Path& path) {
  QPainterPath out;
  const std::size_t count = path.points.size(), ways = count < 2 ? 0 : count - (path.closed ? 0 : 1);
  if (count > 0) out.moveTo(path.points[0].x, path.points[0].y);
  for (std::size_t i = 0; i < ways; ++i) {
    const Vertex &a = path.points[i], &b = path.points[(i + 1) % count];
    if (a.bulge == 0) out.lineTo(b.x, b.y);
    else add_arc(out, a, b, a.bulge);
  }
  if (path.closed) out.closeSubpath();
  return out;
}

void paint(QPainter& painter, const Path& path) {
  painter.save();
  if (path.clip) painter.setClipRect(QRectF(path.clip->x0, path.clip->y0, path.clip->width(), path.clip->height()));
  painter.setPen(pen_of(path.pen));
  painter.setBrush(path.fill == Fill::none ? QBrush(Qt::NoBrush) : QBrush(colour_of(path.fill)));
  painter.drawPath(curve_of(path));
  painter.restore();
}

void paint(QPainter& painter, const Text& text) {
  if (QFontDatabase::families().isEmpty() || text.text.empty()) return;
  painter.save();
  painter.translate(text.x, text.y);
  if (text.upwards) painter.rotate(-90);
  const double before = text.align == Align::left ? 0 : text_width(text) * (text.align == Align::centre ? 0.5 : 1);
  painter.translate(-before, 0);
  painter.scale(text.size / kFontPixels, text.size / kFontPixels);
  painter.setFont(page_font(text.face));
  painter.setPen(text.ink == Ink::black ? QColor(Qt::black) : QColor(0x60, 0x5a, 0x52));
  painter.drawText(QPointF(0, 0), from_utf8(text.text));
  painter.restore();
}

void paint(QPainter& painter, const Page& page) {
  painter.save();
  painter.scale(kUnits, kUnits);
  for (const Picture& picture : page.pictures) {
    const QImage image = QImage::fromData(reinterpret_cast<const uchar*>(picture.png.data()), static_cast<int>(picture.png.size()), "PNG");
    painter.drawImage(QRectF(picture.box.x0, picture.box.y0, picture.box.width(), picture.box.height()), image);
  }
  for (const Path& path : page.paths) paint(painter, path);
  for (const Text& text : page.texts) paint(painter, text);
  painter.restore();
}

// The place in the file that each object stands at, in the table at its end, counted anew after `removed` bytes at `at` are gone
// (ISO 32000-1, 7.5.4: lines of 20 bytes that begin with ten digits).
bool count_anew(std::string& bytes, std::size_t at, std::size_t removed) {
  const std::string key = "startxref\n";
  const std::size_t tail = bytes.rfind(key);
  if (tail == std::string::npos) return false;
  const std::size_t table = bytes.rfind("\nxref\n", tail), end = bytes.find('\n', tail + key.size());
  if (table == std::string::npos || end == std::string::npos) return false;
  const auto less = [&](const std::string& digits) {
    const std::size_t place = std::stoull(digits);
    std::string out = std::to_string(place > at ? place - removed : place);
    return std::string(digits.size() - std::min(digits.size(), out.size()), '0') + out;
  };
  bytes.replace(tail + key.size(), end - tail - key.size(), std::to_string(table + 1));
  const std::string used = " 00000 n";
  for (std::size_t line = bytes.find(used, table); line < tail; line = bytes.find(used, line + 1)) bytes.replace(line - 10, 10, less(bytes.substr(line - 10, 10)));
  return true;
}

// "/CreationDate (D:20260302000000Z)". A zone that the writer puts behind the time where the machine has one goes.
bool stamp_date(std::string& bytes, const std::string& date) {
  const std::string key = "/CreationDate (D:";
  const std::size_t from = bytes.find(key) + key.size(), close = bytes.find(')', from);
  if (bytes.find(key) == std::string::npos || close == std::string::npos || close < from + 15) return false;
  const std::string day = date.size() == 10 ? date.substr(0, 4) + date.substr(5, 2) + date.substr(8, 2) : "19700101";
  bytes.replace(from, close - from, day + "000000Z");
  return count_anew(bytes, from, close - from - 15);
}

QPageSize size_of(const Page& page) {
  return QPageSize(QSizeF(page.width, page.height), QPageSize::Millimeter, QString(), QPageSize::ExactMatch);
}

}  // namespace

QFont page_font(Face face) {
  QFont out(face == Face::mono ? QStringLiteral("DejaVu Sans Mono") : QStringLiteral("DejaVu Sans"));
  out.setStyleHint(face == Face::mono ? QFont::Monospace : QFont::SansSerif);
  out.setPixelSize(kFontPixels);
  out.setBold(face == Face::bold);
  out.setHintingPreference(QFont::PreferNoHinting);
  out.setLetterSpacing(QFont::AbsoluteSpacing, 0.02);  // any at all keeps "fi" two letters, as who searches the PDF types them
  return out;
}

Result<std::string> pdf(const std::vector<Page>& pages, const PdfStamp& stamp) {
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  bool painted = true;
  {
    QPdfWriter writer(&buffer);
    writer.setResolution(static_cast<int>(std::lround(kUnits * 25.4)));
    writer.setTitle(from_utf8(stamp.title));
    writer.setCreator(QStringLiteral("pommel"));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    writer.setPageSize(size_of(pages.front()));
    // without metadata of our own it writes some that hold a clock and a random id
    writer.setDocumentXmpMetadata(QByteArray("<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\"/></x:xmpmeta>"));
    QPainter painter;
    painted = painter.begin(&writer);
    for (std::size_t i = 0; painted && i < pages.size(); ++i) {
      if (i > 0) painted = writer.setPageSize(size_of(pages[i])) && writer.newPage();
      if (painted) paint(painter, pages[i]);
    }
    painted = painted && painter.end();
  }
  std::string out(bytes.constData(), static_cast<std::size_t>(bytes.size()));
  if (!painted || !stamp_date(out, stamp.date)) return fail("paper.cannot-paint", "'" + stamp.title + "' could not be written as PDF", "free some memory and try again");
  return out;
}

}  // namespace pommel::paper
