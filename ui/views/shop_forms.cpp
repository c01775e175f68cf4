#include "ui/views/shop_forms.h"

#include <QPainter>
#include <algorithm>
#include <array>
#include <map>

#include "paper/canvas.h"
#include "ui/views/in_words.h"
#include "ui/views/tones.h"

namespace pommel::ui {
namespace {

using paper::tone::faint;
using paper::tone::ink;

// A dimension of the machine's drawing, in its own units (0 to 100 along, 0 to 40 down).
struct Sized {
  const char* part;
  double x0, y0, x1, y1;
};

constexpr double kAxis = 22, kBed = 37;  // heights of the rotary axis and the bed in the drawing
constexpr std::array<Sized, 13> kSizes = {{{"between centres", 14, 31, 88, 31},
                                           {"swing", 60, 2 * kAxis - kBed, 60, kBed},
                                           {"jaws", 9, kAxis - 9, 9, kAxis},
                                           {"chuck grip", 12, 27.5, 20, 27.5},
                                           {"centre grip", 80, 27.5, 86, 27.5},
                                           {"tailstock top", 93, kAxis - 6, 93, kAxis},
                                           {"keep out", 20, 15.5, 26, 15.5},
                                           {"travel x", 4, 3, 98, 3},
                                           {"travel z", 46, 5, 46, kAxis},
                                           {"travel y", 46, 12, 51, 9},
                                           {"rapid", 30, 8, 40, 8},
                                           {"blank", 28, 18.5, 78, 18.5},
                                           {"setting", 96, 12, 96, kAxis}}};

// The machine from the side: chuck, piece, tailstock, the cutter over it. The same for all: what differs is in the figures.
class MachineDrawing : public FormDrawing {
 public:
  MachineDrawing() {
    setMinimumHeight(200);
    setAccessibleName(QObject::tr("the machine from the side"));
  }

 protected:
  void paintEvent(QPaintEvent*) override {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), paper::tone::paper);
    const double scale = std::min(width() / 104.0, height() / 42.0);
    painter.translate((width() - 100 * scale) / 2, 1.5 * scale);
    paint_machine(painter, scale);
    for (const Sized& one : kSizes)
      if (part() != QLatin1String(one.part)) paint_size(painter, scale, one, QPen(faint, 1), {});
    for (const Sized& one : kSizes)
      if (part() == QLatin1String(one.part)) paint_size(painter, scale, one, QPen(tones().mark, 2.4), value());
  }

 private:
  static void paint_machine(QPainter& painter, double s) {
    const auto box = [&](double x, double y, double w, double h) { painter.drawRect(QRectF(s * x, s * y, s * w, s * h)); };
    painter.setPen(QPen(ink, 1.2));
    painter.setBrush(QColor(0xe6, 0xe2, 0xda));
    box(0, kBed, 100, 2.5);
    box(2, kAxis - 9, 10, 18);                                      // headstock
    box(88, kAxis - 6, 10, kBed - kAxis + 6);                       // tailstock
    for (const double y : {kAxis - 5.0, kAxis + 2}) box(12, y, 3, 3);  // jaws
    painter.setBrush(paper::tone::wood_lit);
    box(14, kAxis - 3, 70, 6);
    painter.setBrush(QColor(0xe6, 0xe2, 0xda));
    painter.drawPolygon(QPolygonF({QPointF(s * 88, s * (kAxis - 1)), QPointF(s * 84, s * kAxis), QPointF(s * 88, s * (kAxis + 1))}));
    box(43, 5, 6, 6);                                               // spindle
    box(45, 11, 2, 5);
    painter.setBrush(Qt::white);
    painter.drawRoundedRect(QRectF(s * 45.2, s * 15, s * 1.6, s * 3.6), s * 0.8, s * 0.8);
    painter.setPen(QPen(faint, 1, Qt::DashDotLine));
    painter.drawLine(QPointF(0, s * kAxis), QPointF(s * 100, s * kAxis));
  }

