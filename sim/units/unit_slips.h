#pragma once

#include <string_view>

#include "nightbank/units/quantity.h"

/// Did-you-mean for unit words. Private to the room.
namespace nightbank::detail {

/// The unit of `wanted` that was most likely meant by `typed`: a usual slip ("°C", "amps", "BTU",
/// "W" for an energy), another case, or the nearest by edits. "" where none is near, or `typed` is
/// a unit of another dimension that is not commonly confused with one of `wanted`.
std::string_view meantUnit(std::string_view typed, Dim wanted);

}  // namespace nightbank::detail
