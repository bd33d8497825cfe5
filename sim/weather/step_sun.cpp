#include "nightbank/weather/step_sun.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "checks.h"

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/cloud.h"
#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

/// The sun's path over a step.
struct Path {
  double meanCos = 0.0;  ///< of the zenith angle, zero while it is down
  double upShare = 0.0;  ///< of the step
};

/// By the middles of even parts, of at most a minute.
Path pathOver(double fromUtc_s, double step_s, double latitude_deg, double longitude_deg) {
  const double parts = std::ceil(step_s / kMinute_s);
  Path path;
  for (double i = 0.5; i < parts; ++i) {
    const double cosZenith = std::cos(
        sunPosition(fromUtc_s + i / parts * step_s, latitude_deg, longitude_deg).zenith_deg *
        detail::kDegree_rad);
    path.meanCos += std::max(cosZenith, 0.0) / parts;
    path.upShare += cosZenith > 0.0 ? 1.0 / parts : 0.0;
  }
  return path;
}

}  // namespace

bool knowsSun(const WeatherRow& row) {
  return !std::isnan(row.global_W_m2) ||
         (!std::isnan(row.direct_W_m2) && !std::isnan(row.diffuse_W_m2));
}

StepSun stepSun(const WeatherRow& row, double fromUtc_s, double step_s, double latitude_deg,
                double longitude_deg) {
  constexpr double kMostGlobal = 1.5;
  if (row.global_W_m2 == 0.0)  // by night, mostly: no path is needed
    return {};
  const Path path = pathOver(fromUtc_s, step_s, latitude_deg, longitude_deg);
  if (path.meanCos <= 0.0)
    return {};
  const double above_W_m2 = extraterrestrial_W_m2(dayOfYear(
      dateOfDay(static_cast<std::int64_t>(std::floor((fromUtc_s + 0.5 * step_s) / kDay_s)))));
  // Facing the sun, while it is up.
  const double direct_W_m2 = row.direct_W_m2 / path.upShare;
  const double global_W_m2 =
      std::isnan(row.global_W_m2) ? direct_W_m2 * path.meanCos + row.diffuse_W_m2 : row.global_W_m2;
  StepSun step;
  step.globalPerCos_W_m2 = std::min(global_W_m2 / path.meanCos, kMostGlobal * above_W_m2);
  const double clearness = step.globalPerCos_W_m2 / above_W_m2;
  if (!std::isnan(direct_W_m2))
    step.direct_W_m2 = direct_W_m2;
  else if (!std::isnan(row.diffuse_W_m2))
    step.direct_W_m2 = (global_W_m2 - row.diffuse_W_m2) / path.meanCos;
  else
    step.direct_W_m2 = step.globalPerCos_W_m2 * (1.0 - erbsDiffuseShare(clearness));
  step.direct_W_m2 =
      std::clamp(step.direct_W_m2, 0.0, std::min(step.globalPerCos_W_m2, above_W_m2));
  return step;
}

Irradiance irradianceIn(const StepSun& step, double zenith_deg) {
  const double cosZenith = std::max(std::cos(zenith_deg * detail::kDegree_rad), 0.0);
  if (cosZenith == 0.0)
    return {};
  return {.global_W_m2 = step.globalPerCos_W_m2 * cosZenith,
          .beam_W_m2 = step.direct_W_m2,
          .diffuse_W_m2 = (step.globalPerCos_W_m2 - step.direct_W_m2) * cosZenith};
}

}  // namespace nightbank
