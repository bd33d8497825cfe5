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
constexpr std::size_t kMostLimits = 4;

// A higher current is borne for less time, or its limit never acts.
void checkCurrentLimits(const Rules& rules) {
  const std::vector<CurrentLimit>& limits = rules.given.bank.currentLimits;
  if (limits.size() > kMostLimits)
    return rules.error("bank.current_limit", "",
                       fmt::format("bank.current_limit has over {} entries", kMostLimits));
  for (std::size_t i = 0; i < limits.size(); ++i)
    for (std::size_t j = 0; j < limits.size(); ++j)
      if (i != j && limits[i].current_A.value >= limits[j].current_A.value &&
          limits[i].lasts_s.value >= limits[j].lasts_s.value)
        rules.error(fmt::format("bank.current_limit[{}].lasts", i),
                    fmt::format("bank.current_limit[{}].lasts", j),
                    fmt::format("bank.current_limit[{}] lasts no less than that of a smaller "
                                "current; it would never trip",
                                i));
}

}  // namespace

void checkProtection(const Rules& rules) {
  const Bank& given = rules.given.bank;
  const double units = twelveVoltUnits(given.chemistry.value, rules.resolved.bank.voltage_V.value);
  if (!given.chemistry.given || !(units > 0.0))
    return;
  checkHighTrip(rules, units * fullPerUnit_V(given.chemistry.value));
  checkCurrentLimits(rules);
  if (given.protectionReset_s.given && given.currentLimits.empty() &&
      !rules.resolved.bank.highTrip_V.known())
    rules.warning("bank.protection_reset", "",
                  "bank.protection_reset is read, not used: neither current_limit nor high_trip "
                  "trips");
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
