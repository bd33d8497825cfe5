#pragma once

#include <limits>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/study/fit_gap.h"
#include "nightbank/study/log_reader.h"
#include "nightbank/units/quantity.h"
#include "nightbank/weather/weather_series.h"

/// What logs say of a scenario's inputs.
namespace nightbank {

/// A number of the scenario that a log may correct, in the unit that the code keeps.
struct FitInput {
  std::string path;
  Dim dim{};
  bool isFactor = false;  ///< on every entry of the list at `path` (a fuel line)
  int night = -1;         ///< of that night alone; -1: of all
  scenario::Grade grade{};
  bool isGiven = false;
  double low = 0.0, high = 0.0;  ///< what is tried at most
  double prior = 0.0, priorDeviation = 0.0;
  double value = 0.0;      ///< as the log has it; the prior where it does not tell
  double deviation = 0.0;  ///< standard error; of what is not told as before
  bool isTold = false;     ///< the log narrows it to less than kToldShare of what was known
  std::string sameAs;      ///< not told: the input that moves the log just so; "": none does
};

/// Told: the standard error is below this share of the prior's deviation.
inline constexpr double kToldShare = 0.7;

/// A number to be written into the scenario's file; without a deviation it is a place, not a
/// finding (the temperature at which watts hold).
struct FitCorrection {
  std::string path;
  Dim dim{};
  double value = 0.0, deviation = 0.0;
};

/// Two inputs that the logs hold together.
struct FitPair {
  std::size_t first = 0, second = 0;  ///< of Fit::inputs
  double correlation = 0.0;
};

/// One minute of a night, plan and log side by side; NaN: the log does not cover it.
struct FitMinute {
  double logged_A = 0.0, logged_V = 0.0, shownSoc = 0.0, loggedIndoor_degC = 0.0;
  double planned_A = 0.0, planned_V = 0.0, plannedSoc = 0.0, plannedIndoor_degC = 0.0;
  double fitted_A = 0.0, fitted_V = 0.0, fittedSoc = 0.0, fittedIndoor_degC = 0.0;
  double loggedOutdoor_degC = std::numeric_limits<double>::quiet_NaN();
  double plannedOutdoor_degC = std::numeric_limits<double>::quiet_NaN();
  double fittedOutdoor_degC = std::numeric_limits<double>::quiet_NaN();
};

struct FitNight {
  double start_s = 0.0;          ///< local, since 1970
  int days = 0;                  ///< from the plan's date
  double covered_s = 0.0;        ///< by a current
  bool isOutdoorLogged = false;  ///< run with the logged outdoor temperature
  double outdoor_s = 0.0;        ///< by a column of it
  std::vector<FitMinute> minutes;
  Gap gap;
  std::optional<MonitorGap> monitor;
  double momentsOff = 0.0;  ///< standard error of the compressor's time, as a share of it, where
                            ///< coarse rows tell a moment each; 0: they are means, or fine
  double misfit = 0.0;      ///< root mean square of what is left over, in standard deviations
};

/// What the corrected inputs say of a night: the lowest state of charge and the margin, with ends
/// between which nine of ten draws from their errors lie.
struct Foretold {
  double lowestSoc = 0.0, lowestSocLow = 0.0, lowestSocHigh = 0.0;
  double margin_J = 0.0, marginLow_J = 0.0, marginHigh_J = 0.0;
  int draws = 0;
};

/// A night that was predicted from the others.
struct LeftOut {
  std::size_t night = 0;
  double logged_J = 0.0, predicted_J = 0.0;  ///< out of the bank
  double byThePlan_J = 0.0;
};

/// How the power out of the bank, while a compressor runs, follows the outdoor temperature.
struct FitSlope {
  double logged_1_K = 0.0, deviation_1_K = 0.0;  ///< share per kelvin, with its standard error
  double planned_1_K = 0.0;                      ///< of the corrected plan
  double over_K = 0.0;                           ///< from the coolest to the warmest reading
};

struct Fit {
  scenario::Scenario given;      ///< the plan
  scenario::Scenario corrected;  ///< with what was told, graded measured
  std::vector<FitCorrection> corrections;
  std::vector<std::string> freeDuties;  ///< of units without one: taken as anything before the log
  std::vector<FitInput> inputs;
  std::vector<FitPair> pairs;  ///< told inputs with a correlation over a half, the strongest first
  std::vector<FitNight> nights;
  std::optional<FitSlope> slope;  ///< where temperatures spread enough to tell
  std::size_t nightsSkipped = 0;  ///< earlier ones, beyond the most that are fitted
  double utcOffset_s = 0.0;       ///< of the scenario's clock
  double spread = 0.0;  ///< of residuals, in standard deviations of the readings; errors grow by it
  std::size_t spikes = 0;  ///< readings that counted less
  std::size_t readings = 0;
  bool converged = false;
  Foretold next;                 ///< the plan's night once more, with the corrected inputs
  std::vector<LeftOut> leftOut;  ///< with two nights or more
};

/// Lays the logs on the plan and fits what they can tell: Levenberg-Marquardt on the simulator,
/// each input held by what was known of it before.
/// @param given   without errors, not resolved
/// @param series  of the scenario's weather file, where it has one
/// @param threads  runs at once, >= 1
/// @returns problems where no log covers the plan's hours, or the plan cannot be run
std::variant<Fit, std::vector<scenario::Problem>> fitLogs(const scenario::Scenario& given,
                                                          const WeatherSeries* series,
                                                          const std::vector<Log>& logs,
                                                          int threads);

}  // namespace nightbank
