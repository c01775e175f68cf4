// The documents agree with the job and with one another to the cent, read back by other programs; and nothing on them overlaps.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <map>
#include <regex>
#include <sstream>

#include "base/number.h"
#include "paper/bench.h"
#include "paper/canvas.h"
#include "paper/full_scale.h"
#include "paper/jobs.h"
#include "paper/money.h"
#include "paper/papers.h"
#include "paper/plan_pages.h"
#include "paper/poppler.h"
#include "paper/rail_drawing.h"
#include "paper/workbook.h"
#include "paper/workbook_cells.h"
#include "trust/locales.h"

namespace pommel::paper {
namespace {

// Work whose lines need rounding; each variant has a line that the other has not.
void put_quotes(job::Job& job) {
  quote::Work work;
  work.boards = {{"10/4 rough cherry", "7.63 BF net and 25 % waste", 9.5371, {1340}}, {"=HYPERLINK(\"x\")", "", 1.333, {999}}};
  work.set_ups = 1;
  work.turned_pieces = 5;
  work.machine_minutes_each = 67.333;
  work.blanks = 9;
  work.mortises = 8;
  work.joints = 8;
  work.quirks_each = 7;
  work.skin_m2 = 1.6077;
  job.order.quote = *quote::quote(work, job.loaded.shop.rates);
  work.quirks_each = 0;
  work.other_hours = 1.234;
  work.machine_minutes_each = 61.01;
  job.catalogue.quote = *quote::quote(work, job.loaded.shop.rates);
}

job::Job priced_job(const std::string& order) {
  job::Job job = stock_job(order);
  put_quotes(job);
  return job;
}

std::string line_with(const std::string& text, const std::string& words) {
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);)
    if (line.find(words) != std::string::npos && line.find_first_not_of(' ') == line.find(words)) return line;
  ADD_FAILURE() << "no line '" << words << "'";
  return "";
}

TEST(Money, OnTheQuoteIsTheJobs) {
  const Painting painting;
  const job::Job job = priced_job("harvest-table");
  const quote::Quote& quote = job.order.quote;
  const auto bytes = pdf(quote_pages(job, heading_of(job), ""), {"Quote", "2026-03-02"});
  ASSERT_TRUE(bytes.ok());
  const std::string text = text_of_pdf(*bytes);
  EXPECT_THAT(cents_in(text), testing::ElementsAre(quote.price.cents, quote.tax.cents, quote.total.cents, quote.deposit.cents)) << text;
  EXPECT_THAT(text, testing::HasSubstr("holds until 2026-04-01"));
  for (const quote::Line& line : quote.lines) EXPECT_EQ(text.find(format_money(line.amount)), std::string::npos) << line.text << ": the client does not see the shop's costs";
}

// Another country's rates: 19 % of 329.75 is 62.6525, and halves of a cent go away from zero.
TEST(Money, IsInTheShopsCurrencyWithItsTax) {
  const Painting painting;
  job::Job job = priced_job("pair-of-lamps");
  job.loaded.shop.rates.currency = "EUR";
  job.loaded.shop.rates.tax = 0.19;
  job.loaded.shop.rates.minimum_charge = {32975};
  job.order.quote = *quote::quote({}, job.loaded.shop.rates);
  const auto bytes = pdf(quote_pages(job, heading_of(job), ""), {"Quote", "2026-03-02"});
  ASSERT_TRUE(bytes.ok());
  const std::string text = text_of_pdf(*bytes);
  EXPECT_THAT(line_with(text, "price "), testing::HasSubstr(" 329.75 EUR"));
  EXPECT_THAT(line_with(text, "tax, 19 %"), testing::HasSubstr(" 62.65 EUR"));
  EXPECT_THAT(line_with(text, "total"), testing::HasSubstr(" 392.40 EUR"));
  EXPECT_EQ(text.find("USD"), std::string::npos);
}

