#include <algorithm>
#include <cmath>

#include "derive_array.h"
#include "derive_parts.h"

#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/cloud.h"
#include "nightbank/weather/design_day.h"
#include "nightbank/weather/horizon.h"
#include "nightbank/weather/sun.h"
#include "nightbank/weather/tilt.h"

namespace nightbank {
namespace {

/// The sun is put on this grid, whatever the step: straight lines between its points. [s]
constexpr double kSunGrid_s = 300.0;

/// Dry bare ground. ASHRAE Handbook - Fundamentals (2021) ch. 14, table 5. Matters little on a
/// roof.
constexpr double kAlbedo = 0.2;

/// 1000 W/m2 for the day's peak sun hours, centred on 12:00.
Interval peakSunWindow(const scenario::ConstantWeather& weather, double midnight_s) {
  const double half_s = 0.5 * weather.peakSun_s.value;
  return {midnight_s + 0.5 * kDay_s - half_s, midnight_s + 0.5 * kDay_s + half_s};
}

double midnightOf(double local_s) {
  return std::floor(local_s / kDay_s) * kDay_s;
}

using Horizon = std::vector<HorizonPoint>;

Horizon horizonOf(const scenario::Scenario& scenario) {
  Horizon points;
  if (scenario.site)
    for (const scenario::HorizonPoint& point : scenario.site->horizon)
      points.push_back({point.towards_deg.value, point.height_deg.value});
  return horizonOf(points);
}

/// The sky at one instant, the same for every array.
struct Sky {
  Irradiance irradiance{};
  SunPosition sun{};
  double extraterrestrial_W_m2 = 0.0;
  double everywhere_W_m2 = 0.0;  ///< constant weather: on any plane
};

Haze hazeOf(scenario::Haze haze) {
  return static_cast<Haze>(haze);
}

SunPosition sunAt(const scenario::Site& site, const Plant& plant, double t_s) {
  return sunPosition(plant.start_s + t_s - plant.utcOffset_s, site.latitude_deg.value,
                     site.longitude_deg.value);
}

/// How far the sun stands above what is around. [deg]
double aboveHorizon_deg(const scenario::Site& site, const Plant& plant, const Horizon& horizon,
                        double t_s) {
  const SunPosition sun = sunAt(site, plant, t_s);
  return 90.0 - sun.zenith_deg - horizonAt_deg(horizon, sun.azimuth_deg);
}

/// @param inside_s  decides whether the sun is behind the horizon
Sky designDaySky(const scenario::Scenario& scenario, const Plant& plant, const Horizon& horizon,
                 double t_s, double inside_s) {
  const scenario::Site& site = *scenario.site;
  const scenario::DesignDay& day = *scenario.weather->designDay;
  const double local_s = plant.start_s + t_s;
  Sky sky;
  sky.sun = sunAt(site, plant, t_s);
  if (sky.sun.zenith_deg >= 90.0)
    return sky;
  sky.extraterrestrial_W_m2 = extraterrestrial_W_m2(
      dayOfYear(dateOfDay(static_cast<std::int64_t>(std::floor(local_s / kDay_s)))));
  const double elevation_m = site.elevation_m.known() ? site.elevation_m.value : 0.0;
  const Irradiance clear = clearSky(sky.sun.zenith_deg, sky.extraterrestrial_W_m2, elevation_m,
                                    hazeTurbidity(hazeOf(day.haze.value)));
  sky.irradiance = clouded(clear, day.cloud.value, sky.sun.zenith_deg, sky.extraterrestrial_W_m2);
  if (!horizon.empty() && aboveHorizon_deg(site, plant, horizon, inside_s) < 0.0)
    sky.irradiance = {sky.irradiance.diffuse_W_m2, 0.0, sky.irradiance.diffuse_W_m2};
  return sky;
}

/// @param inside_s  an instant strictly inside the piece, which decides on shade and sun window
Sky skyAt(const scenario::Scenario& scenario, const Plant& plant, const Horizon& horizon,
          double t_s, double inside_s) {
  if (scenario.weather->designDay)
    return designDaySky(scenario, plant, horizon, t_s, inside_s);
  Sky sky;
  const double local_s = plant.start_s + inside_s;
  const Interval window = peakSunWindow(*scenario.weather->constant, midnightOf(local_s));
  constexpr double kOneSun_W_m2 = 1000.0;
  sky.everywhere_W_m2 = local_s >= window.from_s && local_s < window.to_s ? kOneSun_W_m2 : 0.0;
  return sky;
}

/// All arrays at one instant.
using Outputs = std::vector<ArrayOutput>;

Outputs outputsAt(const scenario::Scenario& scenario, const Plant& plant,
                  const std::vector<ArrayOnRoof>& arrays, const Horizon& horizon, double t_s,
                  double inside_s) {
  const Sky sky = skyAt(scenario, plant, horizon, t_s, inside_s);
  Outputs outputs(arrays.size());
  if (sky.irradiance.global_W_m2 <= 0.0 && sky.everywhere_W_m2 <= 0.0)
    return outputs;
  const double air_degC = outdoorAt_degC(scenario, plant, t_s);
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    const ArrayOnRoof& array = arrays[i];
    double plane_W_m2 = sky.everywhere_W_m2;
    if (plane_W_m2 == 0.0)
      plane_W_m2 = planeOfArray_W_m2(sky.irradiance, sky.sun, sky.extraterrestrial_W_m2,
                                     array.tilt_deg, array.facing_deg, kAlbedo);
    outputs[i] = outputOf(array, plane_W_m2 * unshadedAt(array, inside_s), air_degC);
  }
  return outputs;
}

/// What the arrays give together at an instant, in the members of a piece's start.
SunPiece sumOf(const std::vector<ArrayOnRoof>& arrays, const Outputs& outputs) {
  SunPiece sum;
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    const auto [amount, heatHolds] = outputs[i];
    sum.heatHolds = sum.heatHolds || heatHolds;
    if (arrays[i].isTied) {
      sum.tied_A += amount;
      continue;
    }
    sum.array_W += amount;
    sum.output_W += amount * arrays[i].params.conversion;
  }
  return sum;
}

