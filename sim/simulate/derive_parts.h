#pragma once

#include <vector>

#include "derive_weather.h"

#include "nightbank/control/schedule.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/plant.h"

/// The parts of derive(), in the order in which they are called.
namespace nightbank {

/// Ground around: dry and bare. ASHRAE Handbook - Fundamentals (2021), ch. 14, table 5. Matters
/// little on a roof.
inline constexpr double kAlbedo = 0.2;

/// Start, span, step, and the clock's offset.
void derivePeriod(const scenario::Scenario& scenario, Plant& plant);
/// How rates act on what is at hand: Peukert's law or the two wells.
/// @throws Underivable where two wells are asked for and do not fit
void deriveRates(const scenario::Bank& bank, BankParams& params);
void deriveBank(const scenario::Bank& bank, Plant& plant);
void deriveInverter(const scenario::Inverter& inverter, Plant& plant);
void deriveCharger(const scenario::Scenario& scenario, Plant& plant);
void deriveGenerator(const scenario::Scenario& scenario, Plant& plant);
/// Behind the bank alone: its voltage is the bank's.
bool isDirectCurrent(const scenario::FedFrom& fed);
void deriveLoads(const WeatherSource& weather, Plant& plant);
void deriveAirConditioners(const WeatherSource& weather, Plant& plant);
/// Outdoor temperature and the generator's derated limit, on their grid.
void deriveOutdoor(const WeatherSource& weather, Plant& plant);
/// Shell, storage, sun and sky of the cabin, where a thermostat asks for it; after the outdoors.
void deriveCabin(const WeatherSource& weather, Plant& plant);
/// Where the cabin starts: where a day with the same plan, on the first day's weather, leaves it;
/// last of all.
void deriveSpinUp(const scenario::Scenario& scenario, const WeatherSeries* series,
                  const DeriveOptions& options, Plant& plant);
/// Switch times of everything that goes by the clock.
/// @param engine  when it runs, in place of the hours by hand; nullptr: these hold
void deriveSegments(const scenario::Scenario& scenario, const std::vector<Interval>* engine,
                    Plant& plant);
/// Hours in which the bank is too cold or too hot to be charged; after the segments.
void deriveChargeBlock(const WeatherSource& weather, Plant& plant);
/// Power of the arrays as linear pieces.
void deriveSun(const WeatherSource& weather, Plant& plant);

}  // namespace nightbank
