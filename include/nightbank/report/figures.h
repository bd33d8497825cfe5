#pragma once

#include <string>
#include <vector>

#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/units/quantity.h"

/// Moments and shares of a run as people read them.
namespace nightbank::report {

/// "34 %"; below 10 % with a decimal: "9.7 %". Cut off, not rounded, so that a margin never looks
/// larger than it is. "unknown" where not finite.
std::string shareText(double share);

/// A state of charge: "67 %", rounded.
std::string socText(double soc);

/// A height above the sea, whole: "410 m", "1345 ft".
std::string heightText(double height_m, UnitSystem units);

/// "03:48"; in a period over 24 h "15 Jul 03:48".
std::string momentText(const Plant& plant, double at_s);

/// "14 Jul 17:00 to 16 Jul 08:00"
std::string periodText(const Plant& plant);

/// End of the air conditioners' hours that hold the moment, else of the period. [s]
double wantedUntil_s(const Plant& plant, double at_s);

/// State of charge at a moment, linear within an interval of the output grid.
double socAt(const Plant& plant, const std::vector<Sample>& samples, double at_s);

/// Direct current that the inverter draws at its continuous power just above its cut-off; infinite
/// where no cut-off is known. [A]
double mostInverterCurrent_A(const Plant& plant);

/// Totals from one moment to the next multiple of a clock time.
struct ClockRow {
  Sample total;          ///< `quiet` and the voltage as in a sample, the rest added up
  double quiet_s = 0.0;  ///< of it, engines not allowed
};

/// The samples by spans of the clock (hours from midnight for 3600 s). What crosses an edge is
/// split in proportion to time.
/// @param row_s  > 0
std::vector<ClockRow> clockRows(const Plant& plant, const std::vector<Sample>& samples,
                                double row_s);

}  // namespace nightbank::report
