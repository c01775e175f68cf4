#include "ui/models/follower.h"

namespace pommel::ui {

void Follower::follow(Basis order, Basis catalogued, std::vector<std::size_t> columns, std::optional<std::size_t> check) {
  worker_.ask_in_parts([this, request = Request{std::move(order), std::move(catalogued), std::move(columns), check}](const NewestWork::Asked& asked) { answer(request, asked); });
}

void Follower::answer(const Request& request, const NewestWork::Asked& asked) {
  for (const std::size_t column : request.columns) asked.tell([this, said = sketch(request, column)] { emit sketched(said); });
  std::shared_ptr<const job::Column> to_check;
  for (const std::size_t column : request.columns) {
    job::Options options;
    options.stop = asked.stop();
    options.memo = &memo_;
    auto said = std::make_shared<Followed>();
    said->column = column;
    auto made = job::run_column(*request.of(column).loaded, request.of(column).sheet, column, options);
    if (asked.given_up()) return;
    if (made.ok()) said->result = std::make_shared<const job::Column>(std::move(made).value());
    else said->reasons = made.reasons();
    if (request.check == column) to_check = said->result;
    asked.tell([this, said] { emit followed(said); });
  }
  if (to_check) {
    const auto said = check(request, asked, *to_check, *request.check);
    if (asked.given_up()) return;
    asked.tell([this, said] { emit checked(said); });
  }
  asked.tell([this] { emit rested(); });
}

std::shared_ptr<const Sketched> Follower::sketch(const Request& request, std::size_t column) const {
  auto said = std::make_shared<Sketched>();
  said->column = column;
  const Basis& basis = request.of(column);
  auto made = family::make(basis.loaded->family, basis.loaded->design, basis.sheet, column, basis.loaded->shop, basis.sheet.settings().lengths);
  if (made.ok()) said->made = std::make_shared<const family::Made>(std::move(made).value());
  else said->reasons = made.reasons();
  return said;
}

std::shared_ptr<const Checked> Follower::check(const Request& request, const NewestWork::Asked& asked, const job::Column& column, std::size_t index) {
  auto said = std::make_shared<Checked>();
  said->column = index;
  for (std::size_t i = 0; i < column.turnings.size() && !asked.given_up(); ++i) {
    CheckedTurning one{column.made.pieces[column.piece_of_turning(i)].wanted.label, nullptr, {}};
    const std::string key = column.requests[i].key();
    if (const auto known = known_checks_.find(key); known != known_checks_.end()) {
      one.programs = known->second;
    } else {
      program::Header header;
      header.program = one.piece;
      header.piece = request.order.loaded->design.name + ", " + one.piece + ", turned";
      header.cutter = column.requests[i].cutter.id;
      const std::vector<program::Header> headers(job::file_count(column.turnings[i]->paths, column.requests[i].machine), header);
      auto made = job::write_and_prove(column.requests[i], *column.turnings[i], headers, asked.stop());
      if (made.ok()) known_checks_[key] = one.programs = std::make_shared<const job::Programs>(std::move(made).value());
      else one.reasons = made.reasons();
    }
    said->turnings.push_back(std::move(one));
  }
  return said;
}

}  // namespace pommel::ui
