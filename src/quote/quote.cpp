#include "quote/quote.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"

namespace pommel::quote {
namespace {

double units(Money amount) { return static_cast<double>(amount.cents) / 100; }

std::string percent(double fraction) { return format_number(100 * fraction, 2) + " %"; }

// Builds the lines of one quote; keeps the shop's rates at hand so that each line reads as its own sentence.
class Reckoning {
 public:
  explicit Reckoning(const shop::Rates& rates) : rates_(rates) {}

  void add(std::string group, std::string text, std::string basis, double amount) {
    if (amount == 0) return;
    lines_.push_back({std::move(group), std::move(text), std::move(basis), round_to_cents(amount)});
  }

  // `count` things of `minutes` each at the shop hour; one without a count is a plain time.
  void labour(std::string text, double count, double minutes) {
    add("labour", std::move(text),
        format_number(count, 3) + " x " + format_number(minutes, 2) + " min at " + format_money(rates_.shop_hour) + " an hour",
        count * minutes / 60 * units(rates_.shop_hour));
  }

  Money sum(const std::vector<std::string>& groups) const {
    Money total;
    for (const Line& line : lines_)
      if (std::find(groups.begin(), groups.end(), line.group) != groups.end()) total += line.amount;
    return total;
  }

  Money sum() const {
    Money total;
    for (const Line& line : lines_) total += line.amount;
    return total;
  }

  std::vector<Line> take() { return std::move(lines_); }

