#include "exchange/readings.h"

#include <algorithm>
#include <array>

#include "base/number.h"
#include "base/text.h"

namespace pommel::exchange {
namespace {

enum class Column { place, diameter, uncertainty, note };

std::optional<Column> column_named(std::string_view word) {
  static const std::vector<std::pair<std::string_view, Column>> names = {
      {"x", Column::place},           {"place", Column::place},         {"at", Column::place},       {"d", Column::diameter},
      {"diameter", Column::diameter}, {"dia", Column::diameter},        {"+-", Column::uncertainty}, {"±", Column::uncertainty},
      {"uncertainty", Column::uncertainty}, {"note", Column::note},     {"notes", Column::note}};
  for (const auto& [name, column] : names) {
    if (name == word) return column;
  }
  return std::nullopt;
}

class Reader {
 public:
  Reader(const std::string& file, std::optional<LengthUnit> plain, Sink& sink) : file_(file), sink_(sink) { units_.fill(plain); }

  /// Keeps the rows' cells and reads none of them.
  std::vector<std::array<std::string, 4>> read_cells(std::string_view text) {
    only_cells_ = true;
    read(text);
    return std::move(cells_);
  }

  std::vector<Reading> read(std::string_view text) {
    int line = 0;
    bool first = true;
    for (std::size_t rows = 0, at = 0, end = 0; end != std::string_view::npos; at = end + 1) {
      end = text.find('\n', at);
      std::string_view row = text.substr(at, end == std::string_view::npos ? end : end - at);
      ++line;
      if (!row.empty() && row.back() == '\r') row.remove_suffix(1);
      if (row.substr(0, 3) == "\xEF\xBB\xBF") row.remove_prefix(3);
      const std::string_view said = row.substr(0, row.find('#'));
      if (trimmed(said).empty()) continue;
      if (first) part_by(said);
      if (!(first && header(said, row, line))) {
        if (++rows > kMostReadings) {
          report("readings.too-many", "this is one row more than the " + std::to_string(kMostReadings) + " that are read",
                 "keep those that tell where something begins, ends or is thickest; a scan is read as STL, a drawing as DXF or SVG", row, trimmed(row), line);
          break;
        }
        take(said, row, line);
      }
      first = false;
    }
    if (readings_.empty() && cells_.empty() && !sink_.has_errors())
      sink_.add(fail("readings.empty", "there are no readings in the file", "write a row for each: place, diameter", {file_, 0, 0}).reasons);
    return std::move(readings_);
  }

 private:
  void part_by(std::string_view row) {
    for (char c : {';', '\t', ','}) {
      if (row.find(c) != std::string_view::npos) {
        parting_ = c;
        return;
      }
    }
  }

  void report(std::string id, std::string message, std::string remedy, std::string_view row, std::string_view cell, int line) {
    Diagnostic d = fail(std::move(id), std::move(message), std::move(remedy)).reasons.front();
    d.place = {file_, line, character_count(row.substr(0, static_cast<std::size_t>(cell.data() - row.data()))) + 1};
    d.read = std::string(cell);
    d.source_line = std::string(row);
    sink_.add(std::move(d));
  }

  /// A first row without any digit in its first cell names the columns.
  bool header(std::string_view said, std::string_view row, int line) {
    const auto cells = split(said, parting_);
    if (cells.front().find_first_of("0123456789") != std::string_view::npos) return false;
    columns_.clear();
    for (std::string_view cell : cells) {
      const std::string words = lowered(trimmed(cell));
      const std::size_t blank = words.find(' ');
      const auto column = column_named(words.substr(0, blank));
      if (!column) {
        report("readings.header", in_quotes(words) + " is no column of readings", "name the columns x, diameter, +-, note", row, trimmed(cell), line);
        columns_.push_back(Column::note);  // so that its cells are not reported, too
        continue;
      }
      if (std::find(columns_.begin(), columns_.end(), *column) != columns_.end())
        report("readings.header", "this column stands twice", "leave one of them out", row, trimmed(cell), line);
      columns_.push_back(*column);
      if (blank == std::string::npos) continue;
      const auto unit = unit_named(trimmed(std::string_view(words).substr(blank)));
      if (unit) units_[static_cast<std::size_t>(*column)] = unit, unit_words_[static_cast<std::size_t>(*column)] = std::string(trimmed(std::string_view(words).substr(blank)));
      else report("readings.header", in_quotes(words.substr(blank + 1)) + " is no unit of length", "write mm, cm, m, in or ft", row, trimmed(cell), line);
    }
    if (!sink_.has_errors() && std::find(columns_.begin(), columns_.end(), Column::place) == columns_.end())
      report("readings.header", "no column says where along the piece a reading was taken", "add a column x", row, trimmed(row), line);
    return true;
  }

