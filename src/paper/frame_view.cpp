#include "paper/frame_view.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <QTransform>

#include "base/quantity.h"
#include "base/text.h"

namespace pommel::paper {
namespace {

const QColor kTop(0xd9, 0xbc, 0x8c), kRail(0xe3, 0xcd, 0xa6), kBehind(0xd2, 0xb8, 0x8e);

constexpr double kTread = 32, kString = 260;  // mm: a tread's thickness, and how deep a string is drawn, plumb
constexpr int kMostTreads = 5;
constexpr double kRod = 22;  // mm of rod that stands out of a lamp's head

// What of a run is shown, mm of the room: x from the first nosing, z from the first tread.
struct Steps {
  explicit Steps(const frame::Stair& stair)
      : stair_(stair), shown(std::min(stair.treads, kMostTreads)), tangent(stair.rise / stair.going), cosine(std::cos(frame::pitch(stair))),
        below(stair.string == frame::StringKind::closed ? std::max(stair.rise, kString + stair.shoe_depth / cosine - stair.shoe_height) : std::max(stair.rise, kString)) {}

  double run() const { return shown * stair_.going; }
  double wide() const { return run() + stair_.nosing; }
  double middle() const { return wide() / 2; }
  double high() const { return below + run() * tangent + stair_.rail_height; }

  // a strip along the pitch between two heights over the line of the nosings
  std::vector<frame::Spot> along(double z0, double z1) const {
    return {{0, 0, z0}, {run(), 0, z0 + run() * tangent}, {run(), 0, z1 + run() * tangent}, {0, 0, z1}};
  }

  // cut to the steps above, to the pitch below
  std::vector<frame::Spot> string() const {
    std::vector<frame::Spot> corners;
    for (int step = 0; step < shown; ++step) {
      corners.push_back({step * stair_.going + stair_.nosing, 0, step * stair_.rise - kTread});
      corners.push_back({(step + 1) * stair_.going + stair_.nosing, 0, step * stair_.rise - kTread});
    }
    corners.push_back({run() + stair_.nosing, 0, run() * tangent - kString});
    corners.push_back({stair_.nosing, 0, -kString});
    return corners;
  }

 private:
  const frame::Stair& stair_;

 public:
  int shown;
  double tangent, cosine;
  double below;  // of the first tread, down to the floor of the picture
};

enum class From { front, left };

// The room as it is seen from the front, x to the right, or from the left, the back at the left; z upwards. A piece hangs from its head, one face
// towards the viewer, t falling to the right.
class View {
 public:
  View(QPainter& painter, From from, const Spotted& where)
      : painter_(painter), from_(from), scale_(where.scale), middle_(where.middle), floor_(where.floor), voice_(where.voice), seen_(where.seen) {}

  void paint(const frame::Table& table, const frame::Set& set) const {
    rails(set);
    pieces(set, [&](const frame::Member& member) { return depth(member.stand.head) < 0; });
    const double legs_top = table.height - table.top_thickness;
    box(-table.length / 2, legs_top, table.length / 2, table.height, kTop);
  }

  void paint(const frame::Bed&, const frame::Set& set) const {
    pieces(set, [&](const frame::Member& member) { return depth(member.stand.head) > 0; });
    rails(set);
    pieces(set, [&](const frame::Member& member) { return depth(member.stand.head) < 0; });
  }

  // the first treads of a run; heads go behind the rail, feet into the treads
  void paint(const frame::Stair& stair, const frame::Set& set) const {
    const Steps steps(stair);
    const bool closed = stair.string == frame::StringKind::closed;
    if (!closed) shape(steps.string(), kBehind);
    const std::size_t shown = static_cast<std::size_t>(steps.shown * stair.a_tread);
    for (std::size_t i = 0; i < shown; ++i) piece(set.members[i]);
    if (closed) {
      shape(steps.along(stair.shoe_height - stair.shoe_depth / steps.cosine - kString, stair.shoe_height - stair.shoe_depth / steps.cosine), kBehind);
      shape(steps.along(stair.shoe_height - stair.shoe_depth / steps.cosine, stair.shoe_height), kRail);
    } else {
      for (int step = 0; step < steps.shown; ++step)
        box(step * stair.going, step * stair.rise - kTread, (step + 1) * stair.going + stair.nosing, step * stair.rise, kTop);
    }
    shape(steps.along(stair.rail_height - stair.rail_depth / steps.cosine, stair.rail_height), kRail);
  }

