#include "ui/models/skin_maker.h"

#include <QMetaObject>

namespace pommel::ui {

SkinMaker::SkinMaker(QObject* parent) : QObject(parent), worker_([this](std::stop_token quit) { work(std::move(quit)); }) {}

SkinMaker::~SkinMaker() {
  give_up();
  worker_.request_stop();
  worker_.join();
}

void SkinMaker::make(const shape::Part& part) {
  auto request = std::make_unique<Request>();
  request->number = ++newest_;
  request->part = part;
  const std::lock_guard lock(guard_);
  running_.request_stop();
  waiting_ = std::move(request);
  news_.notify_one();
}

void SkinMaker::give_up() {
  ++newest_;
  const std::lock_guard lock(guard_);
  running_.request_stop();
  waiting_.reset();
}

void SkinMaker::work(std::stop_token quit) {
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

void SkinMaker::answer(Request& request) {
  const auto skin = job::skin_of(request.part, request.stop.get_token());
  if (request.stop.stop_requested()) return;
  QMetaObject::invokeMethod(this, [this, number = request.number, skin] {
    if (number != newest_) return;
    if (skin.ok()) emit made(*skin);
    else emit failed(skin.reasons());
  });
}

}  // namespace pommel::ui
