#pragma once

#include <string>
#include <string_view>

#include "nightbank/study/fit.h"

/// Pieces of the words on a fit. Private to the room.
namespace nightbank::report {

/// "0.84 kWh", "310 Wh", with a sign where asked.
std::string fitEnergy(double energy_J, bool withSign = false);

/// "310", of watt-hours.
std::string fitWattHours(double energy_J);

/// A value of an input: "38.4 W", "times 1.08".
std::string fitValue(const FitInput& input, double value);
std::string fitDeviation(const FitInput& input, double deviation);

/// The path, for one night with its date.
std::string fitName(const Fit& fit, const FitInput& input);

/// What an input moved over all nights. [J]
double fitMoved_J(const Fit& fit, std::size_t input);

/// Energies of all nights together.
struct FitTotals {
  double planned_J = 0.0, logged_J = 0.0, engine_J = 0.0, weather_J = 0.0, inputs_J = 0.0;
  double left_J = 0.0;
  double covered_s = 0.0;
};

FitTotals fitTotals(const Fit& fit);

std::string fitNightsTable(const Fit& fit);
std::string fitMonitorLines(const Fit& fit);
std::string fitSlopeLine(const Fit& fit);
std::string fitOverlay(const Fit& fit);
std::string fitNextLines(const Fit& fit);

}  // namespace nightbank::report
