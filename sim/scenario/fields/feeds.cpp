#include "feeds.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {

bool hasInput(const Scenario& scenario) {
  return scenario.generator || scenario.shore;
}

bool isDirectCurrent(const FedFrom& fedFrom) {
  return fedFrom.battery && !fedFrom.inverter && !fedFrom.generator;
}

FedFrom typicalFeeds(const Scenario& scenario) {
  FedFrom feeds;
  feeds.inverter = scenario.inverter.has_value();
  feeds.generator = hasInput(scenario);
  feeds.battery = !feeds.inverter && !feeds.generator;
  return feeds;
}

std::vector<ClockSpan> wholeDay() {
  return {{0.0, kDay_s}};
}

}  // namespace nightbank::scenario