 private:
  const shop::Rates& rates_;
  std::vector<Line> lines_;
};

std::vector<Diagnostic> objections(const Work& work, const shop::Rates& rates) {
  std::vector<Diagnostic> found;
  const auto object = [&](std::string id, std::string message, std::string remedy) {
    const Failure failure = fail(std::move(id), std::move(message), std::move(remedy));
    found.push_back(failure.reasons.front());
  };
  if (rates.shop_hour_includes_overhead && rates.overhead != 0)
    object("quote.overhead-twice", "the shop hour includes overhead and an overhead of " + percent(rates.overhead) + " is charged too",
           "say shop_hour_includes_overhead: no, or set overhead to 0");
  if (rates.profit == shop::Rates::Profit::margin && rates.profit_rate >= 1)
    object("quote.margin", "a margin of " + percent(rates.profit_rate) + " of the price leaves nothing for the cost",
           "a margin is a share of the price, below 100 %; a share of the cost is a markup");
  const std::pair<const char*, double> figures[] = {
      {"machine minutes", work.machine_minutes_each}, {"finished area", work.skin_m2},  {"other hours", work.other_hours},
      {"set-up minutes", rates.setup_minutes},        {"load minutes", rates.load_minutes},
      {"change minutes", rates.change_minutes},       {"changes of cutter", work.cutter_changes},
      {"mortise minutes", rates.mortise_minutes},     {"milling minutes", rates.milling_minutes},
      {"tenon minutes", rates.tenon_minutes},         {"chisel minutes", rates.chisel_minutes},   {"bore minutes", rates.bore_minutes},
      {"joint minutes", work.joint_minutes},          {"milled mortises", work.milled_mortises},  {"chiselled mortises", work.chiselled},
      {"bores", work.bores},
      {"hand minutes", rates.hand_minutes_each},      {"sanding minutes", rates.sanding_minutes_per_m2},
      {"assembly minutes", rates.assembly_minutes_per_joint}, {"overhead", rates.overhead}, {"profit rate", rates.profit_rate},
      {"tax", rates.tax}, {"deposit", rates.deposit}, {"waste", rates.waste}, {"set-ups", work.set_ups}, {"mortises", work.mortises},
      {"shop hour", units(rates.shop_hour)}, {"machine hour", units(rates.machine_hour)}, {"minimum charge", units(rates.minimum_charge)}};
  for (const auto& [what, figure] : figures)
    if (!std::isfinite(figure) || figure < 0)
      object("quote.negative", std::string("the figure for ") + what + " is " + format_number(figure, 4), "figures of a quote are zero or more");
  return found;
}

void add_material(Reckoning& reckoning, const Work& work) {
  for (const Material& board : work.boards)
    reckoning.add("material", board.label,
                  format_number(board.quantity, 2) + " BF at " + format_money(board.price) + (board.basis.empty() ? "" : " (" + board.basis + ")"),
                  board.quantity * units(board.price));
  for (const Hardware& item : work.hardware)
    reckoning.add("material", item.label, std::to_string(item.count) + " at " + format_money(item.each), item.count * units(item.each));
}

void add_labour(Reckoning& reckoning, const Work& work, const shop::Rates& rates) {
  reckoning.labour("set-ups, shared by all pieces", work.set_ups, rates.setup_minutes);
  reckoning.labour("chucking and unloading", work.turned_pieces, rates.load_minutes);
  reckoning.labour("changes of cutter", work.cutter_changes, rates.change_minutes);
  reckoning.labour("milling blanks square", work.blanks, rates.milling_minutes);
  reckoning.labour("mortises", work.mortises, rates.mortise_minutes);
  reckoning.labour("tenons of milled mortises", work.milled_mortises, rates.tenon_minutes);
  reckoning.labour("corners of milled mortises squared", work.chiselled, rates.chisel_minutes);
  reckoning.labour("bores", work.bores, rates.bore_minutes);
  reckoning.labour("hand work the cutter cannot reach", static_cast<double>(work.quirks_each) * work.turned_pieces, rates.hand_minutes_each);
  reckoning.labour("sanding, m2", work.skin_m2, rates.sanding_minutes_per_m2);
  reckoning.labour("assembly", work.joints, rates.assembly_minutes_per_joint);
  reckoning.labour("other work, hours", work.other_hours, 60);
}

void add_profit(Quote& quote, const shop::Rates& rates) {
  if (rates.profit == shop::Rates::Profit::markup) {
    quote.profit = round_to_cents(units(quote.cost) * rates.profit_rate);
    quote.profit_words = "markup of " + percent(rates.profit_rate) + " on the cost";
  } else {
    quote.profit = round_to_cents(units(quote.cost) * rates.profit_rate / (1 - rates.profit_rate));
    quote.profit_words = "margin of " + percent(rates.profit_rate) + " of the price";
  }
  quote.price = quote.cost + quote.profit;
  if (quote.price < rates.minimum_charge) {
    quote.price = rates.minimum_charge;
    quote.minimum_applied = true;
  }
}

}  // namespace

Result<Quote> quote(const Work& work, const shop::Rates& rates) {
  if (auto found = objections(work, rates); !found.empty()) return Failure(std::move(found));

  Reckoning reckoning(rates);
  add_material(reckoning, work);
  add_labour(reckoning, work, rates);
  reckoning.add("machine", "machine time",
                std::to_string(work.turned_pieces) + " x " + format_number(work.machine_minutes_each, 2) + " min at " +
                    format_money(rates.machine_hour) + " an hour",
                work.turned_pieces * work.machine_minutes_each / 60 * units(rates.machine_hour));
  reckoning.add("machine", "machine time, joints",
                format_number(work.joint_minutes, 2) + " min for all pieces at " + format_money(rates.machine_hour) + " an hour",
                work.joint_minutes / 60 * units(rates.machine_hour));
  reckoning.add("finish", "finish", format_number(work.skin_m2, 3) + " m2 at " + format_money(rates.finish_per_m2),
                work.skin_m2 * units(rates.finish_per_m2));
  if (!rates.shop_hour_includes_overhead)
    reckoning.add("overhead", "overhead", percent(rates.overhead) + " of labour and machine time",
                  units(reckoning.sum({"labour", "machine"})) * rates.overhead);

  Quote out;
  out.currency = rates.currency;
  out.confirmed = rates.confirmed;
  out.cost = reckoning.sum();
  out.lines = reckoning.take();
  add_profit(out, rates);
  out.tax = round_to_cents(units(out.price) * rates.tax);
  out.tax_words = percent(rates.tax) + " of the price";
  out.total = out.price + out.tax;
  out.deposit = round_to_cents(units(out.total) * rates.deposit);
  out.deposit_words = percent(rates.deposit) + " of the total";
  return out;
}

}  // namespace pommel::quote
