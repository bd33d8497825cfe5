#pragma once

#include <string>

#include "nightbank/study/plan.h"

/// What text and JSON of a plan share. Private to the room.
namespace nightbank::report {

/// The plan's night as the answer that the other tables are made of.
Answer asAnswer(const PlanAnswer& plan);

}  // namespace nightbank::report
