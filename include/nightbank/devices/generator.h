#pragma once

#include <span>

#include "nightbank/units/constants.h"

/// Engine generator: fuel against load, and output lost to altitude and heat.
///
///     F = i + p P                                  straight line, i no-load rate
///     derating = (1 - a max(0, z - z0)) (1 - h max(0, T - T0)), each factor within 0..1
///
/// Source of the line: Skarstein & Uhlen, Wind Engineering 13 (1989) for diesels (from memory); it
/// also holds for petrol sets, whose no-load rate is 30 to 60 % of the full-load one at fixed
/// speed. Slopes of derating differ between makers' manuals (3 % per 1000 ft to 3.5 % per 300 m
/// above 1500 m): they are inputs.
namespace nightbank {

/// Fuel in m3/s = noLoad + perWatt * electrical output.
struct FuelLine {
  double noLoad_m3_s = 0.0;   ///< >= 0
  double perWatt_m3_J = 0.0;  ///< > 0
};

/// Fraction of output lost per unit above a threshold; 0 below it.
struct DeratingSlope {
  double perUnit = 0.0;  ///< 1/m or 1/K, >= 0
  double above = 0.0;    ///< m or degC
};

struct GeneratorParams {
  double continuous_W = 0.0;  ///< > 0, the nameplate's running watts
  FuelLine fuel;
  DeratingSlope altitude, heat;
  double elevation_m = 0.0;
  double ratingLeft = 1.0;  ///< (0, 1], share of the nameplate's watts that is left on this fuel
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const GeneratorParams& params);

struct LoadBurn {
  double load;       ///< of nameplate continuous power, 0..1
  double rate_m3_s;  ///< > 0
};

/// Least-squares straight line through burn rates (two points: through both; a negative no-load
/// rate is set to 0 and the slope fitted again). One point: the line whose no-load rate is
/// `noLoadShare` of its full-load rate (used for one point only).
/// @param continuous_W  nameplate running power [W], > 0
/// @param noLoadShare   0..1, 1 excluded
/// @throws std::invalid_argument where there is no point, one is out of range, two share a load or
///         the fuel does not rise with load
FuelLine fitFuelLine(double continuous_W, std::span<const LoadBurn> points, double noLoadShare);

/// The line of the same engine held at its full speed: as much fuel at full load, but `noLoadShare`
/// of it without load (or what the line has, where that is more).
/// @param continuous_W  nameplate running power [W], > 0
/// @param noLoadShare   0..1, 1 excluded; fixed-speed petrol sets 0.5 to 0.6 (bench figures; 0.3 to
///                      0.6 seen), against 0.19 of a set that throttles by load
FuelLine atFixedSpeed(const FuelLine& line, double continuous_W, double noLoadShare);

/// Fuel burnt at an electrical output. [m3/s]
inline double fuelRate_m3_s(const FuelLine& line, double power_W) noexcept {
  return line.noLoad_m3_s + line.perWatt_m3_J * power_W;
}

/// Share of the nameplate power that is left at this height and air temperature, 0..1.
double deratingFactor(const GeneratorParams& params, double outdoor_degC) noexcept;
/// Running power that is left, on this fuel too. [W]
double deratedPower_W(const GeneratorParams& params, double outdoor_degC) noexcept;

}  // namespace nightbank
