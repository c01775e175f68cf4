// Ground truth by construction: every catalog design sampled as a maker would, with errors and wrong readings, cut into elements, and held against
// the elements it was made of. Prints a table; a figure of the documentation, not a test by the clock.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <map>

#include "designs/designs.h"
#include "match/by_hand.h"
#include "match/cut.h"
#include "match/naming.h"
#include "shop/read.h"

namespace {

using namespace pommel;
using namespace pommel::match;
using namespace pommel::match::testing;

struct Turning {
  std::string name;
  shape::Part part;
  std::vector<TrueRun> runs;
};

std::vector<Turning> catalog() {
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  const designs::House house{root / "catalog", root / "templates"};
  const auto files = real_files();
  Sink sink;
  const auto shop = shop::read_shop(*files, house.catalog / "shop", sink, [](const auto&, const auto&) {});
  std::vector<Turning> all;
  for (const std::string& id : designs::design_names(*files, house)) {
    const auto entry = designs::find_design(*files, house, id, {}, sink);
    const auto sheet = family::make_sheet(entry->family, entry->design, nullptr, shop, {}, sink);
    const auto made = family::make(entry->family, entry->design, sheet, family::kCatalogue, shop, {});
    if (!made.ok()) std::exit(1);
    for (const family::MadePiece& piece : made->pieces) {
      Turning t{id + " " + piece.wanted.named, piece.part, true_runs(piece.part, piece.wanted.square)};
      if (!t.runs.empty()) all.push_back(std::move(t));
    }
  }
  return all;
}

struct Score {
  int elements = 0, right = 0;  ///< right: kind, and both ends within 1 mm
  int kinds = 0;                ///< of the right kind where it mostly stands
  int edges = 0, placed = 0;    ///< between elements; found within 1 mm
  double edge_squares = 0;      ///< of those that are placed, mm²
  int unfound = 0, runs = 0;  ///< runs whose true elements cost less than what was found: there the search failed, not the criterion
  double squares = 0;
  int samples = 0;
  int misled = 0;  ///< runs whose true elements cost so much more than what was found that the readings themselves speak for it: no criterion of this form finds the truth
  double misled_squares = 0;
  int misled_samples = 0;
  double seconds = 0;
};

constexpr double kMisled = 6;  // twenty to one, as -2 ln

bool told = false;

const char* kNames[] = {"level", "slope", "half bulge", "half hollow", "quarter bulge", "quarter hollow", "ball", "arc bulge", "arc hollow",
                        "cyma recta", "cyma reversa", "scotia", "vee", "vase"};


/// What the criterion says of the elements that the piece was made of, each with the readings that are really its own. Not a number where one has none: then
/// a cut has no element for it.
double true_total(const Turning& t, const TrueRun& truth, const Run& run, const Prices& prices) {
  Chain chain;
  chain.joints.push_back(run.gap(0));
  for (const TrueElement& e : truth.elements) {
    Stroke s;
    s.figure = e.figure, s.x0 = e.x0, s.x1 = e.x1;
    const auto& outline = t.part.outline;
    s.r0 = outline.value(e.x0, shape::Side::after), s.r1 = outline.value(e.x1, shape::Side::before);
    double low = 1e9, high = 0;
    for (int i = 1; i < 200; ++i) {
      const double r = outline.value(e.x0 + (e.x1 - e.x0) * i / 200, shape::Side::after);
      low = std::min(low, r), high = std::max(high, r);
    }
    s.extreme = e.figure == Figure::arc_bulge ? std::max({high, s.r0, s.r1}) : std::min({low, s.r0, s.r1});
    s.alike = may_be_alike(s.figure) && std::fabs(s.r0 - s.r1) < 1e-6;
    if (e.figure == Figure::vase) {
      for (const auto& p : outline.pieces) {
        if (p.x0 > e.x0 + 1e-6 && p.x0 < e.x1 - 1e-6) s.stations.push_back({(p.x0 - e.x0) / (e.x1 - e.x0), p.r0});
      }
    }
    std::size_t first = 0;
    while (first < run.samples.size() && run.samples[first].x < e.x0) ++first;
    if (chain.strokes.empty()) first = 0;
    chain.first.push_back(first);
    if (!chain.strokes.empty()) {
      chain.joints.push_back(run.gap(first));
      chain.joints.back().step = std::fabs(chain.strokes.back().r1 - s.r0) > 1e-6;
      chain.joints.back().least = std::min(chain.joints.back().least, e.x0);
      chain.joints.back().most = std::max(chain.joints.back().most, e.x0);
    }
    chain.strokes.push_back(s);
  }
  chain.first.push_back(run.samples.size());
  chain.joints.push_back(run.gap(run.samples.size()));
  for (std::size_t k = 0; k + 1 < chain.first.size(); ++k) {
    if (chain.first[k] == chain.first[k + 1]) return std::nan("");
  }
  if (run.square_before && truth.elements.front().figure != Figure::level) chain.start_radius = run.corner;
  if (run.square_after && truth.elements.back().figure != Figure::level) chain.end_radius = run.corner;
  if (std::getenv("CANDIDATES")) {
    for (std::size_t k = 0; k < truth.elements.size(); ++k) {
      std::printf("   %s %zu-%zu:", truth.elements[k].kind.c_str(), chain.first[k], chain.first[k + 1] - 1);
      if (chain.first[k + 1] > chain.first[k] + 1) {
        for (const Candidate& c : candidates(run, chain.first[k], chain.first[k + 1] - 1, prices)) std::printf(" %s %.1f,", kNames[static_cast<int>(c.stroke.figure)], c.total);
        std::printf(" (%s:", kNames[static_cast<int>(truth.elements[k].figure)]);
        for (const Candidate& c : candidates_of(run, chain.first[k], chain.first[k + 1] - 1, prices, truth.elements[k].figure)) std::printf(" %.1f,", c.total);
      }
      std::printf(")\n");
    }
  }
  return settled(run, chain, prices).total;
}

Run run_of(const TrueRun& truth, const std::vector<Taken>& taken, double noise) {
  std::vector<Sample> samples;
  for (const Taken& r : taken) {
    if (r.x >= truth.x0 - 1 && r.x <= truth.x1 + 1) samples.push_back({r.x, r.diameter / 2, noise, noise / 2, 0});
  }
  std::sort(samples.begin(), samples.end(), [](const Sample& a, const Sample& b) { return a.x < b.x; });
  Run run{std::move(samples), truth.x0, truth.x1, 0, 0, truth.square_before, truth.square_after, truth.corner, {}, {}, {}, false, {}, {}, {}};
  run.mark();
  return run;
}

void score_kind_and_edge(const TrueRun& truth, const TrueElement& e, const Run& run, const Chain& chain, Score& score) {
  double most = 0, nearest = 1e30;
  std::string kind;
  for (std::size_t k = 0; k < chain.strokes.size(); ++k) {
    const Stroke& s = chain.strokes[k];
    const double shared = std::min(s.x1, e.x1) - std::max(s.x0, e.x0);
    if (shared > most) most = shared, kind = std::string(shape::word_of(name_of(s, standing_of(run, chain, k)).kind));
    if (k > 0) nearest = std::min(nearest, std::fabs(s.x0 - e.x0));
  }
  score.kinds += one_word(kind) == one_word(e.kind);
  if (&e == &truth.elements.front()) return;
  ++score.edges;
  if (nearest > 1) return;
  ++score.placed;
  score.edge_squares += nearest * nearest;
}

void score_run(const Turning& t, const TrueRun& truth, const Run& run, const Prices& prices, Score& score) {
  score.elements += static_cast<int>(truth.elements.size());
  if (run.samples.size() < 2) return;
  if (std::getenv("WRONG")) {
    for (std::size_t i = 0; i < run.samples.size(); ++i) {
      const double d = run.samples[i].r - t.part.outline.value(run.samples[i].x, shape::Side::after);
      if (std::fabs(d) > 0.7 || run.suspected[i]) std::printf("   %.2f r %.2f %s %s %.2f\n", run.samples[i].x, run.samples[i].r, std::fabs(d) > 0.9 ? "WRONG" : "", run.suspected[i] ? "suspected" : "", d);
    }
  }
  const std::clock_t start = std::clock();
  const Cut found = cut(run, prices);
  score.seconds += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  const double truly = true_total(t, truth, run, prices);
  ++score.runs;
  score.unfound += found.total > truly + 1;
  if (told) std::printf("  %s from %.0f: found %.1f, true %.1f\n", t.name.c_str(), truth.x0, found.total, truly);
  for (const TrueElement& e : truth.elements) {
    score_kind_and_edge(truth, e, run, found.chain, score);
    bool right = false;
    for (std::size_t k = 0; k < found.chain.strokes.size(); ++k) {
      const Stroke& s = found.chain.strokes[k];
      const bool placed = std::fabs(s.x0 - e.x0) <= 1 && std::fabs(s.x1 - e.x1) <= 1;
      right = right || (placed && one_word(std::string(shape::word_of(name_of(s, standing_of(run, found.chain, k)).kind))) == one_word(e.kind));
    }
    score.right += right;
    if (!right && told) {
      std::printf("    %s: %s (%s) %.2f-%.2f:", t.name.c_str(), e.kind.c_str(), kNames[static_cast<int>(e.figure)], e.x0, e.x1);
      for (const Stroke& s : found.chain.strokes) {
        if (s.x1 > e.x0 + 0.5 && s.x0 < e.x1 - 0.5) std::printf(" %s %.2f-%.2f", kNames[static_cast<int>(s.figure)], s.x0, s.x1);
      }
      std::printf("\n");
    }
  }
  const double squares_before = score.squares;
  const int samples_before = score.samples;
  // the found outline against the true one, every 0.25 mm, square to it
  for (const Stroke& s : found.chain.strokes) {
    shape::Pieces pieces;
    if (!draw(s, pieces)) continue;
    for (double x = s.x0 + 0.125; x < s.x1; x += 0.25) {
      const auto& piece = t.part.outline.pieces[t.part.outline.index_at(x, shape::Side::after)];
      const double d = off(piece, x, radius_of(pieces, x)).distance;
      score.squares += d * d;
      ++score.samples;
    }
  }
  if (found.total < truly - kMisled) {
    ++score.misled;
    score.misled_squares += score.squares - squares_before;
    score.misled_samples += score.samples - samples_before;
  }
  if (told) std::printf("    squares %.2f mm2\n", score.squares - squares_before);
}

Score score_of(const std::vector<Turning>& all, int n, double noise, double wrong, Manner manner, int seeds) {
  Score score;
  const char* only = std::getenv("ONLY");
  const char* said = std::getenv("FIRST_SEED");
  const int first = said ? std::atoi(said) : 0;
  for (int seed = first; seed < first + seeds; ++seed) {
    for (std::size_t piece = 0; piece < all.size(); ++piece) {
      const Turning& t = all[piece];
      if (only && t.name.find(only) == std::string::npos) continue;
      const auto taken = readings_of(t.part, t.runs, n, noise, wrong, manner, static_cast<std::uint64_t>(seed * 7919 + n) + 104729 * piece);
      const Prices prices = prices_for(taken.size());
      for (const TrueRun& truth : t.runs) score_run(t, truth, run_of(truth, taken, noise), prices, score);
    }
  }
  return score;
}

/// Every answer in full, one line a stroke: to hold two versions of the search against each other.
void answers(const std::vector<Turning>& all, int n, double noise, double wrong, Manner manner) {
  for (std::size_t piece = 0; piece < all.size(); ++piece) {
    const Turning& t = all[piece];
    const auto taken = readings_of(t.part, t.runs, n, noise, wrong, manner, static_cast<std::uint64_t>(n) + 104729 * piece);
    const Prices prices = prices_for(taken.size());
    for (const TrueRun& truth : t.runs) {
      Run run = run_of(truth, taken, noise);
      if (run.samples.size() < 2) continue;
      const Cut found = cut(run, prices);
      std::printf("%s from %.0f, %zu readings: total %.2f, wrong %d\n", t.name.c_str(), truth.x0, run.samples.size(), found.total, found.outliers);
      for (const Stroke& s : found.chain.strokes) std::printf("  %s %.2f-%.2f %.2f %.2f %.2f %zu\n", kNames[static_cast<int>(s.figure)], s.x0, s.x1, s.r0, s.r1, has_extreme(s.figure) ? s.extreme : 0.0, s.stations.size());
    }
  }
}

/// Processor time by the number of readings.
void growth(const std::vector<Turning>& all) {
  std::printf("readings  wrong  edges ms  evenly ms (processor time a piece, middle of the catalog; most)\n");
  for (double wrong : {0.0, 0.05}) {
    for (int n : {50, 100, 200, 500, 1000}) {
      std::printf("%8d  %3.0f %%", n, 100 * wrong);
      for (Manner manner : {Manner::edges_first, Manner::evenly}) {
        std::vector<double> times;
        for (const Turning& t : all) {
          const Score s = score_of({t}, n, 0.05, wrong, manner, 1);
          times.push_back(1000 * s.seconds);
        }
        std::sort(times.begin(), times.end());
        std::printf("  %8.0f (%.0f)", times[times.size() / 2], times.back());
      }
      std::printf("\n");
      std::fflush(stdout);
    }
  }
}

/// Readings of a spindle of 24 elements as a file for `pommel match`: a half-round of 12 mm and a taper, twelve times.
void spindle(int n, double noise, double wrong) {
  shape::Part part;
  TrueRun run;
  for (int k = 0; k < 12; ++k) {
    const double x = 50.0 * k;
    part.outline.pieces.push_back(shape::arc_about(x, 16, x + 12, 16, x + 6, 16, 6, 1));
    part.outline.pieces.push_back(shape::line_piece(x + 12, 18, x + 50, 14));
    run.elements.push_back({Figure::half_bulge, "bead", x, x + 12});
    run.elements.push_back({Figure::slope, "taper", x + 12, x + 50});
  }
  run.x1 = 600;
  std::printf("x mm; diameter mm; +- mm; note\n0;;;head\n600;;;foot\n");
  for (const Taken& t : readings_of(part, {run}, n, noise, wrong, Manner::edges_first, static_cast<std::uint64_t>(n)))
    std::printf("%.3f;%.3f;%.3f;\n", std::clamp(t.x, 0.0, 600.0), t.diameter, noise);
}

}  // namespace

