#pragma once

#include <optional>
#include <string_view>

namespace nightbank {

/// Resistance of one copper conductor at 75 degC. [ohm/m] `size` is "4/0 AWG", "12 AWG" (NEC chapter 9
/// table 8 rows 14 to 4/0) or "70 mm2" (by resistivity). nullopt: no such size.
std::optional<double> conductorResistance_ohm_m(std::string_view size);

/// R(T) = R75 (1 + 0.00323 (T - 75)).
double atTemperature_ohm_m(double at75_ohm_m, double conductor_degC);

/// Both conductors of a run.
double loopResistance_ohm(double resistance_ohm_m, double oneWay_m);

/// Current into a constant-power consumer behind `loop_ohm`, fed at `source_V`: the root of
/// V I - R I^2 = P near P/V. NaN where the source cannot deliver it. [A]
double currentThroughCable_A(double source_V, double loop_ohm, double power_W);

}  // namespace nightbank