  static void paint_size(QPainter& painter, double s, const Sized& one, const QPen& pen, const QString& value) {
    const QPointF a(s * one.x0, s * one.y0), b(s * one.x1, s * one.y1);
    painter.setPen(pen);
    painter.drawLine(a, b);
    const bool level = one.y0 == one.y1;
    for (const QPointF& end : {a, b}) painter.drawLine(end - (level ? QPointF(0, 4) : QPointF(4, 0)), end + (level ? QPointF(0, 4) : QPointF(4, 0)));
    if (!value.isEmpty()) paper::write(painter, (a.x() + b.x()) / 2 + (level ? 0 : 6), (a.y() + b.y()) / 2 - 6, value, paper::font(15, true), tones().mark, level ? 0 : -1);
  }
};

// What the order's price is made of; the rate that is typed shows what it goes into.
class RatesDrawing : public FormDrawing {
 public:
  explicit RatesDrawing(const quote::Quote* quote) {
    setMinimumHeight(150);
    setAccessibleName(QObject::tr("what the price is made of"));
    if (!quote) return;
    for (const quote::Line& line : quote->lines) add(text(line.group), line.amount.cents / 100.0);
    add(QStringLiteral("profit"), quote->profit.cents / 100.0);
    add(QStringLiteral("tax"), quote->tax.cents / 100.0);
    currency_ = text(quote->currency);
  }

 protected:
  void paintEvent(QPaintEvent*) override {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), paper::tone::paper);
    if (parts_.empty()) return paper::write(painter, 12, 24, QObject::tr("the price is not worked out yet"), paper::font(13), faint);
    double most = 1;
    for (const auto& [name, amount] : parts_) most = std::max(most, amount);
    const double row = height() / (parts_.size() + 0.5), left = 130, room = width() - left - 150;
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      const bool shown = part() == parts_[i].first;
      const double y = row * (static_cast<double>(i) + 0.3), wide = std::max(1.0, room * parts_[i].second / most);
      painter.setPen(QPen(shown ? tones().mark : ink, shown ? 2.4 : 1));
      painter.setBrush(shown ? QBrush(tones().mark, Qt::BDiagPattern) : QBrush(paper::tone::wood_lit));
      painter.drawRect(QRectF(left, y, wide, 0.7 * row));
      const QFont font = paper::font(std::min(14.0, 0.8 * row), shown);
      paper::write(painter, left - 8, y + 0.55 * row, words_of(parts_[i].first), font, ink, 1);
      paper::write(painter, left + wide + 8, y + 0.55 * row, QStringLiteral("%1 %2").arg(parts_[i].second, 0, 'f', 2).arg(currency_), font, ink);
    }
  }

 private:
  void add(const QString& name, double amount) {
    const auto there = std::find_if(parts_.begin(), parts_.end(), [&](const auto& one) { return one.first == name; });
    if (there != parts_.end()) there->second += amount;
    else parts_.emplace_back(name, amount);
  }
  static QString words_of(const QString& group) {
    static const std::map<QString, QString> words = {{"material", QObject::tr("wood")}, {"labour", QObject::tr("hand work")}, {"machine", QObject::tr("machine time")}, {"finish", QObject::tr("finish")},
                                                     {"overhead", QObject::tr("overhead")}, {"profit", QObject::tr("profit")}, {"tax", QObject::tr("tax")}};
    const auto found = words.find(group);
    return found == words.end() ? group : found->second;
  }

  std::vector<std::pair<QString, double>> parts_;
  QString currency_;
};

using Choices = std::vector<std::pair<QString, QString>>;

Choices yes_or_no() { return {{QStringLiteral("yes"), QObject::tr("yes")}, {QStringLiteral("no"), QObject::tr("no")}}; }

Choices letters(const char* all) {
  Choices out;
  for (const QChar letter : QString::fromLatin1(all)) out.emplace_back(letter, letter);
  return out;
}

// The fields of one machine, by groups.
class MachineFields {
 public:
  MachineFields(const std::string& id, const shop::Machine& machine) : id_(id), machine_(machine) {}

  std::vector<FormGroup> groups() const { return {holds(), travel(), fast(), blank(), setting(), control(), words(), counting(), ways(), programs(), called()}; }
  job::ShopKeys at(std::initializer_list<const char*> keys) const {
    job::ShopKeys out{"machines", id_};
    out.insert(out.end(), keys.begin(), keys.end());
    return out;
  }

