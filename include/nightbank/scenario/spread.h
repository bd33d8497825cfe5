#pragma once

#include <cstddef>
#include <variant>

#include "nightbank/scenario/edit.h"

/// How far off a number of a scenario may be.
namespace nightbank::scenario {

/// Of one number, in the unit of its slot.
struct Spread {
  enum class Shape : std::uint8_t {
    even,      ///< anything from low to high alike
    triangle,  ///< most likely at the middle
    normal,    ///< around the middle; low and high cut it off
  };

  Slot slot;
  Shape shape = Shape::even;
  double low = 0.0, middle = 0.0, high = 0.0;  ///< low < high, the middle between
  double deviation = 0.0;                      ///< standard deviation, of a normal one
};

/// The value that lies at a share of all draws.
/// @param share  in (0, 1)
double valueAt(const Spread& spread, double share);

/// Around a value with one standard deviation, cut off at three and at what the reader accepts.
Spread normalSpread(const Slot& slot, double middle, double deviation);

/// What `risk[index]` of a scenario says: between its low and high, most likely at the scenario's
/// value and evenly where that is not known or lies outside; or its spread around that value.
/// @param resolved  the same scenario with typical values
/// @returns the spread, or what is wrong with the entry, by its path
std::variant<Spread, Problem> spreadOf(const Scenario& given, const Scenario& resolved,
                                       std::size_t index);

}  // namespace nightbank::scenario
