#pragma once

#include <optional>
#include <string_view>

#include "finding.h"

/// Private to the room: what a text is refused for before it is parsed.
namespace nightbank::scenario {

/// The first reason to refuse the text unread; linear in its length, no recursion.
std::optional<Finding> checkText(std::string_view text);

}  // namespace nightbank::scenario