 private:
  FormGroup holds() const {
    return {QObject::tr("What it holds"),
            {{QObject::tr("between centres"), at({"between_centres"}), "between centres"},
             {QObject::tr("swing (diameter)"), at({"swing"}), "swing"},
             {QObject::tr("jaws reach from the axis"), at({"jaw_swing"}), "jaws"},
             {QObject::tr("chuck grips"), at({"chuck_grip"}), "chuck grip"},
             {QObject::tr("centre grips"), at({"centre_grip"}), "centre grip"},
             {QObject::tr("tailstock above the axis"), at({"tailstock_top"}), "tailstock top"},
             {QObject::tr("keep clear of both"), at({"keep_out"}), "keep out"}}};
  }

  // A machine may have no sideways axis, and be given one.
  FormGroup travel() const {
    const QString none = QObject::tr("no such axis");
    const auto from = [](const char* axis) { return QObject::tr("%1 from").arg(QLatin1String(axis)); };
    const auto to = [](const char* axis) { return QObject::tr("%1 to").arg(QLatin1String(axis)); };
    return {QObject::tr("How far the axes go"),
            {{from("X"), at({"travel", "x", "0"}), "travel x"},
             {to("X"), at({"travel", "x", "1"}), "travel x"},
             {from("Y"), at({"travel", "y", "0"}), "travel y", none},
             {to("Y"), at({"travel", "y", "1"}), "travel y", none},
             {from("Z"), at({"travel", "z", "0"}), "travel z"},
             {to("Z"), at({"travel", "z", "1"}), "travel z"}}};
  }

  FormGroup fast() const {
    const QString none = QObject::tr("no such axis");
    return {QObject::tr("How fast"),
            {{QObject::tr("rapid X a minute"), at({"rapid", "x"}), "rapid"},
             {QObject::tr("rapid Y a minute"), at({"rapid", "y"}), "rapid", none},
             {QObject::tr("rapid Z a minute"), at({"rapid", "z"}), "rapid"},
             {QObject::tr("rotary turns a minute"), at({"rapid", "turns"}), "rapid"},
             {QObject::tr("greatest feed a minute"), at({"feed_max"}), "rapid"},
             {QObject::tr("greatest spindle speed"), at({"max_rpm"}), "rapid"},
             {QObject::tr("lines a second"), at({"blocks_per_second"}), "rapid", QObject::tr("no limit")},
             {QObject::tr("X gains a second, each second"), at({"acceleration", "x"}), "rapid"},
             {QObject::tr("Y gains"), at({"acceleration", "y"}), "rapid", none},
             {QObject::tr("Z gains"), at({"acceleration", "z"}), "rapid"},
             {QObject::tr("the rotary gains, in turns"), at({"acceleration", "turns"}), "rapid"}}};
  }

  FormGroup blank() const {
    return {QObject::tr("How the blank may lie"),
            {{QObject::tr("off centre by"), at({"blank_may_be", "off_centre"}), "blank"},
             {QObject::tr("bowed by"), at({"blank_may_be", "bow"}), "blank"},
             {QObject::tr("oversize by"), at({"blank_may_be", "oversize"}), "blank"}}};
  }

  FormGroup setting() const {
    return {QObject::tr("Where the height is set"),
            {{QObject::tr("cutters touch"), at({"setting", "touch"}), "setting", QObject::tr("not said")},
             {QObject::tr("its height over the axis"), at({"setting", "height"}), "setting", QObject::tr("not said")},
             {QObject::tr("gauge between"), at({"setting", "gauge"}), "setting", QObject::tr("none")}}};
  }

