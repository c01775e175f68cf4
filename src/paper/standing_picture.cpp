// Pieces as they stand on the floor: a table from the front, and all designs of the catalog in a row.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <QTransform>

#include "base/quantity.h"
#include "paper/canvas.h"
#include "paper/frame_view.h"
#include "paper/pictures.h"

namespace pommel::paper {
namespace {

void paint_floor(QPainter& painter, double x0, double x1, double y) {
  painter.setPen(QPen(tone::hair, 2));
  painter.drawLine(QPointF(x0, y), QPointF(x1, y));
}

// Words of `text` in lines no wider than `width`; at most `most` lines, the last one cut short.
std::vector<QString> lines_of(const QString& text, const QFont& font, double width, std::size_t most) {
  std::vector<QString> lines;
  QString line;
  for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
    const QString longer = line.isEmpty() ? word : line + QLatin1Char(' ') + word;
    if (line.isEmpty() || text_width(font, longer) <= width || lines.size() + 1 == most) {
      line = longer;
      continue;
    }
    lines.push_back(line);
    line = word;
  }
  if (!line.isEmpty()) lines.push_back(line);
  for (QString& one : lines) one = elided(font, one, width);
  return lines;
}

/// What stands under a frame.
struct Caption {
  QFont font;
  std::vector<QString> lines;
  QString more;
};

Caption caption_of(const StandingSubject& frame, const LengthFormat& lengths, double room, double text) {
  constexpr double kSmallest = 0.75;  // of the text: longer words go on in a second line
  const Extent extent = extent_of(frame.frame, frame.set, lengths);
  const QString says = from_utf8(frame.heading + ": " + extent.says);
  const double full = text_width(font(text), says), fits = text * room / full * 0.98;
  if (full <= room || fits >= kSmallest * text) return {font(full > room ? fits : text), {says}, from_utf8(extent.more)};  // a little smaller rather than cut short
  // a measure keeps together
  QString apart = says;
  for (qsizetype i = 1; i < apart.size(); ++i) {
    if (apart[i] == u' ' && apart[i - 1] != u',' && apart[i - 1] != u':') apart[i] = QChar::Nbsp;
  }
  const QFont small = font(kSmallest * text);
  return {small, lines_of(apart, small, room, 2), from_utf8(extent.more)};
}

/// How captions stand under the floor, in heights of the text. Where the picture is low they leave its room to the frames.
struct Under {
  double first = 2.4, next = 1.2, more = 1.6;
  bool short_of_room = false;

  double height(std::size_t lines) const { return first + next * static_cast<double>(lines - 1) + (short_of_room ? 0.4 : more + 1); }
};

// The frames side by side on a floor at height `floor`, from `left` on, each with its caption under it.
void paint_on_floor(QPainter& painter, const std::vector<StandingSubject>& frames, const LengthFormat& lengths, double scale, double left, double floor, double gap, double text, const Under& under) {
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const double wide = scale * extent_of(frames[i].frame, frames[i].set, lengths).wide, middle = left + wide / 2;
    const Voice voice = i + 1 == frames.size() ? Voice::full : Voice::light;
    paint_frame(painter, frames[i].frame, frames[i].set, {scale, middle, floor, voice, frames[i].seen.get()});
    const Caption caption = caption_of(frames[i], lengths, wide + gap - text, text);
    const QFont small = font(text * 8 / 9);
    double y = floor + under.first * text;
    for (const QString& line : caption.lines) write(painter, middle, y, line, caption.font, tone::ink, 0), y += under.next * text;
    y += (under.more - under.next) * text;
    if (!under.short_of_room) write(painter, middle, y, elided(small, caption.more, wide + gap - text), small, tone::faint, 0);
    left += wide + gap;
  }
}

struct Together {
  double wide = 0, high = 0;  ///< mm: widths one beside the other, the greatest height
};

Together together(const std::vector<StandingSubject>& frames, const LengthFormat& lengths) {
  Together out;
  for (const StandingSubject& subject : frames) {
    const Extent extent = extent_of(subject.frame, subject.set, lengths);
    out.wide += extent.wide;
    out.high = std::max(out.high, extent.high);
  }
  return out;
}

}  // namespace

