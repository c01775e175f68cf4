#include "faults/calls.h"

#include <fcntl.h>
#include <sys/types.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdarg>

namespace pommel::faults {
namespace {

Plan planned;
std::atomic<bool> counting = false;
std::atomic<int> calls = 0;

enum Kind {
  kWaits,              // a signal may interrupt it
  kTakesRoom,          // it needs room on the disk
  kWaitsAndTakesRoom,  // both
  kQuick,              // neither
};

bool falls_on(Kind kind, int call) {
  const bool takes_room = kind == kTakesRoom || kind == kWaitsAndTakesRoom;
  switch (planned.what) {
    case Plan::kNothing:
      return false;
    case Plan::kFull:
      return call >= planned.at && takes_room;
    case Plan::kInterrupt:
      return call % 2 == 0 && (kind == kWaits || kind == kWaitsAndTakesRoom);
    case Plan::kKill:
    case Plan::kFail:
      break;
  }
  return call == planned.at;
}

// Whether the call is to fail now; errno is set then. `half`: what it has done by then.
template <class Half>
bool fault_now(Kind kind, Half half) {
  if (!counting || !falls_on(kind, calls++)) return false;
  if (planned.what == Plan::kInterrupt) {
    errno = EINTR;  // before anything was done
    return true;
  }
  half();
  if (planned.what == Plan::kKill) ::raise(SIGKILL);
  errno = planned.error;
  return true;
}
bool fault_now(Kind kind) {
  return fault_now(kind, [] {});
}

// Fewer bytes than were asked for, as a signal in the middle leaves it; one at least.
size_t moved_of(size_t count) {
  return counting && planned.what == Plan::kInterrupt && count > 1 ? count / 2 : count;
}

}  // namespace

void plan(const Plan& plan) {
  planned = plan;
  calls = 0;
  counting = true;
}

int planned_calls() {
  counting = false;
  return calls;
}

}  // namespace pommel::faults

using namespace pommel::faults;

extern "C" {

int __real_open(const char* path, int flags, ...);
int __wrap_open(const char* path, int flags, ...) {
  mode_t mode = 0;
  if (flags & O_CREAT) {
    va_list rest;
    va_start(rest, flags);
    mode = va_arg(rest, mode_t);
    va_end(rest);
  }
  if (fault_now(flags & O_CREAT ? kWaitsAndTakesRoom : kWaits)) return -1;
  return __real_open(path, flags, mode);
}

ssize_t __real_read(int file, void* bytes, size_t count);
ssize_t __wrap_read(int file, void* bytes, size_t count) { return fault_now(kWaits) ? -1 : __real_read(file, bytes, moved_of(count)); }

ssize_t __real_write(int file, const void* bytes, size_t count);
ssize_t __wrap_write(int file, const void* bytes, size_t count) {
  if (fault_now(kWaitsAndTakesRoom, [&] { (void)!__real_write(file, bytes, count / 2); })) return -1;
  return __real_write(file, bytes, moved_of(count));
}

int __real_fsync(int file);
int __wrap_fsync(int file) { return fault_now(kWaits) ? -1 : __real_fsync(file); }

int __real_flock(int file, int how);
int __wrap_flock(int file, int how) { return fault_now(kWaits) ? -1 : __real_flock(file, how); }

int __real_fchmod(int file, mode_t mode);
int __wrap_fchmod(int file, mode_t mode) { return fault_now(kQuick) ? -1 : __real_fchmod(file, mode); }

int __real_mkdir(const char* path, mode_t mode);
int __wrap_mkdir(const char* path, mode_t mode) { return fault_now(kTakesRoom) ? -1 : __real_mkdir(path, mode); }

int __real_rmdir(const char* path);
int __wrap_rmdir(const char* path) { return fault_now(kQuick) ? -1 : __real_rmdir(path); }

int __real_unlink(const char* path);
int __wrap_unlink(const char* path) { return fault_now(kQuick) ? -1 : __real_unlink(path); }

int __real_rename(const char* from, const char* to);
int __wrap_rename(const char* from, const char* to) { return fault_now(kTakesRoom) ? -1 : __real_rename(from, to); }

int __real_renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags);
int __wrap_renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) {
  return fault_now(kTakesRoom) ? -1 : __real_renameat2(from_folder, from, to_folder, to, flags);
}

}  // extern "C"
