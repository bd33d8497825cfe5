#pragma once

#include "command.h"

namespace nightbank::tool {

/// The commands in the order of the help.
const std::vector<CommandSpec>& commands();

/// Does what the command line asks for.
/// @throws UserError for a mistyped line, with the nearest word; what the command throws
Result perform(int argc, const char* const* argv);

}  // namespace nightbank::tool
