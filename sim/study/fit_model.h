#pragma once

#include <string>
#include <vector>

#include "fit_data.h"

#include "nightbank/numerics/least_squares.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/simulate/as_logged.h"
#include "nightbank/study/fit.h"

/// Inputs of a scenario as parameters, and the residuals of its nights. Private to the room.
namespace nightbank {

/// Where an input goes.
struct FitTarget {
  std::vector<scenario::Slot> slots;
  std::vector<std::string> paths;  ///< of the slots
  std::vector<double> base;        ///< of a factor: what it multiplies
  bool divides = false;            ///< of a factor
};

struct FitInputs {
  std::vector<FitInput> inputs;
  std::vector<FitTarget> targets;  ///< by input
};

/// A night with what is compared.
struct ModelNight {
  NightLog log;
  scenario::Scenario given;  ///< the plan, moved to its date, the engine at the logged hours
  AsLogged logged;           ///< outdoor temperature and the engine's hours, where logged
  Plant plan;                ///< of `given`, as logged
  MinuteRun planned;         ///< the plan with its engine and weather as it would have them
  double engine_J = 0.0;     ///< more out of the bank by the logged hours of the engine
  MinuteRun driven;          ///< the plan as logged
  NightReadings readings;
};

struct FitModel {
  const WeatherSeries* series = nullptr;
  int threads = 1;
  std::vector<ModelNight> nights;
  FitInputs all;
};

/// Paths of inputs that nobody has given and a log may tell.
struct FreeInputs {
  std::vector<std::string> duties;  ///< anything from 0 to 1
  std::vector<std::string> slopes;  ///< of watts with the heat
};

/// What the nights' readings may be able to tell, with what was known before.
FitInputs fitInputs(const scenario::Scenario& given, const std::vector<ModelNight>& nights,
                    const FreeInputs& free);

std::string powerPerKelvinPath(const scenario::AirConditioner& unit);

/// Units whose watts may follow the heat though nobody said so: no curves say how, and the outdoor
/// temperature is known over some kelvin while they ran. Their watts hold at a temperature from
/// then on, where none was given that of the middle of these hours, in the scenario and its nights.
std::vector<std::string> freeSlopes(scenario::Scenario& given, std::vector<ModelNight>& nights);

/// Outdoor temperatures at which corrected watts hold, where nobody gave one.
/// @param asked  as somebody wrote it
void placeWatts(const scenario::Scenario& asked, Fit& fit);

/// The scenario with the values of `x` in it; those of one night only in that night. -1: none of
/// these.
scenario::Scenario withInputs(const FitInputs& inputs, const Numbers& x,
                              scenario::Scenario scenario, int night);

/// A run of a night with the values of `x`, and its plant.
/// @throws Underivable, std::invalid_argument as derive()
MinuteRun runOf(const FitModel& model, const Numbers& x, std::size_t night, Plant& plant);

/// Residuals in standard deviations: the readings of the nights, then of each input its distance
/// from what was known. What cannot be run is not finite.
/// @param nights  that are fitted
ResidualsAt residualsOf(const FitModel& model, const std::vector<std::size_t>& nights);

/// When the engine ran for the charge that the log shows, with its warm-up and cool-down; nullopt:
/// there is none, or the log does not tell.
/// @param plant  of the plan
std::optional<std::vector<Interval>> loggedEngine(const scenario::Scenario& given,
                                                  const Plant& plant, const NightLog& log);

/// The plan with its engine run by hand, at hours that AsLogged has.
scenario::Scenario drivenByHand(scenario::Scenario given, const Plant& plant);

/// The outdoor temperature on the grid of the plan as logged; between readings and beyond them the
/// plan's, moved by as much as it is off there. Empty: the log has none.
std::vector<double> loggedOutdoor_degC(const NightLog& log, const Plant& plant);

/// Energy out of the bank over the minutes with a logged current. [J]
double coveredEnergy_J(const NightLog& log, const MinuteRun& run);

/// Why no night was found: what the logs cover.
std::string noneCovers(const std::vector<Log>& logs);

/// A log in other units, or of another bank: volts or ampere-hours that this one cannot have; "":
/// it can.
std::string whyNotThisBank(const FitModel& model);

std::vector<SearchBound> boundsOf(const FitInputs& inputs);
Numbers priorsOf(const FitInputs& inputs);

LeastSquaresOptions fitOptions();

std::vector<std::size_t> everyNight(const FitModel& model);

/// A search and what it found.
struct Search {
  LeastSquaresFit whole;  ///< with all inputs
  LeastSquaresFit told;   ///< with those that are told
  std::vector<bool> isFree;
  std::vector<Numbers> covariance;  ///< of all inputs together
  std::size_t readings = 0;
  double spread = 1.0;
};

Search searched(const FitModel& model);

/// Bounds that hold all but the free inputs at their priors.
std::vector<SearchBound> heldBounds(const FitInputs& inputs, const std::vector<bool>& isFree);

/// The free input that moves the readings as another does, by the angle between their slopes; "":
/// none does, or that one moves next to nothing.
std::string likeIt(const LeastSquaresFit& fit, const FitInputs& inputs, std::size_t readings,
                   std::size_t of, const std::vector<bool>& isFree);

/// Energy out of the bank by log, plan and fit, and what each input has to do with it.
/// @param x  as fitted
Gap gapOf(const FitModel& model, const Numbers& x, std::size_t night);

/// From blocks of at least four, spread over 3 K or more.
/// @param x  as fitted
std::optional<FitSlope> slopeOf(const FitModel& model, const Numbers& x);

/// The plan's night with the corrected inputs, and its ends from draws.
/// @param covariance  of all inputs
Foretold foretold(const FitModel& model, const scenario::Scenario& corrected, const Numbers& x,
                  const std::vector<Numbers>& covariance);

}  // namespace nightbank