TEST(Money, OnTheCostSheetAndInItsWorkbookIsTheJobs) {
  const Painting painting;
  const job::Job job = priced_job("harvest-table");
  const Heading heading = heading_of(job);
  const auto bytes = pdf(cost_pages(job, heading), {"Cost", "2026-03-02"});
  const auto book = cost_workbook(job, heading);
  ASSERT_TRUE(bytes.ok() && book.ok());
  const std::string text = text_of_pdf(*bytes);
  const auto cells = cells_of(*book, 1);
  const auto variants = variants_of(job, heading);
  const auto rows = cost_rows(variants);
  ASSERT_EQ(variants.size(), 2u);
  std::size_t seen[] = {0, 0};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::string line = line_with(text, rows[i].text + ":");  // a group may be called as its only line is
    for (std::size_t k = 0; k < 2; ++k) {
      const std::string name = std::string(1, static_cast<char>('D' + k)) + std::to_string(i + 2);
      EXPECT_EQ(cells.contains(name), rows[i].amounts[k].has_value()) << name;
      if (!rows[i].amounts[k]) continue;
      ++seen[k];
      EXPECT_EQ(std::llround(cells.at(name).value * 100), rows[i].amounts[k]->cents);
      EXPECT_THAT(cents_in(line), testing::Contains(rows[i].amounts[k]->cents)) << line;
    }
  }
  const auto n = static_cast<int>(rows.size());
  for (std::size_t k = 0; k < 2; ++k) {
    const quote::Quote& quote = *variants[k].quote;
    EXPECT_EQ(seen[k], quote.lines.size());
    const Money sums[] = {quote.cost, quote.profit, quote.price, quote.tax, quote.total, quote.deposit};
    for (int i = 0; i < 6; ++i) {
      const std::string name = std::string(1, static_cast<char>('D' + k)) + std::to_string(n + 2 + i);
      EXPECT_EQ(std::llround(cells.at(name).value * 100), sums[i].cents) << name;
      EXPECT_EQ(std::llround(reckoned(cells, name) * 100), sums[i].cents) << name << " " << cells.at(name).formula;
    }
    const char* words[] = {"cost", "markup of 25 %", "price", "tax, 6 %", "total", "deposit, 50 %"};
    for (int i = 0; i < 6; ++i) EXPECT_THAT(cents_in(line_with(text, std::string(words[i]))), testing::Contains(sums[i].cents)) << words[i];
  }
  EXPECT_FALSE(cells.at("D" + std::to_string(n + 2)).formula.empty());
}

TEST(CutList, SaysEveryPieceInItsPdfAndItsWorkbook) {
  const Painting painting;
  for (const char* order : {"harvest-table", "cannonball-bed"}) {
    const job::Job job = priced_job(order);
    const Heading heading = heading_of(job);
    const auto bytes = pdf(cut_list_pages(job, heading), {"Cut list", ""});
    const auto book = cut_list_workbook(job, heading);
    ASSERT_TRUE(bytes.ok() && book.ok());
    const std::string text = text_of_pdf(*bytes);
    const auto cells = cells_of(*book, 1);
    const double unit = heading.lengths.unit == LengthUnit::inch ? kInch : 1;
    double feet = 0;
    int row = 1;
    for (const stock::CutRow& cut : job.order.cuts.rows) {
      ++row;
      EXPECT_THAT(text, testing::HasSubstr(heading.figure(cut.finished_thickness) + " x " + heading.figure(cut.finished_width) + " x " + heading.figure(cut.finished_length)));
      EXPECT_EQ(cells.at("B" + std::to_string(row)).value, cut.quantity);
      EXPECT_NEAR(cells.at("J" + std::to_string(row)).value * unit, cut.finished_length, 0.002);
      EXPECT_NEAR(cells.at("F" + std::to_string(row)).value * unit, cut.rough_length, 0.002);
      feet += std::round(cut.board_feet * 100) / 100;
    }
    EXPECT_NEAR(reckoned(cells, "K" + std::to_string(row + 1)), feet, 1e-9);
    const auto boards = cells_of(*book, 2);
    long long sum = 0;
    for (const stock::BoardRow& board : job.order.cuts.boards) sum += board.amount.cents;
    EXPECT_EQ(std::llround(reckoned(boards, "E" + std::to_string(job.order.cuts.boards.size() + 2)) * 100), sum);
  }
}