  FormGroup control() const {
    const Choices units = {{"mm", QObject::tr("millimetres")}, {"inches", QObject::tr("inches")}}, files = {{"one", QObject::tr("one")}, {"one a cutter", QObject::tr("one a cutter")}};
    return {QObject::tr("What the control takes"),
            {{QObject::tr("programs are written in"), at({"units"}), {}, units[usual_.inches ? 1 : 0].second, units},
             {QObject::tr("decimals of a length"), at({"decimals", "linear"}), {}, QString::number(usual_.x_decimals)},
             {QObject::tr("decimals of the rotary"), at({"decimals", "rotary"}), {}, QString::number(usual_.rotary_decimals)},
             {QObject::tr("decimals of a feed"), at({"decimals", "feed"}), {}, QString::number(usual_.feed_decimals)},
             {QObject::tr("always a decimal point"), at({"always_point"}), {}, yes_or_no()[usual_.always_point ? 0 : 1].second, yes_or_no()},
             {QObject::tr("largest file in MB"), at({"largest_file_mb"}), {}, QObject::tr("no limit")},
             {QObject::tr("program files"), at({"files"}), {}, files[usual_.file_a_cutter ? 1 : 0].second, files}}};
  }

  // The rotary's letter is one of an angle or, where it hangs on a linear drive, that drive's.
  FormGroup words() const {
    const bool degrees = machine_.rotary == shop::Machine::Rotary::degrees;
    return {QObject::tr("Letters of the axes"),
            {{QObject::tr("along the piece"), at({"words", "x"}), "travel x", text(usual_.x_word), letters("XYZ")},
             {QObject::tr("sideways"), at({"words", "y"}), "travel y", QObject::tr("no such axis"), letters("XYZ")},
             {QObject::tr("in height"), at({"words", "z"}), "travel z", text(usual_.z_word), letters("XYZ")},
             {QObject::tr("the rotary"), at({"words", "rotary"}), {}, degrees ? text(usual_.rotary_word) : QStringLiteral("Y"), letters("ABCXYZ")}}};
  }

  FormGroup counting() const {
    const Choices counts = {{"unbounded", QObject::tr("on and on")}, {"limited", QObject::tr("up to a limit")}, {"modulo 360", QObject::tr("anew from 360 degrees")}};
    return {QObject::tr("How the rotary counts"),
            {{QObject::tr("its word is in"), at({"rotary"}), {}, {}, {{"degrees", QObject::tr("degrees")}, {"unrolled", QObject::tr("millimetres on a surface")}}},
             {QObject::tr("diameter of that surface"), at({"unrolled_diameter"}), {}, QObject::tr("none in degrees")},
             {QObject::tr("it counts"), at({"counting"}), {}, counts[machine_.rotary_limit_turns > 0 ? 1 : 0].second, counts},
             {QObject::tr("turns to the limit"), at({"rotary_limit_turns"}), {}, QObject::tr("no limit")},
             {QObject::tr("lines that begin the count anew"), at({"reset"}), {}, QObject::tr("none"), {}, true},
             {QObject::tr("lines that hold it fast"), at({"lock"}), {}, QObject::tr("none"), {}, true},
             {QObject::tr("lines that free it"), at({"unlock"}), {}, QObject::tr("none"), {}, true}}};
  }

  FormGroup ways() const {
    return {QObject::tr("Which way it runs"),
            {{QObject::tr("as the wood turns under the cutter, the rotary's word"), at({"rotary_word"}), {}, {}, {{"grows", QObject::tr("grows")}, {"falls", QObject::tr("falls")}}},
             {QObject::tr("the piece's head is at the"), at({"head_at"}), "jaws", {}, {{"chuck", QObject::tr("chuck")}, {"centre", QObject::tr("tail centre")}}},
             {QObject::tr("X grows towards the piece's"), at({"x_grows_towards"}), "travel x", {}, {{"foot", QObject::tr("foot")}, {"head", QObject::tr("head")}}},
             {QObject::tr("feeds are written"),
              at({"feed"}),
              "rapid",
              {},
              {{"inverse time", QObject::tr("as inverse time (G93)")}, {"per minute", QObject::tr("a minute (G94)")}, {"surface", QObject::tr("a minute on a surface (G94)")}}},
             {QObject::tr("diameter of the feed's surface"), at({"feed_diameter"}), "rapid", QObject::tr("none")}}};
  }

  FormGroup programs() const {
    return {QObject::tr("Lines of every program"),
            {{QObject::tr("at its beginning"), at({"header"}), {}, {}, {}, true},
             {QObject::tr("where the cutter changes"), at({"tool_change"}), {}, QObject::tr("none"), {}, true},
             {QObject::tr("at its end"), at({"footer"}), {}, {}, {}, true}}};
  }

