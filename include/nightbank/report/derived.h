#pragma once

#include <string>

#include "nightbank/simulate/plant.h"
#include "nightbank/study/heat_weights.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {

/// What follows from a scenario before anything runs: usable energy, rate of the bank, draw of each
/// air conditioner with its cycle, inverter losses, cable drop, charger, sun, generator and fuel.
/// Every line ended by LF, at most kTextWidth columns.
std::string derivedTable(const Plant& plant, UnitSystem units = UnitSystem::metric);

/// What the night's energy hangs on, the heaviest heat inputs first; "" where no cabin is
/// simulated.
std::string heatLines(const HeatWeights& weights);

}  // namespace nightbank::report
