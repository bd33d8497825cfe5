#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/study/judgement.h"
#include "nightbank/weather/weather_series.h"

/// What would have to be otherwise, so that a night holds which does not?
namespace nightbank {

struct Answer;

/// What a change asks for; in this order they are tried.
enum class Effort : std::uint8_t {
  setting,   ///< a knob or a menu
  habit,     ///< what people do, or a word with the site
  purchase,  ///< something is bought
};

/// A single change that betters the answer.
struct TurningChange {
  std::string words;  ///< "setpoint 25 -> 26 degC"
  Effort effort{};
  std::vector<scenario::Edit> edits;
  Level level{};          ///< of the whole answer then, bad ends of typical values included
  double margin_J = 0.0;  ///< of the night then; with an unknown duty of the worse end
  double lowestSoc = 0.0;
  double lowestAt_s = 0.0;
};

/// Of the changes in their order the first that makes the answer `holds`, in its least amount;
/// where none does, the first that makes one that fails `marginal`.
struct Turn {
  std::optional<TurningChange> change;  ///< nothing: none of those tried does either
  int tried = 0;                        ///< changes behind "none"; 0 beside a change
};

/// Tries single changes, each by its own run. None lets the engine run longer while people sleep
/// unless `plan.while_asleep` allows it.
/// @param given    as of the answer
/// @param answer   `marginal` or `fails`
/// @param threads  does not move the result
Turn smallestTurn(const scenario::Scenario& given, const WeatherSeries* series,
                  const Answer& answer, int threads);

}  // namespace nightbank
