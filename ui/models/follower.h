// Works out what follows from the measures, off the window's thread; the newest request wins and older ones are stopped.
#pragma once

#include <QObject>
#include <memory>
#include <optional>
#include <thread>

#include "job/column.h"
#include "job/load.h"

namespace pommel::ui {

/// One answer: the column, or why there is none. `leg` is there even when only what comes after it fails.
struct Followed {
  std::size_t column = 0;
  std::optional<shape::Part> leg;  ///< the first member's, with its mortises
  std::optional<job::Column> result;
  std::vector<Diagnostic> reasons;
};

class Follower : public QObject {
  Q_OBJECT

 public:
  /// REQUIRES: `loaded` outlives the follower.
  explicit Follower(const job::Loaded& loaded, QObject* parent = nullptr);
  ~Follower() override;

  /// Begins again with a copy of the sheet; answers come by followed(), in the window's thread, one for each column asked.
  void follow(const sheet::Sheet& sheet, std::vector<std::size_t> columns);

 signals:
  void followed(std::shared_ptr<const pommel::ui::Followed> answer);

 private:
  const job::Loaded& loaded_;
  job::TurningMemo memo_;
  std::uint64_t newest_ = 0;
  std::jthread worker_;
};

}  // namespace pommel::ui
