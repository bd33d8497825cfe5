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

/// For the field lists, as `filledBy`.
template <class T>
void fillFeeds(const Scenario& soFar, T& item) {
  if (!item.fedFrom.given)
    item.fedFrom = typicalFeeds(soFar);
}

template <class T>
void fillAllDay(const Scenario&, T& item) {
  if (!item.hours)
    item.hours = wholeDay();
}

}  // namespace nightbank::scenario
