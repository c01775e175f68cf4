// The command line as a process: what it prints, how it ends.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include <sys/types.h>

namespace pommel::whole {

struct Ended {
  int code = -1;        ///< exit code; -1 when it did not end by itself
  std::string out, err;
};

struct Surroundings {
  std::map<std::string, std::string> environment;  ///< set besides the test's own
  std::filesystem::path folder;                    ///< to run in; empty: the test's own
  int interrupt_after_ms = -1;                     ///< SIGINT so long after the process takes interrupts; below 0: none
  bool one_processor = false;                      ///< it may use one processor only
};

/// Runs the pommel executable of this build.
Ended pommel(const std::vector<std::string>& arguments, const Surroundings& around = {});

/// A folder of its own under the system's temporary one, removed with all it holds.
class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  const std::filesystem::path& path() const { return path_; }
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

/// The pommel executable of this build while it runs; killed and waited for at the end.
class Started {
 public:
  explicit Started(const std::vector<std::string>& arguments, const Surroundings& around = {});
  ~Started();
  Started(const Started&) = delete;
  Started& operator=(const Started&) = delete;

  pid_t id() const { return child_; }
  void send(int signal) const;
  /// Whether it has ended by now.
  bool over();
  /// Waits for its end.
  Ended ended();

 private:
  Scratch scratch_;
  pid_t child_ = -1;
  int status_ = 0;
  bool over_ = false;
};

/// Every file below a folder by its name inside, with its bytes.
std::map<std::string, std::string> contents(const std::filesystem::path& folder);

}  // namespace pommel::whole
