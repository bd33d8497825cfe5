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

void checkStartVoltage(const Rules& rules) {
  const double start_V = rules.given.generator->rule->startBelowVoltage_V.value;
  const double bank_V = rules.resolved.bank.voltage_V.value;
  constexpr double kLowest = 0.75, kHighest = 1.1;
  if (!(start_V >= kLowest * bank_V && start_V <= kHighest * bank_V))
    return rules.error(
        "generator.rule.start_below_voltage", "bank",
        fmt::format("generator.rule.start_below_voltage is {}; expected {} to {} "
                    "for this bank",
                    format(start_V, Dim::voltage), format(kLowest * bank_V, Dim::voltage),
                    format(kHighest * bank_V, Dim::voltage)));
  if (rules.given.inverter && start_V <= rules.resolved.inverter->cutoff_V.value)
    rules.warning("generator.rule.start_below_voltage", "inverter",
                  fmt::format("generator.rule.start_below_voltage is {}: the inverter cuts off "
                              "before, at {}",
                              format(start_V, Dim::voltage),
                              format(rules.resolved.inverter->cutoff_V.value, Dim::voltage)));
}

// What voltage and load ask for, and the lengths of a run.
void checkConditions(const Rules& rules) {
  const GeneratorRule& given = *rules.given.generator->rule;
  const GeneratorRule& rule = *rules.resolved.generator->rule;
  if (given.startBelowVoltage_V.given)
    checkStartVoltage(rules);
  if (given.stopBelowLoad_W.given && !given.startAboveLoad_W.given)
    rules.error("generator.rule.stop_below_load", "",
                "generator.rule.stop_below_load ends runs that a load began; expected "
                "start_above_load with it");
  if (given.startAboveLoad_W.given && !(rule.stopBelowLoad_W.value < given.startAboveLoad_W.value))
    rules.error("generator.rule.stop_below_load", "generator.rule.start_above_load",
                fmt::format("generator.rule.stop_below_load is {}; expected below "
                            "start_above_load, {}",
                            format(rule.stopBelowLoad_W.value, Dim::power),
                            format(given.startAboveLoad_W.value, Dim::power)));
  const double unloaded_s =
      rules.resolved.generator->warmUp_s.value + rules.resolved.generator->coolDown_s.value;
  const double least_s = std::max(rule.leastRun_s.value, unloaded_s);
  if (given.mostRun_s.given && !(given.mostRun_s.value > least_s))
    rules.error(
        "generator.rule.most_run", "generator.rule.least_run",
        fmt::format("generator.rule.most_run is {}; expected above least_run and above "
                    "warm_up and cool_down together, {}",
                    format(given.mostRun_s.value, Dim::duration), format(least_s, Dim::duration)));
}

// A time that is written at the generator and at its rule.
void checkTwice(const Rules& rules, const Graded& here, const Graded& atRule,
                std::string_view key) {
  if (here.given && atRule.given)
    rules.error(
        fmt::format("generator.rule.{}", key), fmt::format("generator.{}", key),
        fmt::format("generator.rule.{0} is the same as generator.{0}; expected one of them", key));
}

void checkRule(const Rules& rules) {
  const GeneratorRule& given = *rules.given.generator->rule;
  const GeneratorRule& rule = *rules.resolved.generator->rule;
  if (rule.startBelow.known() && !(rule.startBelow.value < rule.stopAbove.value))
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
  checkConditions(rules);
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

}  // namespace

void checkGenerator(const Rules& rules) {
  if (!rules.given.generator)
    return;
  if (rules.given.generator->fuel)
    checkFuel(rules);
  if (rules.given.generator->rule) {
    const Generator& generator = *rules.given.generator;
    checkTwice(rules, generator.warmUp_s, generator.rule->warmUp_s, "warm_up");
    checkTwice(rules, generator.coolDown_s, generator.rule->coolDown_s, "cool_down");
    checkRule(rules);
  }
  if (!rules.given.generator->rule && rules.given.generator->run && !allowsEngine(rules.given))
    rules.warning("generator.run", "site",
                  "generator.run is in vain: generator_hours and quiet_hours leave no minute");
}

}  // namespace nightbank::scenario
