#pragma once

#include <string>
#include <string_view>

#include "nightbank/report/page.h"
#include "nightbank/report/sections.h"

/// Parts of the page. Private to it.
namespace nightbank::report {

/// What a person sets on the machines so that they do what was simulated.
Section settingsSection(std::span<const scenario::EchoRow> inputs);

/// Fuel and oil for the period, and what would help a start or settle a guess.
Section shoppingSection(const Answer& answer, const StartAnswer* start, UnitSystem units);

/// Every value with the way it is known.
Section inputSection(std::span<const scenario::EchoRow> inputs);

/// Of each unit a picture of what a start needs against what there is, and all cases as a table.
std::string startFigures(const StartAnswer& answer);

/// "Will it start?": verdict, one picture for each unit, all cases as a table; "" without it.
std::string startHtml(const StartAnswer* start);

}  // namespace nightbank::report

namespace nightbank::embedded {

std::string_view pageStyle();    ///< page.css
std::string_view pageScript();   ///< page.js
std::string_view plotScript();   ///< of the plotting library; "" where it was not to be had
std::string_view plotStyle();    ///< likewise
std::string_view plotLicence();  ///< likewise

}  // namespace nightbank::embedded
