#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "nightbank/units/calendar.h"

/// The value types of a scenario: what was written, how far it is trusted, whether it was given.
namespace nightbank::scenario {

/// How a value is known, weakest first. A value written without a grade is `nameplate`, one left
/// out is `typical`.
enum class Grade : std::uint8_t { typical, nameplate, measured };

/// A number in the unit of its field's dimension. NaN: not known (left out, and no typical value).
struct Graded {
  double value = std::numeric_limits<double>::quiet_NaN();
  Grade grade = Grade::typical;
  bool given = false;  ///< written by the user (apart from the grade: "6 Ah typical" is given)

  bool known() const { return !std::isnan(value); }
};

/// A current with the voltage at which it flows: "8 A at 120 V". NaN: at the scenario's mains.
struct CurrentAt : Graded {
  double at_V = std::numeric_limits<double>::quiet_NaN();
};

/// One of a fixed list of words. `E` counts from 0 in the order of the field's word list.
template <class E>
struct Word {
  E value{};
  bool given = false;
};

enum class YesNo : std::uint8_t { no, yes };

/// Spans of the clock; nullopt: not given.
using Hours = std::optional<std::vector<ClockSpan>>;

}  // namespace nightbank::scenario
