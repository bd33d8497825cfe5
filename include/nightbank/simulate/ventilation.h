#pragma once

#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// Outdoor air instead of the compressor, while it is cool and dry enough.
namespace nightbank {

/// Margin at which the fan starts or stops: at 0 or below it does; infinite where there is none.
/// It starts once the air inside is warmer than what the first thermostat asks for and outdoors is
/// cooler by `coolerBy_K`; it stops half a band below that, or at half the difference, or where a
/// compressor runs, the hours end, the outdoor air is too moist, or the bank gives nothing.
double ventilationGuard(const Plant& plant, const State& state);

/// The cabin with what the fan draws through it.
CabinParams ventilated(const Plant& plant, const State& state);

}  // namespace nightbank