// Variants stand between the catalogue and the order, each with its own sums, on the sheet and in the workbook.
TEST(Money, OfVariantsStandsBesideTheOrder) {
  const Painting painting;
  job::Job job = priced_job("harvest-table");
  Heading heading = heading_of(job);
  quote::Quote dearer = job.order.quote, cheaper = job.catalogue.quote;
  dearer.total.cents += 12345;
  cheaper.deposit.cents += 777;
  heading.beside = {{"table_height=790 mm", dearer}, {"square=70 mm; stock=walnut-12/4-rough", cheaper}};
  const auto pages = cost_pages(job, heading);
  for (const Page& page : pages) EXPECT_THAT(layout_faults(page, 6), testing::IsEmpty());
  const auto bytes = pdf(pages, {"Cost", "2026-03-02"});
  ASSERT_TRUE(bytes.ok());
  const std::string text = text_of_pdf(*bytes);
  EXPECT_THAT(cents_in(line_with(text, "total")), testing::ElementsAre(job.catalogue.quote.total.cents, dearer.total.cents, cheaper.total.cents, job.order.quote.total.cents));
  EXPECT_THAT(cents_in(line_with(text, "deposit")), testing::ElementsAre(job.catalogue.quote.deposit.cents, dearer.deposit.cents, cheaper.deposit.cents, job.order.quote.deposit.cents));
  EXPECT_THAT(text, testing::AllOf(testing::HasSubstr("variant 1: table_height=790 mm"), testing::HasSubstr("variant 2: square=70 mm")));
  const auto book = cost_workbook(job, heading);
  ASSERT_TRUE(book.ok());
  const auto cells = cells_of(*book, 1);
  const std::size_t rows = cost_rows(variants_of(job, heading)).size();
  const std::pair<const char*, const quote::Quote*> wanted[] = {{"D", &job.catalogue.quote}, {"E", &dearer}, {"F", &cheaper}, {"G", &job.order.quote}};
  for (const auto& [column, quote] : wanted) EXPECT_EQ(std::llround(reckoned(cells, column + std::to_string(rows + 2)) * 100), quote->cost.cents) << column;
}

TEST(Workbook, MakesTextThatLooksLikeAFormulaHarmless) {
  const Painting painting;
  job::Job job = priced_job("harvest-table");
  job.order.cuts.rows.front().piece = "=1+1";
  job.order.cuts.rows.front().note = "@SUM(A1)";
  const auto book = cut_list_workbook(job, heading_of(job));
  const auto cost = cost_workbook(job, heading_of(job));
  ASSERT_TRUE(book.ok() && cost.ok());
  const TemporaryFile file(*book, ".xlsx");
  const std::string words = output_of("unzip -p " + file.name() + " xl/sharedStrings.xml");
  EXPECT_THAT(words, testing::AllOf(testing::HasSubstr("<t>'=1+1</t>"), testing::HasSubstr("<t>'@SUM(A1)</t>")));
}

// A window that somebody else opened may run in the desktop's locale: its numbers came out as "28,7109375", and no program opened the workbook.
TEST(Workbook, WritesPointsWhereTheProcessWritesDecimalCommas) {
  const Painting painting;
  const job::Job job = priced_job("harvest-table");
  const auto plain = cut_list_workbook(job, heading_of(job));
  const std::filesystem::path locales = std::filesystem::temp_directory_path() / ("pommel-locales-" + std::to_string(getpid()));
  std::filesystem::create_directories(locales);
  ASSERT_TRUE(trust::make_locale(locales, "tr_TR"));
  setenv("LOCPATH", locales.c_str(), 1);
  const bool in_force = std::setlocale(LC_NUMERIC, "tr_TR.UTF-8") != nullptr;
  const std::string comma = std::localeconv()->decimal_point;
  const auto book = cut_list_workbook(job, heading_of(job));
  std::setlocale(LC_NUMERIC, "C");
  unsetenv("LOCPATH");
  std::filesystem::remove_all(locales);
  ASSERT_TRUE(in_force);
  ASSERT_EQ(comma, ",");
  ASSERT_TRUE(plain.ok() && book.ok());
  EXPECT_TRUE(*plain == *book);
}

class Papers : public testing::TestWithParam<const char*> {};

TEST_P(Papers, HaveNoTextOverAnotherAndKeepOnTheSheet) {
  const Painting painting;
  const job::Job job = priced_job(GetParam());
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    Heading heading = heading_of(job);
    heading.paper = paper;
    heading.bar_measures = paper == PaperSize::a4 ? 200 : 199.1;
    std::vector<std::pair<std::string, std::vector<Page>>> all = {{"quote", quote_pages(job, heading, "")}, {"cost", cost_pages(job, heading)},
                                                                  {"cut list", cut_list_pages(job, heading)}, {"labels", label_pages(job, heading)},
                                                                  {"cutting plan", plan_pages(job.order.cuts.plans, heading)}, {"straight pieces", rail_drawings(job, heading)}};
    for (const family::MadePiece& made : job.order.made.pieces) all.push_back({"profile", tiled(profile_template(made.part, heading), heading, "Profile")});
    for (const family::MadePiece& made : job.order.made.pieces) all.push_back({"stick", tiled(story_stick(made.part, "Story stick", heading), heading, "Story stick")});
    for (const Piece& piece : pieces_of(job))
      for (const Template& one : templates_of(piece, heading)) all.push_back({one.title, tiled(one.page, heading, one.title)});
    for (const auto& [name, pages] : all)
      for (std::size_t i = 0; i < pages.size(); ++i) EXPECT_THAT(layout_faults(pages[i], 6), testing::IsEmpty()) << name << ", page " << i + 1;
  }
}

