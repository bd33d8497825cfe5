#pragma once

#include <stdexcept>

namespace nightbank::tool {

/// The command line or an input file is wrong; the text is complete for people, without a line end:
/// "nightbank: error: ..." or "my_night.yaml: error: ...".
struct UserError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Output that was begun could not be finished (a full disk).
struct OutputError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace nightbank::tool
