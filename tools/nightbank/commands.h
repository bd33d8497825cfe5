#pragma once

#include <string>

#include "exit_code.h"
#include "options.h"

/// The commands. Each gives back what is to be shown; only files are written by it.
namespace nightbank::tool {

struct Result {
  ExitCode code = ExitCode::answered;
  std::string out;  ///< for standard output
  std::string err;  ///< for standard error
};

/// @throws UserError, OutputError
Result run(const RunOptions& options);
Result start(const StartOptions& options);
Result check(const CheckOptions& options);
Result keys(const KeysOptions& options);
Result makeNew(const NewOptions& options);

}  // namespace nightbank::tool
