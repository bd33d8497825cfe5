#pragma once

#include <span>
#include <string>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/study/plan.h"

/// The plan of the generator's hours in words and for programs.
namespace nightbank::report {

/// "Start the generator by 20:12 and run it until 21:39 ...": what to do, what it takes, what is
/// left. Where no plan fits: what lacks, from when, and the first change that helps.
std::string planSentence(const PlanAnswer& answer, UnitSystem units = UnitSystem::metric);

/// Title and sentence; the caution on carbon monoxide on top where the engine runs while people
/// sleep.
std::string planVerdict(const PlanAnswer& answer, const TextStyle& style);

/// The whole plan for people: verdict, charge strip, runs, what it is compared with, the rule for a
/// controller, what would help, cautions.
std::string planText(const PlanAnswer& answer, const TextStyle& style);

/// The same for programs. Times are local ISO 8601 with offset, volumes L, shares 0..1.
std::string planJson(const PlanAnswer& answer, std::span<const Warning> ofReader = {});

}  // namespace nightbank::report
