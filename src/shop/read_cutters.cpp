// Cutters, from YAML.
#include <array>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "shop/entries.h"
#include "shop/read.h"

namespace pommel::shop {
namespace {

using yaml::MapReader;
using yaml::Node;
using yaml::required;

constexpr double kDegree = std::numbers::pi / 180;

/// Height above the tip at which the flank reaches the full diameter.
double flank_top(const Cutter& cutter) {
  const double a = cutter.half_angle, r = cutter.tip_radius, from = cutter.tip_flat / 2 + r * std::cos(a);
  return r * (1 - std::sin(a)) + (cutter.diameter / 2 - from) / std::tan(a);
}

class CutterReader {
 public:
  CutterReader(const std::string& id, MapReader& entry, Sink& sink) : entry_(entry), sink_(sink) { cutter_.id = id; }

  Cutter read() {
    cutter_.label = entry_.text("label", required("what it is, in words")).value_or("");
    const auto form = entry_.choice("form", {"ball", "tapered ball", "flat", "bull nose", "vee"}, required("of its end"));
    cutter_.form = static_cast<Cutter::Form>(form.value_or(0));
    cutter_.diameter = length(entry_, "diameter", required("the largest that cuts").above(0));
    if (form) end();
    cutter_.flutes = entry_.count("flutes", required("cutting edges").at_least(1).at_most(12)).value_or(2);
    cutter_.flute_length = length(entry_, "flute_length", required("from the tip").above(0));
    bodies();
    cutter_.rpm = entry_.number("rpm", required("turns a minute").above(0)).value_or(0);
    cutter_.chip_load = length(entry_, "chip_load", required("a tooth").above(0));
    cutter_.max_depth_of_cut = length(entry_, "max_depth_of_cut", required("deepest it may enter standing wood in one pass").above(0));
    cutter_.ramp = entry_.angle("ramp", yaml::optional().above(0).at_most(45 * kDegree)).value_or(0);
    if (cutter_.diameter > 0 && cutter_.flute_length > 0) hold_together();
    return std::move(cutter_);
  }

 private:
  void complain(std::string_view key, std::string message, std::string remedy) {
    const auto node = entry_.find(key);
    sink_.add(yaml::at(node ? *node : entry_.node(), "shop.cutter", std::move(message), std::move(remedy)));
  }

  void end() {
    const double half = cutter_.diameter > 0 ? cutter_.diameter / 2 : 1e9;
    switch (cutter_.form) {
      case Cutter::Form::ball:
      case Cutter::Form::flat:
        return;
      case Cutter::Form::bull_nose:
        cutter_.tip_radius = length(entry_, "corner_radius", required("of the rounded corner").above(0));
        if (cutter_.tip_radius >= half) complain("corner_radius", "a corner of half the diameter is a ball", "write form: ball, or a smaller corner");
        return;
      case Cutter::Form::tapered_ball:
        cutter_.tip_radius = length(entry_, "tip_radius", required("of the ball at its tip: half the diameter it is sold by").above(0));
        cutter_.half_angle = entry_.angle("taper", required("of one side, as 5 deg").above(0).at_most(45 * kDegree)).value_or(kDegree);
        if (cutter_.tip_radius >= half) complain("tip_radius", "the tip's ball is as wide as the whole cutter", "the diameter is the largest that cuts, above the taper");
        return;
      case Cutter::Form::vee:
        cutter_.half_angle = entry_.angle("angle", required("between its two sides, as 90 deg").above(0).at_most(170 * kDegree)).value_or(90 * kDegree) / 2;
        cutter_.tip_flat = entry_.length("tip_flat", std::nullopt, yaml::optional().at_least(0)).value_or(0);
        cutter_.tip_radius = entry_.length("tip_radius", std::nullopt, yaml::optional().at_least(0)).value_or(0);
        if (cutter_.tip_flat / 2 + cutter_.tip_radius >= half) complain("diameter", "the point is as wide as the whole cutter", "the diameter is the largest that cuts");
        return;
    }
  }

  void bodies() {
    if (const auto shank = entry_.map("shank", required("its diameter and its length from the tip"))) {
      MapReader map(*shank, "shank", sink_);
      cutter_.shank_diameter = length(map, "diameter", required("of the shank").above(0));
      cutter_.shank_length = length(map, "length", required("from the tip to the collet nut").above(0));
      map.finish();
    }
    if (const auto collet = entry_.map("collet", required("diameter and length of nut and spindle nose"))) {
      MapReader map(*collet, "collet", sink_);
      cutter_.collet_diameter = length(map, "diameter", required("of the nut").above(0));
      cutter_.collet_length = length(map, "length", required("of the nut").above(0));
      map.finish();
    }
    if (const auto holder = entry_.map("holder")) {
      MapReader map(*holder, "holder", sink_);
      cutter_.holder_diameter = length(map, "diameter", required("of the spindle's nose or the holder, above the nut").above(0));
      cutter_.holder_length = length(map, "length", required("of it").above(0));
      map.finish();
    }
  }

  void hold_together() {
    const auto mm = [](double value) { return format_number(value, 2) + " mm"; };
    if (cutter_.shank_length > 0 && cutter_.shank_length < cutter_.flute_length)
      complain("flute_length", "the flutes reach into the collet nut: they end at " + mm(cutter_.flute_length) + ", the nut begins at " + mm(cutter_.shank_length),
               "measure both from the tip");
    const bool ball = cutter_.form == Cutter::Form::ball;
    if (ball && cutter_.flute_length < cutter_.diameter / 2)
      complain("flute_length", "the flutes end below the ball's equator", "measure them from the tip");
    if (cutter_.form == Cutter::Form::bull_nose && cutter_.flute_length < cutter_.tip_radius)
      complain("flute_length", "the flutes end within the rounded corner", "measure them from the tip");
    if (cutter_.half_angle <= 0) return;
    const double top = flank_top(cutter_);
    if (top > cutter_.flute_length + 1e-6)
      complain("flute_length", "the sides reach the full diameter only " + mm(top) + " above the tip, where it has no flutes",
               "measure the diameter at the upper end of the flutes");
  }

  MapReader& entry_;
  Sink& sink_;
  Cutter cutter_;
};

}  // namespace

void read_cutters(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "cutters", "cutter", sink, [&](const std::string& id, MapReader& entry) { into.cutters[id] = CutterReader(id, entry, sink).read(); }, {"mortises"});
  Sink quiet;  // the file's own problems have been reported
  const auto root = yaml::read(text, file, quiet);
  if (!root || !root->is_map()) return;
  const auto widths = root->find("mortises");
  if (!widths || !widths->is_list()) {
    sink.add(yaml::at(widths ? *widths : *root, "shop.mortises", "widths of chisels and cutters for mortises are needed", "write mortises: [6 mm, 8 mm, 10 mm]"));
    return;
  }
  for (const Node& width : widths->items())
    if (const auto mm = yaml::as_length(width, std::nullopt, sink, yaml::required("a width").above(0))) into.mortise_cutters.push_back(*mm);
  std::sort(into.mortise_cutters.begin(), into.mortise_cutters.end());
}

}  // namespace pommel::shop
