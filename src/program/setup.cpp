#include "program/setup.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "base/number.h"
#include "program/writer.h"

namespace pommel::program {
namespace {

constexpr std::size_t kColumns = 80;
constexpr std::size_t kLabel = 14;  // width of the left column

/// Common practice of the trade, no source.
constexpr std::string_view kCautions[] = {
    "Local rules and licensed practice come first.",
    "Guards in place. Eyes, ears and dust: glasses, muffs, mask and extraction.",
    "No gloves, loose sleeves, rings or long hair near turning work.",
    "Chuck key out before power. Tail centre tight, and tight again after the first pass.",
    "Turn the blank by hand through a full turn: nothing may touch.",
    "First run above the work: zero raised by the clear height, spindle off, hand on the stop.",
    "Feed hold stops the axes. It does not stop the spindle, nor the wood at once.",
    "No sanding under power on this set-up. Stop the spindle before hands come near.",
};

constexpr std::string_view kScope =
    "The check reads this text against this design, on a rigid blank and the machine as described, not your set-up: "
    "not the "
    "zero you set, the cutter you put in, the grip of the chuck or the soundness of the wood.";

class Sheet {
 public:
  Sheet(const SetupSheet& sheet, const shop::Machine& machine, const LengthFormat& format)
      : sheet_(sheet), machine_(machine), format_(format) {}

  std::string text();

 private:
  void heading(std::string_view title);
  void entry(std::string_view label, std::string_view value);
  void bullet(std::string_view text);
  void wrapped(std::string first, std::size_t indent, std::string_view text);
  std::string length(double mm) const;
  std::string minutes(double value) const;

  void title();
  void machine();
  void cutter();
  void blank();
  void zero();
  void keep_outs();
  void running();
  std::string comes_back_from() const;
  void after_a_stop();
  void lists();

