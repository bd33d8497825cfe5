#pragma once

#include <string>
#include <string_view>

#include "nightbank/study/cost.h"
#include "nightbank/units/quantity.h"

/// What a night costs, in words.
namespace nightbank::report {

/// "fuel", "oil", "bank", "purchase", as in the JSON answer.
std::string_view costWord(CostItem item);

/// Costs with their sum and per cool night, the bank's wear, and what has no price. "" where the
/// scenario has no prices.
std::string moneyTable(const Answer& answer, const Night& night, UnitSystem units);

}  // namespace nightbank::report
