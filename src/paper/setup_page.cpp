#include <algorithm>

#include "base/text.h"
#include "paper/bench.h"
#include "paper/flow.h"

namespace pommel::paper {
namespace {

constexpr double kMono = 2.9;  // 80 columns are 140 mm wide

// The blank between chuck and centre, long measures shortened to the page, with words under it.
class BlankView {
 public:
  BlankView(Page& page, const job::TurningRequest& request, const Heading& heading, double left, double width, double axis)
      : page_(page), request_(request), heading_(heading), left_(left), axis_(axis), scale_(width / request.blank.length()) {}

  void paint() {
    const shape::Blank& blank = request_.blank;
    const shop::Machine& machine = request_.machine;
    const double half = std::clamp(blank.size / 2 * scale_, 4.0, 9.0);
    add_box(page_, {x(blank.x0), axis_ - half, x(blank.x1), axis_ + half}, Pen::outline, Fill::light);
    add_box(page_, {x(0), axis_ - half, x(request_.turned.length), axis_ + half}, Pen::edge, Fill::wood);
    const double head_grip = machine.head_at_chuck ? machine.chuck_grip : machine.centre_grip, foot_grip = machine.head_at_chuck ? machine.centre_grip : machine.chuck_grip;
    keep_out(blank.x0, blank.x0 + head_grip, half, machine.head_at_chuck ? "chuck" : "centre");
    keep_out(blank.x1 - foot_grip, blank.x1, half, machine.head_at_chuck ? "centre" : "chuck");
    add_line(page_, x(blank.x0) - 3, axis_, x(blank.x1) + 3, axis_, Pen::axis);
    add_line(page_, x(0), axis_ - half - 6, x(0), axis_ + half + 3, Pen::edge);
    add_arrow(page_, x(0), axis_ - half, 0, 1);
    page_.texts.push_back({x(0) + 1, axis_ - half - 4, machine.x_word + "0, head", 2.8, Align::left, Face::bold});
    page_.texts.push_back({x(request_.turned.length) - 1, axis_ - half - 4, "foot", 2.8, Align::right, Face::bold});
    const double y = axis_ + half + 6;
    span(blank.x0, 0, y, true);
    span(0, request_.turned.length, y, false);
    span(request_.turned.length, blank.x1, y, true);
  }

 private:
  double x(double mm) const { return left_ + (mm - request_.blank.x0) * scale_; }

  void keep_out(double from, double to, double half, const std::string& what) {
    add_box(page_, {x(from), axis_ - half - 1.5, x(to), axis_ + half + 1.5}, Pen::thin, Fill::joint);
    page_.texts.push_back({(x(from) + x(to)) / 2, axis_ - half - 8.5, what, 2.6, Align::centre});
    add_line(page_, (x(from) + x(to)) / 2, axis_ - half - 7.6, (x(from) + x(to)) / 2, axis_ - half - 1.8, Pen::hair);
  }

  // narrow ones have their figure a line lower
  void span(double from, double to, double y, bool lower) {
    add_line(page_, x(from), y - 2, x(from), y + 1, Pen::thin);
    add_line(page_, x(to), y - 2, x(to), y + 1, Pen::thin);
    add_line(page_, x(from), y, x(to), y, Pen::thin);
    page_.texts.push_back({(x(from) + x(to)) / 2, y + (lower ? 8 : 4), heading_.length(to - from), 2.8, Align::centre});
  }

  Page& page_;
  const job::TurningRequest& request_;
  const Heading& heading_;
  double left_, axis_, scale_;
};

bool is_rule(std::string_view line) { return line.size() > 2 && line.find_first_not_of("-=") == std::string_view::npos; }

// mm that the section whose title is line `k` takes: it stays whole where a page has room for it.
double section_height(const std::vector<std::string_view>& lines, std::size_t k, double leading) {
  double high = Flow::kHeading;
  for (std::size_t i = k + 2; i < lines.size() && !(i + 1 < lines.size() && is_rule(lines[i + 1])); ++i) high += kMono * (lines[i].empty() ? 0.7 : leading);
  return high;
}

struct SetUp {
  std::string text, program, surface;
  const job::TurningRequest& request;
};

// The text under the picture of the blank, `leading` from line to line, of their size; then the surface.
std::vector<Page> laid_out(const SetUp& set_up, const Heading& heading, double leading) {
  const std::vector<std::string_view> lines = split(set_up.text, '\n');
  const Page blank = sheet(heading.paper);
  Flow flow(blank, {20, 16, blank.width - 16, blank.height - 16});
  for (std::size_t k = 0; k < lines.size(); ++k) {
    const std::string line(lines[k]);
    if (is_rule(line)) continue;
    if (k + 1 < lines.size() && is_rule(lines[k + 1])) {
      if (k == 0) {
        flow.title(line);
        BlankView(flow.page(), set_up.request, heading, flow.area().x0 + 3, flow.area().width() - 6, flow.y() + 20).paint();
        flow.down(46);
      } else {
        flow.room(section_height(lines, k, leading));
        flow.heading(line);
      }
      continue;
    }
    if (line.empty()) {
      flow.down(k + 2 < lines.size() && is_rule(lines[k + 2]) ? 0 : kMono * 0.7);  // headings bring their own room
      continue;
    }
    flow.room(kMono * (leading + 0.1));
    flow.down(kMono * leading);
    flow.page().texts.push_back({flow.area().x0, flow.y(), line, kMono, Align::left, Face::mono});
  }
  if (!set_up.surface.empty()) flow.picture(set_up.surface, flow.area().width());
  return flow.take();
}

// Lines stand closer where that saves a page.
std::vector<Page> pages_of(const SetUp& set_up, const Heading& heading) {
  std::vector<Page> pages = laid_out(set_up, heading, 1.35);
  if (std::vector<Page> closer = laid_out(set_up, heading, 1.12); closer.size() < pages.size()) pages = std::move(closer);
  number_pages(pages, "Set-up of " + set_up.program + ", " + heading.title + (heading.order_line().empty() ? "" : ", " + heading.order_line()));
  return pages;
}

}  // namespace

std::vector<Page> setup_pages(const job::Job& job, std::size_t i, std::size_t file, const Heading& heading, const std::string& surface) {
  return pages_of({job::setup_text(job, i, file), job::program_name(job, i, file), surface, job.order.requests[i]}, heading);
}

std::vector<Page> joint_setup_pages(const job::Job& job, std::size_t i, std::size_t file, const Heading& heading) {
  return pages_of({job::joint_setup_text(job, i, file), job::joint_program_name(job, i, file), "", job.order.requests[job.order.joints[i].turning]}, heading);
}

}  // namespace pommel::paper