  // each column goes into its base; a rod stands out of the head
  void paint(const frame::Lamp& lamp, const frame::Set& set) const {
    for (const frame::Member& member : set.members) {
      if (member.spare || member.stand.head.z < lamp.height - 1e-6 || member.piece != 0) continue;
      if (const frame::LampPipe* pipe = frame::lamp_pipe(lamp.pipe); pipe && pipe->diameter > 0)
        box(member.stand.head.x - pipe->diameter / 2, lamp.height - 5, member.stand.head.x + pipe->diameter / 2, lamp.height + kRod, kRail);
    }
    pieces(set, [](const frame::Member&) { return true; });
    for (const frame::Member& member : set.members)
      if (!member.spare && member.piece == 0)
        box(member.stand.head.x - lamp.base_width / 2, 0, member.stand.head.x + lamp.base_width / 2, lamp.base_thickness, kTop);
  }

 private:
  double across(const frame::Spot& spot) const { return from_ == From::front ? spot.x : -spot.y; }
  double depth(const frame::Spot& spot) const { return from_ == From::front ? spot.y : spot.x; }  // away from the viewer

  void box(double x0, double z0, double x1, double z1, const QColor& colour) const {
    painter_.setPen(QPen(voiced(tone::ink, voice_), 1.4, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
    painter_.setBrush(voiced(colour, voice_));
    painter_.drawRect(QRectF(QPointF(middle_ + scale_ * x0, floor_ - scale_ * z1), QPointF(middle_ + scale_ * x1, floor_ - scale_ * z0)));
    painter_.setBrush(Qt::NoBrush);
  }

  void shape(const std::vector<frame::Spot>& corners, const QColor& colour) const {
    QPolygonF outline;
    for (const frame::Spot& corner : corners) outline << QPointF(middle_ + scale_ * across(corner), floor_ - scale_ * corner.z);
    painter_.setPen(QPen(voiced(tone::ink, voice_), 1.4, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
    painter_.setBrush(voiced(colour, voice_));
    painter_.drawPolygon(outline);
    painter_.setBrush(Qt::NoBrush);
  }

  // those that run across the view, the farther ones first
  void rails(const frame::Set& set) const {
    std::vector<const frame::Rail*> seen;
    for (const frame::Rail& rail : set.rails)
      if (std::fabs(depth(rail.start) - depth(rail.end)) < 1e-6 && std::fabs(across(rail.start) - across(rail.end)) > 1e-6) seen.push_back(&rail);
    std::stable_sort(seen.begin(), seen.end(), [&](const auto* a, const auto* b) { return depth(a->start) > depth(b->start); });
    for (const frame::Rail* rail : seen) {
      const auto [x0, x1] = std::minmax({across(rail->start), across(rail->end)});
      const double high = rail->depth * rail->quantity;  // boards of a panel stand one above the other
      for (int i = 0; i < rail->quantity; ++i) {
        const double z = rail->start.z - high / 2 + i * rail->depth;
        box(x0, z, x1, z + rail->depth, depth(rail->start) > 0 ? kBehind : kRail);
      }
    }
  }

  template <class Which>
  void pieces(const frame::Set& set, const Which& which) const {
    // a finial before its post, which hides the pin
    std::vector<const frame::Member*> seen;
    for (const frame::Member& member : set.members)
      if (!member.spare && which(member)) seen.push_back(&member);
    std::stable_sort(seen.begin(), seen.end(), [](const auto* a, const auto* b) { return a->piece > b->piece; });
    for (const frame::Member* member : seen) piece(*member);
  }

  void piece(const frame::Member& member) const {
    const double face = (member.stand.quarters + (from_ == From::left ? 1 : 0)) * std::numbers::pi / 2;
    SeenPieces anew;
    paint_leg(painter_, (seen_ ? *seen_ : anew).of(member, face), QTransform(0, scale_, -scale_, 0, middle_ + scale_ * across(member.stand.head), floor_ - scale_ * member.stand.head.z), voice_, 1.2);
  }

  QPainter& painter_;
  From from_;
  double scale_, middle_, floor_;
  Voice voice_;
  SeenPieces* seen_;
};

constexpr double kBetweenViews = 350;  // mm of the room

Extent extent(const frame::Table& table, const frame::Set&, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  return {table.length, table.height, size(table.length) + " long, " + size(table.width) + " wide, " + size(table.height) + " high",
          "leg " + size(frame::leg_length(table)) + " long, " + size(table.square) + " square"};
}

Extent extent(const frame::Bed& bed, const frame::Set&, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  const double finial = bed.finial_kind == frame::FinialKind::on_a_pin ? bed.finial.length : 0;
  return {frame::bed_width(bed) + kBetweenViews + frame::bed_length(bed), std::max(bed.head_post, bed.foot_post) + finial,
          "mattress " + size(bed.mattress_length) + " long, " + size(bed.mattress_width) + " wide; " + size(frame::bed_length(bed)) + " by " + size(frame::bed_width(bed)) + " over the posts",
          "head post " + size(bed.head_post) + ", foot post " + size(bed.foot_post) + " high, " + size(bed.square) + " square"};
}

// balusters of each length, as they are turned
Extent extent(const frame::Stair& stair, const frame::Set& set, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  const Steps steps(stair);
  std::vector<std::string> turned;
  for (std::size_t i = 0; i < frame::baluster_lengths(stair).size(); ++i) turned.push_back(size(set.members[i].part.length));
  const std::string run = std::to_string(stair.treads) + (stair.treads == 1 ? " tread" : " treads");
  return {steps.wide(), steps.high(), run + ", rise " + size(stair.rise) + ", going " + size(stair.going) + ", rail " + size(stair.rail_height) + " high",
          "balusters " + listed(turned) + " long as turned" + (steps.shown < stair.treads ? "; the first " + std::to_string(steps.shown) + " treads are shown" : "")};
}

// the way is told where it has to do with how the lamp looks: a stacked column shows its joints
Extent extent(const frame::Lamp& lamp, const frame::Set& set, const LengthFormat& lengths) {
  const auto size = [&](double mm) { return format_length(mm, lengths); };
  double left = 0, right = 0;
  for (const frame::Member& member : set.members)
    if (!member.spare) right = std::max(right, member.stand.head.x);
  left -= lamp.base_width / 2;
  right += lamp.base_width / 2;
  return {right - left, lamp.height + kRod, (lamp.lamps == 1 ? std::string("lamp ") : std::to_string(lamp.lamps) + " lamps ") + size(lamp.height) + " high, base " + size(lamp.base_width),
          "column " + size(frame::column_length(lamp)) + " long, " + size(lamp.square) + " square, " + std::string(frame::word(lamp.way))};
}

void paint(QPainter& painter, const frame::Table& table, const frame::Set& set, const Spotted& where) { View(painter, From::front, where).paint(table, set); }

// from the foot, and beside it from the left, the head at the left
void paint(QPainter& painter, const frame::Bed& bed, const frame::Set& set, const Spotted& where) {
  const double wide = frame::bed_width(bed), lengthy = frame::bed_length(bed), all = wide + kBetweenViews + lengthy;
  Spotted foot = where, left = where;
  foot.middle += where.scale * (wide - all) / 2;
  left.middle += where.scale * (all - lengthy) / 2;
  View(painter, From::front, foot).paint(bed, set);
  View(painter, From::left, left).paint(bed, set);
}

// the run begins at the left, one step above the floor
void paint(QPainter& painter, const frame::Stair& stair, const frame::Set& set, const Spotted& where) {
  const Steps steps(stair);
  Spotted run = where;
  run.middle -= where.scale * steps.middle();
  run.floor -= where.scale * steps.below;
  View(painter, From::front, run).paint(stair, set);
}

// the first lamp stands at x = 0
void paint(QPainter& painter, const frame::Lamp& lamp, const frame::Set& set, const Spotted& where) {
  Spotted row = where;
  row.middle -= where.scale * (extent(lamp, set, {}).wide - lamp.base_width) / 2;
  View(painter, From::front, row).paint(lamp, set);
}

}  // namespace

const LegView& SeenPieces::of(const frame::Member& member, double face) {
  const std::pair key{member.id, face};
  if (const auto known = views_.find(key); known != views_.end()) return known->second;
  shape::Part turned = member.part;
  turned.mortises.clear();  // covered by the rails
  turned.bores.clear();
  turned.axial_bores.clear();
  turned.end_cuts.clear();  // in the handrail
  return views_.emplace(key, leg_view(turned, face)).first->second;
}

Extent extent_of(const frame::Frame& frame, const frame::Set& set, const LengthFormat& lengths) {
  return std::visit([&](const auto& one) { return extent(one, set, lengths); }, frame);
}

void paint_frame(QPainter& painter, const frame::Frame& frame, const frame::Set& set, const Spotted& where) {
  std::visit([&](const auto& one) { paint(painter, one, set, where); }, frame);
}

}  // namespace pommel::paper
