// Announces a stage as it begins, and notes how long it took when it goes out of scope.
#pragma once

#include <chrono>
#include <string>
#include <utility>

#include "job/column.h"

namespace pommel::job {

class Stage {
 public:
  /// REQUIRES: `options` outlives the stage.
  Stage(const Options& options, std::string stage, std::string of) : options_(options), stage_(std::move(stage)), of_(std::move(of)) {
    if (options_.progress) options_.progress(stage_, of_);
  }
  ~Stage() {
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begun_;
    if (options_.times) options_.times->push_back({stage_, of_, spent.count()});
  }
  Stage(const Stage&) = delete;
  Stage& operator=(const Stage&) = delete;

 private:
  const Options& options_;
  std::string stage_, of_;
  std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

}  // namespace pommel::job
