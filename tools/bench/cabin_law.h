#pragma once

#include <cstddef>

#include "nightbank/devices/cooling.h"
#include "nightbank/simulate/plant.h"

/// The cabin of the references, written apart from the engine: same parameters and equations, other
/// code. Only the coil's own law is the library's.
namespace nightbank::bench {

/// What evolves in the cabin.
struct CabinPoint {
  double air_degC = 0.0, mass_degC = 0.0, humidityRatio = 0.0;
};

/// By second, in the same order.
struct CabinSlopes {
  double air_K_s, mass_K_s, humidityRatio_1_s;
};

/// A run of the unit by its thermostat: its cooling builds up, what is missing of it fades.
struct CoolingRun {
  double startedAt_s = 0.0, leastUntil_s = 0.0;
  double missing_W = 0.0, missingLatent_W = 0.0;  ///< at the start
};

/// What warms the cabin and what is taken out of it, at one instant. [W]
struct CabinHeats {
  double machines_W = 0.0;                 ///< loads, fan, inverter and charger, indoors
  double cooling_W = 0.0, drying_W = 0.0;  ///< sensible, latent
};

/// Straight between the points of its grid.
double outdoorAir_degC(const Plant& plant, double time_s);

/// The next point of the weather's grid. There the weather bends.
double nextBend_s(double time_s);

/// What the unit would give the air at hand without ducts, once it has built up.
Cooling fullCooling(const Plant& plant, const CabinPoint& cabin, double time_s);

/// Compressor and fan. [W]
double unitDraw_W(const AirConditionerPlant& unit, const Cooling& full);

CoolingRun coolingRun(const ThermostatPlant& thermostat, const Cooling& full, double time_s);

/// Adds what a run takes out of the air.
void addCooling(const Plant& plant, const CoolingRun& run, const Cooling& full, double time_s,
                CabinHeats& heats);

CabinSlopes cabinSlopes(const Plant& plant, std::size_t segment, const CabinPoint& cabin,
                        const CabinHeats& heats, double time_s);

}  // namespace nightbank::bench