  const SetupSheet& sheet_;
  const shop::Machine& machine_;
  const LengthFormat& format_;
  std::string out_;
};

/// Breaks `text` at blanks to the width of the page; lines after the first stand under it.
void Sheet::wrapped(std::string first, std::size_t indent, std::string_view given) {
  std::string sound(given);
  std::replace_if(
      sound.begin(), sound.end(), [](char c) { return static_cast<unsigned char>(c) < ' '; }, ' ');
  std::string_view text = sound;
  std::string line = std::move(first);
  while (!text.empty()) {
    const std::size_t room = kColumns - std::max(line.size(), indent);
    std::size_t take = std::min(text.size(), room);
    if (take < text.size()) {
      const std::size_t blank = text.substr(0, take + 1).rfind(' ');
      if (blank != std::string_view::npos && blank > 0) take = blank;
    }
    out_.append(line).append(text.substr(0, take)).append("\n");
    text.remove_prefix(take);
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    line.assign(indent, ' ');
  }
}

void Sheet::heading(std::string_view title) {
  out_.append("\n").append(title).append("\n").append(std::string(title.size(), '-')).append("\n");
}

void Sheet::entry(std::string_view label, std::string_view value) {
  if (value.empty()) return;
  std::string first(label);
  first.resize(std::max(kLabel, first.size() + 1), ' ');
  wrapped(std::move(first), kLabel, value);
}

void Sheet::bullet(std::string_view text) {
  wrapped("- ", 2, text);
}

std::string Sheet::length(double mm) const {
  const bool metric = format_.unit == LengthUnit::millimetre;
  return metric ? format_length(mm, format_) : format_length(mm, format_) + " [" + format_number(mm, 2) + " mm]";
}

std::string Sheet::minutes(double value) const {
  const auto seconds = static_cast<long long>(std::llround(std::max(0.0, value) * 60));
  std::string rest = std::to_string(seconds % 60);
  if (rest.size() < 2) rest.insert(0, "0");
  return std::to_string(seconds / 60) + " min " + rest + " s";
}

void Sheet::title() {
  const std::string line = "SET-UP  " + sheet_.program;
  out_ += line + "\n" + std::string(std::min(line.size(), kColumns), '=') + "\n";
  if (!machine_.confirmed) {
    bullet(
        "EXAMPLE MACHINE: NOT CONFIRMED. Put your own machine's figures in, try them above the work, then say so in "
        "the "
        "shop's list of machines.");
  }
  entry("order", sheet_.order);
  entry("piece", sheet_.piece);
  entry("for", sheet_.pieces);
  entry("date", sheet_.date);
}

void Sheet::machine() {
  heading("Machine");
  entry("machine", machine_.label.empty() ? machine_.id : machine_.label);
  const bool degrees = machine_.rotary == shop::Machine::Rotary::degrees;
  entry("rotary",
        degrees ? machine_.rotary_word + ", degrees"
                : machine_.rotary_word + ", mm along a surface of diameter " + length(machine_.unrolled_diameter));
  entry("feed",
        machine_.feed == shop::Machine::Feed::inverse_time ? "G93, each move with its time" : "G94, per minute");
}

void Sheet::cutter() {
  heading("Cutter");
  entry("cutter", sheet_.cutter);
  entry("diameter", length(sheet_.cutter_diameter));
  entry("stick-out", length(sheet_.stick_out) + " from the tip to the collet nut, not less");
  entry("speed", format_number(sheet_.rpm, 0) + " rpm");
  for (const FurtherCutter& then : sheet_.further) {
    entry("then", then.label + ", diameter " + length(then.diameter) + ", " + length(then.stick_out) + " from the tip to the collet nut, not less, " +
                      format_number(then.rpm, 0) + " rpm");
  }
}

void Sheet::blank() {
  heading("Blank");
  entry("blank", sheet_.blank);
  entry("section", length(sheet_.blank_width) + " x " + length(sheet_.blank_thickness));
  entry("length", length(sheet_.blank_length));
  if (sheet_.head_waste > 0) entry("head waste", length(sheet_.head_waste) + ", cut off " + sheet_.waste_goes);
  if (sheet_.foot_waste > 0) entry("foot waste", length(sheet_.foot_waste) + ", cut off " + sheet_.waste_goes);
  entry("rings", sheet_.rings);
  entry("holding", std::string("head end in the ") + (machine_.head_at_chuck ? "chuck, foot end on the centre"
                                                                             : "tail centre, foot end in the chuck"));
  entry("face up", "face A at " + machine_.rotary_word + "0; mark it on the end grain");
}

void Sheet::zero() {
  heading("Zero");
  entry(machine_.x_word + "0",
        std::string("where the head of the piece begins") +
            (sheet_.head_waste > 0 ? ", " + length(sheet_.head_waste) + " from that end of the blank" : "") + "; " +
            machine_.x_word + " grows towards the " + (machine_.x_towards_foot ? "foot" : "head"));
  entry(machine_.z_word + "0", "the rotary axis, not the surface: more accurate, and the same for every blank");
  if (machine_.rotary == shop::Machine::Rotary::degrees) entry("sideways", "0 with the cutter over the rotary axis");
  entry(machine_.rotary_word + "0", "face A up, level");
  if (const auto& flat = sheet_.witness)
    entry("witness flat", "from " + length(flat->from) + " to " + length(flat->to) + " from the head, " + length(flat->width) + " wide at least: level at " + machine_.rotary_word +
                              "0, " + length(flat->height) + " above the axis");
  if (!machine_.setting_surface.empty())
    entry("each cutter", "touches " + machine_.setting_surface + (machine_.setting_gauge > 0 ? " with the gauge between" : "") + "; set " +
                             machine_.z_word + " there to " + format_number(machine_.setting_height + machine_.setting_gauge, 3) + " mm");
  out_ += "\n" + rotary_drawing(machine_);
}

void Sheet::keep_outs() {
  heading("Heights and keep-outs");
  entry("clear height", machine_.z_word + " " + length(sheet_.clear_height) + " above the axis");
  for (const KeepOut& keep : sheet_.keep_outs) {
    entry("keep out", keep.what + ": from " + length(keep.from) + " to " + length(keep.to) + " from the head");
  }
}

void Sheet::running() {
  heading("Running");
  std::size_t times = 0, lines = 0;
  for (const StageTime& stage : sheet_.stages) {
    times = std::max(times, minutes(stage.minutes).size());
    if (stage.line > 0) lines = std::max(lines, std::to_string(stage.line).size());
  }
  const auto right = [](std::string text, std::size_t width) { return std::string(width - std::min(width, text.size()), ' ') + text; };
  for (const StageTime& stage : sheet_.stages) {
    std::string first = right(minutes(stage.minutes), times) + "  ";
    if (lines > 0) first += stage.line > 0 ? "line " + right(std::to_string(stage.line), lines) + "  " : std::string(lines + 7, ' ');
    wrapped(first, first.size(), stage.name);
  }
  entry("time", minutes(sheet_.minutes) + " a piece, estimated" + (sheet_.further.empty() ? "" : "; each change of cutter adds " + format_number(sheet_.change_minutes, 1) + " min"));
}

std::string Sheet::comes_back_from() const {
  const std::string level = "level it there, with a dial gauge or a square from the table.";
  const std::string mark = "from the mark on its end grain, no better than that mark is";
  if (sheet_.square) return "from face A, where the waste beside the chuck is still square: " + level;
  if (!sheet_.witness) return mark + ": the waste beside the chuck had no room for a witness flat.";
  return "from the witness flat in the waste beside the chuck: " + level + " Before that flat is whole it comes back " + mark + ".";
}

void Sheet::after_a_stop() {
  if (std::none_of(sheet_.stages.begin(), sheet_.stages.end(), [](const StageTime& stage) { return stage.line > 0; })) return;
  heading("After a stop");
  const std::string turned = machine_.rotary_word + "0";
  bullet(std::string("Leave the piece in the chuck. Cutter up to the clear height; then see that ") + machine_.x_word + "0, " + machine_.z_word + "0 and " + turned + " are still where they were. If the piece has moved, " + turned + " comes back " +
         comes_back_from());
  bullet("In a copy of the program leave out the lines from the first stage up to the one that was being cut, and run the rest: each stage begins at the "
         "clear height and says its units and place itself. The stage that was interrupted is cut again from its beginning; the first run of the "
         "copy is above the work, too.");
  if (!sheet_.further.empty()) bullet("In a later cutter's stages keep that cutter's lines too, from its name to its first stage.");
  if (machine_.counting != shop::Machine::Counting::modulo)
    bullet("The rotary has counted its turns by then: begun anew at " + turned + " it first turns as far as the stage's place says, above the wood.");
}

void Sheet::lists() {
  const auto list = [this](std::string_view title, const std::vector<std::string>& lines) {
    if (lines.empty()) return;
    heading(title);
    for (const std::string& line : lines) bullet(line);
  };
  after_a_stop();
  list("Order of work", sheet_.order_of_work);
  list("At the bench", sheet_.bench);
  heading("Checked");
  for (const std::string& line : sheet_.checked) bullet(line);
  bullet(kScope);
  list("Warnings of this job", sheet_.warnings);
  heading("Cautions");
  for (const std::string_view line : kCautions) bullet(line);
}

std::string Sheet::text() {
  title();
  machine();
  cutter();
  blank();
  zero();
  keep_outs();
  running();
  lists();
  return std::move(out_);
}

}  // namespace

std::string setup_text(const SetupSheet& sheet, const shop::Machine& machine, const LengthFormat& format) {
  return Sheet(sheet, machine, format).text();
}

}  // namespace pommel::program
