#include <cmath>

#include "rules.h"
#include <fmt/format.h>

#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

constexpr double kSuspiciousCurrent_A = 40.0;
constexpr double kSuspiciousPower_W = 200.0;

bool isAtMains(const CurrentAt& current, Supply supply) {
  return current.given && supply == Supply::mains && std::isnan(current.at_V);
}

// Amperes at 12 V taken for amperes at mains: the commonest mistake, tenfold.
void checkSize(const Rules& rules, const CurrentAt& current, Supply supply,
               const std::string& path) {
  if (isAtMains(current, supply) && current.value > kSuspiciousCurrent_A)
    rules.warning(path, "",
                  fmt::format("{} is {:.4g} A at {:.4g} V, {:.3g} kW; it looks as if it were "
                              "given at the battery's voltage",
                              path, current.value, rules.resolved.mains_V.value,
                              current.value * rules.resolved.mains_V.value / 1000.0));
}

double apparent_VA(const Rules& rules, const CurrentAt& current, const Graded& power,
                   double powerFactor) {
  const double at_V = std::isnan(current.at_V) ? rules.resolved.mains_V.value : current.at_V;
  return current.known() ? current.value * at_V : power.value / powerFactor;
}

void checkPowerFactor(const Rules& rules, const Graded& powerFactor, Supply supply,
                      const std::string& path) {
  if (powerFactor.given && supply != Supply::mains)
    rules.warning(
        path, "",
        fmt::format("{} is read, not used: direct current from the battery has none", path));
}

void checkDuty(const Rules& rules, const AirConditioner& unit, const std::string& path) {
  if (unit.duty.size() < 2)
    return;
  for (std::size_t i = 0; i < unit.duty.size(); ++i) {
    const std::string entry = fmt::format("{}.duty[{}]", path, i);
    if (!unit.duty[i].from_s) {
      rules.error(entry + ".from", "",
                  fmt::format("{} has no from; of several entries each needs one", entry));
      continue;
    }
    for (std::size_t j = 0; j < i; ++j)
      if (unit.duty[j].from_s == unit.duty[i].from_s)
        rules.error(entry + ".from", fmt::format("{}.duty[{}].from", path, j),
                    fmt::format("{}.from is the time of another entry; times must differ", entry));
  }
}

void checkRunning(const Rules& rules, std::size_t index, const std::string& path) {
  const AirConditioner& given = rules.given.airConditioners[index];
  const AirConditioner& unit = rules.resolved.airConditioners[index];
  const Running& running = given.running;
  const std::string at = path + ".running";
  if (!running.current_A.given && !running.power_W.given && !given.cooling_W.given)
    return rules.error(at, path + ".cooling",
                       fmt::format("{} has neither current nor power, and cooling is not given "
                                   "either; give one of them",
                                   at));
  const Supply supply = supplyOf(given.fedFrom, unit.fedFrom);
  checkVoltage(rules, running.current_A, supply, at + ".current");
  checkSize(rules, running.current_A, supply, at + ".current");
  checkPowerFactor(rules, running.powerFactor, supply, at + ".power_factor");
  if (running.power_W.given && running.power_W.value < kSuspiciousPower_W)
    rules.warning(at + ".power", "",
                  fmt::format("{}.power is {}, little for an air conditioner", at,
                              format(running.power_W.value, Dim::power)));
  if (given.fan)
    checkVoltage(rules, given.fan->current_A, supply, path + ".fan.current");
  const double powerFactor = unit.running.powerFactor.value;
  const double all_VA =
      apparent_VA(rules, unit.running.current_A, unit.running.power_W, powerFactor);
  const double fan_VA = apparent_VA(rules, unit.fan->current_A, unit.fan->power_W, powerFactor);
  const bool isFanGiven = unit.fan->current_A.given || unit.fan->power_W.given;
  if (fan_VA >= all_VA)
    rules.error(
        isFanGiven ? path + ".fan" : at, isFanGiven ? at : "",
        fmt::format("{} draws {:.4g} VA with the fan alone, no less than the {:.4g} VA with "
                    "the compressor on{}",
                    path, fan_VA, all_VA,
                    isFanGiven ? "" : "; give what the fan draws, fan.power"));
}

// A code letter says nothing without the horsepower, and would contradict a label's amperes.
void checkStarting(const Rules& rules, const Starting& starting, const std::string& path) {
  if (starting.codeLetter && !starting.horsepower.given)
    rules.error(path + ".code_letter", "",
                fmt::format("{}.code_letter needs horsepower beside it", path));
  if (starting.horsepower.given && !starting.codeLetter)
    rules.error(path + ".horsepower", "",
                fmt::format("{}.horsepower needs code_letter beside it", path));
  if (starting.codeLetter && starting.lockedRotor_A.given)
    rules.error(path + ".code_letter", path + ".locked_rotor",
                fmt::format("{0}.code_letter stands beside {0}.locked_rotor; leave one out", path));
  checkVoltage(rules, starting.lockedRotor_A, Supply::mains, path + ".locked_rotor");
  checkVoltage(rules, starting.clampPeak_A, Supply::mains, path + ".clamp_peak");
}

}  // namespace

void checkAirConditioners(const Rules& rules) {
  for (std::size_t i = 0; i < rules.given.airConditioners.size(); ++i) {
    const AirConditioner& unit = rules.given.airConditioners[i];
    const std::string path = pathIn(rules.given, "air_conditioners", i);
    checkFeeds(rules, unit.fedFrom, path);
    checkRunning(rules, i, path);
    checkDuty(rules, unit, path);
    checkUnitCutoff(rules, i, path);
    if (unit.starting)
      checkStarting(rules, *unit.starting, path + ".starting");
    const bool isKnown = unit.running.current_A.given || unit.running.power_W.given;
    if (unit.cooling_W.given && isKnown && unit.thermostat.empty())
      rules.warning(path + ".cooling", "",
                    fmt::format("{}.cooling is read, not used: what it draws running is given, and "
                                "no thermostat asks for its cooling",
                                path));
  }
}

void checkLoads(const Rules& rules) {
  if (rules.given.loads.empty() && rules.given.airConditioners.empty())
    rules.warning("air_conditioners", "loads",
                  "nothing draws power: there is neither an air conditioner nor a load");
  for (std::size_t i = 0; i < rules.given.loads.size(); ++i) {
    const std::string path = pathIn(rules.given, "loads", i);
    const Load& load = rules.given.loads[i];
    checkFeeds(rules, load.fedFrom, path);
    const Supply supply = supplyOf(load.fedFrom, rules.resolved.loads[i].fedFrom);
    checkVoltage(rules, load.current_A, supply, path + ".current");
    checkSize(rules, load.current_A, supply, path + ".current");
    checkPowerFactor(rules, load.powerFactor, supply, path + ".power_factor");
  }
}

}  // namespace nightbank::scenario
