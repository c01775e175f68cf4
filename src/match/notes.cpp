#include "match/notes.h"

#include <algorithm>

#include "base/text.h"

namespace pommel::match {
namespace {

class Noting {
 public:
  Noting(double uncertainty, double place_uncertainty, Sink& sink) : uncertainty_(uncertainty), place_(place_uncertainty), sink_(sink) {}

  Noted run(const std::vector<exchange::Reading>& readings) {
    for (const exchange::Reading& r : readings) take(r);
    pair_squares();
    return std::move(out_);
  }

 private:
  void take(const exchange::Reading& r) {
    const std::string& note = r.note;
    Measure m{r.x, r.diameter.value_or(0), place_, r.uncertainty.value_or(uncertainty_), Measure::Of::round, r.place, r.row};
    bool keeps = r.diameter.has_value();
    if (note == "square") m.of = Measure::Of::flats;
    else if (note == "worn") m.of = Measure::Of::worn;
    else if (note == "skip") keeps = false;
    else if (note == "square to here") turns_.push_back({r.x, false}), keeps = false;
    else if (note == "square from here") turns_.push_back({r.x, true}), keeps = false;
    else if (note == "head") out_.wishes.head = r.x;
    else if (note == "foot") out_.wishes.foot = r.x;
    else if (note == "edge") out_.wishes.edges.push_back(r.x);
    else if (note == "no edge") out_.wishes.no_edges.push_back(r.x);
    else if (!note.empty() && !kind(r)) return;
    if (keeps) out_.measures.push_back(std::move(m));
  }

  bool kind(const exchange::Reading& r) {
    std::string_view words = r.note;
    for (std::string_view before : {"is an ", "is a ", "is "}) {
      if (words.starts_with(before)) {
        words.remove_prefix(before.size());
        if (const auto kind = shape::element_kind(words)) {
          out_.wishes.kinds.push_back({r.x, *kind});
          return true;
        }
        unknown(r, nearest_name(words, shape::element_words()));
        return false;
      }
    }
    static const std::vector<std::string> known = {"square", "square to here", "square from here", "head", "foot", "edge", "no edge", "worn", "skip", "is a cove"};
    unknown(r, nearest_name(r.note, known));
    return false;
  }

  void unknown(const exchange::Reading& r, const std::string& nearest) {
    Diagnostic d = fail("readings.note", in_quotes(r.note) + " is no note that is understood",
                        nearest.empty() ? "write square, square to here, square from here, head, foot, edge, no edge, worn, skip, or 'is a' and a kind"
                                        : "did you mean '" + nearest + "'?")
                       .reasons.front();
    d.place = r.place;
    d.source_line = r.row;
    d.read = r.row;
    sink_.add(std::move(d));
  }

  struct Turn {
    double x = 0;
    bool from = false;
  };

  void pair_squares() {
    std::stable_sort(turns_.begin(), turns_.end(), [](const Turn& a, const Turn& b) { return a.x < b.x; });
    for (std::size_t i = 0; i < turns_.size(); ++i) {
      const Turn& t = turns_[i];
      if (!t.from) out_.wishes.squares.push_back({0, t.x, false, true});
      else if (i + 1 < turns_.size() && !turns_[i + 1].from) out_.wishes.squares.push_back({t.x, turns_[++i].x, true, true});
      else out_.wishes.squares.push_back({t.x, 0, true, false});
    }
  }

  double uncertainty_, place_;
  Sink& sink_;
  Noted out_;
  std::vector<Turn> turns_;
};

}  // namespace

Noted noted(const std::vector<exchange::Reading>& readings, double uncertainty, double place_uncertainty, Sink& sink) {
  return Noting(uncertainty, place_uncertainty, sink).run(readings);
}

}  // namespace pommel::match
