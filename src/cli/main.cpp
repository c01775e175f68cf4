// pommel: from a part family and an order to a job folder that a maker can act on.
#include <csignal>
#include <cstdio>
#include <exception>
#include <thread>

#include "cli/cli.h"

namespace {

// Interrupts are taken by a thread that waits for them, so that asking the job to stop happens in ordinary code, not in a
// signal handler. REQUIRES: made before any other thread, so that all inherit the block.
class Interrupts {
 public:
  Interrupts() {
    sigemptyset(&set_);
    for (int signal : {SIGINT, SIGTERM}) sigaddset(&set_, signal);
    pthread_sigmask(SIG_BLOCK, &set_, nullptr);
    waiter_ = std::jthread([this](std::stop_token done) {
      const timespec pause{0, 100'000'000};
      while (!done.stop_requested())
        if (sigtimedwait(&set_, nullptr, &pause) > 0) stop_.request_stop();
    });
  }
  std::stop_token token() const { return stop_.get_token(); }

 private:
  sigset_t set_{};
  std::stop_source stop_;
  std::jthread waiter_;
};

std::filesystem::path installed_house() {
  std::error_code error;
  const auto self = std::filesystem::read_symlink("/proc/self/exe", error);
  return error ? std::filesystem::path() : self.parent_path().parent_path() / "share" / "pommel";
}

int run(int argc, char** argv, std::stop_token stop) {
  using namespace pommel::cli;
  const auto files = pommel::real_files();
  Shared shared;
  shared.files = files.get();
  shared.installed = installed_house();
  shared.stop = std::move(stop);

  CLI::App app("pommel: families of turned furniture parts, an order's measures, and all that follows from them");
  app.set_version_flag("--version", "pommel " POMMEL_VERSION);
  app.require_subcommand(1);
  app.footer("Exit codes: 0 done; 1 problems in the files, or a check that stops the job; 2 the command line;\n"
             "3 a program's check found a fault; 4 the disk refused; 5 a program that cannot be read; 6 one that is for another\n"
             "piece, cutter or machine; 130 interrupted.\n"
             "The check compares a program's text with the design on a rigid blank and the machine as described, not your\n"
             "set-up. Local rules and licensed practice come first.");
  Run chosen;
  add_make(app, shared, chosen);
  add_sheet(app, shared, chosen);
  add_check(app, shared, chosen);
  add_solid(app, shared, chosen);
  add_prove(app, shared, chosen);
  add_catalog(app, shared, chosen);
  add_match(app, shared, chosen);
  add_first_run(app, shared, chosen);
  for (CLI::App* verb : app.get_subcommands({})) verb->add_option("--catalog", shared.catalog, "folder with designs/ and shop/ (default: the one the file stands in)");
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? kDone : kUsage;
  }
  return chosen();
}

}  // namespace

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);  // a file that grows too large is a failed write, which takes what it wrote away again
  try {
    const Interrupts interrupts;
    return run(argc, argv, interrupts.token());
  } catch (const std::exception& error) {
    // no room lets an exception out; memory that has run out is what is left
    std::fprintf(stderr, "error: %s\n", error.what());
    return pommel::cli::kProblems;
  }
}