/// Where the sun comes up from behind what is around, or goes down behind it.
void addCrossings(const scenario::Scenario& scenario, const Plant& plant, const Horizon& horizon,
                  std::vector<double>& times) {
  constexpr double kLocate_s = 1e-3;
  if (horizon.empty() || !scenario.weather->designDay)
    return;
  const auto above_deg = [&](double t_s) {
    return aboveHorizon_deg(*scenario.site, plant, horizon, t_s);
  };
  double before_deg = above_deg(0.0);
  for (double t_s = 0.0; t_s < plant.span_s; t_s += kSunGrid_s) {
    const double after_deg = above_deg(t_s + kSunGrid_s);
    if (before_deg * after_deg < 0.0)
      times.push_back(
          bracketedRoot(above_deg, t_s, before_deg, t_s + kSunGrid_s, after_deg, kLocate_s));
    before_deg = after_deg;
  }
}

/// The even grid, and every instant at which shade or the sun window changes at once.
std::vector<double> knotTimes(const scenario::Scenario& scenario, const Plant& plant,
                              const std::vector<ArrayOnRoof>& arrays, const Horizon& horizon) {
  std::vector<double> times;
  addCrossings(scenario, plant, horizon, times);
  for (double t_s = 0.0; t_s < plant.span_s; t_s += kSunGrid_s)
    times.push_back(t_s);
  times.push_back(plant.span_s);
  const auto add = [&](const Interval& interval) {
    for (const double end_s : {interval.from_s, interval.to_s})
      if (end_s > 0.0 && end_s < plant.span_s)
        times.push_back(end_s);
  };
  for (const ArrayOnRoof& array : arrays)
    for (const ShadeWindow& shade : array.shades)
      std::for_each(shade.hours.begin(), shade.hours.end(), add);
  if (scenario.weather->constant)
    for (double midnight_s = midnightOf(plant.start_s); midnight_s < plant.start_s + plant.span_s;
         midnight_s += kDay_s)
      add(peakSunWindow(*scenario.weather->constant, midnight_s - plant.start_s));
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  std::erase_if(times, [&](double t_s) { return t_s > plant.span_s; });
  return times;
}

