#include "ui/models/follower.h"

#include <QMetaObject>

namespace pommel::ui {

Follower::Follower(QObject* parent) : QObject(parent), worker_([this](std::stop_token quit) { work(std::move(quit)); }) {}

Follower::~Follower() {
  give_up();
  worker_.request_stop();
  worker_.join();
}

void Follower::follow(Basis order, Basis catalogued, std::vector<std::size_t> columns, std::optional<std::size_t> check) {
  auto request = std::make_unique<Request>();
  request->number = ++newest_;
  request->order = std::move(order);
  request->catalogued = std::move(catalogued);
  request->columns = std::move(columns);
  request->check = check;
  const std::lock_guard lock(guard_);
  running_.request_stop();
  waiting_ = std::move(request);
  news_.notify_one();
}

void Follower::give_up() {
  ++newest_;
  const std::lock_guard lock(guard_);
  running_.request_stop();
  waiting_.reset();
}

void Follower::work(std::stop_token quit) {
  for (;;) {
    std::unique_ptr<Request> request;
    {
      std::unique_lock lock(guard_);
      if (!news_.wait(lock, quit, [this] { return waiting_ != nullptr; })) return;
      request = std::move(waiting_);
      running_ = request->stop;
    }
    answer(*request);
  }
}

// Passed on in the window's thread, unless something newer has been asked since.
template <class Tell>
void Follower::tell(const Request& request, Tell tell) {
  QMetaObject::invokeMethod(this, [this, number = request.number, tell] {
    if (number == newest_) tell();
  });
}

void Follower::answer(const Request& request) {
  for (const std::size_t column : request.columns) tell(request, [this, said = sketch(request, column)] { emit sketched(said); });
  std::shared_ptr<const job::Column> to_check;
  for (const std::size_t column : request.columns) {
    job::Options options;
    options.stop = request.stop.get_token();
    options.memo = &memo_;
    auto said = std::make_shared<Followed>();
    said->column = column;
    auto made = job::run_column(*request.of(column).loaded, request.of(column).sheet, column, options);
    if (request.stop.stop_requested()) return;
    if (made.ok()) said->result = std::make_shared<const job::Column>(std::move(made).value());
    else said->reasons = made.reasons();
    if (request.check == column) to_check = said->result;
    tell(request, [this, said] { emit followed(said); });
  }
  if (to_check) {
    const auto said = check(request, *to_check, *request.check);
    if (request.stop.stop_requested()) return;
    tell(request, [this, said] { emit checked(said); });
  }
  tell(request, [this] { emit rested(); });
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

std::shared_ptr<const Checked> Follower::check(const Request& request, const job::Column& column, std::size_t index) {
  auto said = std::make_shared<Checked>();
  said->column = index;
  for (std::size_t i = 0; i < column.turnings.size() && !request.stop.stop_requested(); ++i) {
    CheckedTurning one{column.made.pieces[column.piece_of_turning(i)].wanted.label, nullptr, {}};
    const std::string key = column.requests[i].key();
    if (const auto known = known_checks_.find(key); known != known_checks_.end()) {
      one.program = known->second;
    } else {
      program::Header header;
      header.program = one.piece;
      header.piece = request.order.loaded->design.name + ", " + one.piece + ", turned";
      header.cutter = column.requests[i].cutter.id;
      auto made = job::write_and_prove(column.requests[i], *column.turnings[i], header, request.stop.get_token());
      if (made.ok()) known_checks_[key] = one.program = std::make_shared<const job::Program>(std::move(made).value());
      else one.reasons = made.reasons();
    }
    said->turnings.push_back(std::move(one));
  }
  return said;
}

}  // namespace pommel::ui
