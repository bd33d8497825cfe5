#include "rules.h"

#include <algorithm>
#include <cmath>

#include "../fields/feeds.h"
#include "../member.h"
#include "../reading.h"
#include <fmt/format.h>

#include "nightbank/scenario/fields.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

void add(std::vector<Problem>& problems, Problem::Severity severity, std::string path,
         std::string otherPath, std::string message) {
  problems.push_back({severity, std::move(path), std::move(otherPath), std::move(message), "",
                      Problem::At::value});
}

struct Named {
  std::string_view name;
  std::string path;
};

void checkUnique(const Rules& rules, const std::vector<Named>& all) {
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (!all[i].name.empty() && all[i].name == all[j].name) {
        rules.error(all[i].path + ".name", all[j].path + ".name",
                    fmt::format("{}.name is '{}', the name of another one; names must differ",
                                all[i].path, all[i].name));
        break;
      }
}

template <class T>
void addNames(const Scenario& scenario, std::string_view key, const std::vector<T>& items,
              std::vector<Named>& names) {
  for (std::size_t i = 0; i < items.size(); ++i)
    names.push_back({items[i].name, pathIn(scenario, key, i)});
}

// Too many items to look at one by one.
bool isCrowded(const Rules& rules) {
  struct Count {
    std::string_view key;
    std::size_t count, most;
  };

  const Scenario& s = rules.given;
  bool crowded = false;
  for (const auto& [key, count, most] :
       {Count{"air_conditioners", s.airConditioners.size(), 8}, Count{"loads", s.loads.size(), 32},
        Count{"solar", s.solar.size(), 8}, Count{"variants", s.variants.size(), 64},
        Count{"risk", s.risk.size(), 64}})
    if (count > most) {
      rules.error(std::string(key), "",
                  fmt::format("{} has {} items; at most {}", key, count, most));
      crowded = true;
    }
  return crowded;
}

}  // namespace

void Rules::error(std::string path, std::string otherPath, std::string message) const {
  add(problems, Problem::Severity::error, std::move(path), std::move(otherPath),
      std::move(message));
}

void Rules::warning(std::string path, std::string otherPath, std::string message) const {
  add(problems, Problem::Severity::warning, std::move(path), std::move(otherPath),
      std::move(message));
}

std::string pathIn(const Scenario& scenario, std::string_view listKey, std::size_t index) {
  const Field& list = specOf<Scenario>().find(listKey).front();
  return itemPath(std::string(listKey), list, &scenario, index);
}

void checkNames(const Rules& rules) {
  std::vector<Named> loads;  // the answer lists air conditioners and loads together
  addNames(rules.given, "air_conditioners", rules.given.airConditioners, loads);
  addNames(rules.given, "loads", rules.given.loads, loads);
  checkUnique(rules, loads);
  std::vector<Named> arrays, variants, purchases;
  addNames(rules.given, "solar", rules.given.solar, arrays);
  checkUnique(rules, arrays);
  addNames(rules.given, "variants", rules.given.variants, variants);
  checkUnique(rules, variants);
  if (rules.given.prices)
    for (const Purchase& purchase : rules.given.prices->purchases)
      purchases.push_back({purchase.name, "prices.purchases." + purchase.name});
  checkUnique(rules, purchases);
}

void checkFeeds(const Rules& rules, const FedFrom& given, const std::string& path) {
  if (!given.given)
    return;
  const bool hasInverter = rules.given.inverter.has_value();
  const bool hasInput = rules.given.generator || rules.given.shore;
  const bool isFed =
      given.battery || (given.inverter && hasInverter) || (given.generator && hasInput);
  const std::string feeds = path + ".fed_from";
  const auto tell = [&](std::string message) {
    if (isFed)
      rules.warning(feeds, "", std::move(message));
    else
      rules.error(feeds, "", std::move(message));
  };
  if (given.inverter && !hasInverter)
    tell(fmt::format("{} names the inverter, but the scenario has none", feeds));
  if (given.generator && !hasInput)
    tell(fmt::format("{} names the generator, but the scenario has neither one nor shore power",
                     feeds));
}

Supply supplyOf(const FedFrom& given, const FedFrom& resolved) {
  if (!isDirectCurrent(resolved))
    return Supply::mains;
  return given.given ? Supply::battery : Supply::batteryForWantOfMains;
}

namespace {

void noVoltage(const Rules& rules, const CurrentAt& current, Supply supply,
               const std::string& path) {
  const bool isChosen = supply == Supply::battery;
  rules.error(
      path, isChosen ? "" : "inverter",
      fmt::format("{} is a current from the battery{}; say at which voltage, such as "
                  "'{:.4g} A at {:.4g} V'{}",
                  path, isChosen ? "" : ", since there is no inverter", current.value,
                  rules.resolved.bank.voltage_V.value, isChosen ? "" : ", or give the inverter"));
}

}  // namespace

void checkVoltage(const Rules& rules, const CurrentAt& current, Supply supply,
                  const std::string& path) {
  if (!current.given)
    return;
  const bool isMains = supply == Supply::mains;
  if (std::isnan(current.at_V)) {
    if (!isMains)
      noVoltage(rules, current, supply, path);
    return;
  }
  const double expected_V =
      isMains ? rules.resolved.mains_V.value : rules.resolved.bank.voltage_V.value;
  constexpr double kSlack = 0.25;
  if (std::abs(current.at_V / expected_V - 1.0) > kSlack)
    rules.error(
        path,
        isMains                            ? "mains"
        : rules.given.bank.voltage_V.given ? "bank.voltage"
                                           : "bank",
        fmt::format("{} is a current at {}, but what feeds it has {}; give the current at "
                    "that voltage",
                    path, format(current.at_V, Dim::voltage), format(expected_V, Dim::voltage)));
}

void checkRules(const Scenario& scenario, std::vector<Problem>& problems) {
  const Scenario resolved = resolve(scenario);
  const Rules rules{scenario, resolved, problems};
  if (isCrowded(rules))
    return;
  checkNames(rules);
  checkPeriod(rules);
  checkAirConditioners(rules);
  checkLoads(rules);
  checkBank(rules);
  checkProtection(rules);
  checkInverter(rules);
  checkCharging(rules);
  checkSurges(rules);
  checkSolar(rules);
  checkGenerator(rules);
  checkBeside(rules);
  checkCabin(rules);
  checkPrices(rules);
  checkRisk(rules);
  checkSizing(rules);
  checkPlan(rules);
}

}  // namespace nightbank::scenario
