// One worker for one view: what was asked last is worked out off the window's thread; what was asked before is told to stop, and what it still
// answers is thrown away. Nothing waits for the worker but the destructor.
#pragma once

#include <QObject>
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <stop_token>
#include <thread>

namespace pommel::ui {

class NewestWork {
 public:
  using Answer = std::function<void()>;                ///< called in the thread of `home`
  using Work = std::function<Answer(std::stop_token)>; ///< called in the worker

  /// What was asked, as the worker sees it.
  class Asked {
   public:
    std::stop_token stop() const { return stop_.get_token(); }
    bool given_up() const { return stop_.stop_requested(); }
    /// Answers a part of it, unless something newer has been asked by the time the window hears of it.
    void tell(Answer answer) const;

   private:
    friend class NewestWork;
    NewestWork* home_ = nullptr;
    std::uint64_t number_ = 0;
    std::stop_source stop_;
  };
  using PartialWork = std::function<void(const Asked&)>;

  enum class Pace {
    at_once,
    behind  ///< gives way to the window and to workers at once, where the system can tell threads apart
  };
  /// REQUIRES: `home` outlives this.
  explicit NewestWork(QObject& home, Pace pace = Pace::at_once);
  ~NewestWork();

  void ask(Work work);
  /// Work that answers in parts as they are found.
  void ask_in_parts(PartialWork work);
  /// No answer comes any more.
  void give_up();

 private:
  struct Request {
    Asked asked;
    PartialWork work;
  };
  void run(Pace pace, std::stop_token quit);

  QObject& home_;
  std::uint64_t newest_ = 0;  // the window's
  std::mutex guard_;
  std::condition_variable_any news_;
  std::unique_ptr<Request> waiting_;  // guarded
  std::stop_source running_;          // guarded
  std::jthread worker_;
};

}  // namespace pommel::ui
