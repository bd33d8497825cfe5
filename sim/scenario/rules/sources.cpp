#include <cmath>

#include "rules.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

// Every step is a row of the answer, kept for each run.
void checkStep(const Rules& rules, double span_s) {
  constexpr double kMostSteps = 1e6;
  const double step_s = rules.resolved.period.step_s.value;
  if (span_s / step_s > kMostSteps)
    rules.error("period.step", "period.to",
                fmt::format("period.step is {}, which cuts {:.0f} days into {:.0f} steps; expected "
                            "at least {:.0f} s",
                            format(step_s, Dim::duration), span_s / kDay_s, span_s / step_s,
                            std::ceil(span_s / kMostSteps)));
}

}  // namespace

void checkPeriod(const Rules& rules) {
  const Period& period = rules.given.period;
  constexpr double kLongest_d = 400.0;
  if (!period.from_s || !period.to_s)
    return;
  const double span_s = *period.to_s - *period.from_s;
  if (!(span_s > 0.0))
    rules.error("period.to", "period.from", "period.to is not after period.from");
  else if (span_s > kLongest_d * kDay_s)
    rules.error("period.to", "period.from",
                fmt::format("period.to is {:.0f} days after period.from; at most {:.0f}",
                            span_s / kDay_s, kLongest_d));
  else
    checkStep(rules, span_s);
}

void checkCharging(const Rules& rules) {
  const Scenario& given = rules.given;
  if (given.shore)
    checkVoltage(rules, given.shore->limit_A, Supply::mains, "shore.limit");
  if (!given.charger)
    return;
  checkVoltage(rules, given.charger->inputLimit_A, Supply::mains, "charger.input_limit");
  if (!given.generator && !given.shore)
    rules.error(
        "charger", "",
        "charger has nothing to charge from: the scenario has neither a generator nor shore "
        "power");
}

void checkSurges(const Rules& rules) {
  constexpr std::size_t kMostEntries = 8;  // as many as the test of a start has room for
  const auto check = [&](const auto& source, const std::string& path) {
    if (source && source->surge.size() > kMostEntries)
      rules.error(path, "", fmt::format("{} has over {} entries", path, kMostEntries));
  };
  check(rules.given.inverter, "inverter.surge");
  check(rules.given.generator, "generator.surge");
}

void checkArrays(const Rules& rules) {
  for (std::size_t i = 0; i < rules.given.solar.size(); ++i) {
    const Array& array = rules.given.solar[i];
    const Array& resolved = rules.resolved.solar[i];
    const std::string path = pathIn(rules.given, "solar", i);
    if (array.controller.value == Controller::pwm && array.conversion.given)
      rules.error(path + ".conversion", path + ".controller",
                  path +
                      ".conversion is of an mppt controller; a pwm one passes the array's "
                      "current on as it is");
    if (resolved.openCircuit_V.value <= resolved.maximumPower_V.value)
      rules.error(path + ".voc", path + ".vmp",
                  fmt::format("{}.voc is {}; expected above vmp, {}", path,
                              format(resolved.openCircuit_V.value, Dim::voltage),
                              format(resolved.maximumPower_V.value, Dim::voltage)));
  }
}

void checkSolar(const Rules& rules) {
  const Scenario& given = rules.given;
  if (given.weather && given.weather->designDay) {
    const DesignDay& day = *given.weather->designDay;
    if (day.low_degC.value > day.high_degC.value)
      rules.error("weather.design_day.low", "weather.design_day.high",
                  "weather.design_day.low is above its high");
  }
  if (given.weather && given.weather->file && given.weather->file->within_s.given &&
      !given.weather->file->hottest.given && !given.weather->file->day &&
      !(given.sizing && given.sizing->nights.given))
    rules.error("weather.file.within", "weather.file",
                "weather.file.within says nothing without weather.file.hottest or sizing.nights");
  if (given.solar.empty())
    return;
  checkArrays(rules);
  if (!given.weather)
    return rules.error("solar", "weather", "solar needs weather: design_day, constant or file");
  const bool hasPlace =
      given.site && given.site->latitude_deg.given && given.site->longitude_deg.given;
  if (!given.weather->constant && !hasPlace)
    rules.error("solar", "site", "solar needs site.latitude and site.longitude, bare degrees");
  if (given.weather->constant && given.site && !given.site->horizon.empty())
    rules.warning(
        "site.horizon", "weather.constant",
        "site.horizon says nothing where the weather is constant: its sun has no place in "
        "the sky");
  if (given.weather->constant && !given.weather->constant->peakSun_s.given)
    rules.error("solar", "weather.constant", "solar needs weather.constant.peak_sun_hours");
}

}  // namespace nightbank::scenario
