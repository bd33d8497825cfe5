#pragma once

#include <span>

namespace nightbank {

/// Fuel in m3/s = noLoad + perWatt * electrical output.
struct FuelLine {
  double noLoad_m3_s = 0.0;
  double perWatt_m3_J = 0.0;
};

/// Fraction of output lost per unit above a threshold; 0 below it.
struct DeratingSlope {
  double perUnit = 0.0;  ///< 1/m or 1/K
  double above = 0.0;    ///< m or degC
};

struct GeneratorParams {
  double continuous_W = 0.0;
  FuelLine fuel;
  DeratingSlope altitude, heat;
  double elevation_m = 0.0;
};

struct LoadBurn {
  double load;       ///< of nameplate continuous power, 0..1
  double rate_m3_s;  ///< > 0
};

/// Least-squares straight line through burn rates (two points: through both). One point: the line
/// whose no-load rate is `noLoadShare` of its full-load rate. The no-load rate is never below 0.
/// @throws std::invalid_argument where two points share a load or the slope is not positive.
FuelLine fitFuelLine(double continuous_W, std::span<const LoadBurn> points, double noLoadShare);

double fuelRate_m3_s(const FuelLine& line, double power_W);

/// Product of both factors, each within 0..1.
double deratingFactor(const GeneratorParams& params, double outdoor_degC);
double deratedPower_W(const GeneratorParams& params, double outdoor_degC);

/// Higher heating value. [kWh/m3]
inline constexpr double kPetrol_kWh_m3 = 9307.0;
inline constexpr double kPropane_kWh_m3 = 7080.3;

}  // namespace nightbank
