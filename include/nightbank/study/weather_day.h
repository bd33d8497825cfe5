#pragma once

#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/study/answer.h"

/// The day of a weather file that a night is run with.
namespace nightbank {

/// A scenario whose weather file has its day.
struct OnWeatherDay {
  scenario::Scenario given;  ///< with `day` in place of `hottest`, and the day's low and high
  WeatherDay day;
};

/// The dates of the window around the period's own, whether or not the file covers them.
/// @param given  with a weather file
std::vector<Date> datesOfWindow(const scenario::Scenario& given);

/// Energy that loads and air conditioners asked for, served or not, as the bank's side sees it:
/// with the losses of inverter and wiring. [J]
double energyAskedFor_J(const Night& night);

/// Settles the day. Asked for the night at a percentile of a window of dates, it simulates the
/// night of every date of the window that the file covers, ranks them by energyAskedFor_J (not by
/// temperature: heat matters by what it makes run) and takes the nearest rank: of n nights the one
/// with rank ceil(share n), at least 1. An air conditioner without a duty never rests meanwhile.
/// @param given  with a weather file; without errors, not resolved
/// @throws Underivable where no night of the window can be run, std::invalid_argument as derive()
OnWeatherDay onWeatherDay(const scenario::Scenario& given, const WeatherSeries& series);

}  // namespace nightbank
