#pragma once

#include <string_view>

/// Help texts, at most 80 columns, with examples.
namespace nightbank::tool {

std::string_view mainHelp();
std::string_view runHelp();
std::string_view startHelp();
std::string_view checkHelp();
std::string_view keysHelpText();
std::string_view newHelp();

}  // namespace nightbank::tool
