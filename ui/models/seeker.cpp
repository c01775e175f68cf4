#include "ui/models/seeker.h"

#include <QMetaObject>

#include "job/column.h"

namespace pommel::ui {

Seeker::~Seeker() {
  worker_.request_stop();
  if (worker_.joinable()) worker_.join();
}

void Seeker::seek(const sheet::Sheet& sheet, const sheet::Goal& goal) {
  busy_ = true;
  worker_ = std::jthread([this, sheet, goal](std::stop_token stop) {
    const auto outcomes = [&](sheet::Sheet& trial, std::size_t column) -> Result<Done> {
      job::Options options;
      options.stop = stop;
      const auto made = job::run_column(loaded_, trial, column, options);
      if (stop.stop_requested()) return fail("cancelled", "stopped", "");
      if (!made.ok()) return made.failure();
      const auto set = trial.set_outcomes(column, made->outcomes);
      return set.ok() ? Result<Done>(Done{}) : Result<Done>(set.failure());
    };
    // a measure follows from the sheet alone; only what comes after needs the rooms
    const auto sought = sheet.outcome(goal.wished) ? sheet::seek(sheet, goal, outcomes) : sheet::seek(sheet, goal);
    QMetaObject::invokeMethod(this, [this, sought] {
      busy_ = false;
      if (sought.ok()) emit found(*sought);
      else emit failed(sought.reasons());
    });
  });
}

}  // namespace pommel::ui
