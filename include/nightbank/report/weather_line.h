#pragma once

#include <optional>
#include <string>

#include "nightbank/study/answer.h"

/// Of which day of a weather file a night is.
namespace nightbank::report {

/// "27 Jul"; "27 Jul 2025" where the year means something.
std::string weatherDateText(const WeatherDay& day);

/// "Weather of 27 Jul from tucson.epw: rank 28 of 31 nights by the energy asked for". Lines ended
/// by LF; "" where the weather is not from a file.
std::string weatherLine(const scenario::Scenario& resolved, const std::optional<WeatherDay>& day);

/// Whether some outdoor temperature is the user's.
bool isWeatherGiven(const scenario::Scenario& resolved);

}  // namespace nightbank::report
