#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/report/warnings.h"
#include "nightbank/scenario/echo.h"
#include "nightbank/study/answer.h"
#include "nightbank/study/start.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {

/// What a page tells. The references must live as long as the call.
struct PageContent {
  const Answer& answer;
  const StartAnswer* start = nullptr;         ///< where "will it start?" can be asked
  std::span<const scenario::EchoRow> inputs;  ///< of the scenario, see scenario::echoRows
  std::span<const Warning> ofReader;          ///< warnings of the scenario's reader
  UnitSystem units = UnitSystem::metric;
};

/// The whole answer as one HTML page that asks for nothing from anywhere, for phone, screen and
/// print: verdict, pictures, tables, settings, fuel, inputs, cautions. Everything can be read
/// without its script, which lets the pictures be read at one instant and zoomed. A content
/// security policy allows the page's own style and script by their hashes and nothing else. Times
/// are on the scenario's clock.
std::string page(const PageContent& content);

}  // namespace nightbank::report
