#pragma once

#include <cstddef>
#include <limits>
#include <vector>

#include "nightbank/devices/cabin.h"
#include "nightbank/devices/cooling.h"
#include "nightbank/simulate/outcome.h"

/// What a run needs of the cabin and of what cools it. Complete, in SI; see plant.h.
namespace nightbank {

/// Water on a coil that a fan dries while the compressor rests; see simulate/wet_coil.h.
struct WetCoilPlant {
  double most_J = 0.0;     ///< what it holds, as heat of the vapour; 0: no fan dries it
  double dries_W_K = 0.0;  ///< when full, per kelvin of the air's wet-bulb depression
};

/// A thermostat and the cooling that it asks for.
struct ThermostatPlant {
  std::vector<double> coolTo_degC;  ///< middle of the band, by Segment::duty
  double band_K = 1.0;              ///< > 0: calls half above, rests half below
  double sensorOffset_K = 0.0;      ///< what it reads above the air
  double leastOn_s = 0.0, leastOff_s = 0.0;
  CoolingParams cooling;
  double delivered = 1.0;  ///< share of the cooling that reaches the cabin: ducts
  WetCoilPlant wetCoil;
};

/// Heat of those in the cabin. What they give less to warm air they give to its moisture.
struct People {
  double sensible_W = 0.0, latent_W = 0.0;  ///< at kPeopleAt_degC
  double perKelvin_W = 0.0;                 ///< what the sensible heat gains per kelvin: below 0
};

inline constexpr double kPeopleAt_degC = 24.0;

/// What the weather does to the cabin at a point of the outdoor grid.
struct HeatKnot {
  double outdoorRatio = 0.0;             ///< humidity ratio of the outdoor air [kg/kg]
  double toAir_W = 0.0, toMass_W = 0.0;  ///< sun and sky, beside the outdoor temperature
};

/// A fan that draws outdoor air through while that cools; at rest where its flow is 0.
struct VentilationPlant {
  double flow_m3_s = 0.0;
  double coolerBy_K = 0.0;   ///< > 0: begins there, ends at half of it
  double driestRatio = 0.0;  ///< highest humidity ratio of outdoor air that is let in
  std::size_t load = 0;      ///< its place among the loads
};

struct CabinPlant {
  CabinParams params;
  CabinState start;
  std::vector<HeatKnot> knots;  ///< every kOutdoorGrid_s from the start
  double fade_s = 45.0;         ///< how a started unit's cooling builds up, > 0
  double inverterInside = 0.0, chargerInside = 0.0;  ///< shares of their losses
  double tooWarmAbove_degC = std::numeric_limits<double>::infinity();
  double pressure_Pa = 101325.0;
  VentilationPlant ventilation;
};

}  // namespace nightbank
