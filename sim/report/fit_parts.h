#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/report/fit.h"
#include "nightbank/report/sections.h"
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

Section fitNightsSection(const Fit& fit);
Section fitMonitorSection(const Fit& fit);
Section fitSlopeSection(const Fit& fit);
/// Log, plan and fit by the hour, of the first three nights.
std::vector<Section> fitOverlaySections(const Fit& fit);
/// The next night, and each one foretold from the others.
std::vector<Section> fitNextSections(const Fit& fit);

/// "AGREES", "DIFFERS"; "READ" where there is no current to compare.
std::string fitWord(const Fit& fit);
/// "1 night, 22 Jul 20:00; 11 h 46 min of current"
std::string fitWhen(const Fit& fit);
std::string fitSentence(const Fit& fit);
/// What to know of the search; "" where it went well.
std::string fitQuality(const Fit& fit);

std::vector<std::string> fitCautions();

/// All that stands between verdict and cautions, in its order.
std::vector<Section> fitSections(const Fit& fit, std::span<const FitSource> sources);

}  // namespace nightbank::report