bool isDark(const SunPiece& p) {
  return p.array_W == 0.0 && p.arraySlope_W_s == 0.0 && p.tied_A == 0.0 && p.tiedSlope_A_s == 0.0;
}

bool differs(const SunPiece& a, const SunPiece& b) {
  constexpr double kRounding = 1e-6;  // W or A
  return std::abs(a.array_W - b.array_W) > kRounding || std::abs(a.tied_A - b.tied_A) > kRounding;
}

/// One linear piece from its two ends. @returns whether it was needed: one dark piece is enough
bool appendPiece(std::vector<SunPiece>& pieces, double from_s, double span_s, const SunPiece& from,
                 const SunPiece& to, const SunPiece& endBefore) {
  SunPiece piece = from;
  piece.start_s = from_s;
  piece.arraySlope_W_s = (to.array_W - from.array_W) / span_s;
  piece.outputSlope_W_s = (to.output_W - from.output_W) / span_s;
  piece.tiedSlope_A_s = (to.tied_A - from.tied_A) / span_s;
  piece.heatHolds = from.heatHolds || to.heatHolds;
  piece.jumps = differs(from, endBefore);
  if (!pieces.empty() && isDark(pieces.back()) && isDark(piece))
    return false;
  pieces.push_back(piece);
  return true;
}

}  // namespace

double outdoorAt_degC(const scenario::Scenario& scenario, const Plant& plant, double t_s) {
  if (!scenario.weather->designDay)
    return scenario.weather->constant->temperature_degC.value;
  const scenario::DesignDay& day = *scenario.weather->designDay;
  const double local_s = plant.start_s + t_s;
  // Without a longitude the clock stands for solar time.
  const bool placed = scenario.site && scenario.site->longitude_deg.known();
  const double solar_h =
      placed ? apparentSolarTime_h(local_s, plant.utcOffset_s, scenario.site->longitude_deg.value)
             : (local_s - midnightOf(local_s)) / kHour_s;
  return designDayTemperature_degC(day.high_degC.value, day.low_degC.value, solar_h);
}

void deriveOutdoor(const scenario::Scenario& scenario, Plant& plant) {
  const double end_s = plant.span_s + kOutdoorGrid_s;
  for (double t_s = 0.0; t_s < end_s; t_s += kOutdoorGrid_s) {
    const double outdoor_degC = outdoorAt_degC(scenario, plant, t_s);
    plant.outdoor_degC.push_back(outdoor_degC);
    plant.generatorLimit_VA.push_back(
        plant.hasGenerator ? deratedPower_W(plant.generator, outdoor_degC) : 0.0);
    if (plant.inverter.heatLoss_1_K > 0.0)
      plant.inverterLimit_VA.push_back(continuousAt_W(plant.inverter, outdoor_degC));
  }
}

void deriveSun(const scenario::Scenario& scenario, Plant& plant) {
  if (scenario.solar.empty()) {
    plant.sun.push_back({});
    return;
  }
  const std::vector<ArrayOnRoof> arrays = arraysOf(scenario, plant);
  const Horizon horizon = horizonOf(scenario);
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    plant.arrays.push_back({scenario.solar[i].name, arrays[i].isTied});
    plant.controllers_W += scenario.solar[i].standby_W.value;
  }
  const std::vector<double> times = knotTimes(scenario, plant, arrays, horizon);
  SunPiece endBefore;
  for (std::size_t k = 0; k + 1 < times.size(); ++k) {
    const double from_s = times[k], span_s = times[k + 1] - from_s,
                 middle_s = from_s + 0.5 * span_s;
    const Outputs from = outputsAt(scenario, plant, arrays, horizon, from_s, middle_s);
    const Outputs to = outputsAt(scenario, plant, arrays, horizon, times[k + 1], middle_s);
    const SunPiece atEnd = sumOf(arrays, to);
    if (appendPiece(plant.sun, from_s, span_s, sumOf(arrays, from), atEnd, endBefore))
      for (std::size_t i = 0; i < arrays.size(); ++i)
        plant.sunOfArrays.push_back({from[i].amount, (to[i].amount - from[i].amount) / span_s});
    endBefore = atEnd;
  }
}

}  // namespace nightbank
