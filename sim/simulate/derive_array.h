#pragma once

#include <vector>

#include "nightbank/control/schedule.h"
#include "nightbank/devices/array.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/plant.h"

/// An array as derive() sees it: where it looks, when something shades it, what its controller
/// does.
namespace nightbank {

struct ShadeWindow {
  std::vector<Interval> hours;
  double share;  ///< of the sun that is lost
};

struct ArrayOnRoof {
  ArrayParams params;
  StringVoltage string;
  bool isTied = false;    ///< by a pulse-width controller
  double needed_V = 0.0;  ///< at its terminals, for a full charge
  double tilt_deg = 0.0, facing_deg = 0.0;
  std::vector<ShadeWindow> shades;
};

std::vector<ArrayOnRoof> arraysOf(const scenario::Scenario& scenario, const Plant& plant);

/// Share of the sun that reaches the array: the deepest of the shades that hold.
double unshadedAt(const ArrayOnRoof& array, double t_s);

struct ArrayOutput {
  double amount = 0.0;     ///< watts at its terminals; amperes of a tied one
  bool heatHolds = false;  ///< less than the sun would give: its voltage is too low
};

ArrayOutput outputOf(const ArrayOnRoof& array, double irradiance_W_m2, double air_degC);

}  // namespace nightbank
