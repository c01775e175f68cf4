// Finds the measure that gives a wished figure, off the window's thread: a blank that comes out of the stock, a price, a time.
#pragma once

#include <QObject>
#include <thread>

#include "job/load.h"
#include "sheet/seek.h"

namespace pommel::ui {

class Seeker : public QObject {
  Q_OBJECT

 public:
  /// REQUIRES: `loaded` outlives the seeker.
  explicit Seeker(const job::Loaded& loaded, QObject* parent = nullptr) : QObject(parent), loaded_(loaded) {}
  ~Seeker() override;

  bool busy() const { return busy_; }
  /// REQUIRES: not busy().
  void seek(const sheet::Sheet& sheet, const sheet::Goal& goal);
  void cancel() { worker_.request_stop(); }

 signals:
  void found(const pommel::sheet::Sought& sought);
  void failed(const std::vector<pommel::Diagnostic>& reasons);

 private:
  const job::Loaded& loaded_;
  bool busy_ = false;
  std::jthread worker_;
};

}  // namespace pommel::ui
