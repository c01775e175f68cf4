// Faults at the system calls by which the house reads and writes files. The linker (--wrap, see tests/CMakeLists.txt) leads open, write, fsync,
// rename and the like of our own libraries to calls.cpp, which counts them and at one of them does what was planned. So a fault falls
// between any two steps of a write, as root too, and no disk has to be filled. What shared libraries call is not counted: the standard
// library looks whether something is there, lists folders and clears away what was hidden.
#pragma once

namespace pommel::faults {

struct Plan {
  enum What {
    kNothing,    ///< count
    kKill,       ///< SIGKILL to this very process; a write has put half of its bytes out by then
    kFail,       ///< this call fails with `error`; a write has put half of its bytes out by then
    kFull,       ///< from this call on every one that takes room fails with `error`; what gives room back works
    kInterrupt,  ///< every other call that a signal may interrupt is interrupted, and reads and writes move half of what they could
  };
  What what = kNothing;
  int at = 0;     ///< the call, counted from 0
  int error = 0;  ///< an errno
};

/// From now on, counting from 0.
void plan(const Plan& plan);
/// No faults and no counting any more. Returns how many calls there were since plan().
int planned_calls();

}  // namespace pommel::faults
