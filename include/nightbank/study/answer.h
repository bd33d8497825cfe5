#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/coast.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/simulate/witness.h"
#include "nightbank/study/judgement.h"
#include "nightbank/study/turn.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

/// One run with all that belongs to it.
struct Night {
  Plant plant;
  Recorder recorder;
  Outcome outcome;
  Judgement judgement;
  Coast coast;                            ///< of the cabin, where it is simulated
  std::optional<MonitorOutcome> monitor;  ///< what the battery monitor shows, where there is one
};

/// A typical value whose other end changes the level.
struct Guess {
  std::string path;            ///< "inverter.idle"
  std::string typical;         ///< "25 W", as used
  std::string badEnd;          ///< "37 W"
  std::string badEndEdit;      ///< the same as the text of an edit
  Level level{};               ///< with that end alone
  double marginMoved_J = 0.0;  ///< margin with that end less margin as used, <= 0
};

/// Of which day of a weather file the night is.
struct WeatherDay {
  Date date{};
  bool isOfAnyYear = false;  ///< the file is a typical year: month and day alone mean something
  int rank = 0;              ///< by energy asked for among `nights`, 1 the least; 0: not searched
  int nights = 0;
};

/// The answer to "does this night hold?".
struct Answer {
  scenario::Scenario resolved;
  Night night;                      ///< duty unknown: the end where the compressor never rests
  std::optional<Night> restingEnd;  ///< duty unknown: the end where it rests 60 %
  Level level{};                    ///< of the answer: capped at marginal by typical values
  std::vector<Guess> guesses;       ///< typical values by how much their bad end moves the margin
  std::optional<Guess> deciding;    ///< the one that caps the level, or moves the margin most
  Level allBadEnds{};               ///< with all bad ends together
  scenario::Grade grade{};          ///< weakest among parts that carried energy or decided
  std::optional<WeatherDay> weatherDay;  ///< where the weather is from a file
  std::optional<Turn> turn;              ///< where smallestTurn() was asked
};

/// Runs the scenario, then once for each end of every typical value, then all bad ends together.
/// Duty unknown: every unit at 100 % and at 40 %; the level is the worse.
/// @param given   without errors, not resolved
/// @param series   read from the scenario's weather file, where it has one
/// @param threads  for the ends; moves nothing
/// @returns the answer, or problems of values that do not fit together in the plant
std::variant<Answer, std::vector<scenario::Problem>> answerNight(
    const scenario::Scenario& given, const WeatherSeries* series = nullptr, int threads = 1);

}  // namespace nightbank
