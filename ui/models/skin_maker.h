// Makes a piece's solid and skin off the window's thread. The newest piece wins; an older one is stopped, and what it still says is thrown
// away. Nothing waits for the worker but the destructor.
#pragma once

#include <QObject>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <vector>

#include "base/diagnostic.h"
#include "job/skin.h"

namespace pommel::ui {

class SkinMaker : public QObject {
  Q_OBJECT

 public:
  explicit SkinMaker(QObject* parent = nullptr);
  ~SkinMaker() override;

  void make(const shape::Part& part);
  /// No answer comes any more.
  void give_up();

 signals:
  void made(std::shared_ptr<const pommel::job::Skin> skin);
  void failed(const std::vector<pommel::Diagnostic>& reasons);

 private:
  struct Request {
    std::uint64_t number = 0;
    shape::Part part;
    std::stop_source stop;
  };
  void work(std::stop_token quit);
  void answer(Request& request);

  std::uint64_t newest_ = 0;  // the window's
  std::mutex guard_;
  std::condition_variable_any news_;
  std::unique_ptr<Request> waiting_;  // guarded
  std::stop_source running_;          // guarded
  std::jthread worker_;
};

}  // namespace pommel::ui