void paint_standing(QPainter& painter, const QRectF& area, const std::vector<StandingSubject>& frames, const LengthFormat& lengths, double text) {
  constexpr double kLow = 12;  // heights of the text
  const Together all = together(frames, lengths);
  const Under under = area.height() < kLow * text ? Under{1.4, 1.2, 1.6, true} : Under{};
  const double gap = 2 * text, gaps = gap * static_cast<double>(frames.size() - 1);
  for (std::size_t lines = 1; lines <= 2; ++lines) {
    const double floor = area.bottom() - under.height(lines) * text;
    const double scale = std::min((area.width() - gaps - 2 * text) / all.wide, (floor - area.top() - text) / all.high);
    if (!(scale > 0)) return;
    // what is left over stands between the frames, too, so that their words find room
    const double spare = (area.width() - scale * all.wide - gaps) / static_cast<double>(frames.size() + 1);
    const bool in_one_line = std::all_of(frames.begin(), frames.end(), [&](const StandingSubject& subject) {
      const double wide = scale * extent_of(subject.frame, subject.set, lengths).wide;
      return caption_of(subject, lengths, wide + gap + spare - text, text).lines.size() == 1;
    });
    if (lines == 1 && !in_one_line) continue;
    paint_floor(painter, area.left(), area.right(), floor);
    return paint_on_floor(painter, frames, lengths, scale, area.left() + spare, floor, gap + spare, text, under);
  }
}

Result<std::string> standing_picture(const std::string& title, const std::vector<StandingSubject>& frames, const LengthFormat& lengths) {
  constexpr double kMargin = 80, kGap = 160, kMostHigh = 900;
  const int width = frames.size() > 1 ? 2400 : 1400;
  const Together all = together(frames, lengths);
  const double gaps = kGap * static_cast<double>(frames.size() - 1);
  const double scale = std::min((width - 2 * kMargin - gaps) / all.wide, kMostHigh / all.high);
  const double floor = 150 + scale * all.high;
  return png(width, static_cast<int>(floor + 130), [&](QPainter& painter) {
    write(painter, kMargin, 58, elided(font(25, true), from_utf8(title), width - 2 * kMargin), font(25, true), tone::ink);
    paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
    paint_on_floor(painter, frames, lengths, scale, (width - scale * all.wide - gaps) / 2, floor, kGap, 18, {});
    write(painter, kMargin, floor + 112, from_utf8(frame::seen_from(frames.front().frame) + (frames.size() > 1 ? ", both at one scale" : "")), font(14), tone::faint);
  });
}

Result<std::string> designs_picture(const std::vector<DesignPicture>& designs) {
  constexpr double kColumn = 290, kPiece = 190, kMargin = 60, kHighest = 1400, kScale = 1.55, kWords = 110;
  constexpr std::size_t kMostInRow = 8, kMostRows = 40;
  const std::size_t in_row = std::min(designs.size(), kMostInRow), rows = std::min((designs.size() + in_row - 1) / in_row, kMostRows);
  double longest = 0;
  std::size_t pieces = 1;
  for (const DesignPicture& design : designs) {
    pieces = std::max(pieces, design.pieces.size());
    for (const shape::Part& piece : design.pieces) longest = std::max(longest, piece.length);
  }
  const double scale = std::min(kScale, kHighest / std::max(longest, 1.0)), column = kColumn + kPiece * static_cast<double>(pieces - 1);
  const double row_height = scale * longest + kWords + 50;
  const int width = static_cast<int>(2 * kMargin + column * static_cast<double>(in_row));
  return png(width, static_cast<int>(110 + row_height * static_cast<double>(rows)), [&](QPainter& painter) {
    write(painter, kMargin, 56, QStringLiteral("House designs, all at one scale"), font(25, true), tone::ink);
    for (std::size_t i = 0; i < std::min(designs.size(), in_row * rows); ++i) {
      const DesignPicture& design = designs[i];
      const double floor = 110 + row_height * static_cast<double>(i / in_row) + scale * longest;
      const double middle = kMargin + column * (static_cast<double>(i % in_row) + 0.5);
      if (i % in_row == 0) paint_floor(painter, kMargin / 2, width - kMargin / 2, floor);
      for (std::size_t k = 0; k < design.pieces.size(); ++k) {
        const shape::Part& piece = design.pieces[k];
        const double axis = middle + kPiece * (static_cast<double>(k) - static_cast<double>(design.pieces.size() - 1) / 2);
        paint_leg(painter, leg_view(piece, 0), QTransform(0, scale, -scale, 0, axis, floor - scale * piece.length), Voice::full, 1.6);
      }
      double y = floor + 38;
      for (const QString& line : lines_of(from_utf8(design.name), font(19, true), column - 20, 2)) {
        write(painter, middle, y, line, font(19, true), tone::ink, 0);
        y += 26;
      }
      for (const std::string& says : design.says) {
        write(painter, middle, y, elided(font(15), from_utf8(says), column - 14), font(15), tone::faint, 0);
        y += 22;
      }
    }
  });
}

}  // namespace pommel::paper
