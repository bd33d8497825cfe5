#pragma once

#include <string>

#include "nightbank/report/sections.h"
#include "nightbank/study/plan.h"

/// What text and JSON of a plan share. Private to the room.
namespace nightbank::report {

/// The plan's night as the answer that the other tables are made of.
Answer asAnswer(const PlanAnswer& plan);

/// What is told of a plan below its verdict, in this order.
struct PlanSections {
  Section runs, comparison, rule, without, forecast, changes;
};

PlanSections planSections(const PlanAnswer& answer, UnitSystem units);

}  // namespace nightbank::report
