#pragma once

#include "options.h"

namespace nightbank::tool {

/// The command that `argv` asks for.
/// @throws UserError with a did-you-mean where a word is near a known one
Command parseCommandLine(int argc, const char* const* argv);

}  // namespace nightbank::tool
