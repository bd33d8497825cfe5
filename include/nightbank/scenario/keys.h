#pragma once

#include <string>
#include <string_view>

namespace nightbank::scenario {

/// Help on the keys of a scenario, at most 80 columns wide, each line ended. Empty path: the tree
/// of all keys with units, range and typical value, seldom needed ones last. A path ("bank",
/// "generator.rule.start_below", list items without name or number) gives that part or key in
/// detail. An unknown path gives a line that says so with the nearest key.
std::string keysHelp(std::string_view path = {});

/// Whether `path` names a key or part, in the form of keysHelp().
bool isKey(std::string_view path);

}  // namespace nightbank::scenario
