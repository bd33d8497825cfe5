#pragma once

#include <functional>

#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/study/cabin_days.h"
#include "nightbank/study/risk.h"

/// Parts of the answer to a risk. Private to the room.
namespace nightbank {

/// What a drawn night is made of, shared by all draws.
struct RiskModel {
  std::vector<DrawnInput> inputs;
  std::vector<HeldInput> held;
  std::vector<scenario::Scenario> bases;  ///< one for each combination of words, the usual first
  const WeatherSeries* series = nullptr;
  SunTrack track;  ///< of the usual night
  CabinDays* days = nullptr;

  DeriveOptions lent() const { return {&track, days->lent()}; }

  bool hasStart = false;
  ProgressCounter* counter = nullptr;
};

/// What is kept of a night.
struct RiskNight {
  bool isRun = false;  ///< false: its numbers do not fit together
  bool floorHolds = false, nightHolds = false, starts = false;
  double lowestSoc = 0.0, endSoc = 0.0, margin_J = 0.0;
  double engine_s = 0.0, fuel_m3 = 0.0;
  double startMargin = 0.0;
};

/// Stands for "as the scenario has it" in place of a share.
inline constexpr double kAsGiven = -1.0;

/// @throws Underivable, std::invalid_argument as derive()
RiskModel riskModel(const scenario::Scenario& given, const WeatherSeries* series);

/// The nights of many draws; `shareOf(night, input)` places each input: in (0, 1), or kAsGiven.
std::vector<RiskNight> riskNights(const RiskModel& model, std::size_t nights, int threads,
                                  const std::function<double(std::size_t, std::size_t)>& shareOf);

/// At most so many nights are behind the weights.
std::size_t nightsOfWeights(const RiskModel& model, const RiskOptions& options);

/// One at a time, then the shares of the heaviest.
void weigh(const RiskModel& model, const RiskOptions& options, RiskAnswer& answer);

}  // namespace nightbank
