// What a program asks of machine and piece, for the summary and the set-up text.
#include <algorithm>

#include "base/number.h"
#include "job/turning.h"

namespace pommel::job {
namespace {

std::string beside(const std::string& what, double limit, const std::string& unit) {
  return what + (limit > 0 ? " (the machine takes " + format_number(limit, 1) + unit + ")" : "");
}

}  // namespace

std::vector<shop::Cutter> cutters_at_work(const TurningRequest& request, const Turning& turning) {
  std::vector<shop::Cutter> out;
  for (const motion::Path& path : turning.paths)
    for (const shop::Cutter& cutter : request.cutters())
      if (cutter.id == path.cutter) out.push_back(cutter);
  return out;
}

std::string cutters_in_words(const TurningRequest& request, const Turning& turning) {
  std::string out;
  for (const shop::Cutter& cutter : cutters_at_work(request, turning)) out += (out.empty() ? "" : ", then the ") + cutter.label;
  return out;
}

std::vector<std::string> pass_lines(const TurningRequest& request, const Turning& turning, const std::vector<std::string_view>& texts) {
  const shop::Machine& m = request.machine;
  std::size_t lines = 0, largest = 0;
  for (const std::string_view text : texts) {
    lines += static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
    largest = std::max(largest, text.size());
  }
  std::vector<std::string> out;
  out.push_back(std::to_string(lines) + " lines" + (texts.size() > 1 ? " in " + std::to_string(texts.size()) + " files, the largest " : ", ") +
                beside(format_number(static_cast<double>(largest) / 1e6, 2) + " MB", m.largest_file / 1e6, " MB") + ", at most " +
                beside(format_number(turning.blocks.most_a_second, 0) + " lines a second", m.blocks_per_second, "") + ", " +
                beside(format_number(turning.blocks.turns, 1) + " turns of the rotary", m.rotary_limit_turns, ""));
  out.push_back((request.stepover > 0 ? "last passes " + format_number(request.stepover, 2) + " mm apart" : "ridges of the last passes at most " + format_number(request.cusp, 3) + " mm") +
                "; roughing is " + (request.climb_rough ? "climb" : "conventional") + ", finishing " + (request.climb_finish ? "climb" : "conventional") +
                " where lines run one way");
  if (turning.paths.size() > 1) out.push_back("the time counts no change of cutter: the machine stands for " + std::to_string(turning.paths.size() - 1) + " of them");
  out.push_back("the piece stays tied to its waste at both ends: part it through by hand, with the machine standing");
  if (turning.stiffness) out.insert(out.end(), turning.stiffness->lines.begin(), turning.stiffness->lines.end());
  return out;
}

std::vector<program::StageTime> re_entries(const std::vector<PassStretch>& stretches, std::string_view text) {
  std::vector<program::StageTime> out;
  std::size_t from = 0, line = 1;
  for (const PassStretch& stretch : stretches) {
    const std::size_t at = text.find("stage: " + stretch.name, from);
    if (at == std::string_view::npos) {
      out.push_back({stretch.name, stretch.minutes, 0});
      continue;
    }
    line += static_cast<std::size_t>(std::count(text.begin() + static_cast<std::ptrdiff_t>(from), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
    from = at;
    out.push_back({stretch.name, stretch.minutes, static_cast<int>(line)});
  }
  return out;
}

}  // namespace pommel::job
