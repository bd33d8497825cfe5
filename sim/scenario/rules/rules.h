#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"

/// Rules across fields, by part. Private to the room.
namespace nightbank::scenario {

/// What a rule looks at, and where it reports.
struct Rules {
  const Scenario& given;
  const Scenario& resolved;  ///< the same with typical values
  std::vector<Problem>& problems;

  /// `otherPath`: the second place of a contradiction, or "".
  void error(std::string path, std::string otherPath, std::string message) const;
  void warning(std::string path, std::string otherPath, std::string message) const;
};

void checkPeriod(const Rules& rules);
void checkAirConditioners(const Rules& rules);
void checkLoads(const Rules& rules);
void checkNames(const Rules& rules);
void checkBank(const Rules& rules);
void checkProtection(const Rules& rules);
void checkInverter(const Rules& rules);
void checkCharging(const Rules& rules);
void checkSurges(const Rules& rules);
void checkGenerator(const Rules& rules);
void checkSolar(const Rules& rules);
void checkBeside(const Rules& rules);
void checkCabin(const Rules& rules);
void checkPrices(const Rules& rules);
void checkRisk(const Rules& rules);
void checkSizing(const Rules& rules);
void checkPlan(const Rules& rules);

/// The low-voltage cut-off of one direct-current air conditioner.
void checkUnitCutoff(const Rules& rules, std::size_t index, const std::string& path);

/// Path of an item of a list of the scenario: "loads.fridge".
std::string pathIn(const Scenario& scenario, std::string_view listKey, std::size_t index);

/// Paths of what could be bought: "sizing.choose.bank", "sizing.choose.bank.options.block".
std::string choicePath(const Sizing& sizing, std::size_t choice);
std::string optionPath(const Sizing& sizing, std::size_t choice, std::size_t option);

/// What a load hangs on.
enum class Supply {
  mains,
  battery,
  batteryForWantOfMains,  ///< it does not say, and there is nothing else
};

Supply supplyOf(const FedFrom& given, const FedFrom& resolved);

/// What feeds a load exists, and a current has the voltage at which it flows.
void checkFeeds(const Rules& rules, const FedFrom& given, const std::string& path);
void checkVoltage(const Rules& rules, const CurrentAt& current, Supply supply,
                  const std::string& path);

}  // namespace nightbank::scenario
