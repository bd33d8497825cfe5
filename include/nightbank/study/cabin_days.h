#pragma once

#include <functional>
#include <list>
#include <mutex>

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

/// The days that cabins were followed for before their nights, for plants that may have the same:
/// one that differs in bank, machines or prices alone does. A day is known again by every value
/// that it hangs on, so that a study finds the same to the last bit with it and without. Any thread
/// may ask.
class CabinDays {
 public:
  /// Where a day leaves its cabin.
  /// @param day     all that it hangs on, beside the file's series
  /// @param follow  finds it; may throw, and is asked again then
  CabinState after(const scenario::Scenario& day, const WeatherSeries* series,
                   const std::function<CabinState()>& follow);

  /// The same for derive(); not beyond the life of this.
  CabinDayBefore lent();

  int followed() const;  ///< days that were not known

 private:
  struct Known {
    scenario::Scenario day;
    const WeatherSeries* series;
    CabinState left;
  };

  mutable std::mutex mutex_;
  std::list<Known> known_;  ///< the last that was asked for first
  int followed_ = 0;
};

}  // namespace nightbank
