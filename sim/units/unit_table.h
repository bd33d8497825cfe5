#pragma once

#include <span>
#include <string_view>

#include "nightbank/units/quantity.h"

/// The one table of unit words behind quantity.h. Private to the room.
namespace nightbank::detail {

/// kept = (typed - zero) * times / per. A ratio, so that "57 %" is 0.57 to the last digit.
struct Unit {
  std::string_view word;
  Dim dim;
  double times;
  double per = 1.0;
  double zero = 0.0;
};

/// Dimension by dimension, the preferred unit first.
std::span<const Unit> unitTable();

/// nullptr where `word` (case-sensitive) is no unit of `dim`.
const Unit* findUnit(std::string_view word, Dim dim);
/// The same word of whatever dimension; nullptr where it is no unit.
const Unit* findUnitAnywhere(std::string_view word);

/// "a charge"
std::string_view dimensionName(Dim dim);

}  // namespace nightbank::detail
