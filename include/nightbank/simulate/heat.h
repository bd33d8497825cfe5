#pragma once

#include <array>

#include "nightbank/devices/cabin.h"
#include "nightbank/simulate/demand.h"
#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// The cabin over a piece. Heat that goes straight with temperature, moisture and time is stepped
/// exactly; the air conditioners' curves are met by their tangent at the piece's start.
namespace nightbank {

/// A quantity by its tangent: per kelvin indoors, per humidity ratio, per kelvin outdoors.
struct Tangent {
  double at = 0.0, perKelvin = 0.0, perRatio = 0.0, perOutdoorKelvin = 0.0;

  Tangent& operator+=(const Tangent& other);
};

/// What one running unit does to the air and its moisture, and what it draws for that.
struct UnitTangents {
  Tangent cooling_W, drying_W, powerRatio;  ///< the last: see AirConditionerState::powerRatio
  bool outsideCurve = false;
  bool isKnown = false;
  double neededShare = 1.0;  ///< see AirConditionerState::neededShare
};

/// What holds from an instant on, modes held.
struct HeatLaw {
  double time_s = 0.0;
  Tangent taken_W;             ///< from the air, sensible: cooling less people, machines and lamps
  Tangent latent_W;            ///< from its moisture: cooling less people
  Tangent cooling_W, dried_W;  ///< of the two, what the air conditioners take
  std::array<UnitTangents, kMaxAirConditioners> units;
  double missing_W = 0.0, missingLatent_W = 0.0;  ///< what started units do not yet give; fades
  double given_W = 0.0;       ///< by people, machines and lamps at the start, sensible
  bool outsideCurve = false;  ///< some running unit is beyond its curves: held at their end
};

/// The law at a state, but for what the machines give off: see addMachines.
/// @param before  if any, a law whose curves are taken over where it is of the same instant
HeatLaw heatLawAt(const Plant& plant, const State& state, const HeatLaw* before = nullptr);

/// Adds the heat of loads, fans, inverter and charger inside.
void addMachines(const Plant& plant, const State& state, const Demand& demand, const Flows& now,
                 HeatLaw& law);

/// What a span of cabin came to.
struct HeatCourse {
  CabinState end, mean;
  std::array<double, kMaxAirConditioners> endRatio{}, meanRatio{};
  double cooling_W = 0.0;     ///< sensible, mean
  double endCooling_W = 0.0;  ///< the same at the end by the tangent, once it has built up
  double latent_W = 0.0;      ///< the same of the moisture, people's share not taken off
  double given_W = 0.0;       ///< by people and machines, sensible, mean
  double span_s = 0.0;
  double faded = 1.0;  ///< what is left at the end of the cooling that is missing
};

/// @param span_s  > 0, within one interval of the outdoor grid
HeatCourse heatCourse(const Plant& plant, const State& state, const HeatLaw& law, double span_s);

/// Moves the cabin on: temperatures, moisture, what is missing of the cooling, power ratios.
void moveCabin(const Plant& plant, State& state, const HeatCourse& course);

/// Outdoor temperature at an instant, straight within its grid. [degC]
double outdoorAt_degC(const Plant& plant, double time_s);

}  // namespace nightbank