TEST_P(Papers, AreTheSameBytesForTheSameJob) {
  const auto once = papers()->write(priced_job(GetParam())), again = papers()->write(priced_job(GetParam()));
  ASSERT_TRUE(once.ok() && again.ok());
  ASSERT_EQ(once->size(), again->size());
  for (std::size_t i = 0; i < once->size(); ++i) EXPECT_EQ((*once)[i].bytes, (*again)[i].bytes) << (*once)[i].name;
}

INSTANTIATE_TEST_SUITE_P(Orders, Papers, testing::Values("harvest-table", "cannonball-bed"), [](const auto& name) {
  return std::string(name.param) == "harvest-table" ? "table" : "bed";
});

std::string words_on(const std::vector<Page>& pages) {
  std::string out;
  for (const Page& page : pages)
    for (const Text& text : page.texts) out += text.text + "\n";
  return out;
}

// Every straight piece is on some sheet, with how many there are and the sizes that its tenon is marked out by.
TEST(RailDrawings, SayEveryRailItsCountAndItsTenon) {
  const Painting painting;
  for (const char* order : {"harvest-table", "cannonball-bed", "pair-of-lamps"}) {
    const job::Job job = stock_job(order);
    const Heading heading = heading_of(job);
    const std::string words = words_on(rail_drawings(job, heading));
    for (const frame::Rail& rail : job.order.made.set.rails) {
      EXPECT_THAT(words, testing::HasSubstr(rail.label)) << order;
      for (const double size : {rail.shoulder_length, rail.overall_length, rail.depth, rail.thickness}) EXPECT_THAT(words, testing::HasSubstr(heading.figure(size))) << rail.id;
      if (rail.tenon_length <= 0 || rail.quantity > 1) continue;
      EXPECT_THAT(words, testing::HasSubstr("tenons " + heading.length(rail.tenon_length) + " long, " + heading.length(rail.tenon_width) + " wide, " + heading.length(rail.tenon_thickness) + " thick"));
    }
  }
}

// A maker drills and cuts by these words: the places are those of the post's own joints.
TEST(RailDrawings, SayWhereBoltsAndTonguesAndHolesAre) {
  const Painting painting;
  const auto words = [](const job::Job& job) { return words_on(rail_drawings(job, heading_of(job))); };
  // bolts of the catalogued bed: half of their spread above and below the middle of a rail 150 mm deep
  const job::Job bed = stock_job("cannonball-bed");
  const frame::BedBolts& bolts = std::get<frame::Bed>(bed.order.made.frame).bolts;
  const Heading heading = heading_of(bed);
  const double middle = bed.order.made.set.rails.front().depth / 2;
  EXPECT_THAT(words(bed), testing::HasSubstr("2 bolts at each end, " + heading.figure(middle - bolts.spread / 2) + " and " + heading.length(middle + bolts.spread / 2) + " below the upper edge: drill " +
                                             heading.length(bolts.diameter)));
  EXPECT_THAT(words(bed), testing::HasSubstr("3 boards are glued edge to edge into one panel 330 mm wide"));
  // tongues: as much of the panel between two of them as beyond the outermost, twice halved (frame/bed.h)
  const job::Job tongued = stock_job("cannonball-bed", {{"headboard_joint", "mortises"}});
  const frame::Headboard& board = std::get<frame::Bed>(tongued.order.made.frame).headboard;
  const double first = (board.top - board.bottom) / board.tongues / 2;
  EXPECT_THAT(words(tongued), testing::HasSubstr(heading.figure(first - board.tongue_width / 2) + " to " + heading.length(first + board.tongue_width / 2)));
  const job::Job lamp = stock_job("pair-of-lamps");
  const auto& lamps = std::get<frame::Lamp>(lamp.order.made.frame);
  EXPECT_THAT(words(lamp), testing::HasSubstr("socket for the column's foot: " + heading_of(lamp).length(lamps.foot_tenon_diameter) + " wide, " + heading_of(lamp).length(lamps.foot_tenon) + " deep"));
  EXPECT_THAT(words(lamp), testing::HasSubstr("way for the cord: " + heading_of(lamp).length(lamps.bore) + " wide, right through"));
}