  std::optional<double> length(std::string_view cell, Column column, std::string_view row, int line) {
    const auto read = parse_length(cell, units_[static_cast<std::size_t>(column)]);
    if (read.ok()) return *read;
    const Diagnostic& why = read.reasons().front();
    const bool bare = why.id == "quantity.no-unit";
    report(bare ? "readings.no-unit" : "readings.number", bare ? in_quotes(cell) + " has no unit, and neither the header nor --unit says one" : why.message,
           bare ? "write the unit in the header ('x mm; diameter mm') or give --unit" : why.remedy, row, cell, line);
    return std::nullopt;
  }

  void take(std::string_view said, std::string_view row, int line) {
    const auto cells = split(said, parting_);
    if (cells.size() > columns_.size()) {
      return report("readings.columns", "this row has " + std::to_string(cells.size()) + " cells, and there are " + std::to_string(columns_.size()) + " columns",
                    "a decimal point is a point, not a comma", row, trimmed(row), line);
    }
    if (only_cells_) return keep(cells);
    Reading reading;
    reading.place = {file_, line, 1};
    reading.row = std::string(row);
    std::optional<double> x;
    bool sound = true;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string_view cell = trimmed(cells[i]);
      if (cell.empty()) continue;
      if (columns_[i] == Column::note) {
        reading.note = lowered(cell);
        continue;
      }
      const auto value = length(cell, columns_[i], row, line);
      sound = sound && value;
      if (!value) continue;
      if (columns_[i] == Column::place) x = value;
      if (columns_[i] == Column::diameter) reading.diameter = value;
      if (columns_[i] == Column::uncertainty) reading.uncertainty = value;
      if (columns_[i] != Column::place && !(*value > 0)) {
        sound = false;
        report(columns_[i] == Column::diameter ? "readings.diameter" : "readings.uncertainty",
               std::string(columns_[i] == Column::diameter ? "a diameter" : "an uncertainty") + " is above nothing, and this is " + format_number(*value, 3) + " mm", "measure it again", row, cell, line);
      }
    }
    const bool asked = std::find(columns_.begin(), columns_.end(), Column::place) != columns_.end();
    if (!x && sound && asked) return report("readings.columns", "this row does not say where along the piece it was taken", "write its place, or take the row out", row, trimmed(row), line);
    if (sound && !reading.diameter && reading.note.empty())
      return report("readings.columns", "this row has no diameter and no note", "write its diameter, or what is there, such as 'edge'", row, trimmed(row), line);
    if (!sound || !x) return;
    reading.x = *x;
    readings_.push_back(std::move(reading));
  }

  void keep(const std::vector<std::string_view>& cells) {
    std::array<std::string, 4>& row = cells_.emplace_back();
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const auto column = static_cast<std::size_t>(columns_[i]);
      row[column] = std::string(trimmed(cells[i]));
      const auto plain = parse_length(row[column], std::nullopt);
      if (columns_[i] != Column::note && !unit_words_[column].empty() && !plain.ok() && plain.reasons().front().id == "quantity.no-unit") row[column] += " " + unit_words_[column];
    }
  }

  std::string file_;
  Sink& sink_;
  bool only_cells_ = false;
  std::array<std::string, 4> unit_words_;
  std::vector<std::array<std::string, 4>> cells_;
  char parting_ = ',';
  std::array<std::optional<LengthUnit>, 4> units_;
  std::vector<Column> columns_{Column::place, Column::diameter, Column::uncertainty, Column::note};
  std::vector<Reading> readings_;
};

}  // namespace

std::optional<LengthUnit> unit_named(std::string_view word) {
  if (word == "mm") return LengthUnit::millimetre;
  if (word == "cm") return LengthUnit::centimetre;
  if (word == "m") return LengthUnit::metre;
  if (word == "in" || word == "inch" || word == "inches") return LengthUnit::inch;
  if (word == "ft" || word == "foot" || word == "feet") return LengthUnit::foot;
  return std::nullopt;
}

std::vector<std::array<std::string, 4>> reading_cells(std::string_view text, const std::string& file, Sink& sink) { return Reader(file, std::nullopt, sink).read_cells(text); }

std::vector<Reading> read_readings(std::string_view text, const std::string& file, std::optional<LengthUnit> plain, Sink& sink) {
  return Reader(file, plain, sink).read(text);
}

}  // namespace pommel::exchange
