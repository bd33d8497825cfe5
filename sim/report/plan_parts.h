#pragma once

#include <string>
#include <vector>

#include "nightbank/report/sections.h"
#include "nightbank/study/plan.h"
#include "nightbank/units/quantity.h"

/// What text and JSON of a plan share. Private to the room.
namespace nightbank::report {

/// The plan's night as the answer that the other tables are made of.
Answer asAnswer(const PlanAnswer& plan);

/// What is told of a plan below its verdict, in this order.
struct PlanSections {
  Section thermostat, runs, fuel, comparison, rule, without, forecast, changes;
};

PlanSections planSections(const PlanAnswer& answer, UnitSystem units);

/// "20:00-22:00, 05:00-07:00"
std::string hoursText(const std::vector<ClockSpan>& hours);

/// "Set the thermostat to 21 degC from 20:00-22:00. "; "" where the plan may not choose.
std::string setpointSentence(const PlanAnswer& answer, UnitSystem units);

/// The settings by window, and of how many they are the best.
Section thermostatSection(const PlanAnswer& answer, UnitSystem units);

/// "it is too warm inside for 12 min, 30 min are allowed"; "" where it is not, or may be.
std::string warmText(const PlanAnswer& answer);

/// "5.61 USD"
std::string pricedText(const PlanAnswer& answer, double money);

}  // namespace nightbank::report
