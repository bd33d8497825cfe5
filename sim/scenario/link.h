#pragma once

#include <cstddef>
#include <string>

#include "nightbank/scenario/field.h"

/// Where a walk through a scenario is. Private to the room.
namespace nightbank::scenario {

/// A part, by links to the parts above it: its path is only built when something asks for it. The
/// scenario itself has neither field nor link above.
struct Link {
  const Link* above = nullptr;
  const Field* field = nullptr;  ///< that holds the part
  const void* part = nullptr;    ///< that has this field
  std::size_t item = 0;          ///< in a list
};

std::string pathOf(const Link& link);
/// Of a key in the linked part.
std::string pathOf(const Link& link, std::string_view key);

}  // namespace nightbank::scenario
