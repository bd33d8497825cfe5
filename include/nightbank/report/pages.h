#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/report/fit.h"
#include "nightbank/report/size.h"
#include "nightbank/report/warnings.h"
#include "nightbank/scenario/echo.h"
#include "nightbank/study/compare.h"
#include "nightbank/study/plan.h"
#include "nightbank/study/risk.h"
#include "nightbank/study/start.h"
#include "nightbank/units/quantity.h"

/// Answers of the studies as pages, made like page(): one file that asks for nothing from anywhere,
/// with the verdict, pictures, the tables of the text, inputs, cautions.
namespace nightbank::report {

/// What a page tells besides the answer. It must live as long as the call.
struct PageSource {
  std::span<const scenario::EchoRow> inputs;  ///< of the scenario, see scenario::echoRows
  std::span<const Warning> ofReader;          ///< warnings of the scenario's reader
  UnitSystem units = UnitSystem::metric;
};

/// With a card for the pocket that prints on a sheet of its own.
std::string planPage(const PlanAnswer& answer, const PageSource& source);

std::string startPage(const StartAnswer& answer, const PageSource& source);

std::string riskPage(const RiskAnswer& answer, const PageSource& source);

std::string sizePage(const SizeAnswer& answer, const SizeQuestion& question,
                     const PageSource& source);

/// Log, plan and fit on one clock, the gap in its parts, and the tables.
std::string fitPage(const Fit& fit, std::span<const FitSource> sources, const PageSource& source);

/// @param all     at least one
/// @param inputs  of each of them
std::string comparePage(std::span<const Compared> all,
                        std::span<const std::vector<scenario::EchoRow>> inputs,
                        const PageSource& ofFirst);

}  // namespace nightbank::report
