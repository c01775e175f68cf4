#include "job/strength.h"

#include <algorithm>

#include "rules/piece.h"

namespace pommel::job {
namespace {

const shop::Wood* wood_of(const Loaded& loaded, const std::string& stock) {
  const auto board = loaded.shop.boards.find(stock);
  if (board == loaded.shop.boards.end()) return nullptr;
  const auto wood = loaded.shop.woods.find(board->second.wood);
  return wood == loaded.shop.woods.end() ? nullptr : &wood->second;
}

void say_why_not(const std::string& label, const std::vector<Diagnostic>& reasons, std::vector<std::string>& lines) {
  for (const Diagnostic& reason : reasons) lines.push_back(label + ": " + reason.message + (reason.remedy.empty() ? "" : ": " + reason.remedy));
}

// A piece with the joints of its first member: all of one kind are held alike.
const shape::Part& jointed(const frame::Set& set, std::size_t piece, const shape::Part& turned) {
  const auto member = std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& m) { return m.piece == piece && !m.spare; });
  return member == set.members.end() ? turned : member->part;
}

void add_piece(const Loaded& loaded, const LengthFormat& shown, std::size_t piece, Column& column) {
  const family::MadePiece& made = column.made.pieces[piece];
  const stock::TurnedBlanks& blanks = column.blanks[piece];
  column.reports.emplace_back();
  const shop::Wood* wood = wood_of(loaded, blanks.board.id);
  if (!wood) return;
  auto report = rules::report_on(jointed(column.made.set, piece, made.part), made.wanted.label, made.blank.square, *wood, loaded.shop.room, shown);
  if (report.ok()) {
    column.reports.back() = std::move(report).value();
    column.rule_lines.insert(column.rule_lines.end(), column.reports.back().lines.begin(), column.reports.back().lines.end());
  } else {
    say_why_not(made.wanted.label, report.reasons(), column.rule_lines);
  }
  if (const int lines = blanks.plan.laminations - 1; lines > 0)
    column.rule_lines.push_back(rules::glue_up_words(made.wanted.label, lines, blanks.plan.blank.size, blanks.plan.rough_length, shown));
}

// Rails alike are said once.
void add_rails(const Loaded& loaded, const LengthFormat& shown, Column& column) {
  const shop::Wood* wood = wood_of(loaded, column.made.rail_stock);
  std::vector<const frame::Rail*> said;
  for (const frame::Rail& rail : column.made.set.rails) {
    if (rail.tenon_length <= 0 || rail.tenon_width <= 0) continue;
    const auto alike = [&](const frame::Rail* other) { return other->tenon_width == rail.tenon_width && other->tenon_length == rail.tenon_length; };
    if (std::any_of(said.begin(), said.end(), alike)) continue;
    said.push_back(&rail);
    column.rule_lines.push_back(rules::tenon_bond(rail.label, rail.tenon_width, rail.tenon_length, shown));
    if (!wood) continue;
    const auto moves = rules::rail_movement(rail.label, rail.tenon_width, *wood, loaded.shop.room, shown);
    if (moves.ok()) column.rule_lines.push_back(*moves);
  }
}

}  // namespace

void add_rules(const Loaded& loaded, const LengthFormat& shown, Column& column) {
  for (std::size_t piece = 0; piece < column.made.pieces.size(); ++piece) add_piece(loaded, shown, piece, column);
  add_rails(loaded, shown, column);
}

}  // namespace pommel::job
