#pragma once

namespace nightbank::tool {

/// What the process ends with.
enum class ExitCode : int {
  answered = 0,
  notHeld = 1,        ///< only with --require: the answer is worse than required
  usage = 2,          ///< the command line or the input is wrong
  internal = 70,      ///< an error of the program, or its output could not be written
  interrupted = 130,  ///< Ctrl-C: what was done until then is answered
};

}  // namespace nightbank::tool
