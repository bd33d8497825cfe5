#include <algorithm>
#include <cmath>

#include "derive_parts.h"

#include "nightbank/control/schedule.h"
#include "nightbank/devices/array.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/cloud.h"
#include "nightbank/weather/design_day.h"
#include "nightbank/weather/sun.h"
#include "nightbank/weather/tilt.h"

namespace nightbank {
namespace {

/// The sun is put on this grid, whatever the step: straight lines between its points. [s]
constexpr double kSunGrid_s = 300.0;

/// Dry bare ground. ASHRAE Handbook - Fundamentals (2021) ch. 14, table 5. Matters little on a
/// roof.
constexpr double kAlbedo = 0.2;

/// Module rise over air per irradiance. [K m2/W] After the mounting classes of Skoplaki and Palyvos
/// (2009): free-standing 0.021, ventilated flat roof 0.026, poorly ventilated 0.034, none 0.056.
double rossOf(scenario::Mounting mounting) {
  switch (mounting) {
    case scenario::Mounting::rack:
      return 0.021;
    case scenario::Mounting::raised:
      return 0.030;
    case scenario::Mounting::close:
      return 0.040;
    case scenario::Mounting::glued:
      return 0.056;
  }
  return 0.030;
}

struct ArrayOnRoof {
  ArrayParams params;
  double tilt_deg, facing_deg;
  std::vector<std::vector<Interval>> shadeHours;
  std::vector<double> shadeShares;
};

std::vector<ArrayOnRoof> arraysOf(const scenario::Scenario& scenario, const Plant& plant) {
  std::vector<ArrayOnRoof> arrays;
  for (const scenario::Array& array : scenario.solar) {
    ArrayOnRoof made{{array.rated_W.value, array.derate.value, array.conversion.value,
                      array.temperatureCoefficient_1_K.value, rossOf(array.mounting.value)},
                     array.tilt_deg.value,
                     array.facing_deg.value,
                     {},
                     {}};
    for (const scenario::Shade& shade : array.shade) {
      const std::vector<Interval> always{{0.0, plant.span_s}};
      made.shadeHours.push_back(shade.hours ? occurrences(*shade.hours, plant.start_s, plant.span_s)
                                            : always);
      made.shadeShares.push_back(shade.share.value);
    }
    arrays.push_back(std::move(made));
  }
  return arrays;
}

/// Share of the sun that reaches the array: the deepest of the shades that hold.
double unshadedAt(const ArrayOnRoof& array, double t_s) {
  double lost = 0.0;
  for (std::size_t i = 0; i < array.shadeHours.size(); ++i)
    if (covering(array.shadeHours[i], t_s) != nullptr)
      lost = std::max(lost, array.shadeShares[i]);
  return 1.0 - lost;
}

/// 1000 W/m2 for the day's peak sun hours, centred on 12:00.
Interval peakSunWindow(const scenario::ConstantWeather& weather, double midnight_s) {
  const double half_s = 0.5 * weather.peakSun_s.value;
  return {midnight_s + 0.5 * kDay_s - half_s, midnight_s + 0.5 * kDay_s + half_s};
}

double midnightOf(double local_s) {
  return std::floor(local_s / kDay_s) * kDay_s;
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

Sky designDaySky(const scenario::Scenario& scenario, const Plant& plant, double t_s) {
  const scenario::Site& site = *scenario.site;
  const scenario::DesignDay& day = *scenario.weather->designDay;
  const double local_s = plant.start_s + t_s;
  Sky sky;
  sky.sun =
      sunPosition(local_s - plant.utcOffset_s, site.latitude_deg.value, site.longitude_deg.value);
  if (sky.sun.zenith_deg >= 90.0)
    return sky;
  sky.extraterrestrial_W_m2 = extraterrestrial_W_m2(
      dayOfYear(dateOfDay(static_cast<std::int64_t>(std::floor(local_s / kDay_s)))));
  const double elevation_m = site.elevation_m.known() ? site.elevation_m.value : 0.0;
  const Irradiance clear = clearSky(sky.sun.zenith_deg, sky.extraterrestrial_W_m2, elevation_m,
                                    hazeTurbidity(hazeOf(day.haze.value)));
  sky.irradiance = clouded(clear, day.cloud.value, sky.sun.zenith_deg, sky.extraterrestrial_W_m2);
  return sky;
}

/// @param inside_s  an instant strictly inside the piece, which decides on shade and sun window
Sky skyAt(const scenario::Scenario& scenario, const Plant& plant, double t_s, double inside_s) {
  if (scenario.weather->designDay)
    return designDaySky(scenario, plant, t_s);
  Sky sky;
  const double local_s = plant.start_s + inside_s;
  const Interval window = peakSunWindow(*scenario.weather->constant, midnightOf(local_s));
  constexpr double kOneSun_W_m2 = 1000.0;
  sky.everywhere_W_m2 = local_s >= window.from_s && local_s < window.to_s ? kOneSun_W_m2 : 0.0;
  return sky;
}

struct SunPower {
  double array_W = 0.0, output_W = 0.0;
};

SunPower powerAt(const scenario::Scenario& scenario, const Plant& plant,
                 const std::vector<ArrayOnRoof>& arrays, double t_s, double inside_s) {
  const Sky sky = skyAt(scenario, plant, t_s, inside_s);
  SunPower power;
  if (sky.irradiance.global_W_m2 <= 0.0 && sky.everywhere_W_m2 <= 0.0)
    return power;
  const double air_degC = outdoorAt_degC(scenario, plant, t_s);
  for (const ArrayOnRoof& array : arrays) {
    double plane_W_m2 = sky.everywhere_W_m2;
    if (plane_W_m2 == 0.0)
      plane_W_m2 = planeOfArray_W_m2(sky.irradiance, sky.sun, sky.extraterrestrial_W_m2,
                                     array.tilt_deg, array.facing_deg, kAlbedo);
    const double array_W =
        arrayPower_W(array.params, plane_W_m2 * unshadedAt(array, inside_s), air_degC);
    power.array_W += array_W;
    power.output_W += array_W * array.params.conversion;
  }
  return power;
}

/// The even grid, and every instant at which shade or the sun window changes at once.
std::vector<double> knotTimes(const scenario::Scenario& scenario, const Plant& plant,
                              const std::vector<ArrayOnRoof>& arrays) {
  std::vector<double> times;
  for (double t_s = 0.0; t_s < plant.span_s; t_s += kSunGrid_s)
    times.push_back(t_s);
  times.push_back(plant.span_s);
  const auto add = [&](const Interval& interval) {
    for (const double end_s : {interval.from_s, interval.to_s})
      if (end_s > 0.0 && end_s < plant.span_s)
        times.push_back(end_s);
  };
  for (const ArrayOnRoof& array : arrays)
    for (const std::vector<Interval>& hours : array.shadeHours)
      std::for_each(hours.begin(), hours.end(), add);
  if (scenario.weather->constant)
    for (double midnight_s = midnightOf(plant.start_s); midnight_s < plant.start_s + plant.span_s;
         midnight_s += kDay_s)
      add(peakSunWindow(*scenario.weather->constant, midnight_s - plant.start_s));
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

void appendPiece(std::vector<SunPiece>& pieces, const SunPiece& piece, double endBefore_W) {
  constexpr double kRounding_W = 1e-6;
  const auto isDark = [](const SunPiece& p) { return p.array_W == 0.0 && p.arraySlope_W_s == 0.0; };
  if (!pieces.empty() && isDark(pieces.back()) && isDark(piece))
    return;  // one dark piece is enough
  pieces.push_back(piece);
  pieces.back().jumps = std::abs(piece.array_W - endBefore_W) > kRounding_W;
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
  const std::vector<double> times = knotTimes(scenario, plant, arrays);
  double endBefore_W = 0.0;
  for (std::size_t i = 0; i + 1 < times.size(); ++i) {
    const double from_s = times[i], to_s = times[i + 1], middle_s = 0.5 * (from_s + to_s);
    const SunPower atFrom = powerAt(scenario, plant, arrays, from_s, middle_s);
    const SunPower atTo = powerAt(scenario, plant, arrays, to_s, middle_s);
    const double span_s = to_s - from_s;
    appendPiece(plant.sun,
                {from_s, atFrom.array_W, (atTo.array_W - atFrom.array_W) / span_s, atFrom.output_W,
                 (atTo.output_W - atFrom.output_W) / span_s},
                endBefore_W);
    endBefore_W = atTo.array_W;
  }
}

}  // namespace nightbank
