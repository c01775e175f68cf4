// For tests that stop work at any moment: when, and what a process has in hand.
#pragma once

#include <dirent.h>
#include <malloc.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <random>
#include <thread>

namespace pommel::job::testing {

/// Moments after the beginning, from a fixed seed: as many between 10 and 20 microseconds as between 1 and 2 milliseconds, so that the short first stages are
/// met as often as the long later ones. POMMEL_STOPS and POMMEL_STOP_WITHIN (milliseconds) ask for more of them and for later ones than a test's usual.
class Moments {
 public:
  Moments(int usual_count, double usual_last) : count_(usual_count), last_(1000 * usual_last) {
    if (const char* wanted = std::getenv("POMMEL_STOPS")) count_ = std::atoi(wanted);
    if (const char* wanted = std::getenv("POMMEL_STOP_WITHIN")) last_ = 1000 * std::strtod(wanted, nullptr);
  }
  int count() const { return count_; }
  std::chrono::microseconds next() {
    const double share = static_cast<double>(drawn_()) / static_cast<double>(std::mt19937::max());
    return std::chrono::microseconds(static_cast<long>(10 * std::pow(last_ / 10, share)));
  }

 private:
  int count_;
  double last_;
  std::mt19937 drawn_{20};
};

/// Entries of a folder of the system's (proc(5)) without "." and "..".
inline int entries_of(const char* folder) {
  int count = -2;
  DIR* open = opendir(folder);
  if (!open) return -1;
  while (readdir(open)) ++count;
  closedir(open);
  return count;
}

/// Threads and open files of this process, and bytes that were allocated and not given back. The sanitizers' own allocators say nothing of the last: it is 0 then,
/// and their leak check takes its place.
struct InHand {
  int threads = entries_of("/proc/self/task"), files = entries_of("/proc/self/fd");
  std::size_t bytes = mallinfo2().uordblks;
};

/// Whether no more threads are left; those on their way out have five seconds.
inline bool threads_come_down_to(int count) {
  for (int tries = 0; tries < 500; ++tries) {
    if (InHand().threads <= count) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  return false;
}

}  // namespace pommel::job::testing
