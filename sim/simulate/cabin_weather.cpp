#include "cabin_weather.h"

#include <algorithm>
#include <utility>

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/heat.h"

namespace nightbank {

CabinWeather weatherAt(const Plant& plant, double time_s) {
  // The last point stands at the period's end or behind it: there the interval before it goes on.
  const std::size_t cell =
      std::min(outdoorCell(time_s), plant.outdoor_degC.size() - std::size_t{2});
  const HeatKnot& a = plant.cabin.knots[cell];
  const HeatKnot& b = plant.cabin.knots[cell + 1];
  const double since_s = time_s - static_cast<double>(cell) * kOutdoorGrid_s;
  const auto line = [since_s](double from, double to) {
    const double slope = (to - from) / kOutdoorGrid_s;
    return std::pair{from + slope * since_s, slope};
  };
  const auto [outdoor_degC, outdoor_K_s] =
      line(plant.outdoor_degC[cell], plant.outdoor_degC[cell + 1]);
  const auto [ratio, ratio_1_s] = line(a.outdoorRatio, b.outdoorRatio);
  const auto [toAir_W, toAir_W_s] = line(a.toAir_W, b.toAir_W);
  const auto [toMass_W, toMass_W_s] = line(a.toMass_W, b.toMass_W);
  return {outdoor_degC, outdoor_K_s, ratio, ratio_1_s, toAir_W, toAir_W_s, toMass_W, toMass_W_s};
}

double outdoorAt_degC(const Plant& plant, double time_s) {
  return onGrid(plant.outdoor_degC, kOutdoorGrid_s, time_s);
}

}  // namespace nightbank
