// Private: how this room calls the kernel. Exceptions and cancelling are turned into values here, at the edge.
#pragma once

#include <exception>
#include <stop_token>
#include <string>

#include "base/result.h"
#include "solid/occt.h"

namespace pommel::solid {

/// Takes the kernel's printers away, once for the process: it would write banners to stdout.
void be_quiet();

inline Failure cancelled() {
  return fail("cancelled", "stopped before the work was done");
}

inline Failure kernel_failure(const std::string& doing, const char* why) {
  return fail("solid.kernel",
              "the modelling kernel gave up while " + doing + ": " + (why && *why ? why : "no reason given"),
              "look for steps or walls of almost no size in the outline, and report the part if there are none");
}

/// The stop token as the kernel's progress indicator. Its UserBreak() is called from several threads at once.
class StopWatch : public Message_ProgressIndicator {
 public:
  explicit StopWatch(std::stop_token stop) : stop_(std::move(stop)) {}

 protected:
  Standard_Boolean UserBreak() override { return stop_.stop_requested(); }
  void Show(const Message_ProgressScope&, const Standard_Boolean) override {}

 private:
  std::stop_token stop_;
};

/// What `work` returns (a Result), or why it could not: "cancelled" when the token is stopped by the end, for then the
/// kernel may have left something half done; "solid.kernel" for whatever it throws. `doing`: "turning the leg".
template <class Work>
auto guarded(const std::string& doing, const std::stop_token& stop, Work work) -> decltype(work()) {
  be_quiet();
  if (stop.stop_requested()) return cancelled();
  try {
    auto result = work();
    if (stop.stop_requested()) return cancelled();
    return result;
  } catch (const Standard_Failure& failure) {
    return stop.stop_requested() ? cancelled() : kernel_failure(doing, failure.GetMessageString());
  } catch (const std::exception& failure) {
    return stop.stop_requested() ? cancelled() : kernel_failure(doing, failure.what());
  } catch (...) {
    return stop.stop_requested() ? cancelled() : kernel_failure(doing, nullptr);
  }
}

}  // namespace pommel::solid
