#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "paper/bench.h"

namespace pommel::paper {
namespace {

constexpr double kWide = 90, kHigh = 54;  // mm, one label
constexpr int kAcross = 2;

struct Label {
  std::string title, id;
  std::vector<std::string> lines;
  const frame::Member* member = nullptr;
  const frame::Rail* rail = nullptr;
};

// quarters 0: face A to the front, B to the left; each quarter turns it counter-clockwise seen from above (frame/member.h)
std::string faces_of(const frame::Stand& stand) {
  static const char* const sides[] = {"front", "left", "back", "right"};
  std::vector<std::string> out;
  for (int face = 0; face < 4; ++face) out.push_back(std::string(1, static_cast<char>('A' + face)) + " " + sides[(face - stand.quarters + 4) % 4]);
  return joined(out, ", ");
}

std::vector<Label> labels_of(const job::Job& job) {
  std::vector<Label> out;
  const frame::Set& set = job.order.made.set;
  for (const frame::Member& member : set.members) {
    Label label{member.label, member.id, {}, &member, nullptr};
    if (!member.hand.empty()) label.lines.push_back("hand: " + member.hand);
    label.lines.push_back(member.spare ? "spare: turned, no joints" : "faces: " + faces_of(member.stand));
    const std::string program = static_cast<std::size_t>(member.turned_kind) < job.programs.size() ? job::programs_in_words(job, static_cast<std::size_t>(member.turned_kind)) : "its program";
    label.lines.push_back("next: turn with " + program + (member.spare || member.part.mortises.empty() ? "" : ", then the joints"));
    out.push_back(std::move(label));
  }
  for (const frame::Rail& rail : set.rails) {
    for (int i = 0; i < rail.quantity; ++i) {
      Label label{rail.label + (rail.quantity > 1 ? " " + std::to_string(i + 1) : ""), rail.id, {}, nullptr, &rail};
      const LengthFormat& lengths = job.sheet.settings().lengths;
      label.lines.push_back(format_length(rail.overall_length, lengths) + " x " + format_length(rail.depth, lengths) + " x " + format_length(rail.thickness, lengths));
      if (rail.tenon_length > 0) label.lines.push_back("shoulder to shoulder " + format_length(rail.shoulder_length, lengths));
      label.lines.push_back(std::string("next: mill") + (rail.tenon_length > 0 ? ", then the tenons" : rail.holes.empty() ? "" : ", then the holes"));
      out.push_back(std::move(label));
    }
  }
  return out;
}

// The set from above, front below, in a box; the triangle points to the back, its foot along the front.
class Plan {
 public:
  Plan(Page& page, const frame::Set& set, const Box& box) : page_(page), set_(set), box_(box) {
    for (const frame::Member& member : set.members)
      if (!member.spare) reach(member.stand.head);
    const double wide = std::max(x1_ - x0_, 1.0), deep = std::max(y1_ - y0_, 1.0);
    scale_ = std::min((box.width() - 6) / wide, (box.height() - 6) / deep);
  }

  void paint(const Label& label) {
    for (const frame::Rail& rail : set_.rails) {
      const bool mine = &rail == label.rail;
      add_line(page_, x(rail.start), y(rail.start), x(rail.end), y(rail.end), mine ? Pen::outline : Pen::hair);
    }
    for (const frame::Member& member : set_.members) {
      if (member.spare) continue;
      const double cx = x(member.stand.head), cy = y(member.stand.head), h = 1.8;
      add_box(page_, {cx - h, cy - h, cx + h, cy + h}, Pen::thin, &member == label.member ? Fill::black : Fill::paper);
    }
    // a row that stands in one line has it before its middle
    const double least = 10, half = std::max((y1_ - y0_) * scale_, least) / 2, off = (y1_ - y0_) * scale_ < least ? half + 4 : 0;
    const double left = x0_on(), right = box_.x0 + box_.x1 - left, front = mid_y() + half + off, back = mid_y() - half + off;
    page_.paths.push_back({{{left + 4, front - 1}, {right - 4, front - 1}, {(left + right) / 2, back + 1}}, true, Pen::edge});
  }

 private:
  void reach(const frame::Spot& spot) {
    x0_ = std::min(x0_, spot.x);
    x1_ = std::max(x1_, spot.x);
    y0_ = std::min(y0_, spot.y);
    y1_ = std::max(y1_, spot.y);
  }
  double mid_y() const { return (box_.y0 + box_.y1) / 2; }
  double x0_on() const { return (box_.x0 + box_.x1) / 2 - (x1_ - x0_) * scale_ / 2; }
  double x(const frame::Spot& spot) const { return (box_.x0 + box_.x1) / 2 + (spot.x - (x0_ + x1_) / 2) * scale_; }
  double y(const frame::Spot& spot) const { return mid_y() - (spot.y - (y0_ + y1_) / 2) * scale_; }

  Page& page_;
  const frame::Set& set_;
  Box box_;
  double x0_ = 1e9, x1_ = -1e9, y0_ = 1e9, y1_ = -1e9, scale_ = 1;
};

void add_label(Page& page, const Label& label, const job::Job& job, const Heading& heading, double left, double top) {
  const Box box{left, top, left + kWide, top + kHigh};
  add_box(page, box, Pen::hair);
  const double plan = 30, words = kWide - plan - 9;
  double y = top + 8;
  const auto say = [&](const std::string& text, double size, Face face, Ink ink) {
    for (const std::string& line : broken(text, size, face, words)) {
      page.texts.push_back({left + 4, y, line, size, Align::left, face, ink});
      y += size * 1.4;
    }
  };
  say(label.title, 4.2, Face::bold, Ink::black);
  say(label.id, 2.8, Face::plain, Ink::grey);
  y += 1;
  for (const std::string& line : label.lines) say(line, 3, Face::plain, Ink::black);
  const std::string order = heading.title + (heading.number.empty() ? "" : ", " + heading.number);
  page.texts.push_back({left + 4, top + kHigh - 3, fitted({0, 0, order, 2.6}, kWide - 8), 2.6, Align::left, Face::plain, Ink::grey});
  if (label.member && label.member->spare) return;
  const Box drawn{left + kWide - plan - 4, top + 5, left + kWide - 4, top + 5 + plan};
  Plan(page, job.order.made.set, drawn).paint(label);
  page.texts.push_back({(drawn.x0 + drawn.x1) / 2, drawn.y1 + 3.2, "front", 2.4, Align::centre, Face::plain, Ink::grey});
}

}  // namespace

std::vector<Page> label_pages(const job::Job& job, const Heading& heading) {
  const Page blank = sheet(heading.paper);
  const int down = static_cast<int>(std::floor((blank.height - 20) / kHigh));
  const double left = (blank.width - kAcross * kWide) / 2, top = (blank.height - down * kHigh) / 2;
  std::vector<Page> pages;
  int count = 0;
  for (const Label& label : labels_of(job)) {
    const int place = count++ % (kAcross * down);
    if (place == 0) pages.push_back(blank);
    add_label(pages.back(), label, job, heading, left + kWide * (place % kAcross), top + kHigh * (place / kAcross));
  }
  return pages;
}

}  // namespace pommel::paper
