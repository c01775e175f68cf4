#include "ui/models/match_bench.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/quantity.h"
#include "base/text.h"
#include "match/compare.h"
#include "ui/views/in_words.h"

namespace pommel::ui {
namespace {

constexpr const char* kTable = "readings.csv";  // the name by which places in the table are known again
const QString kIsA = QStringLiteral("is a ");
constexpr double kSame = 0.002;                 // mm: notes are written to thousandths
constexpr std::size_t kMostScan = 1u << 30;     // bytes, as the command reads

bool is_drawing(const std::filesystem::path& file) {
  const std::string ending = lowered(file.extension().string());
  return ending == ".dxf" || ending == ".svg" || ending == ".stl";
}

// What is said of the fields above the table comes with the table and with the drawing.
std::vector<Diagnostic> once_each(const std::vector<Diagnostic>& all) {
  std::vector<Diagnostic> out;
  for (const Diagnostic& one : all)
    if (std::none_of(out.begin(), out.end(), [&](const Diagnostic& d) { return d.message == one.message && d.place.file == one.place.file && d.place.line == one.place.line; })) out.push_back(one);
  return out;
}

double off_of(const shape::Profile& outline, const match::Measure& measure, double head) {
  if (measure.of == match::Measure::Of::flats) return std::numeric_limits<double>::quiet_NaN();
  match::Measure one = measure;
  one.of = match::Measure::Of::round;  // a worn one is compared, too
  const auto compared = match::compared(outline, {one}, head);
  return compared.readings.empty() ? std::numeric_limits<double>::quiet_NaN() : compared.readings.front().off;
}

std::shared_ptr<const Fitted> fitted_of(job::MatchRead read, match::Recognition found) {
  auto out = std::make_shared<Fitted>();
  shape::Profile outline;
  for (const match::Found& f : found.elements) {
    shape::Pieces pieces;
    if (f.square || !match::draw(f.stroke, pieces)) pieces = {shape::clear_piece(f.stroke.x0, f.stroke.x1)};
    outline.pieces.insert(outline.pieces.end(), pieces.begin(), pieces.end());
    out->pieces.push_back(std::move(pieces));
  }
  for (const match::Measure& m : read.measures) out->off.push_back(off_of(outline, m, found.head));
  out->read = std::move(read);
  out->found = std::move(found);
  return out;
}

}  // namespace

MatchBench::MatchBench(QObject* parent) : QObject(parent), work_(*this) {
  how_.input.unit = "mm";
  connect(&readings_, &ReadingsModel::edited, this, &MatchBench::ask);
}

void MatchBench::take_how(MatchHow how) {
  how_ = std::move(how);
  ask();
}

Result<Done> MatchBench::open(const FileSystem& files, const std::filesystem::path& file) {
  auto bytes = files.read(file, kMostScan);
  if (!bytes.ok()) return bytes.failure();
  if (is_drawing(file)) {
    drawn_ = std::make_shared<const DrawnSource>(DrawnSource{file, std::make_shared<const std::string>(std::move(bytes).value())});
    ask();
    return Done{};
  }
  Sink sink;
  const auto cells = job::reading_cells(*bytes, file.filename().string(), sink);
  if (sink.has_errors()) return Failure(sink.all());
  ReadingsModel::Rows rows;
  for (const job::ReadingCells& row : cells) {
    rows.emplace_back();
    for (std::size_t i = 0; i < row.size(); ++i) rows.back()[i] = text(row[i]);
  }
  readings_.change(tr("readings of %1").arg(text(file.filename().string())), std::move(rows));
  return Done{};
}

// The header says the unit that plain numbers have here.
std::string MatchBench::text_to_save() const {
  const std::string typed = readings_.text(), &unit = how_.input.unit;
  return "x " + unit + "; diameter " + unit + "; +- " + unit + "; note" + typed.substr(typed.find('\n'));
}

void MatchBench::put_drawn_away() {
  drawn_.reset();
  ask();
}

MatchBench::Answer MatchBench::answer(const MatchHow& how, const DrawnSource* drawn, job::ReadOnce& kept, const std::string& table, std::stop_token stop) {
  Answer out;
  Sink sink;
  job::MatchRead all;
  job::MatchInput input = how.input;
  if (drawn) {
    input.file = drawn->file;
    input.unit = how.drawn_unit;
    if (auto read = kept.read(input, drawn->bytes, sink)) all = std::move(*read);
  } else {
    kept.forget();
  }
  out.drawn_was_read = kept.times();
  if (!table.empty()) {
    input.file = kTable;
    input.unit = how.input.unit;
    if (auto read = job::read_for_match(input, table, sink)) all = drawn ? job::with_readings(std::move(all), *read) : std::move(*read);
  }
  out.read = all;
  if (sink.has_errors()) out.problems = once_each(sink.all());
  if (sink.has_errors() || stop.stop_requested() || (!drawn && table.empty())) return out;
  match::Options options = all.options;
  options.tidy = options.tidy && !how.as_read;
  auto found = match::recognise(all.measures, all.wishes, options, stop);
  if (!found.ok()) out.problems = found.reasons();
  else out.fitted = fitted_of(std::move(all), std::move(found).value());
  return out;
}

void MatchBench::rest() {
  resting_ = working_;
  if (resting_) work_.give_up();
}

void MatchBench::wake() {
  if (resting_) ask();
}

void MatchBench::ask() {
  resting_ = false;
  stale_ = fitted_ != nullptr;
  working_ = true;
  readings_.show_stale(true);
  work_.ask([this, how = how_, drawn = drawn_, table = readings_.blank() ? std::string() : readings_.text()](std::stop_token stop) -> NewestWork::Answer {
    return [this, found = answer(how, drawn.get(), drawn_read_, table, stop)] { take(found); };
  });
  emit changed();
}

void MatchBench::take(const Answer& answer) {
  working_ = false;
  drawn_was_read_ = answer.drawn_was_read;
  problems_ = answer.problems;
  if (answer.fitted || problems_.empty()) fitted_ = answer.fitted;
  if (!answer.read.measures.empty() || problems_.empty()) read_ = answer.read;
  stale_ = fitted_ != answer.fitted;
  show_rows();
  emit changed();
}

// What is said of each row: the cells' problems, else how its reading lies to the outline.
void MatchBench::show_rows() {
  std::map<int, ReadingsModel::Seen> seen;
  for (const Diagnostic& problem : problems_) {
    const auto row = row_of(problem.place);
    if (!row || static_cast<std::size_t>(*row) >= readings_.rows().size()) continue;
    ReadingsModel::Seen& here = seen[*row];
    const bool of_note = problem.id == "readings.note";
    const QString words = lines_of({problem}).join(u' ');
    here.problems[of_note ? ReadingsModel::kNote : readings_.column_of(*row, problem.place.column)] = words;
    here.words = here.words.isEmpty() ? QStringLiteral("✗ ") + words : here.words;
    here.wrong = true;
  }
  if (!fitted_ || stale_) return readings_.show_seen(std::move(seen));
  for (std::size_t i = 0; i < fitted_->read.measures.size(); ++i) {
    const match::Measure& measure = fitted_->read.measures[i];
    const auto row = row_of(measure.place);
    if (!row || std::isnan(fitted_->off[i])) continue;
    ReadingsModel::Seen& here = seen[*row];
    const QString far = QString::number(std::fabs(fitted_->off[i]), 'f', 2);
    here.words = std::fabs(fitted_->off[i]) < 0.005 ? tr("on the outline") : fitted_->off[i] > 0 ? tr("%1 mm outside").arg(far) : tr("%1 mm inside").arg(far);
    if (measure.of == match::Measure::Of::worn) here.words = tr("worn: %1").arg(here.words);
  }
  for (const match::Wrong& wrong : fitted_->found.wrong) {
    const auto row = row_of(fitted_->read.measures[wrong.measure].place);
    if (!row) continue;
    ReadingsModel::Seen& here = seen[*row];
    here.words = tr("✗ believed wrong: %1").arg(here.words);
    here.wrong = true;
  }
  readings_.show_seen(std::move(seen));
}

std::optional<int> MatchBench::row_of(const Place& place) { return place.file == kTable && place.line > 1 ? std::optional(ReadingsModel::row_of(place.line)) : std::nullopt; }

// Places are written finely and with their unit, whatever plain numbers mean.
ReadingsModel::Row MatchBench::note_at(double x, const QString& note) const {
  ReadingsModel::Row row;
  row[ReadingsModel::kPlace] = QString::number(x + fitted_->found.head, 'f', 3) + QStringLiteral(" mm");
  row[ReadingsModel::kNote] = note;
  return row;
}

// Adds rows in place of those whose note begins like `instead` and stands from..to along the readings: a word said twice would contradict itself.
void MatchBench::note(const QString& what, const ReadingsModel::Rows& added, double from, double to, const QString& instead) {
  ReadingsModel::Rows rows = readings_.rows();
  std::erase_if(rows, [&](ReadingsModel::Row& row) {
    if (!row[ReadingsModel::kNote].startsWith(instead, Qt::CaseInsensitive)) return false;
    const std::string place = row[ReadingsModel::kPlace].toStdString();
    auto x = parse_length(place, std::nullopt);
    if (!x.ok()) x = parse_length(place + " " + how_.input.unit, std::nullopt);
    if (!x.ok() || *x < from - kSame || *x > to + kSame) return false;
    row[ReadingsModel::kNote].clear();
    return row[ReadingsModel::kDiameter].isEmpty();
  });
  rows.insert(rows.end(), added.begin(), added.end());
  readings_.change(what, std::move(rows));
}

void MatchBench::pin(std::size_t element) {
  const auto& all = fitted_->found.elements;
  const match::Found& f = all[element];
  const double head = fitted_->found.head;
  ReadingsModel::Rows rows;
  if (element > 0 && !all[element - 1].square) rows.push_back(note_at(f.stroke.x0, QStringLiteral("edge")));
  if (element + 1 < all.size() && !all[element + 1].square) rows.push_back(note_at(f.stroke.x1, QStringLiteral("edge")));
  rows.push_back(note_at((f.stroke.x0 + f.stroke.x1) / 2, kIsA + text(std::string(shape::word_of(f.name.kind)))));
  note(tr("element pinned"), rows, head + f.stroke.x0, head + f.stroke.x1, QStringLiteral("is "));
}

void MatchBench::split(double x) { readings_.add(tr("element split"), {note_at(x, QStringLiteral("edge"))}); }

void MatchBench::merge_with_next(std::size_t element) {
  const double x = fitted_->found.elements[element].stroke.x1, at = x + fitted_->found.head;
  note(tr("elements made one"), {note_at(x, QStringLiteral("no edge"))}, at, at, QStringLiteral("edge"));
}

void MatchBench::change_kind(std::size_t element, const std::string& word) {
  const match::Stroke& stroke = fitted_->found.elements[element].stroke;
  const double head = fitted_->found.head;
  note(tr("kind of an element"), {note_at((stroke.x0 + stroke.x1) / 2, kIsA + text(word))}, head + stroke.x0, head + stroke.x1, QStringLiteral("is "));
}

}  // namespace pommel::ui