  FormGroup called() const { return {QObject::tr("What it is called"), {{QObject::tr("name on the papers"), at({"label"}), {}}}}; }

  std::string id_;
  const shop::Machine& machine_;
  shop::Machine usual_;  // one that states nothing
};

}  // namespace

ShopForm* machine_form(ShopBook& book, const job::Loaded& loaded, QWidget* parent) {
  const std::string id = loaded.order->machine;
  const MachineFields fields(id, *job::machine_of(loaded));
  ShopEntries& entries = book.of(loaded.house.catalog / "shop" / "machines.yaml", fields.at({"confirmed"}));
  return new ShopForm(entries, QObject::tr("My machine: %1").arg(text(id)), fields.groups(), new MachineDrawing,
                      QObject::tr("These are my machine's own figures, and its first program ran well on a scrap. (Until then programs and papers say: example.)"), parent);
}

ShopForm* rates_form(ShopBook& book, const job::Loaded& loaded, const quote::Quote* quote, QWidget* parent) {
  const auto field = [](const QString& label, const char* key, const char* part, Choices choices = {}) { return FormField{label, {key}, part, {}, std::move(choices)}; };
  const Choices profits = {{"markup", QObject::tr("share of the cost")}, {"margin", QObject::tr("share of the price")}},
                rules = {{"exact", QObject::tr("exact")}, {"surface measure", QObject::tr("by surface measure")}, {"round up", QObject::tr("rounded up")}},
                charged = {{"net and waste", QObject::tr("pieces and waste")}, {"whole boards", QObject::tr("whole boards")}};
  const std::vector<FormGroup> groups = {
      {QObject::tr("The hour"),
       {field(QObject::tr("shop hour"), "shop_hour", "labour"), field(QObject::tr("it includes overhead"), "shop_hour_includes_overhead", "overhead", yes_or_no()), field(QObject::tr("overhead"), "overhead", "overhead"),
        field(QObject::tr("machine hour"), "machine_hour", "machine"), field(QObject::tr("currency"), "currency", "")}},
      {QObject::tr("Minutes at the machine"), {field(QObject::tr("setting up a program"), "setup_minutes", "machine"), field(QObject::tr("loading a piece"), "load_minutes", "machine"),
        field(QObject::tr("changing the cutter"), "change_minutes", "machine")}},
      {QObject::tr("Minutes at the bench"),
       {field(QObject::tr("milling a blank"), "milling_minutes", "labour"), field(QObject::tr("a mortise with its tenon"), "mortise_minutes", "labour"), field(QObject::tr("a tenon alone"), "tenon_minutes", "labour"),
        field(QObject::tr("squaring a mortise's corners"), "chisel_minutes", "labour"), field(QObject::tr("a bore"), "bore_minutes", "labour"), field(QObject::tr("a place for hand work"), "hand_minutes_each", "labour"),
        field(QObject::tr("sanding a square metre"), "sanding_minutes_per_m2", "labour"), field(QObject::tr("assembling a joint"), "assembly_minutes_per_joint", "labour")}},
      {QObject::tr("Wood and finish"),
       {field(QObject::tr("share for waste"), "waste", "material"), field(QObject::tr("board rule"), "board_rule", "material", rules), field(QObject::tr("saw kerf"), "kerf", "material"),
        {QObject::tr("wood is charged"), {"wood_charged"}, "material", charged[0].second, charged}, field(QObject::tr("finish a square metre"), "finish_per_m2", "finish")}},
      {QObject::tr("Profit and tax"),
       {field(QObject::tr("profit is a"), "profit", "profit", profits), field(QObject::tr("rate of profit"), "profit_rate", "profit"), field(QObject::tr("least charge"), "minimum_charge", "profit"), field(QObject::tr("tax"), "tax", "tax"),
        field(QObject::tr("deposit"), "deposit", "")}},
  };
  return new ShopForm(book.of(loaded.house.catalog / "shop" / "rates.yaml", {"confirmed"}), QObject::tr("My rates"), groups, new RatesDrawing(quote),
                      QObject::tr("These are my shop's own rates. (Until then every quote says: example.)"), parent);
}

}  // namespace pommel::ui
