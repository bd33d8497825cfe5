#pragma once

#include <array>

#include "nightbank/simulate/cabin_plant.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// Water that condenses on a coil, and that a fan which goes on blows back into the cabin while the
/// compressor rests. As heat of its vapour, E, at most E_most; what condenses beyond that drains:
///
///     E_most = t_wet L_rated
///     -dE/dt = q sqrt(E / E_most),   q = gamma L_rated D / D_rated
///
/// L_rated is the latent cooling at the rating point, D the wet-bulb depression of the cabin's air
/// as the drying begins, D_rated that of the rating point. The rate falls in a straight line, and
/// from full the coil is dry after 2 E_most / q. The air pays the same heat as sensible
/// (adiabatic). Source: H. I. Henderson, K. Rengarajan, "A model to predict the latent capacity of
/// air conditioners and heat pumps at part-load conditions with constant fan operation", ASHRAE
/// Transactions 102(1) (1996): its model of linear decay, and the depression of the engineering
/// reference of the US DOE's building energy program (both from memory). Not modelled: water that
/// dries while the compressor runs.
namespace nightbank {

/// @param latent_W  at the rating point, as it reaches the cabin; >= 0
/// @param holds_s   t_wet, >= 0
/// @param dries     gamma, >= 0
/// @param depression_K  of the rating point, > 0
WetCoilPlant wetCoil(double latent_W, double holds_s, double dries, double depression_K);

/// How much dries at an instant, all coils together, and by how much less with every second.
struct Drying {
  double at_W = 0.0, slower_W_s = 0.0;
};

Drying dryingAt(const Plant& plant, const State& state);

/// Begins or ends the drying of each coil as the modes now are.
void followCoils(const Plant& plant, State& state);

/// What a coil holds at the end of a span, modes held. [J]
/// @param condensed_W  mean, >= 0
double waterAfter_J(const WetCoilPlant& coil, const AirConditionerState& unit, double time_s,
                    double condensed_W, double span_s);

/// Moves the water on every coil on. `state` still has the span's first instant.
void moveWater(const Plant& plant, State& state,
               const std::array<double, kMaxAirConditioners>& condensed_W, double span_s);

}  // namespace nightbank