// Where an order needs none of a fitting, it is not on the list.
TEST(CutList, LeavesOutFittingsThatAreNotNeeded) {
  const Painting painting;
  const job::Job others = stock_job("villa-stair"), here = stock_job("villa-stair", {{"handrail", "made here"}});
  EXPECT_THAT(words_on(cut_list_pages(others, heading_of(others))), testing::Not(testing::HasSubstr("rail bolts")));
  EXPECT_THAT(words_on(cut_list_pages(here, heading_of(here))), testing::HasSubstr("rail bolts"));
}

// Every board of the plan by its number, each piece's area drawn in it to one scale.
TEST(PlanPages, DrawEveryBoardWithItsPieces) {
  const Painting painting;
  const job::Job job = stock_job("cannonball-bed");
  const auto pages = plan_pages(job.order.cuts.plans, heading_of(job));
  const std::string words = words_on(pages);
  std::size_t white = 0, wanted = 0;
  for (const Page& page : pages)
    for (const Path& path : page.paths) white += path.closed && path.fill == Fill::paper ? 1 : 0;
  for (const stock::CuttingPlan& plan : job.order.cuts.plans) {
    EXPECT_THAT(words, testing::HasSubstr(plan.stock_label));
    for (std::size_t i = 0; i < plan.layouts.size(); ++i)
      if (!stock::alike_from(plan, i).empty()) wanted += plan.layouts[i].pieces.size();
    for (const stock::PlanPiece& piece : plan.pieces) EXPECT_THAT(words, testing::HasSubstr(piece.label));
  }
  EXPECT_EQ(white, wanted);
}

// The counterpart stands off the axis by the half profile, point for point.
TEST(ProfileTemplate, FollowsTheProfile) {
  const Painting painting;
  const job::Job job = stock_job("harvest-table");
  const shape::Part& part = job.order.made.pieces.front().part;
  const Page page = profile_template(part, heading_of(job));
  EXPECT_EQ(page.height, part.length);
  const Path& path = page.paths.front();
  const double axis = page.paths[1].points.front().x;
  int looked = 0;
  for (std::size_t i = 1; i + 1 < path.points.size(); ++i) {
    const Vertex& v = path.points[i];
    const double below = shape::radius_at(part, v.y, 0, shape::Side::before), above = shape::radius_at(part, v.y, 0, shape::Side::after);
    EXPECT_LT(std::min(std::fabs(v.x - axis - below), std::fabs(v.x - axis - above)), 0.011) << v.y;
    ++looked;
  }
  EXPECT_GT(looked, 20);
}

TEST(StoryStick, HasEveryMarkWhereItIs) {
  const Painting painting;
  const job::Job job = stock_job("harvest-table");
  const Heading heading = heading_of(job);
  const shape::Part& part = job.order.made.pieces.front().part;
  const Page page = story_stick(part, "Stick", heading);
  EXPECT_EQ(page.height, part.length);
  for (const shape::ElementMark& element : part.elements) {
    const auto line = std::find_if(page.paths.begin(), page.paths.end(), [&](const Path& path) { return !path.closed && path.points.front() == Vertex{0, element.x1, 0}; });
    EXPECT_NE(line, page.paths.end()) << element.label;
    EXPECT_TRUE(std::any_of(page.texts.begin(), page.texts.end(), [&](const Text& text) { return text.text == heading.figure(element.x1); })) << element.x1;
  }
}

// A printer that makes 199 of 200 is corrected by drawing 200/199 as long, the bar, too.
TEST(Tiles, AreStretchedByWhatTheBarMeasured) {
  const Painting painting;
  Heading heading;
  heading.bar_measures = 199;
  Page page;
  page.width = 50;
  page.height = 150;
  add_line(page, 10, 20, 10, 120, Pen::edge);
  const auto tiles = tiled(page, heading, "test");
  ASSERT_EQ(tiles.size(), 1u);
  const auto long_as = [&](double length) {
    return std::any_of(tiles[0].paths.begin(), tiles[0].paths.end(), [&](const Path& path) {
      return path.points.size() == 2 && std::fabs(std::fabs(path.points[1].y - path.points[0].y) - length) < 1e-9;
    });
  };
  EXPECT_TRUE(long_as(100 * 200.0 / 199));
  EXPECT_TRUE(long_as(200 * 200.0 / 199));
}

}  // namespace
}  // namespace pommel::paper
