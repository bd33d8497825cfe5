#pragma once

#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/study/answer.h"
#include "nightbank/study/cabin_days.h"
#include "nightbank/study/night_numbers.h"

/// One run of a scenario. Private to the room.
namespace nightbank {

/// Derives, simulates, judges.
/// @throws Underivable, std::invalid_argument as derive()
Night nightOf(const scenario::Scenario& given, const WeatherSeries* series,
              const DeriveOptions& options = {});

/// What all variations of one night share.
struct NightBase {
  const scenario::Scenario& given;
  const WeatherSeries* series;
  SunTrack track;
  CabinDays& days;
  int threads = 1;

  DeriveOptions lent() const { return {&track, days.lent()}; }
};

/// One run with edits, in short.
struct Variation {
  Level level{};
  double margin_J = 0.0;
  double asleep_s = 0.0;  ///< engine on while people sleep
};

/// Nothing where the edits do not fit together. None of them moves place or period.
std::optional<Variation> varied(const NightBase& base, std::span<const scenario::Edit> edits);

/// The answer on a day that is settled; both ends where the duty is unknown.
/// @throws as nightOf()
Answer answerOfDay(const scenario::Scenario& given, const WeatherSeries* series, int threads,
                   CabinDays& days);

/// As answerNight() and nightNumbers() alone, for studies of many.
/// @param days  of all of them
std::variant<Answer, std::vector<scenario::Problem>> answerNight(const scenario::Scenario& given,
                                                                 const WeatherSeries* series,
                                                                 int threads, CabinDays& days);
std::variant<NightNumbers, std::vector<scenario::Problem>> nightNumbers(
    const scenario::Scenario& given, const WeatherSeries* series, CabinDays& days);

/// The two ends where nobody watched the duty: the compressor never rests, or rests 60 % of the
/// time. `common practice, no source`: nights are told to run at "often 40 %".
inline constexpr double kNeverRests = 1.0;
inline constexpr double kRestsMost = 0.4;

/// With a duty for each air conditioner that has neither one nor a thermostat.
scenario::Scenario withDuty(scenario::Scenario given, double share);

/// Whether withDuty() has anything to do.
bool dutyIsUnknown(const scenario::Scenario& given);

}  // namespace nightbank
