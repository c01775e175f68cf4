#include "job/match_input.h"

#include "base/number.h"
#include "base/text.h"
#include "exchange/readings.h"
#include "exchange/stl.h"
#include "match/notes.h"
#include "match/outline.h"
#include "match/scan.h"

namespace pommel::job {
namespace {

constexpr double kDrawnUncertainty = 0.02, kScannedUncertainty = 0.05;  // mm
constexpr std::size_t kMostText = 64u << 20, kMostScan = 1u << 30;  // bytes; a binary STL has 50 a triangle, an ASCII one some 250
constexpr double kReadingUncertainty = 0.1;  // mm: callipers on wood by hand; common practice, no source

std::string ending_of(const MatchInput& input) { return lowered(input.file.extension().string()); }

class Reader {
 public:
  Reader(const MatchInput& input, Sink& sink) : input_(input), sink_(sink) {}

  std::optional<MatchRead> read(const Result<std::string>& bytes) {
    take_options();
    const std::string ending = ending_of(input_), name = input_.file.generic_string();
    if (!bytes.ok()) sink_.add(bytes.reasons());
    if (sink_.has_errors()) return std::nullopt;
    if (ending == ".dxf" || ending == ".svg") outline(*bytes, name, ending == ".dxf");
    else if (ending == ".stl") mesh(*bytes, name);
    else readings(*bytes, name);
    if (sink_.has_errors()) return std::nullopt;
    if (square_) out_.wishes.square = square_;
    return std::move(out_);
  }

 private:
  std::optional<double> length(const std::string& text, const char* option) {
    if (text.empty()) return std::nullopt;
    const auto value = parse_length(text, LengthUnit::millimetre);
    if (value.ok() && *value > 0) return *value;
    Diagnostic d = value.ok() ? fail("cli.length", std::string(option) + " must be above nothing").reasons.front() : value.reasons().front();
    d.place.file = option;
    sink_.add(std::move(d));
    return std::nullopt;
  }

  void take_options() {
    if (!input_.unit.empty()) {
      unit_ = exchange::unit_named(input_.unit);
      if (!unit_) sink_.add(fail("cli.unit", in_quotes(input_.unit) + " is no unit of length", "write mm, cm, m, in or ft").reasons);
    }
    square_ = length(input_.square, "--square");
    uncertainty_ = length(input_.uncertainty, "--uncertainty");
    place_ = length(input_.place_uncertainty, "--place-uncertainty");
    gap_ = length(input_.gap, "--gap").value_or(0.1);
    if (unit_ == LengthUnit::inch || unit_ == LengthUnit::foot) out_.options.step = kInch / 32;
  }

  void readings(const std::string& text, const std::string& name) {
    const auto rows = exchange::read_readings(text, name, unit_, sink_);
    const double u = uncertainty_.value_or(kReadingUncertainty);
    auto noted = match::noted(rows, u, place_.value_or(u), sink_);
    out_.measures = std::move(noted.measures);
    out_.wishes = std::move(noted.wishes);
  }

  void outline(const std::string& text, const std::string& name, bool dxf) {
    const auto drawing = dxf ? exchange::read_dxf(text, name, unit_) : exchange::read_svg(text, name, unit_);
    if (!drawing.ok()) return sink_.add(drawing.reasons());
    take(match::laid(*drawing, {gap_, uncertainty_.value_or(kDrawnUncertainty), input_.end_for_end, square_}), name);
  }

  void mesh(const std::string& bytes, const std::string& name) {
    exchange::StlOptions options;
    options.unit = unit_;
    const auto stl = exchange::read_stl(bytes, name, options);
    if (!stl.ok()) return sink_.add(stl.reasons());
    for (Diagnostic& d : exchange::told(stl->survey, name)) sink_.add(std::move(d));
    match::ScanOptions how;
    how.uncertainty = uncertainty_.value_or(kScannedUncertainty);
    how.end_for_end = input_.end_for_end;
    if (input_.axis == "x" || input_.axis == "y" || input_.axis == "z") how.axis = static_cast<exchange::Axis>(input_.axis[0] - 'x');
    else if (input_.axis != "found") return sink_.add(fail("cli.axis", in_quotes(input_.axis) + " is no axis", "write x, y, z or found").reasons);
    const auto scan = match::scanned(stl->mesh, how);
    if (!scan.ok()) return sink_.add(scan.reasons());
    take(match::laid(*scan, how), name);
  }

  void take(Result<match::Laid> laid, const std::string& name) {
    if (!laid.ok()) {
      for (Diagnostic d : laid.reasons()) d.place.file = name, sink_.add(std::move(d));
      return;
    }
    out_.measures = std::move(laid->measures);
    out_.wishes = std::move(laid->wishes);
    out_.remarks = std::move(laid->remarks);
  }

  const MatchInput& input_;
  Sink& sink_;
  MatchRead out_;
  std::optional<LengthUnit> unit_;
  std::optional<double> square_, uncertainty_, place_;
  double gap_ = 0.1;
};

}  // namespace

std::optional<MatchRead> read_for_match(const MatchInput& input, const FileSystem& files, Sink& sink) {
  return Reader(input, sink).read(files.read(input.file, ending_of(input) == ".stl" ? kMostScan : kMostText));
}

std::optional<MatchRead> read_for_match(const MatchInput& input, const std::string& bytes, Sink& sink) { return Reader(input, sink).read(bytes); }

std::optional<MatchRead> ReadOnce::read(const MatchInput& input, const std::shared_ptr<const std::string>& bytes, Sink& sink) {
  if (bytes != bytes_ || input != input_) {
    Sink said;
    read_ = read_for_match(input, *bytes, said);
    said_ = said.all();
    input_ = input, bytes_ = bytes;
    ++times_;
  }
  sink.add(said_);
  return read_;
}

MatchRead with_readings(MatchRead drawn, const MatchRead& readings) {
  const auto append = [](auto& to, const auto& from) { to.insert(to.end(), from.begin(), from.end()); };
  append(drawn.measures, readings.measures);
  append(drawn.remarks, readings.remarks);
  append(drawn.wishes.squares, readings.wishes.squares);
  append(drawn.wishes.edges, readings.wishes.edges);
  append(drawn.wishes.no_edges, readings.wishes.no_edges);
  append(drawn.wishes.kinds, readings.wishes.kinds);
  if (readings.wishes.head) drawn.wishes.head = readings.wishes.head;
  if (readings.wishes.foot) drawn.wishes.foot = readings.wishes.foot;
  if (readings.wishes.square) drawn.wishes.square = readings.wishes.square;
  return drawn;
}

std::vector<ReadingCells> reading_cells(std::string_view text, const std::string& file, Sink& sink) { return exchange::reading_cells(text, file, sink); }

}  // namespace pommel::job
