// Reads calliper readings: one a row, place along the piece and diameter, with an uncertainty and a note if there are any.
//
//     # tavern leg, left front                       everything after # is for the reader
//     x mm; diameter in; +-; note                    a header is optional; it may name columns, and units for plain numbers
//     118.2; 1 7/8; 0.1 mm; square to here           a cell may have a unit of its own
//     131  ; 1 3/4
//     140  ;      ;        ; edge                    some notes need no diameter
//
// Cells are parted by semicolons, tabs or commas: whichever of them, in this order, the first row has. Without a header the columns are place,
// diameter, uncertainty, note. Rows may stand in any order and repeat places.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"

namespace pommel::exchange {

/// Rows that are read: more than anyone takes with callipers, and the search for elements takes three times as long for twice as many (1000: 1.5 s, 9 s
/// when one in twenty is wrong).
inline constexpr std::size_t kMostReadings = 1'000;

struct Reading {
  double x = 0;                       ///< mm along the piece
  std::optional<double> diameter;     ///< mm
  std::optional<double> uncertainty;  ///< mm, one standard deviation of the diameter
  std::string note;                   ///< lower case, trimmed
  Place place;                        ///< of the row
  std::string row;                    ///< as written
};

/// `plain` is the unit of numbers without one where the header says none. All problems go to `sink`, each with its row and column:
///   "readings.no-unit", "readings.number" (with the reason), "readings.columns" (too many or too few), "readings.header" (an unknown column, with the
///   nearest name), "readings.diameter" (not above 0), "readings.uncertainty", "readings.empty", "readings.too-many" (over kMostReadings;
///   nothing is read beyond).
std::vector<Reading> read_readings(std::string_view text, const std::string& file, std::optional<LengthUnit> plain, Sink& sink);

/// The cells of the rows as they are written, in the order place, diameter, uncertainty, note, for a table that goes on with them; a plain number has
/// the header's unit put behind it, if there is one. Comments and empty rows are left out. Problems of the form alone go to `sink`: "readings.header",
/// "readings.columns" (too many cells), "readings.empty", "readings.too-many".
std::vector<std::array<std::string, 4>> reading_cells(std::string_view text, const std::string& file, Sink& sink);

/// "mm", "in" ... of an option or header; nothing for an unknown word.
std::optional<LengthUnit> unit_named(std::string_view word);

}  // namespace pommel::exchange
