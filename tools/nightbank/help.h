#pragma once

#include <string>
#include <vector>

#include "command.h"

namespace nightbank::tool {

/// What 'nightbank --help' shows, at most 80 columns.
std::string mainHelp(const std::vector<CommandSpec>& commands);

}  // namespace nightbank::tool
