#include <algorithm>
#include <cmath>

#include "rules.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

bool holds(const Hours& hours, double secondsAfterMidnight) {
  return hours && std::ranges::any_of(*hours, [&](const ClockSpan& span) {
           return contains(span, secondsAfterMidnight);
         });
}

// Whether the site's rules leave an engine any time of the day. If they do, such a time begins
// where an allowed span begins or a quiet one ends, or it is the whole day.
bool allowsEngine(const Scenario& scenario) {
  if (!scenario.site)
    return true;
  const Site& site = *scenario.site;
  const auto isAllowedAt = [&](double second) {
    return (!site.generatorHours || holds(site.generatorHours, second)) &&
           !holds(site.quietHours, second);
  };
  bool isAllowed = isAllowedAt(0.0);
  if (site.generatorHours)
    for (const ClockSpan& span : *site.generatorHours)
      isAllowed = isAllowed || isAllowedAt(span.from_s);
  if (site.quietHours)
    for (const ClockSpan& span : *site.quietHours)
      isAllowed = isAllowed || isAllowedAt(std::fmod(span.to_s, kDay_s));
  return isAllowed;
}

void checkRule(const Rules& rules) {
  const GeneratorRule& given = *rules.given.generator->rule;
  const GeneratorRule& rule = *rules.resolved.generator->rule;
  if (!(rule.startBelow.value < rule.stopAbove.value))
    rules.error("generator.rule.start_below", "generator.rule.stop_above",
                fmt::format("generator.rule.start_below is {}; expected below stop_above, {}",
                            format(rule.startBelow.value, Dim::fraction),
                            format(rule.stopAbove.value, Dim::fraction)));
  if (given.inQuietHoursBelow && given.inQuietHoursBelow->startBelow.value > rule.startBelow.value)
    rules.error("generator.rule.in_quiet_hours.start_below", "generator.rule.start_below",
                fmt::format("generator.rule.in_quiet_hours.start_below is {}; expected at most "
                            "start_below, {}",
                            format(given.inQuietHoursBelow->startBelow.value, Dim::fraction),
                            format(rule.startBelow.value, Dim::fraction)));
  if (!rules.given.charger)
    rules.warning("generator.rule", "",
                  "generator.rule looks at the bank, but there is no charger through which the "
                  "engine could fill it");
  if (!allowsEngine(rules.given))
    rules.warning(
        "generator.rule", "site",
        "generator.rule can never start: generator_hours and quiet_hours leave no minute");
}

// Burnt per second at the load of entry i, from a full tank or as given. Any unit.
double rateOf(const Fuel& fuel, std::size_t i) {
  return fuel.burns.empty() ? 1.0 / fuel.tankLasts[i].for_s.value : fuel.burns[i].rate_m3_s.value;
}

double loadOf(const Fuel& fuel, std::size_t i) {
  return fuel.burns.empty() ? fuel.tankLasts[i].load.value : fuel.burns[i].load.value;
}

void checkFuel(const Rules& rules) {
  const Fuel& fuel = *rules.given.generator->fuel;
  if (fuel.cylinder_kg.given && fuel.kind.value != FuelKind::propane)
    rules.error("generator.fuel.cylinder", "generator.fuel.kind",
                "generator.fuel.cylinder is of propane; expected kind: propane with it");
  if (!fuel.tankLasts.empty() && !fuel.tank_m3.given && !fuel.cylinder_kg.given)
    rules.error("generator.fuel.tank", "generator.fuel.tank_lasts",
                "generator.fuel.tank is missing; tank_lasts needs it");
  const std::string list =
      fuel.burns.empty() ? "generator.fuel.tank_lasts" : "generator.fuel.burns";
  const std::size_t count = fuel.burns.empty() ? fuel.tankLasts.size() : fuel.burns.size();
  constexpr std::size_t kMost = 16;
  if (count > kMost)
    return rules.error(list, "", fmt::format("{} has over {} entries", list, kMost));
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const std::string a = fmt::format("{}[{}]", list, i);
      const std::string b = fmt::format("{}[{}]", list, j);
      const double more = loadOf(fuel, i) - loadOf(fuel, j);
      if (more == 0.0)
        rules.error(a + ".load", b + ".load",
                    fmt::format("{}.load is that of another entry; loads must differ", a));
      else if (!((rateOf(fuel, i) - rateOf(fuel, j)) * more > 0.0))
        rules.error(a, b,
                    fmt::format("{} and {} do not fit: under more load an engine burns more{}", b,
                                a, fuel.burns.empty() ? ", and a tank lasts less long" : ""));
    }
  if (count == 1 && loadOf(fuel, 0) == 0.0)
    rules.error(fmt::format("{}[0].load", list), "",
                fmt::format("{}[0].load is 0 %; what an engine burns without load says nothing of "
                            "the rest, give a load as well",
                            list));
}

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

void checkSolar(const Rules& rules) {
  const Scenario& given = rules.given;
  if (given.weather && given.weather->designDay) {
    const DesignDay& day = *given.weather->designDay;
    if (day.low_degC.value > day.high_degC.value)
      rules.error("weather.design_day.low", "weather.design_day.high",
                  "weather.design_day.low is above its high");
  }
  if (given.solar.empty())
    return;
  if (!given.weather)
    return rules.error("solar", "weather", "solar needs weather: design_day or constant");
  const bool hasPlace =
      given.site && given.site->latitude_deg.given && given.site->longitude_deg.given;
  if (given.weather->designDay && !hasPlace)
    rules.error("solar", "site", "solar needs site.latitude and site.longitude, bare degrees");
  if (given.weather->constant && !given.weather->constant->peakSun_s.given)
    rules.error("solar", "weather.constant", "solar needs weather.constant.peak_sun_hours");
}

void checkGenerator(const Rules& rules) {
  if (!rules.given.generator)
    return;
  if (rules.given.generator->fuel)
    checkFuel(rules);
  if (rules.given.generator->rule)
    checkRule(rules);
  if (!rules.given.generator->rule && rules.given.generator->run && !allowsEngine(rules.given))
    rules.warning("generator.run", "site",
                  "generator.run is in vain: generator_hours and quiet_hours leave no minute");
}

}  // namespace nightbank::scenario
