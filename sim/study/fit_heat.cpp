#include <algorithm>
#include <cmath>
#include <limits>

#include "fit_model.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using scenario::Scenario;

/// Outdoor temperatures of the minutes in which a unit ran and the log has a current.
struct RanAt {
  double low_degC = std::numeric_limits<double>::infinity(), high_degC = -low_degC;
  double sum_degC = 0.0;
  int count = 0;
};

void addMinutes(const ModelNight& night, std::size_t unit, RanAt& ran) {
  for (std::size_t i = 0; i < night.driven.outdoor_degC.size(); ++i) {
    const Segment& segment = segmentAt(night.plan, kMinute_s * static_cast<double>(i));
    const bool runs = (segment.airConditioners >> unit & 1U) != 0 && night.driven.compressor[i] > 0;
    if (!runs || std::isnan(night.log.of(LogChannel::bank_A)[i]))
      continue;
    const double outdoor_degC = night.driven.outdoor_degC[i];
    ran.low_degC = std::min(ran.low_degC, outdoor_degC);
    ran.high_degC = std::max(ran.high_degC, outdoor_degC);
    ran.sum_degC += outdoor_degC;
    ++ran.count;
  }
}

/// Of nights whose outdoor temperature is known, not assumed: logged, or of a weather file.
RanAt ranAt(const Scenario& given, const std::vector<ModelNight>& nights, std::size_t unit) {
  RanAt ran;
  for (const ModelNight& night : nights)
    if (!night.logged.outdoor_degC.empty() || (given.weather && given.weather->file))
      addMinutes(night, unit, ran);
  return ran;
}

bool isFlat(const scenario::AirConditioner& unit) {
  return unit.thermostat.empty() ||
         (unit.coolingUnit && unit.coolingUnit->curves.value == scenario::Curves::flat);
}

}  // namespace

std::string powerPerKelvinPath(const scenario::AirConditioner& unit) {
  return "air_conditioners." + unit.name + ".running.power_per_kelvin";
}

std::vector<std::string> freeSlopes(Scenario& given, std::vector<ModelNight>& nights) {
  constexpr double kLeast_K = 3.0;
  const Scenario resolved = scenario::resolve(given);
  std::vector<std::string> paths;
  for (std::size_t i = 0; i < given.airConditioners.size(); ++i) {
    scenario::Running& running = given.airConditioners[i].running;
    if (running.powerPerKelvin.given || !isFlat(resolved.airConditioners[i]))
      continue;
    const RanAt ran = ranAt(given, nights, i);
    if (ran.count == 0 || ran.high_degC - ran.low_degC < kLeast_K)
      continue;
    paths.push_back(powerPerKelvinPath(given.airConditioners[i]));
    if (running.outdoor_degC.given)
      continue;
    // As long as the watts are flat it may be any; there the slope moves them least.
    const double middle_degC = std::round(ran.sum_degC / ran.count);
    running.outdoor_degC = {middle_degC, scenario::Grade::measured, true};
    for (ModelNight& night : nights)
      night.given.airConditioners[i].running.outdoor_degC = running.outdoor_degC;
  }
  return paths;
}

void placeWatts(const Scenario& asked, Fit& fit) {
  const Scenario resolved = scenario::resolve(fit.corrected);
  for (std::size_t i = 0; i < resolved.airConditioners.size(); ++i) {
    const scenario::AirConditioner& unit = resolved.airConditioners[i];
    const std::string at = "air_conditioners." + unit.name + ".running.";
    const bool isCorrected =
        std::ranges::any_of(fit.corrections, [&](const FitCorrection& correction) {
          return correction.path.starts_with(at) && correction.path != at + "power_factor";
        });
    const bool counts = !unit.thermostat.empty() || unit.running.powerPerKelvin.value > 0.0;
    if (!isCorrected || !counts || asked.airConditioners[i].running.outdoor_degC.given)
      continue;
    scenario::Running& corrected = fit.corrected.airConditioners[i].running;
    corrected.outdoor_degC = {unit.running.outdoor_degC.value, scenario::Grade::measured, true};
    fit.corrections.push_back(
        {at + "outdoor", Dim::temperature, corrected.outdoor_degC.value, 0.0});
  }
}

}  // namespace nightbank
