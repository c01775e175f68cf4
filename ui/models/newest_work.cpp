#include "ui/models/newest_work.h"

#include <QCoreApplication>
#include <QEvent>
#include <QMetaObject>

#ifdef __linux__
#include <sys/resource.h>
#endif

namespace pommel::ui {

namespace {

// On Linux each thread has a niceness of its own, which threads that it starts take over.
void give_way() {
#ifdef __linux__
  constexpr int kBehind = 10;
  ::setpriority(PRIO_PROCESS, 0, kBehind);  // refused: it keeps pace with the others
#endif
}

}  // namespace

NewestWork::NewestWork(QObject& home, Pace pace) : home_(home), worker_([this, pace](std::stop_token quit) { run(pace, std::move(quit)); }) {}

NewestWork::~NewestWork() {
  give_up();
  worker_.request_stop();
  worker_.join();
  QCoreApplication::removePostedEvents(&home_, QEvent::MetaCall);  // answers on their way speak of this
}

void NewestWork::ask(Work work) {
  ask_in_parts([work = std::move(work)](const Asked& asked) {
    auto answer = work(asked.stop());
    if (!asked.given_up()) asked.tell(std::move(answer));
  });
}

void NewestWork::ask_in_parts(PartialWork work) {
  auto request = std::make_unique<Request>();
  request->asked.home_ = this;
  request->asked.number_ = ++newest_;
  request->work = std::move(work);
  const std::lock_guard lock(guard_);
  running_.request_stop();
  waiting_ = std::move(request);
  news_.notify_one();
}

void NewestWork::give_up() {
  ++newest_;
  const std::lock_guard lock(guard_);
  running_.request_stop();
  waiting_.reset();
}

void NewestWork::run(Pace pace, std::stop_token quit) {
  if (pace == Pace::behind) give_way();
  for (;;) {
    std::unique_ptr<Request> request;
    {
      std::unique_lock lock(guard_);
      if (!news_.wait(lock, quit, [this] { return waiting_ != nullptr; })) return;
      request = std::move(waiting_);
      running_ = request->asked.stop_;
    }
    request->work(request->asked);
  }
}

void NewestWork::Asked::tell(Answer answer) const {
  QMetaObject::invokeMethod(&home_->home_, [home = home_, number = number_, answer = std::move(answer)] {
    if (number == home->newest_) answer();
  });
}

}  // namespace pommel::ui
