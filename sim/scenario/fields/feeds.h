#pragma once

#include "nightbank/scenario/scenario.h"

/// What is typical for anything that draws power.
namespace nightbank::scenario {

/// Whether mains can come in through the transfer switch.
bool hasInput(const Scenario& scenario);

/// Battery alone: a direct-current load.
bool isDirectCurrent(const FedFrom& fedFrom);

/// Inverter and transfer switch where there are such, else the battery.
FedFrom typicalFeeds(const Scenario& scenario);

/// "00:00-24:00"
std::vector<ClockSpan> wholeDay();

}  // namespace nightbank::scenario
