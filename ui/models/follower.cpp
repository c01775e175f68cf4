#include "ui/models/follower.h"

#include <QMetaObject>

namespace pommel::ui {

Follower::Follower(const job::Loaded& loaded, QObject* parent) : QObject(parent), loaded_(loaded) {}

Follower::~Follower() = default;  // the worker is asked to stop and joined before the rest goes

void Follower::follow(const sheet::Sheet& sheet, std::vector<std::size_t> columns) {
  const std::uint64_t number = ++newest_;
  worker_ = std::jthread([this, number, sheet, columns = std::move(columns)](std::stop_token stop) {
    for (const std::size_t column : columns) {
      job::Options options;
      options.stop = stop;
      options.memo = &memo_;
      auto answer = std::make_shared<Followed>();
      answer->column = column;
      if (const auto early = family::make(loaded_.family, loaded_.design, sheet, column, loaded_.shop, sheet.settings().lengths); early.ok())
        answer->leg = early->set.members.front().part;
      auto made = job::run_column(loaded_, sheet, column, options);
      if (stop.stop_requested()) return;
      if (made.ok()) answer->result = std::move(made).value();
      else answer->reasons = made.reasons();
      QMetaObject::invokeMethod(this, [this, number, answer] {
        if (number == newest_) emit followed(answer);
      });
    }
  });
}

}  // namespace pommel::ui
