#pragma once

#include <string>
#include <string_view>

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/plant.h"

/// The nights that the bench runs, as texts: what is timed is what a file would give.
namespace nightbank::bench {

/// 14 h, one air conditioner at 60 % on an AGM bank, a fridge. The floor is passed early in the
/// morning and the inverter cuts off in the last hour, so that both are located.
std::string_view plainNight();

/// 14 h with an array, a charger and a generator that starts by rule in the site's hours.
std::string_view ruledNight();

/// 14 h on a thermostat: cabin, moisture and sun decide the duty.
std::string_view warmNight();

/// 365 days of such nights, the sun carrying most of them and the generator the rest.
std::string_view year();

/// The first 30 days of the year.
std::string month();

/// @throws std::runtime_error with the messages where the text is not accepted
scenario::Scenario scenarioOf(std::string_view text);
Plant plantOf(std::string_view text);

}  // namespace nightbank::bench