int main(int count, char** words) {
  if (count > 4 && std::strcmp(words[1], "spindle") == 0) return spindle(std::atoi(words[2]), std::atof(words[3]), std::atof(words[4])), 0;
  const auto all = catalog();
  if (count > 1 && std::strcmp(words[1], "growth") == 0) return growth(all), 0;
  if (count > 4 && std::strcmp(words[1], "answers") == 0)
    return answers(all, std::atoi(words[2]), std::atof(words[3]), std::atof(words[4]), count > 5 ? Manner::evenly : Manner::edges_first), 0;
  const int seeds = count > 1 ? std::atoi(words[1]) : 3;
  told = count > 2;
  std::printf("manner   readings noise wrong  elements right  kinds  edges within 1 mm (rms)  outline rms mm  of the others  ms/piece  runs unfound misled\n");
  const auto line = [&](const char* name, Manner manner, int n, double noise, double wrong) {
    const Score s = score_of(all, n, noise, wrong, manner, seeds);
    std::printf("%-8s %8d %5.2f %4.0f %% %8d %5.1f %% %5.1f %% %5.1f %% %6.3f  %7.3f %7.3f %8.1f %5d %5d %5d\n", name, n, noise, 100 * wrong, s.elements, 100.0 * s.right / s.elements,
                100.0 * s.kinds / s.elements, 100.0 * s.placed / s.edges, std::sqrt(s.edge_squares / std::max(1, s.placed)),
                std::sqrt(s.squares / s.samples), std::sqrt((s.squares - s.misled_squares) / std::max(1, s.samples - s.misled_samples)), 1000 * s.seconds / (static_cast<double>(all.size()) * seeds), s.runs, s.unfound, s.misled);
    std::fflush(stdout);
  };
  if (count > 2) {
    line("edges", Manner::edges_first, std::atoi(words[2]), std::atof(words[3]), std::atof(words[4]));
    return 0;
  }
  for (double noise : {0.05, 0.2, 0.5}) {
    for (int n : {15, 20, 40, 80, 200}) {
      for (double wrong : {0.0, 0.05}) line("edges", Manner::edges_first, n, noise, wrong);
    }
  }
}
