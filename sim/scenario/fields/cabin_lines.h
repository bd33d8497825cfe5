#pragma once

#include "nightbank/scenario/field.h"
#include "nightbank/scenario/scenario.h"

/// What the field lists of cabin and air conditioners share.
namespace nightbank::scenario {

/// Whether any air conditioner goes by a thermostat: then the cabin is simulated.
bool hasThermostat(const Scenario& scenario);

/// The guess where a thermostat is there, else "not known".
Typical withThermostat(const Scenario& soFar, Typical typical);

/// For the field lists: share of its power, or of its losses, that warms the cabin.
template <class T>
Typical wholeHeatInside(const Scenario& soFar, const T&) {
  return withThermostat(soFar, {1.0, 0.5, 1.0});
}

template <class T>
Typical halfHeatInside(const Scenario& soFar, const T&) {
  return withThermostat(soFar, {0.5, 0.0, 1.0});
}

}  // namespace nightbank::scenario
