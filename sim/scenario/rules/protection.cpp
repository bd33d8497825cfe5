#include <algorithm>
#include <limits>
#include <optional>

#include "rules.h"
#include <fmt/format.h>

#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

void checkHighTrip(const Rules& rules, double full_V) {
  const Bank& bank = rules.resolved.bank;
  if (!bank.highTrip_V.known()) {
    if (bank.highReconnect_V.given)
      rules.error("bank.high_reconnect", "bank",
                  "bank.high_reconnect has no high_trip to come back from");
    return;
  }
  const std::string trip = format(bank.highTrip_V.value, Dim::voltage);
  if (bank.highTrip_V.value <= full_V)
    return rules.error("bank.high_trip", "",
                       fmt::format("bank.high_trip is {}; expected above {} (the full bank at "
                                   "rest)",
                                   trip, format(full_V, Dim::voltage)));
  if (bank.highReconnect_V.value >= bank.highTrip_V.value)
    rules.error("bank.high_reconnect", "bank.high_trip",
                fmt::format("bank.high_reconnect is {}; expected below bank.high_trip, {}",
                            format(bank.highReconnect_V.value, Dim::voltage), trip));
  if (bank.absorption_V.given && bank.absorption_V.value > bank.highTrip_V.value)
    rules.warning("bank.absorption", bank.highTrip_V.given ? "bank.high_trip" : "",
                  fmt::format("bank.absorption is {}, above bank.high_trip, {}: the protection "
                              "stops the charge before it is full",
                              format(bank.absorption_V.value, Dim::voltage), trip));
}

/// As many as the engine keeps a timer for.
constexpr std::size_t kMostLimits = 5;

// A higher current is borne for less time, or its limit never acts.
void checkCurrentLimits(const Rules& rules, const std::vector<CurrentLimit>& limits,
                        std::string_view path) {
  for (std::size_t i = 0; i < limits.size(); ++i)
    for (std::size_t j = 0; j < limits.size(); ++j)
      if (i != j && limits[i].current_A.value >= limits[j].current_A.value &&
          limits[i].lasts_s.value >= limits[j].lasts_s.value)
        rules.error(fmt::format("{}[{}].lasts", path, i), fmt::format("{}[{}].lasts", path, j),
                    fmt::format("{}[{}] lasts no less than that of a smaller current; it would "
                                "never trip",
                                path, i));
}

/// The smallest of the limits on charge; infinite where there is none. [A]
double leastChargeLimit_A(const Bank& bank) {
  double least_A = std::numeric_limits<double>::infinity();
  for (const CurrentLimit& limit : bank.chargeCurrentLimits)
    least_A = std::min(least_A, limit.current_A.value);
  return least_A;
}

void checkCharger(const Rules& rules) {
  const double limit_A = leastChargeLimit_A(rules.given.bank);
  const std::optional<Charger>& charger = rules.resolved.charger;
  if (charger && charger->outputCurrent_A.value > limit_A)
    rules.warning("charger.output_current", "bank.charge_current_limit",
                  fmt::format("charger.output_current is {}, above the {} that "
                              "bank.charge_current_limit lets in: the protection stops the charge",
                              format(charger->outputCurrent_A.value, Dim::current),
                              format(limit_A, Dim::current)));
}

}  // namespace

void checkProtection(const Rules& rules) {
  const Bank& given = rules.given.bank;
  const double units = twelveVoltUnits(given.chemistry.value, rules.resolved.bank.voltage_V.value);
  if (!given.chemistry.given || !(units > 0.0))
    return;
  checkHighTrip(rules, units * fullPerUnit_V(given.chemistry.value));
  const std::size_t limits = given.currentLimits.size() + given.chargeCurrentLimits.size();
  if (limits > kMostLimits)
    rules.error(given.currentLimits.empty() ? "bank.charge_current_limit" : "bank.current_limit",
                given.chargeCurrentLimits.empty() ? "" : "bank.charge_current_limit",
                fmt::format("bank.current_limit and bank.charge_current_limit have over {} entries "
                            "together",
                            kMostLimits));
  checkCurrentLimits(rules, given.currentLimits, "bank.current_limit");
  checkCurrentLimits(rules, given.chargeCurrentLimits, "bank.charge_current_limit");
  checkCharger(rules);
  if (given.protectionReset_s.given && limits == 0 && !rules.resolved.bank.highTrip_V.known())
    rules.warning("bank.protection_reset", "",
                  "bank.protection_reset is read, not used: no current_limit, charge_current_limit "
                  "or high_trip trips");
}

void checkUnitCutoff(const Rules& rules, std::size_t index, const std::string& path) {
  const AirConditioner& given = rules.given.airConditioners[index];
  const AirConditioner& unit = rules.resolved.airConditioners[index];
  if (!unit.cutoff_V.known()) {
    if (given.reconnect_V.given)
      rules.error(path + ".reconnect", "",
                  fmt::format("{}.reconnect has no cutoff to come back from", path));
    return;
  }
  if (!unit.fedFrom.battery)
    return rules.error(path + ".cutoff", "",
                       fmt::format("{}.cutoff is of a direct-current unit, but the battery does "
                                   "not feed it",
                                   path));
  const Bank& bank = rules.resolved.bank;
  const double full_V = twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value) *
                        fullPerUnit_V(bank.chemistry.value);
  if (full_V > 0.0 && unit.cutoff_V.value >= full_V)
    rules.error(
        path + ".cutoff", "bank",
        fmt::format("{}.cutoff is {}; expected below {} (the full bank at rest)", path,
                    format(unit.cutoff_V.value, Dim::voltage), format(full_V, Dim::voltage)));
  if (unit.reconnect_V.value <= unit.cutoff_V.value)
    rules.error(path + ".reconnect", path + ".cutoff",
                fmt::format("{}.reconnect is {}; expected above its cutoff, {}", path,
                            format(unit.reconnect_V.value, Dim::voltage),
                            format(unit.cutoff_V.value, Dim::voltage)));
}

}  // namespace nightbank::scenario
