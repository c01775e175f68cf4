#include "paper/money.h"

#include <algorithm>

#include "base/number.h"
#include "base/text.h"
#include "paper/flow.h"
#include "stock/measure.h"

namespace pommel::paper {
namespace {

constexpr double kMargin = 18;

Flow document(const Heading& heading, bool lying) {
  const Page blank = sheet(heading.paper, lying);
  return {blank, {kMargin, kMargin, blank.width - kMargin, blank.height - kMargin}};
}

std::string order_words(const Heading& heading) { return heading.number.empty() ? heading.title : heading.title + ", order " + heading.number; }

void add_example(Flow& flow, bool confirmed, const std::string& what) {
  if (confirmed) return;
  flow.down(3);
  flow.paragraph("EXAMPLE " + what + ": put in your own before you send this to anyone.", 3.4, Face::bold);
}

std::vector<Page> finished(Flow& flow, const Heading& heading, const std::string& what) {
  std::vector<Page> pages = flow.take();
  number_pages(pages, what + ", " + order_words(heading) + (heading.date.empty() ? "" : ", " + heading.date));
  return pages;
}

}  // namespace

std::vector<Variant> variants_of(const job::Job& job, const Heading& heading) {
  std::vector<Variant> out;
  const bool ordered = job.sheet.column_count() > 1;
  if (ordered) out.push_back({"catalogue", &job.catalogue.quote});
  for (std::size_t i = 0; i < heading.beside.size(); ++i) out.push_back({"variant " + std::to_string(i + 1), &heading.beside[i].quote});
  out.push_back({ordered ? "this order" : "this design", &job.order.quote});
  return out;
}

std::vector<CostRow> cost_rows(const std::vector<Variant>& variants) {
  std::vector<CostRow> rows;
  for (std::size_t k = variants.size(); k-- > 0;)
    for (const quote::Line& line : variants[k].quote->lines) {
      // of two lines with the same words in one quote the second is another row
      const auto row = std::find_if(rows.begin(), rows.end(), [&](const CostRow& r) { return r.group == line.group && r.text == line.text && !r.amounts[k]; });
      if (row != rows.end()) {
        row->amounts[k] = line.amount;
        continue;
      }
      CostRow fresh{line.group, line.text, line.basis, std::vector<std::optional<Money>>(variants.size())};
      fresh.amounts[k] = line.amount;
      // beside those of its group
      auto place = rows.end();
      for (auto at = rows.begin(); at != rows.end(); ++at)
        if (at->group == line.group) place = at + 1;
      rows.insert(place, std::move(fresh));
    }
  return rows;
}

std::vector<Page> quote_pages(const job::Job& job, const Heading& heading, const std::string& standing_png) {
  const quote::Quote& quote = job.order.quote;
  const shop::Terms& terms = job.loaded.terms;
  Flow flow = document(heading, false);
  flow.title("Quote");
  flow.paragraph(heading.title, 4.2, Face::bold);
  std::vector<std::string> facts;
  if (!heading.client.empty()) facts.push_back("for " + heading.client);
  if (!heading.number.empty()) facts.push_back("order " + heading.number);
  if (!heading.date.empty()) facts.push_back(heading.date);
  flow.paragraph(joined(facts, ", "));
  add_example(flow, quote.confirmed, "RATES");
  if (!standing_png.empty()) {
    flow.down(2);
    flow.picture(standing_png, flow.area().width());
  }
  flow.heading("What is included");
  flow.paragraph(job::what_is_included(job));
  flow.heading("Price");
  const double words = flow.area().width() - 60;
  const auto money = [&](Money amount) { return format_money(amount, quote.currency); };
  flow.table({{"", words}, {quote.currency, 60, Align::right}},
             {{{"price", money(quote.price)}}, {{"tax, " + quote.tax_words, money(quote.tax)}}, {{"total", money(quote.total)}, true, true}, {{"deposit, " + quote.deposit_words, money(quote.deposit)}}}, 3.6);
  const std::string until = terms.valid_days > 0 ? shop::days_after(heading.date, terms.valid_days) : "";
  if (!until.empty()) flow.paragraph("This quote holds until " + until + ".", 3.4);
  if (!terms.lines.empty()) {
    flow.heading("Terms");
    for (const std::string& line : terms.lines) flow.bullet(line);
    add_example(flow, terms.confirmed, "TERMS");
  }
  return finished(flow, heading, "Quote");
}

std::vector<Page> cost_pages(const job::Job& job, const Heading& heading) {
  const std::vector<Variant> variants = variants_of(job, heading);
  const quote::Quote& last = *variants.back().quote;
  Flow flow = document(heading, variants.size() > 4);
  flow.title("Cost sheet, for the shop alone");
  flow.paragraph(order_words(heading) + ", design '" + heading.design + "', revision " + std::to_string(heading.revision), 3.6);
  for (std::size_t i = 0; i < heading.beside.size(); ++i) flow.paragraph("variant " + std::to_string(i + 1) + ": " + heading.beside[i].says, 3.2);
  add_example(flow, last.confirmed, "RATES");
  const double money = 27, words = flow.area().width() - money * static_cast<double>(variants.size());
  std::vector<Column> columns = {{"", words}};
  for (const Variant& variant : variants) columns.push_back({variant.name + ", " + last.currency, money, Align::right});
  std::vector<TableRow> rows;
  std::string group;
  for (const CostRow& row : cost_rows(variants)) {
    if (row.group != group) rows.push_back({{row.group}, true, !group.empty()});
    if (row.group != group) rows.back().cells.resize(columns.size());
    group = row.group;
    rows.push_back({{row.text + ": " + row.basis}});
    for (const auto& amount : row.amounts) rows.back().cells.push_back(amount ? format_money(*amount) : "-");
  }
  const auto sum = [&](const std::string& what, Money quote::Quote::*member, bool bold, bool rule) {
    rows.push_back({{what}, bold, rule});
    for (const Variant& variant : variants) rows.back().cells.push_back(format_money(variant.quote->*member));
  };
  sum("cost", &quote::Quote::cost, true, true);
  sum(last.profit_words, &quote::Quote::profit, false, false);
  sum(last.minimum_applied ? "price (the shop's minimum charge)" : "price", &quote::Quote::price, true, false);
  sum("tax, " + last.tax_words, &quote::Quote::tax, false, false);
  sum("total", &quote::Quote::total, true, true);
  sum("deposit, " + last.deposit_words, &quote::Quote::deposit, false, false);
  flow.down(3);
  flow.table(columns, rows);
  flow.down(2);
  flow.paragraph("What a line was reckoned from is said of " + variants.back().name + ". Each line is rounded once to the cent; sums are sums of rounded lines. Boards by " +
                     stock::rule_words(job.loaded.shop.rates.board_rule) + ".", 2.8, Face::plain, 0, Ink::grey);
  return finished(flow, heading, "Cost sheet");
}

std::string glue_words(const stock::TurnedBlanks& blanks, const Heading& heading) {
  if (blanks.plan.laminations < 2) return "";
  std::vector<std::string> lines;
  for (const double line : blanks.plan.glue_lines) lines.push_back(heading.length(line));
  return std::to_string(blanks.plan.laminations) + " pieces " + heading.length(blanks.plan.lamination_thickness) + " thick, face to face; " +
         (blanks.plan.laminations == 2 ? "glue line through the middle" : "glue lines " + listed(lines) + " from the middle");
}

std::vector<Page> cut_list_pages(const job::Job& job, const Heading& heading) {
  Flow flow = document(heading, true);
  flow.title("Cut list");
  flow.paragraph(order_words(heading) + ", sizes in " + heading.unit() + ": thickness x width x length", 3.4);
  const auto size = [&](double t, double w, double l) { return heading.figure(t) + " x " + heading.figure(w) + " x " + heading.figure(l); };
  flow.heading("Pieces");
  const double rest = flow.area().width() - (12 + 34 + 30 + 43 + 18 + 43 + 20);
  std::vector<TableRow> rows;
  double feet = 0;
  for (const stock::CutRow& row : job.order.cuts.rows) {
    rows.push_back({{std::to_string(row.quantity), row.piece, row.stock_label, size(row.rough_thickness, row.rough_width, row.rough_length), std::to_string(row.laminations),
                     size(row.finished_thickness, row.finished_width, row.finished_length), format_fixed(row.board_feet, 2), row.note}});
    feet += row.board_feet;
  }
  flow.table({{"count", 12, Align::right}, {"piece", 34}, {"stock", 30}, {"rough", 43}, {"glued of", 18, Align::right}, {"finished", 43}, {"board feet", 20, Align::right}, {"", rest}}, rows, 2.8);
  flow.paragraph(format_fixed(feet, 2) + " board feet net", 3.0);
  for (const stock::TurnedBlanks& blanks : job.order.blanks)
    if (const std::string words = glue_words(blanks, heading); !words.empty()) flow.bullet(blanks.piece + ": " + words);
  if (!job.order.made.hardware.empty()) {
    flow.heading("Fittings");
    for (const family::HardwareItem& item : job.order.made.hardware) flow.bullet(std::to_string(item.count) + " " + item.item);
  }
  flow.heading("Boards");
  std::vector<TableRow> boards;
  for (const stock::BoardRow& board : job.order.cuts.boards)
    boards.push_back({{board.stock_label, std::to_string(board.boards), format_fixed(board.net_board_feet, 2), format_fixed(board.bought_board_feet, 2), board.basis}});
  flow.table({{"stock", 60}, {"boards", 20, Align::right}, {"net BF", 24, Align::right}, {"bought BF", 24, Align::right}, {"how reckoned", flow.area().width() - 128}}, boards, 2.8);
  return finished(flow, heading, "Cut list");
}

}  // namespace pommel::paper
