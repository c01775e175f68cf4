#include "whole/process.h"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <thread>

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sched.h>
#include <sys/wait.h>
#include <unistd.h>

namespace pommel::whole {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

// In the child: nothing returns.
[[noreturn]] void become(const std::vector<std::string>& arguments, const Surroundings& around, const fs::path& out, const fs::path& err) {
  const int o = ::open(out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600), e = ::open(err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  if (o < 0 || e < 0 || ::dup2(o, 1) < 0 || ::dup2(e, 2) < 0) ::_exit(99);
  if (!around.folder.empty() && ::chdir(around.folder.c_str()) != 0) ::_exit(99);
  cpu_set_t first;
  CPU_ZERO(&first);
  CPU_SET(0, &first);
  if (around.one_processor && ::sched_setaffinity(0, sizeof first, &first) != 0) ::_exit(99);
  for (const auto& [name, value] : around.environment) ::setenv(name.c_str(), value.c_str(), 1);
  std::vector<char*> argv{const_cast<char*>(POMMEL_BINARY)};
  for (const std::string& argument : arguments) argv.push_back(const_cast<char*>(argument.c_str()));
  argv.push_back(nullptr);
  ::execv(POMMEL_BINARY, argv.data());
  ::_exit(99);
}

// The kernel says which signals a process blocks; ours blocks SIGINT once its own thread waits for it.
bool takes_interrupts(pid_t child) {
  std::istringstream status(bytes_of("/proc/" + std::to_string(child) + "/status"));
  for (std::string line; std::getline(status, line);)
    if (line.starts_with("SigBlk:")) return (std::strtoull(line.c_str() + 7, nullptr, 16) & (1ull << (SIGINT - 1))) != 0;
  return false;
}

}  // namespace

Started::Started(const std::vector<std::string>& arguments, const Surroundings& around) {
  child_ = ::fork();
  if (child_ == 0) become(arguments, around, scratch_ / "out", scratch_ / "err");
  EXPECT_GT(child_, 0);
}

Started::~Started() {
  if (over()) return;
  send(SIGKILL);
  (void)ended();
}

// never to a number that may be another's by now
void Started::send(int signal) const {
  if (!over_) ::kill(child_, signal);
}

bool Started::over() {
  if (!over_) over_ = ::waitpid(child_, &status_, WNOHANG) == child_;
  return over_;
}

Ended Started::ended() {
  if (!over_) {
    EXPECT_EQ(::waitpid(child_, &status_, 0), child_);
  }
  over_ = true;
  return {WIFEXITED(status_) ? WEXITSTATUS(status_) : -1, bytes_of(scratch_ / "out"), bytes_of(scratch_ / "err")};
}

Ended pommel(const std::vector<std::string>& arguments, const Surroundings& around) {
  Started started(arguments, around);
  if (around.interrupt_after_ms >= 0) {
    for (int i = 0; i < 1000 && !takes_interrupts(started.id()); ++i) std::this_thread::sleep_for(std::chrono::milliseconds(5));
    std::this_thread::sleep_for(std::chrono::milliseconds(around.interrupt_after_ms));
    started.send(SIGINT);
  }
  return started.ended();
}

Scratch::Scratch() {
  std::string name = (fs::temp_directory_path() / "pommel-test-XXXXXX").string();
  const char* made = ::mkdtemp(name.data());
  EXPECT_NE(made, nullptr);
  path_ = name;
}

Scratch::~Scratch() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::map<std::string, std::string> contents(const fs::path& folder) {
  std::map<std::string, std::string> out;
  std::error_code error;
  for (const auto& entry : fs::recursive_directory_iterator(folder, error))
    if (entry.is_regular_file()) out[entry.path().lexically_relative(folder).generic_string()] = bytes_of(entry.path());
  return out;
}

}  // namespace pommel::whole
