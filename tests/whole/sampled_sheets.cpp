#include "whole/sampled_sheets.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "base/number.h"
#include "base/quantity.h"

namespace pommel::whole {
namespace {

/// A measure that is drawn: between two sizes, mm, or about the design's own value.
struct Drawn {
  const char* measure;
  double low, high;
  bool of_its_own = false;  // low and high are shares of the design's own value
};

const std::vector<Drawn>& drawn_of(const std::string& family) {
  static const std::map<std::string, std::vector<Drawn>> all = {
      {"table-leg",
       {{"table_length", 0.8, 1.2, true}, {"table_width", 0.85, 1.2, true}, {"long_rail_depth", 0.75, 1.2, true}, {"short_rail_depth", 0.75, 1.2, true}, {"top_thickness", 16, 40},
        {"rail_thickness", 16, 23}, {"rail_set_back", 0, 8}, {"rail_drop", 0, 6}, {"glide_height", 0, 20}}},
      {"bed-post",
       {{"foot_post_height", 0.85, 1.1, true}, {"rail_height", 0.85, 1.15, true}, {"rail_depth", 0.85, 1.15, true}, {"headboard_height", 0.9, 1.1, true}, {"mattress_thickness", 120, 300},
        {"rail_thickness", 18, 23}, {"rail_set_back", 6, 16}, {"glide_height", 0, 30}}},
      {"baluster",
       {{"rise", 165, 200}, {"going", 220, 290}, {"nosing", 0, 35}, {"rail_height", 850, 1000}, {"rail_depth", 40, 60}, {"plough", 0, 10}, {"top_block", 0.8, 1.2, true},
        {"foot_block", 0.8, 1.2, true}, {"foot_pin", 20, 40}}},
      {"lamp-column",
       {{"square", 0.9, 1.02, true}, {"base_width", 0.85, 1.2, true}, {"base_thickness", 22, 42}, {"foot_tenon", 16, 32}, {"drill_reach", 260, 420}, {"seat", 16, 26}, {"seat_depth", 4, 12}}}};
  return all.at(family);
}

double own_value(const sheet::Sheet& sheet, const std::string& measure) {
  const auto value = sheet.need(measure, family::kCatalogue);
  EXPECT_TRUE(value.ok()) << measure;
  return value.ok() ? value->number() : 0;
}

double mm_of(const std::string& text) {
  const auto length = parse_length(text, std::nullopt);
  EXPECT_TRUE(length.ok()) << text;
  return length.ok() ? *length : 0;
}

// Boards that the square can be milled out of.
std::vector<std::string> thick_enough(const shop::Shop& shop, double square) {
  std::vector<std::string> names;
  for (const auto& [name, board] : shop.boards)
    if (board.thickness - board.milling >= square + 0.5) names.push_back(name);
  return names;
}

}  // namespace

designs::House catalog() { return {std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog", std::filesystem::path(POMMEL_SOURCE_DIR) / "templates"}; }

job::Loaded loaded(const std::string& design) {
  Sink sink;
  auto out = job::load(*real_files(), catalog(), catalog().catalog / "designs" / (design + ".yaml"), sink);
  EXPECT_TRUE(out && !sink.has_errors()) << render(sink.all());
  return out ? std::move(*out) : job::Loaded{};
}

std::vector<job::Loaded> designs_of(const std::string& family) {
  std::vector<job::Loaded> designs;
  for (const std::string& name : designs::design_names(*real_files(), catalog()))
    if (job::Loaded one = loaded(name); one.design.family == family) designs.push_back(std::move(one));
  return designs;
}

Extra sampled_sheet(const job::Loaded& of, Dice& dice) {
  Sink sink;
  const auto sheet = family::make_sheet(of.family, of.design, nullptr, of.shop, {}, sink);
  EXPECT_FALSE(sink.has_errors()) << of.design.id << "\n" << render(sink.all());
  Extra extra;
  double square = own_value(sheet, "square");
  const auto draw = [&](const std::string& measure, double low, double high) {
    const double size = dice.between(low, high);
    if (measure == "square") square = size;
    extra.emplace_back(measure, format_fixed(size, 3) + " mm");
  };
  for (const designs::Proven& proven : of.card.proven) {
    const double least = mm_of(proven.least), greatest = mm_of(proven.greatest), beyond = (greatest - least) / 10;
    draw(proven.measure, least - beyond, greatest + beyond);
  }
  for (const Drawn& one : drawn_of(of.design.family)) {
    const double scale = one.of_its_own ? own_value(sheet, one.measure) : 1;
    draw(one.measure, one.low * scale, one.high * scale);
  }
  if (const std::vector<std::string> boards = thick_enough(of.shop, square); !boards.empty()) extra.emplace_back("stock", boards[dice.below(boards.size())]);
  return extra;
}

std::string told(const job::Loaded& of, const Extra& extra) {
  std::string what = of.design.id;
  for (const auto& [name, text] : extra) what += ", " + name + " " + text;
  return what;
}

}  // namespace pommel::whole
