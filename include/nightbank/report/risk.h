#pragma once

#include <span>
#include <string>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/study/judgement.h"
#include "nightbank/study/risk.h"

/// The answer to "how likely is it?" in words and for programs.
namespace nightbank::report {

/// Chances with their intervals, percentiles of the night, what moves it, what was drawn.
std::string riskText(const RiskAnswer& answer, const TextStyle& style);

/// Holds where the whole interval of keeping above the floor is at 95 % or more, marginal at 50 %.
Level riskLevel(const RiskAnswer& answer);

/// The chances alone.
std::string riskVerdict(const RiskAnswer& answer);

std::string riskJson(const RiskAnswer& answer, std::span<const Warning> ofReader = {});

}  // namespace nightbank::report
