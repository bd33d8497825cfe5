#pragma once

#include "cabin_weather.h"

#include "nightbank/devices/cabin.h"
#include "nightbank/simulate/heat.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"
#include "nightbank/simulate/wet_coil.h"

/// The nodes of a cabin over a piece: air, mass, moisture. Private to the room.
namespace nightbank {

/// Where a cabin's course begins: what of it does not hang on how long it goes on.
struct CabinWay {
  CabinParams params;
  CabinWeather weather;
  CabinModes modes;
  Supply toMass;
  Drying drying;
  double drier_1_J = 0.0;  ///< by which the humidity ratio falls for a joule of latent heat taken
  double moistRate_1_s = 0.0;
};

CabinWay wayFrom(const Plant& plant, const State& state, const HeatLaw& law);

/// Where the nodes go over a span, and what drives them there.
struct NodesOver {
  double span_s = 0.0;  ///< 0: not known
  Fade fade{};
  CabinHeat heat;
  CabinCourse air{};
  NodeCourse moist{};
  Supply toMoist;
  double ratioOfAir = 0.0;  ///< the mean moisture that the air's own course went by

  CabinState end() const;

  CabinState mean() const { return {air.mean, moist.mean}; }
};

/// @param start   the state that the way begins at
/// @param fade_s  in which the cooling builds up
/// @param span_s  > 0, within one interval of the outdoor grid
/// @param n       left with them: handed back by value they would be copied, at a price
void findNodes(const CabinWay& way, const CabinState& start, const HeatLaw& law,
               const CurveBend& bend, double fade_s, double span_s, NodesOver& n);

/// How fast the air warms up at the end of a span. [K/s]
double endRate_K_s(const CabinWay& way, const HeatLaw& law, const NodesOver& nodes);

/// The same of the humidity ratio. [1/s]
double endRatioRate_1_s(const CabinWay& way, const HeatLaw& law, const NodesOver& nodes);

/// All that a span of cabin came to, once its nodes are known.
/// @param course  left with it
void findCourse(const Plant& plant, const State& state, const HeatLaw& law, const CurveBend& bend,
                const CabinWay& way, const NodesOver& nodes, HeatCourse& course);

}  // namespace nightbank
