#include "sheet/naive.h"

#include <algorithm>
#include <cmath>

#include "sheet/naive_reader.h"

namespace naive {

const std::string* Evaluator::entry(const std::string& name, int column) const {
  const auto& entries = table_.rows.at(name).entries;
  auto found = entries.find(column);
  if (found == entries.end()) found = entries.find(0);
  return found == entries.end() ? nullptr : &found->second;
}

std::vector<std::string> Evaluator::reads(const std::string& text) const {
  if (!text.starts_with("=")) return {};
  Evaluator blind(table_);
  for (const auto& [name, row] : table_.rows) blind.asking_.insert(name);  // no kinds, no values: only the names
  Reader reader(blind, text.substr(1), 0, true);
  try {
    reader.all();
  } catch (const SyntaxError&) {
    return {};
  }
  return reader.names;
}

// Whether the cell, followed through all it reads, comes back to itself.
bool Evaluator::circular(const std::string& name, int column) {
  const auto known = circular_.find({name, column});
  return known != circular_.end() ? known->second : (circular_[{name, column}] = comes_back(name, column));
}

bool Evaluator::comes_back(const std::string& name, int column) const {
  std::set<std::string> seen;
  std::vector<std::string> open{name};
  while (!open.empty()) {
    const std::string at = open.back();
    open.pop_back();
    if (!table_.rows.contains(at)) continue;
    const std::string* text = entry(at, column);
    if (!text) continue;
    for (const std::string& read : reads(*text)) {
      if (read == name) return true;
      if (seen.insert(read).second) open.push_back(read);
    }
  }
  return false;
}

std::optional<Kind> Evaluator::kind_of(const std::string& name) {
  const Row& row = table_.rows.at(name);
  if (asking_.contains(name)) return std::nullopt;
  if (row.stated) return row.stated;
  if (row.entries.empty()) return std::nullopt;
  if (const auto known = kinds_.find(name); known != kinds_.end()) return known->second;
  const std::string& text = row.entries.begin()->second;
  asking_.insert(name);
  std::optional<Kind> told;
  try {
    if (text.starts_with("=")) {
      // for the kind alone no values are wanted: column -1 has none
      Reader reader(*this, text.substr(1), -1, false);
      const Piece piece = reader.all();
      if (!reader.wrong && !piece.unknown && !piece.list) told = Kind{piece.form, piece.dims, piece.whole};
      for (const std::string& read : reader.names)
        if (table_.rows.contains(read) && !kind_of(read)) told.reset();
    } else {
      Reader reader(*this, text, -1, false);
      const Piece piece = reader.plain();
      if (!(piece.fraction && piece.dims == Dims{} && std::abs(piece.number) > 1))
        told = Kind{piece.form, piece.dims, piece.integer};
    }
  } catch (const SyntaxError&) {
  }
  asking_.erase(name);
  kinds_[name] = told;
  return told;
}

Answer Evaluator::computed(const std::string& text, bool formula, const std::optional<Kind>& kind,
                           const std::vector<std::string>* choices, int column, bool outcomes) {
  Answer answer;
  if (!kind) return answer;
  if (!formula && kind->form == Form::word) {
    answer.word = text;
    answer.ok = choices && std::find(choices->begin(), choices->end(), text) != choices->end();
    return answer;
  }
  Reader reader(*this, formula && text.starts_with("=") ? text.substr(1) : text, column, outcomes);
  try {
    const Piece piece = formula ? reader.all() : reader.plain();
    const bool fits = !piece.list && piece.form == kind->form && (piece.dims == kind->dims || piece.zero);
    if (reader.wrong || (!piece.unknown && !fits) || reader.blocked) return answer;
    if (reader.missing) {
      answer.missing = true;
      return answer;
    }
    if (reader.mishap || !std::isfinite(piece.number)) return answer;
    answer.number = piece.number;
    answer.word = piece.word;
    const double whole = std::round(piece.number);
    if (kind->form == Form::number && kind->whole) {
      if (std::abs(whole - piece.number) > (formula ? 1e-9 : 0)) return answer;
      answer.number = whole;
    }
    answer.ok = kind->form != Form::word ||
                (choices && std::find(choices->begin(), choices->end(), piece.word) != choices->end());
  } catch (const SyntaxError&) {
  }
  return answer;
}

Answer Evaluator::cell(const std::string& name, int column) {
  const auto known = cells_.find({name, column});
  return known != cells_.end() ? known->second : (cells_[{name, column}] = fresh_cell(name, column));
}

Answer Evaluator::fresh_cell(const std::string& name, int column) {
  const Row& row = table_.rows.at(name);
  const std::string* text = entry(name, column);
  if (!text || circular(name, column)) return {};
  const auto kind = kind_of(name);
  return computed(*text, text->starts_with("="), kind, row.choices.empty() ? nullptr : &row.choices, column, false);
}

Answer Evaluator::limit(const std::string& name, bool most, int column) {
  const Row& row = table_.rows.at(name);
  const std::string& text = most ? *row.most : *row.least;
  return computed(text, text.starts_with("="), kind_of(name), nullptr, column, false);
}

Answer Evaluator::check(const std::string& name, int column) {
  return computed(table_.checks.at(name), true, Kind{Form::yes_no, {}, false}, nullptr, column, true);
}

}  // namespace naive
