#pragma once

#include <string>
#include <string_view>

namespace nightbank::report {

/// The JSON Schema (draft 2020-12) of one command's answer, with all it refers to: definitions that
/// its own `$defs` lack come from `shared`, as do those that these refer to in turn.
/// @param own     schema of the command; refers by "#/$defs/NAME"
/// @param shared  {"$defs": {...}} of all commands
/// @returns indented, with a line end
/// @throws InternalError where a definition is in neither
std::string answerSchema(std::string_view own, std::string_view shared);

}  // namespace nightbank::report
