#include "ui/models/folder_maker.h"

#include <QMetaObject>

#include "paper/papers.h"

namespace pommel::ui {
namespace {

Result<Done> made_folder(job::Loaded order, const std::filesystem::path& into, bool replace, const job::Options& options) {
  const auto files = real_files();
  // said before the work is done
  const auto folder = job::claim_folder(*files, into, replace);
  if (!folder.ok()) return folder.failure();
  const auto job = job::run(std::move(order), {}, options);
  if (!job.ok()) return job.failure();
  if (options.stop.stop_requested()) return fail("cancelled", "stopped", "");
  options.progress("papers", "the order");
  return job::write_folder(*job, paper::papers().get(), *files, **folder, replace);
}

}  // namespace

FolderMaker::~FolderMaker() {
  worker_.request_stop();
  if (worker_.joinable()) worker_.join();
}

void FolderMaker::make(job::Loaded order, const std::filesystem::path& into, bool replace) {
  busy_ = true;
  worker_ = std::jthread([this, order = std::move(order), into, replace](std::stop_token stop) {
    job::Options options;
    options.stop = stop;
    options.progress = [this](const std::string& stage, const std::string& of) {
      QMetaObject::invokeMethod(this, [this, said = QString::fromStdString(stage + ", " + of)] { emit began(said); });
    };
    const auto made = made_folder(order, into, replace, options);
    QMetaObject::invokeMethod(this, [this, reasons = made.ok() ? std::vector<Diagnostic>() : made.reasons()] {
      busy_ = false;
      emit ended(reasons);
    });
  });
}

}  // namespace pommel::ui
