#pragma once

#include <array>

#include "nightbank/devices/cabin.h"
#include "nightbank/simulate/demand.h"
#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// The cabin over a piece. Heat that goes straight with temperature, moisture and time is stepped
/// exactly; the air conditioners' curves are met by their tangents at the piece's start and at its
/// end, with the cubic between them.
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

/// Whether a law keeps the curves that it has of the same instant.
enum class Curves { anew, kept };

/// The law at a state, but for what the machines give off: see addMachines.
/// @param law  left with it: handed back by value it would be copied, at a price
void findHeatLaw(const Plant& plant, const State& state, Curves curves, HeatLaw& law);

/// The same by value.
inline HeatLaw heatLawAt(const Plant& plant, const State& state) {
  HeatLaw law;
  findHeatLaw(plant, state, Curves::anew, law);
  return law;
}

/// Adds the heat of loads, fans, inverter and charger inside.
void addMachines(const Plant& plant, const State& state, const Demand& demand, const Flows& now,
                 HeatLaw& law);

/// By how much a curve has left its tangent after a time: t^2 (perSecond2 + t perSecond3).
struct Bend {
  double perSecond2 = 0.0, perSecond3 = 0.0;

  double at(double t_s) const { return t_s * t_s * (perSecond2 + t_s * perSecond3); }

  double mean(double t_s) const { return t_s * t_s * (perSecond2 / 3.0 + t_s * perSecond3 / 4.0); }
};

/// What a piece does beside what its law says at the start. A charger's heat goes straight.
struct CurveBend {
  Bend cooling_W, drying_W;
  std::array<Bend, kMaxAirConditioners> ratio{};  ///< of each unit's powerRatio
  double charger_W_s = 0.0;
};

/// What the charger warms the cabin with. [W]
double chargerHeat_W(const Plant& plant, const Flows& flows);

/// What a span of cabin came to.
struct HeatCourse {
  CabinState end, mean;
  std::array<double, kMaxAirConditioners> endRatio{}, meanRatio{};
  double cooling_W = 0.0;  ///< sensible, mean
  double latent_W = 0.0;   ///< the same of the moisture, people's share not taken off
  double endCooling_W = 0.0, endLatent_W = 0.0;  ///< the two at the end, once they have built up
  double endRate_K_s = 0.0, endRatioRate_1_s = 0.0;       ///< of air and moisture
  std::array<double, kMaxAirConditioners> condensed_W{};  ///< of each unit's latent, mean
  double evaporated_W = 0.0;  ///< of the two, what wet coils take and give back, mean
  double given_W = 0.0;       ///< by people and machines, sensible, mean
  double span_s = 0.0;
  double faded = 1.0;  ///< what is left at the end of the cooling that is missing
};

/// @param span_s  > 0, within one interval of the outdoor grid
HeatCourse heatCourse(const Plant& plant, const State& state, const HeatLaw& law,
                      const CurveBend& bend, double span_s);

/// The bend with which a course meets the curves and their slopes at its end.
/// @param law          of its start
/// @param outdoor_K_s  how fast it gets warmer outdoors
CurveBend bendTo(const Plant& plant, const HeatLaw& law, const HeatCourse& byTangent,
                 const HeatLaw& there, double outdoor_K_s);

/// The largest share by which a bend leaves a parabola at its end: of the cooling, of a unit's
/// power.
double twistedShare(const Plant& plant, const CurveBend& bend, const HeatLaw& there, double span_s);

/// Moves a law to a state close by: its curves by their tangents.
/// @param from  where the curves were taken
void moveLaw(const Plant& plant, HeatLaw& law, const CabinState& from, const State& to);

/// Moves the cabin on: temperatures, moisture, what is missing of the cooling, power ratios.
void moveCabin(const Plant& plant, State& state, const HeatCourse& course);

/// Outdoor temperature at an instant, straight within its grid. [degC]
double outdoorAt_degC(const Plant& plant, double time_s);

}  // namespace nightbank
