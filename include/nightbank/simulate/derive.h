#pragma once

#include <functional>
#include <stdexcept>
#include <string>
#include <utility>

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

struct SunTrack;

/// Where the day before its night leaves a cabin: `follow` finds that out, and one that knows it
/// already spares the day. `day` is all that it hangs on, beside the file's series.
using CabinDayBefore =
    std::function<CabinState(const scenario::Scenario& day, const WeatherSeries* series,
                             const std::function<CabinState()>& follow)>;

/// What a study lends its plants, and spares them. The two that are shared move no bit (a track
/// whose knots are set apart does).
struct DeriveOptions {
  const SunTrack* track = nullptr;  ///< used where it is of the plant's place and period
  CabinDayBefore dayBefore = {};    ///< none: every plant follows its own
  bool followsCabin = true;  ///< false: of a plant that is not run; its cabin starts anywhere
};

/// A scenario whose values do not make a plant, though each is well formed. what(): for people.
struct Underivable : std::invalid_argument {
  std::string path;  ///< of the value that is to blame

  Underivable(std::string at, const std::string& why)
      : std::invalid_argument(why), path(std::move(at)) {}
};

/// Turns a scenario into a plant: complete numbers in SI, schedules merged into sorted switch
/// times, the sun on its grid. `resolved` comes from scenario::resolve() of a scenario without
/// errors.
/// @param series  read from the scenario's weather file, where it has one
/// @throws Underivable, or std::invalid_argument where a device's numbers do not fit together (text
/// for people)
Plant derive(const scenario::Scenario& resolved, const WeatherSeries* series = nullptr,
             const DeriveOptions& options = {});

}  // namespace nightbank
