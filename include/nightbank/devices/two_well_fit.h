#pragma once

#include <array>
#include <span>
#include <string>

#include "nightbank/devices/two_well.h"

/// The constants of the two-well model from a table of rates.
///
///     1 / q(T) = A + B g(k T)     A = 1 / qmax, B = (1 - c) / (c qmax), g(x) = (1 - e^-x) / x
///
/// That is deliveredCapacity_Ah() turned over: with k held it is linear in A and B, so that a fit
/// is a search for k alone. Valid for: constant temperature and one end voltage for the whole
/// table. Two wells span about a decade and a half of rates: 1 h to 20 h well, 5 min to 20 h not.
namespace nightbank {

/// One line of a table of rates: what a full battery delivers at the constant current that empties
/// it in these hours.
struct RatePoint {
  double over_h = 0.0;       ///< > 0
  double capacity_Ah = 0.0;  ///< > 0
};

struct TwoWellFit {
  TwoWellParams params;  ///< meaningful only without a refusal
  double rms = 0.0;      ///< relative, of table against model, 0..1
  double worst = 0.0;    ///< the relative deviation that is largest in size, with its sign
  double worstAt_h = 0.0;
  std::string refusal;  ///< why there is no answer, a sentence for the user; "": there is one
};

/// A table that fits worse than this is refused. Common practice, no source: the spread between
/// batteries of one type is of this size.
inline constexpr double kWorstTwoWellRms = 0.05;

/// The constants that meet three rates exactly, or the reason why none do.
/// @throws std::invalid_argument where a number is not finite and above 0 (same for fitTwoWells)
TwoWellFit identifiedTwoWells(const std::array<RatePoint, 3>& rates);

/// The constants with the least sum of squares of (table / model - 1) over three or more rates, or
/// the reason why none will do.
TwoWellFit fitTwoWells(std::span<const RatePoint> rates);

}  // namespace nightbank
