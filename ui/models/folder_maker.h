// Makes a job folder off the window's thread: everything is run again from the order's measures, and nothing is released that has not
// been proved. The folder appears whole or not at all, cancelled or not.
#pragma once

#include <QObject>
#include <filesystem>
#include <thread>

#include "job/job.h"

namespace pommel::ui {

class FolderMaker : public QObject {
  Q_OBJECT

 public:
  explicit FolderMaker(QObject* parent = nullptr) : QObject(parent) {}
  ~FolderMaker() override;

  bool busy() const { return busy_; }
  /// REQUIRES: not busy(). `replace` as job::write_folder.
  void make(job::Loaded order, const std::filesystem::path& into, bool replace);
  void cancel() { worker_.request_stop(); }

 signals:
  void began(const QString& stage);
  /// No reasons: the folder is there.
  void ended(const std::vector<pommel::Diagnostic>& reasons);

 private:
  bool busy_ = false;
  std::jthread worker_;
};

}  // namespace pommel::ui
